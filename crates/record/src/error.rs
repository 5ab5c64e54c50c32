//! What can go wrong with a record.

use std::path::PathBuf;

/// Why a record could not be opened, read or added to.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// There is no file at the path.
    #[error("there is no record at {path}")]
    Missing {
        /// The path that was tried.
        path: PathBuf,
    },
    /// A record was to be begun where a file already is.
    #[error("{path} is already there; a new record needs a path of its own")]
    AlreadyThere {
        /// The path that was tried.
        path: PathBuf,
    },
    /// The file is a database, but not a record.
    #[error("{path} is not a record of this program")]
    NotARecord {
        /// The path that was tried.
        path: PathBuf,
    },
    /// The file was written by a newer program.
    #[error("{path} has record version {found}; this program knows versions up to {known}")]
    FromNewer {
        /// The path that was tried.
        path: PathBuf,
        /// The version in the file.
        found: u32,
        /// The newest version this program knows.
        known: u32,
    },
    /// A field of an entry cannot be kept.
    #[error("the {field} of the entry cannot be kept: {reason}")]
    Refused {
        /// The field.
        field: &'static str,
        /// Why.
        reason: String,
    },
    /// The same client id came with another line. Nothing of it was stored, and it must not
    /// be taken for an entry that was sent twice.
    #[error("client id {client_id} is already entry {number}, with another line")]
    SameIdOtherEntry {
        /// The id that came twice.
        client_id: String,
        /// The entry that has it.
        number: u64,
    },
    /// The file or its folder may not be written to, or the disk is full.
    #[error("{path} cannot be written to ({reason})")]
    NotWritable {
        /// The file.
        path: PathBuf,
        /// What the database said.
        reason: String,
    },
    /// The database refused or failed.
    #[error("the record could not be read or written: {0}")]
    Database(#[from] rusqlite::Error),
}

impl StoreError {
    /// Says of which file, where the fault is that it cannot be written to.
    pub(crate) fn at(self, path: &std::path::Path) -> Self {
        use rusqlite::ErrorCode::{CannotOpen, DiskFull, PermissionDenied, ReadOnly};
        match self {
            Self::Database(fault)
                if matches!(
                    fault.sqlite_error_code(),
                    Some(CannotOpen | DiskFull | PermissionDenied | ReadOnly)
                ) =>
            {
                Self::NotWritable {
                    path: path.to_owned(),
                    reason: fault.to_string(),
                }
            }
            other => other,
        }
    }
}
