//! The open job, shared by everybody who looks at it or writes into it.
//!
//! A reader takes the job as it stands at that moment and is never held up: a writer works on
//! a copy and lays it on the bench when its line is safe on disk. Whoever waits for news hears
//! the number of the last entry.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use app::folder::{Folder, FolderFault, Hand};
use report::{Finding, Report};
use tokio::sync::{Mutex, Semaphore, watch};

use crate::answers::{Answers, Latest};
use crate::door::Door;
use crate::hands::Hands;

/// The shared state of the pages.
#[derive(Debug)]
pub struct Bench {
    path: PathBuf,
    folder: RwLock<Option<Arc<Folder>>>,
    /// Held while a line is written, so that two writers do not lose each other's. Writers wait
    /// for it without holding a thread, so that forty of them leave the readers theirs.
    pen: Mutex<()>,
    /// Held while a slow answer is worked out: one at a time leaves the other cores to pages.
    desk: Semaphore,
    news: watch::Sender<u64>,
    closed: watch::Sender<bool>,
    /// What each of the people has in hand now.
    pub hands: Hands,
    /// Answers that were worked out since the last entry.
    pub answers: Answers,
    /// Who may come in.
    pub door: Door,
}

impl Bench {
    /// Opens the job in a folder. A folder without a job is fine: the pages offer to begin one.
    ///
    /// # Errors
    /// [`FolderFault`] when there is a job and it cannot be read.
    pub fn open(path: &Path, door: Door) -> Result<Self, FolderFault> {
        let folder = match Folder::open(path) {
            Ok(folder) => Some(Arc::new(folder)),
            Err(FolderFault::NoJob { .. }) => None,
            Err(fault) => return Err(fault),
        };
        let last = folder.as_deref().map_or(0, last_number);
        Ok(Self {
            path: path.to_owned(),
            folder: RwLock::new(folder),
            pen: Mutex::default(),
            desk: Semaphore::new(1),
            news: watch::Sender::new(last),
            closed: watch::Sender::new(false),
            hands: Hands::default(),
            answers: Answers::default(),
            door,
        })
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

    /// Hears when the pages are about to close.
    #[must_use]
    pub fn closed(&self) -> watch::Receiver<bool> {
        self.closed.subscribe()
    }

    /// Tells everybody who listens that the pages close.
    pub fn close(&self) {
        self.closed.send_replace(true);
    }

    /// Writes typed lines into the record.
    pub async fn log(self: &Arc<Self>, hand: Hand, lines: Vec<String>) -> Report {
        self.write(move |folder| app::lines::log(folder, &hand, &lines))
            .await
    }

    /// Lets a use case change the job, one at a time, and tells everybody.
    pub async fn write(
        self: &Arc<Self>,
        act: impl FnOnce(&mut Folder) -> Report + Send + 'static,
    ) -> Report {
        let bench = Arc::clone(self);
        self.alone(move || {
            let Some(current) = bench.folder() else {
                let path = bench.path.clone();
                return FolderFault::NoJob { path }.refusal("log");
            };
            let mut folder = Folder::clone(&current);
            let report = act(&mut folder);
            if folder.entries.len() != current.entries.len() {
                bench.lay(folder);
            }
            report
        })
        .await
        .unwrap_or_else(|| broken("log"))
    }

    /// Takes in what another program wrote into the record meanwhile, and a job it began. A record that cannot be
    /// read for a moment is looked at again the next time.
    pub async fn catch_up(self: &Arc<Self>) {
        let bench = Arc::clone(self);
        self.alone(move || {
            let Some(current) = bench.folder() else {
                bench.lay(Folder::open(&bench.path).ok()?);
                return Some(());
            };
            if current.behind().ok()? {
                let mut folder = Folder::clone(&current);
                folder.catch_up().ok()?;
                bench.lay(folder);
            }
            Some(())
        })
        .await;
    }

    /// Begins a job in the folder, unless somebody did so meanwhile.
    pub async fn begin(
        self: &Arc<Self>,
        act: impl FnOnce(&Path) -> Report + Send + 'static,
    ) -> Report {
        let bench = Arc::clone(self);
        self.alone(move || {
            let report = act(&bench.path);
            if let Ok(folder) = Folder::open(&bench.path) {
                bench.lay(folder);
            }
            report
        })
        .await
        .unwrap_or_else(|| broken("new"))
    }

    /// A slow answer: what was found last. If that is behind the record, a newer one is begun
    /// beside the other work. Must be called from inside the server.
    pub fn latest(
        self: &Arc<Self>,
        folder: &Arc<Folder>,
        question: &str,
        work: impl FnOnce(&Folder) -> Report + Send + 'static,
    ) -> Latest {
        let number = last_number(folder);
        let (latest, begin) = self.answers.latest(number, question);
        if begin {
            let (bench, folder) = (Arc::clone(self), Arc::clone(folder));
            let question = question.to_owned();
            tokio::spawn(async move {
                let _desk = bench.desk.acquire().await;
                let found = tokio::task::spawn_blocking(move || work(&folder)).await;
                bench.answers.found(number, &question, found.ok());
            });
        }
        latest
    }

    /// Does something with the pen in hand, beside the other work. None: it broke off.
    async fn alone<T: Send + 'static>(
        &self,
        act: impl FnOnce() -> T + Send + 'static,
    ) -> Option<T> {
        let _pen = self.pen.lock().await;
        tokio::task::spawn_blocking(act).await.ok()
    }

    fn lay(&self, folder: Folder) {
        let last = last_number(&folder);
        *self.folder.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(folder));
        self.news.send_replace(last);
    }
}

/// The code of a finding that says a use case broke off.
pub const BROKEN: &str = "broke-off";

/// A use case that panicked. Nothing of it is on the bench.
fn broken(command: &'static str) -> Report {
    let says = "something broke while it was written down";
    let finding =
        Finding::new(BROKEN, "", says).next("look into the record whether it is there, then go on");
    Report::refusal(command, "Not kept", finding)
}

/// The number of the last entry, 0 before the first.
#[must_use]
pub fn last_number(folder: &Folder) -> u64 {
    folder.entries.last().map_or(0, |last| last.id.0)
}
