//! The job folder: a book, a record and what belongs to them.
//!
//! ```text
//! DIR/
//!   book.kdl        the build book, if there is one
//!   shop.kdl        the workshop, if it was described
//!   record.sqlite   what happened, line by line
//!   photos/         pictures, as they were taken, each under the SHA-256 of its bytes
//!   smaller/        drawn from them: upright, without place or time; made again when missing
//!   keys            who may come in to the pages, once they were served
//! ```
//!
//! Deleting anything but the first four loses nothing of the job.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use book::{Book, Shop};
use job::{ClientId, Entry, EntryId, State};
use record::{NewEntry, SqliteStore, Store, StoreError, Stored};
use report::{Finding, Report};

/// The name of the build book in a job folder.
pub const BOOK: &str = "book.kdl";
/// The name of the shop file in a job folder.
pub const SHOP: &str = "shop.kdl";
/// The name of the record in a job folder.
pub const RECORD: &str = "record.sqlite";
/// The name of the file with the keys of the pages in a job folder.
pub const KEYS: &str = "keys";
/// The name of the folder of photos in a job folder.
pub const PHOTOS: &str = "photos";

/// An open job.
///
/// A clone is another reader of the same record: it keeps the state of its moment until it
/// catches up. So a page can read while somebody writes.
#[derive(Clone, Debug)]
pub struct Folder {
    path: PathBuf,
    store: Arc<Mutex<SqliteStore>>,
    /// The book, with every variant; `None` on a job that began without one.
    pub book: Option<Book>,
    /// The workshop, if it was described.
    pub shop: Option<Shop>,
    /// Everything that happened, read.
    pub entries: Vec<Entry>,
    /// Where that leaves the job.
    pub state: State,
}

/// Who writes into the record, and when.
#[derive(Clone, Debug)]
pub struct Hand {
    /// The person.
    pub author: String,
    /// By the sender's clock, in microseconds since 1970-01-01T00:00Z.
    pub micros: i64,
    /// The id of the entry, made by its sender; several lines sent together get `-1`, `-2`, … behind it.
    pub client: String,
}

/// Why a folder could not be opened, begun or written to.
#[derive(Debug, thiserror::Error)]
pub enum FolderFault {
    /// There is no job in the folder.
    #[error("there is no job in {}", path.display())]
    NoJob {
        /// The folder.
        path: PathBuf,
    },
    /// A job is to be begun where one is.
    #[error("there is a job in {} already", path.display())]
    JobThere {
        /// The folder.
        path: PathBuf,
    },
    /// A file of the folder could not be read or written.
    #[error("{} could not be read or written: {why}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// The book or shop file has faults.
    #[error("{file} has {count} faults")]
    Text {
        /// The file.
        file: String,
        /// How many.
        count: usize,
    },
    /// A line in the record cannot be read by this program.
    #[error("line {number} of the record cannot be read: {line}")]
    Line {
        /// The entry.
        number: u64,
        /// The line as it stands there.
        line: String,
    },
    /// The record could not be read or written.
    #[error("{0}")]
    Record(#[from] StoreError),
}

impl FolderFault {
    /// The fault as a refusal of a command.
    #[must_use]
    pub fn refusal(&self, command: &'static str) -> Report {
        let way_out = match self {
            Self::NoJob { .. } => "matchmark new DIR begins one; --job DIR names another folder",
            Self::JobThere { .. } => "choose an empty folder, or go on in this one with --job",
            Self::File { .. } => "check that the folder is there and may be written to",
            Self::Text { .. } => "matchmark check FILE lists them all, with places",
            Self::Line { .. } => "the record was written by a newer program; update this one",
            Self::Record(StoreError::NotWritable { .. }) => {
                "get the right to write there (chmod u+w on folder and files), make room, or copy the folder and name it with --job"
            }
            Self::Record(_) => {
                "make a copy of the folder before anything else, then look at the file named"
            }
        };
        let finding = Finding::new("job-folder", "", self.to_string()).next(way_out);
        let mut report = Report::refusal(command, "The job could not be opened", finding);
        report.headline = Some("Nothing was changed.".to_owned());
        report
    }
}

impl Folder {
    /// Begins a job in an empty or missing folder, with the texts it starts from.
    ///
    /// # Errors
    /// [`FolderFault`] when there is a job already, a text has faults or a file cannot be written.
    pub fn begin(path: &Path, book: Option<&str>, shop: Option<&str>) -> Result<Self, FolderFault> {
        if path.join(RECORD).exists() || path.join(BOOK).exists() {
            return Err(FolderFault::JobThere {
                path: path.to_owned(),
            });
        }
        let file = |path: PathBuf| move |why| FolderFault::File { path, why };
        fs::create_dir_all(path.join(PHOTOS)).map_err(file(path.to_owned()))?;
        for (name, text) in [(BOOK, book), (SHOP, shop)] {
            if let Some(text) = text {
                fs::write(path.join(name), text).map_err(file(path.join(name)))?;
            }
        }
        SqliteStore::create(&path.join(RECORD))?;
        Self::open(path)
    }

