//! The open job, shared by everybody who looks at it or writes into it.
//!
//! A reader takes the job as it stands at that moment and is never held up: a writer works on
//! a copy and lays it on the bench when its line is safe on disk. Whoever waits for news hears
//! the number of the last entry.
//!
//! The book and the workshop are texts that somebody may write on meanwhile. They are read
//! anew when they changed; while they have faults, the last reading stands.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use std::time::SystemTime;

use app::folder::{BOOK, Folder, FolderFault, Hand, SHOP};
use report::{Finding, Report};
use tokio::sync::{Mutex, Semaphore, watch};

use crate::answers::{Answers, Latest, Moment};
use crate::door::Door;
use crate::hands::Hands;

/// The job as it lies on the bench.
#[derive(Clone, Debug)]
pub struct Laid {
    /// The job as it stands.
    pub folder: Arc<Folder>,
    /// How often its texts were read.
    pub reading: u64,
    texts: Texts,
}

/// Pages that are drawn at once.
const EASELS: usize = 2;

/// When book and workshop were last written, and how long they are.
type Texts = [Option<(SystemTime, u64)>; 2];

impl Laid {
    /// The moment of the job: answers of an earlier one do not count.
    #[must_use]
    pub fn moment(&self) -> Moment {
        (self.reading, last_number(&self.folder))
    }
}

/// The shared state of the pages.
#[derive(Debug)]
pub struct Bench {
    path: PathBuf,
    laid: RwLock<Option<Laid>>,
    /// Held while a line is written, so that two writers do not lose each other's. Writers wait
    /// for it without holding a thread, so that forty of them leave the readers theirs.
    pen: Mutex<()>,
    /// Held while a slow answer is worked out: one at a time leaves the other cores to pages.
    desk: Semaphore,
    /// Held while a page is drawn. More than a few at once are no faster together, and each needs
    /// memory of its own.
    pub(crate) easels: Semaphore,
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
        let texts = texts(path);
        let laid = match Folder::open(path) {
            Ok(folder) => Some(Laid {
                folder: Arc::new(folder),
                reading: 1,
                texts,
            }),
            Err(FolderFault::NoJob { .. }) => None,
            Err(fault) => return Err(fault),
        };
        let last = laid.as_ref().map_or(0, |laid| last_number(&laid.folder));
        Ok(Self {
            path: path.to_owned(),
            laid: RwLock::new(laid),
            pen: Mutex::default(),
            desk: Semaphore::new(1),
            easels: Semaphore::new(EASELS),
            news: watch::Sender::new(last),
            closed: watch::Sender::new(false),
            hands: Hands::default(),
            answers: Answers::default(),
            door,
        })
    }

    /// The job as it stands, if one was begun.
    #[must_use]
    pub fn laid(&self) -> Option<Laid> {
        self.laid
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// The job as it stands, if one was begun.
    #[must_use]
    pub fn folder(&self) -> Option<Arc<Folder>> {
        self.laid().map(|laid| laid.folder)
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
            let Some(laid) = bench.laid() else {
                let path = bench.path.clone();
                return FolderFault::NoJob { path }.refusal("log");
            };
            let mut folder = Folder::clone(&laid.folder);
            let report = act(&mut folder);
            if folder.entries.len() != laid.folder.entries.len() {
                bench.go_on(laid, folder);
            }
            report
        })
        .await
        .unwrap_or_else(|| broken("log"))
    }

    /// Takes in what somebody else did in the folder meanwhile: lines another program wrote, a
    /// job it began, book or workshop written anew. What cannot be read for a moment is looked
    /// at again the next time.
    pub async fn catch_up(self: &Arc<Self>) {
        let bench = Arc::clone(self);
        self.alone(move || {
            let texts = texts(&bench.path);
            match bench.laid() {
                // Texts with faults are let lie, and the record is read on all the same.
                Some(laid) if laid.texts == texts || bench.read(texts).is_err() => {
                    if laid.folder.behind().ok()? {
                        let mut folder = Folder::clone(&laid.folder);
                        folder.catch_up().ok()?;
                        bench.go_on(laid, folder);
                    }
                }
                Some(_) => {}
                None => bench.read(texts).ok()?,
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
            // A job that cannot be opened after it was begun says so in its report.
            let _ = bench.read(texts(&bench.path));
            report
        })
        .await
        .unwrap_or_else(|| broken("new"))
    }

    /// A slow answer: what was found last. If that is behind the record, a newer one is begun
    /// beside the other work. Must be called from inside the server.
    pub fn latest(
        self: &Arc<Self>,
        laid: &Laid,
        question: &str,
        work: impl FnOnce(&Folder) -> Report + Send + 'static,
    ) -> Latest {
        let moment = laid.moment();
        let (latest, begin) = self.answers.latest(moment, question);
        if begin {
            let (bench, folder) = (Arc::clone(self), Arc::clone(&laid.folder));
            let question = question.to_owned();
            tokio::spawn(async move {
                let _desk = bench.desk.acquire().await;
                let found = tokio::task::spawn_blocking(move || work(&folder)).await;
                bench.answers.found(moment, &question, found.ok());
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

    /// Reads the whole folder anew.
    fn read(&self, texts: Texts) -> Result<(), FolderFault> {
        let folder = Arc::new(Folder::open(&self.path)?);
        let reading = self.laid().map_or(1, |laid| laid.reading + 1);
        self.lay(Laid {
            folder,
            reading,
            texts,
        });
        Ok(())
    }

    /// Goes on with more entries after the same texts.
    fn go_on(&self, laid: Laid, folder: Folder) {
        let folder = Arc::new(folder);
        self.lay(Laid { folder, ..laid });
    }

    fn lay(&self, laid: Laid) {
        let last = last_number(&laid.folder);
        *self.laid.write().unwrap_or_else(PoisonError::into_inner) = Some(laid);
        self.news.send_replace(last);
    }
}

/// When the texts of a folder were last written.
fn texts(folder: &Path) -> Texts {
    [BOOK, SHOP].map(|name| {
        let file = fs::metadata(folder.join(name)).ok()?;
        Some((file.modified().ok()?, file.len()))
    })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::Trial;

    /// A book, small enough to be read quickly.
    const BEFORE: &str = "book \"Van\"\npart block fixed=#true\npart cover\n";
    const AFTER: &str = "book \"Van, corrected\"\npart block fixed=#true\npart cover\n";

    #[tokio::test]
    async fn a_book_that_is_written_anew_is_read_anew() {
        let trial = Trial::open(false, Some(BEFORE));
        let title = || {
            trial
                .bench
                .folder()
                .and_then(|folder| folder.book.clone()?.title)
        };
        let before = trial.bench.laid().expect("a job").moment();
        trial.bench.catch_up().await;
        assert_eq!(trial.bench.laid().expect("a job").moment(), before);

        let book = trial.dir.path().join(BOOK);
        fs::write(&book, AFTER).expect("written");
        trial.bench.catch_up().await;
        assert_eq!(title().as_deref(), Some("Van, corrected"));
        assert!(trial.bench.laid().expect("a job").moment() > before);

        // With a fault in it the last reading stands, and lines are still taken.
        fs::write(&book, "book \"Van\" part").expect("written");
        trial.bench.catch_up().await;
        assert_eq!(title().as_deref(), Some("Van, corrected"));
        trial.log("off cover").await;
        assert_eq!(trial.entries(), 1);
    }
}
