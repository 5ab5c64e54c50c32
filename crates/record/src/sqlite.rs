//! A record in one SQLite file. The only place that knows SQLite.
//!
//! What was acknowledged survives a killed program and a power cut: write-ahead log with a
//! full sync at every commit.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{
    Connection, MAIN_DB, OpenFlags, OptionalExtension, Row, TransactionBehavior, named_params,
};

use crate::entry::{Appended, NewEntry, Stored};
use crate::error::StoreError;
use crate::store::Store;

/// Marks the file as a record: the letters `mark`.
const APPLICATION_ID: i32 = 0x6d61_726b;

/// The steps from an empty file to the present version. Step n leads to version n; a
/// released step never changes.
const MIGRATIONS: [&str; 1] = [include_str!("migration/1.sql")];

/// How long a writer waits for another one, on this bench or in the next window.
const PATIENCE: Duration = Duration::from_secs(5);

const COLUMNS: &str = "number, client_id, author, time_micros, zone, kind, format_version, line";

/// A record on disk.
#[derive(Debug)]
pub struct SqliteStore {
    connection: Connection,
}

impl SqliteStore {
    /// Begins a record at a path where nothing is yet.
    ///
    /// # Errors
    /// [`StoreError::AlreadyThere`]; [`StoreError::Database`] when the folder is missing or
    /// cannot be written.
    pub fn create(path: &Path) -> Result<Self, StoreError> {
        if path.exists() {
            return Err(StoreError::AlreadyThere {
                path: path.to_owned(),
            });
        }
        let connection = Connection::open(path)?;
        connection.pragma_update(None, "application_id", APPLICATION_ID)?;
        Self::ready(connection, path)
    }

    /// Opens the record at a path and brings it up to the present version.
    ///
    /// # Errors
    /// [`StoreError::Missing`], [`StoreError::NotARecord`], [`StoreError::FromNewer`];
    /// [`StoreError::Database`] when the file cannot be read.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        if !path.exists() {
            return Err(StoreError::Missing {
                path: path.to_owned(),
            });
        }
        let flags = OpenFlags::default().difference(OpenFlags::SQLITE_OPEN_CREATE);
        let connection = Connection::open_with_flags(path, flags)
            .map_err(|fault| StoreError::from(fault).at(path))?;
        let not_a_record = || StoreError::NotARecord {
            path: PathBuf::from(path),
        };
        let id: i32 = connection
            .pragma_query_value(None, "application_id", |row| row.get(0))
            .map_err(|error| match error.sqlite_error_code() {
                Some(rusqlite::ErrorCode::NotADatabase) => not_a_record(),
                Some(_) | None => StoreError::from(error).at(path),
            })?;
        if id != APPLICATION_ID {
            return Err(not_a_record());
        }
        Self::ready(connection, path).map_err(|fault| fault.at(path))
    }

    fn ready(mut connection: Connection, path: &Path) -> Result<Self, StoreError> {
        connection.busy_timeout(PATIENCE)?;
        connection.pragma_update(None, "journal_mode", "WAL")?;
        // FULL, not NORMAL: NORMAL may drop the last commits after a power cut.
        connection.pragma_update(None, "synchronous", "FULL")?;
        connection.pragma_update(None, "foreign_keys", true)?;
        connection.pragma_update(None, "trusted_schema", false)?;
        migrate(&mut connection, path)?;
        Ok(Self { connection })
    }

    /// Reads the whole file and says whether it is sound.
    ///
    /// # Errors
    /// [`StoreError::Database`] when the file is damaged or cannot be read.
    pub fn prove_sound(&self) -> Result<(), StoreError> {
        let answer: String =
            self.connection
                .pragma_query_value(None, "integrity_check", |row| row.get(0))?;
        if answer == "ok" {
            return Ok(());
        }
        Err(StoreError::Refused {
            field: "file",
            reason: answer,
        })
    }
}