    /// Opens a job and works out where it stands.
    ///
    /// # Errors
    /// [`FolderFault`] when there is no job, a text has faults or a line cannot be read.
    pub fn open(path: &Path) -> Result<Self, FolderFault> {
        if !path.join(RECORD).exists() {
            return Err(FolderFault::NoJob {
                path: path.to_owned(),
            });
        }
        let book = read_text(&path.join(BOOK))?
            .map(|text| whole(BOOK, book::read(&text)))
            .transpose()?;
        let shop = read_text(&path.join(SHOP))?
            .map(|text| whole(SHOP, book::read_shop(&text)))
            .transpose()?;
        let store = SqliteStore::open(&path.join(RECORD))?;
        let entries = store
            .all()?
            .iter()
            .map(entry)
            .collect::<Result<Vec<_>, _>>()?;
        let state = job::replay(book.as_ref(), &entries);
        Ok(Self {
            path: path.to_owned(),
            store: Arc::new(Mutex::new(store)),
            book,
            shop,
            entries,
            state,
        })
    }

    /// Where the job lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the record as it stands into a file that is not there yet, while others may go on
    /// writing into it.
    ///
    /// # Errors
    /// [`StoreError`] when the file is there or cannot be written.
    pub fn back_up(&self, to: &Path) -> Result<(), StoreError> {
        self.store().back_up(to)
    }

    /// The number the next entry will get.
    #[must_use]
    pub fn next_number(&self) -> EntryId {
        EntryId(self.entries.last().map_or(1, |last| last.id.0 + 1))
    }

    /// Adds entries in one go and works the state out again. All are kept or none.
    ///
    /// # Errors
    /// [`FolderFault`] when the record cannot be written.
    pub fn append(&mut self, new: &[NewEntry]) -> Result<Vec<Entry>, FolderFault> {
        let appended = self.store().append_all(new)?;
        // Read back from the record, for others may have written in between.
        self.read_on()?;
        let numbers: Vec<EntryId> = appended
            .iter()
            .filter(|appended| matches!(appended, record::Appended::New(_)))
            .map(|appended| EntryId(appended.number()))
            .collect();
        let fresh = self
            .entries
            .iter()
            .filter(|entry| numbers.contains(&entry.id));
        let fresh: Vec<Entry> = fresh.cloned().collect();
        self.state = job::replay(self.book.as_ref(), &self.entries);
        Ok(fresh)
    }
}

impl Folder {
    /// Reads what others wrote into the record since. Says whether there was anything.
    ///
    /// # Errors
    /// [`FolderFault`] when the record or a line of it cannot be read.
    pub fn catch_up(&mut self) -> Result<bool, FolderFault> {
        let news = self.read_on()?;
        if news {
            self.state = job::replay(self.book.as_ref(), &self.entries);
        }
        Ok(news)
    }

    /// Whether somebody else wrote into the record since.
    ///
    /// # Errors
    /// [`FolderFault`] when the record cannot be read.
    pub fn behind(&self) -> Result<bool, FolderFault> {
        let last = self.entries.last().map_or(0, |last| last.id.0);
        Ok(self.store().count()? != last)
    }

    /// The entry that came with an id of its sender, if it is here already.
    #[must_use]
    pub fn sent(&self, client: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.client.0 == client)
    }

    fn read_on(&mut self) -> Result<bool, FolderFault> {
        let last = self.entries.last().map_or(0, |last| last.id.0);
        let fresh = self.store().since(last, usize::MAX)?;
        for stored in &fresh {
            self.entries.push(entry(stored)?);
        }
        Ok(!fresh.is_empty())
    }

    fn store(&self) -> MutexGuard<'_, SqliteStore> {
        // SQLite rolls a broken-off write back, so a panic elsewhere leaves the store whole.
        self.store.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A row of the record, read by the line grammar.
fn entry(stored: &Stored) -> Result<Entry, FolderFault> {
    let row = &stored.entry;
    let act = job::line::read_line(&row.line).map_err(|_| FolderFault::Line {
        number: stored.number,
        line: row.line.clone(),
    })?;
    Ok(Entry {
        id: EntryId(stored.number),
        client: ClientId(row.client_id.clone()),
        author: row.author.clone(),
        at: row.time_micros,
        line: row.line.clone(),
        act,
    })
}

fn read_text(path: &Path) -> Result<Option<String>, FolderFault> {
    match fs::read_to_string(path) {
        Ok(text) => Ok(Some(text)),
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(FolderFault::File {
            path: path.to_owned(),
            why,
        }),
    }
}

/// A text without faults, or how many it has.
fn whole<T>(file: &str, (read, faults): (T, Vec<book::Fault>)) -> Result<T, FolderFault> {
    let count = faults
        .iter()
        .filter(|fault| fault.severity == book::Severity::Error)
        .count();
    if count == 0 {
        Ok(read)
    } else {
        Err(FolderFault::Text {
            file: file.to_owned(),
            count,
        })
    }
}
