//! The open job, shared by everybody who looks at it or writes into it.
//!
//! A reader takes the job as it stands at that moment and is never held up: a writer works on
//! a copy and lays it on the bench when its line is safe on disk. Whoever waits for news hears
//! the number of the last entry.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError, RwLock};

use app::folder::{Folder, FolderFault, Hand};
use report::Report;
use tokio::sync::watch;

use crate::answers::Answers;
use crate::door::Door;
use crate::hands::Hands;

/// The shared state of the pages.
#[derive(Debug)]
pub struct Bench {
    path: PathBuf,
    folder: RwLock<Option<Arc<Folder>>>,
    /// Held while a line is written, so that two writers do not lose each other's.
    pen: Mutex<()>,
    news: watch::Sender<u64>,
    /// What each of the people has in hand now.
    pub hands: Hands,
    /// Answers that were worked out since the last entry.
    pub answers: Answers,
    /// Who may come in.
    pub door: Door,
    /// The person at the machine itself, until somebody says another name.
    pub keeper: String,
}

impl Bench {
    /// Opens the job in a folder. A folder without a job is fine: the pages offer to begin one.
    ///
    /// # Errors
    /// [`FolderFault`] when there is a job and it cannot be read.
    pub fn open(path: &Path, keeper: &str, door: Door) -> Result<Self, FolderFault> {
        let folder = match Folder::open(path) {
            Ok(folder) => Some(Arc::new(folder)),
            Err(FolderFault::NoJob { .. }) => None,
            Err(fault) => return Err(fault),
        };
        let last = folder.as_deref().map_or(0, last_number);
        Ok(Self {
            path: path.to_owned(),
            folder: RwLock::new(folder),
            pen: Mutex::new(()),
            news: watch::Sender::new(last),
            hands: Hands::default(),
            answers: Answers::default(),
            door,
            keeper: keeper.to_owned(),
        })
    }

    /// The folder the job lies in, or will.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The job as it stands, if one was begun.
    #[must_use]
    pub fn folder(&self) -> Option<Arc<Folder>> {
        self.folder
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// Hears of new entries: the number of the last one.
    #[must_use]
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }

    /// Writes typed lines into the record.
    #[must_use]
    pub fn log(&self, hand: &Hand, lines: &[String]) -> Report {
        self.write(|folder| app::lines::log(folder, hand, lines))
    }

    /// Lets a use case change the job, one at a time, and tells everybody.
    pub fn write(&self, act: impl FnOnce(&mut Folder) -> Report) -> Report {
        let _pen = self.pen.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(current) = self.folder() else {
            let path = self.path.clone();
            return FolderFault::NoJob { path }.refusal("log");
        };
        let mut folder = Folder::clone(&current);
        let report = act(&mut folder);
        if folder.entries.len() != current.entries.len() {
            self.lay(folder);
        }
        report
    }

    /// Begins a job, or opens one that somebody began meanwhile.
    pub fn begin(&self, act: impl FnOnce(&Path) -> Report) -> Report {
        let _pen = self.pen.lock().unwrap_or_else(PoisonError::into_inner);
        let report = act(&self.path);
        if let Ok(folder) = Folder::open(&self.path) {
            self.lay(folder);
        }
        report
    }

    /// Takes in what another program wrote into the record meanwhile.
    ///
    /// # Errors
    /// [`FolderFault`] when the record cannot be read.
    pub fn catch_up(&self) -> Result<(), FolderFault> {
        let _pen = self.pen.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(current) = self.folder() else {
            return Ok(());
        };
        if current.behind()? {
            let mut folder = Folder::clone(&current);
            folder.catch_up()?;
            self.lay(folder);
        }
        Ok(())
    }

    fn lay(&self, folder: Folder) {
        let last = last_number(&folder);
        *self.folder.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(folder));
        self.news.send_replace(last);
    }
}

/// The number of the last entry, 0 before the first.
#[must_use]
pub fn last_number(folder: &Folder) -> u64 {
    folder.entries.last().map_or(0, |last| last.id.0)
}