fn migrate(connection: &mut Connection, path: &Path) -> Result<(), StoreError> {
    // Immediate: two programs that open an old record must not both take the same step.
    let step = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let found: u32 = step.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let known = u32::try_from(MIGRATIONS.len()).unwrap_or(u32::MAX);
    if found > known {
        return Err(StoreError::FromNewer {
            path: path.to_owned(),
            found,
            known,
        });
    }
    for (sql, version) in MIGRATIONS.iter().zip(1_u32..) {
        if version > found {
            step.execute_batch(sql)?;
            step.pragma_update(None, "user_version", version)?;
        }
    }
    step.commit()?;
    Ok(())
}

fn by_client_id(connection: &Connection, client_id: &str) -> Result<Option<Stored>, StoreError> {
    let mut query =
        connection.prepare_cached(&format!("SELECT {COLUMNS} FROM entry WHERE client_id = ?1"))?;
    Ok(query.query_row([client_id], stored).optional()?)
}

fn stored(row: &Row<'_>) -> rusqlite::Result<Stored> {
    let number: i64 = row.get("number")?;
    Ok(Stored {
        number: u64::try_from(number)
            .map_err(|_| rusqlite::Error::IntegralValueOutOfRange(0, number))?,
        entry: NewEntry {
            client_id: row.get("client_id")?,
            author: row.get("author")?,
            time_micros: row.get("time_micros")?,
            zone: row.get("zone")?,
            kind: row.get("kind")?,
            format_version: row.get("format_version")?,
            line: row.get("line")?,
        },
    })
}

impl Store for SqliteStore {
    fn append_all(&mut self, entries: &[NewEntry]) -> Result<Vec<Appended>, StoreError> {
        let batch = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        let mut appended = Vec::with_capacity(entries.len());
        for entry in entries {
            entry.proven()?;
            if let Some(had) = by_client_id(&batch, &entry.client_id)? {
                appended.push(had.sent_again(entry)?);
                continue;
            }
            batch
                .prepare_cached(
                    "INSERT INTO entry
                     (client_id, author, time_micros, zone, kind, format_version, line) VALUES
                     (:client_id, :author, :time_micros, :zone, :kind, :format_version, :line)",
                )?
                .execute(named_params! {
                    ":client_id": entry.client_id,
                    ":author": entry.author,
                    ":time_micros": entry.time_micros,
                    ":zone": entry.zone,
                    ":kind": entry.kind,
                    ":format_version": entry.format_version,
                    ":line": entry.line,
                })?;
            let number = batch.last_insert_rowid();
            appended.push(Appended::New(number.unsigned_abs()));
        }
        batch.commit()?;
        Ok(appended)
    }

    fn since(&self, number: u64, most: usize) -> Result<Vec<Stored>, StoreError> {
        let after = i64::try_from(number).unwrap_or(i64::MAX);
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        let mut query = self.connection.prepare_cached(&format!(
            "SELECT {COLUMNS} FROM entry WHERE number > ?1 ORDER BY number LIMIT ?2"
        ))?;
        let rows = query.query_map([after, most], stored)?;
        Ok(rows.collect::<rusqlite::Result<Vec<_>>>()?)
    }

    fn by_client_id(&self, client_id: &str) -> Result<Option<Stored>, StoreError> {
        by_client_id(&self.connection, client_id)
    }

    fn count(&self) -> Result<u64, StoreError> {
        let count: i64 = self
            .connection
            .query_row("SELECT count(*) FROM entry", [], |row| row.get(0))?;
        Ok(count.unsigned_abs())
    }

    fn back_up(&self, to: &Path) -> Result<(), StoreError> {
        if to.exists() {
            return Err(StoreError::AlreadyThere {
                path: to.to_owned(),
            });
        }
        let quietly: Option<fn(rusqlite::backup::Progress)> = None;
        self.connection.backup(MAIN_DB, to, quietly)?;
        Ok(())
    }
}
