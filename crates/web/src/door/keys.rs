//! The keys of a job: random words that lie in a file beside the record.
//!
//! A phone that was let in once stays so over a restart. Whoever can read the folder can come
//! in anyway, so the file adds no way in; deleting it shuts everybody out. A copy of the job
//! does not carry it.

use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use app::folder::KEYS;
use sha2::{Digest, Sha256};

use crate::random;

/// Random bytes in a key: nobody guesses 128 bits.
const BYTES: usize = 16;

/// What a key opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// Looking and writing.
    Write,
    /// Looking only.
    Look,
}

/// The keys of a job.
#[derive(Clone, PartialEq, Eq)]
pub struct Keys {
    job: String,
    write: String,
    look: String,
}

/// Why there are no keys.
#[derive(Debug, thiserror::Error)]
pub enum KeysFault {
    /// The file could not be read or written.
    #[error("{} could not be read or written: {why}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// The file is not what this program wrote.
    #[error("{} is damaged; delete it, and let the phones in anew", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
    },
    /// The system has no random source.
    #[error("no random numbers for the keys: {0}")]
    Random(#[from] getrandom::Error),
}

impl Keys {
    /// The keys that lie in the folder of the job, or new ones that are laid there.
    ///
    /// # Errors
    /// [`KeysFault`] when the file cannot be read, written or understood.
    pub fn of(folder: &Path) -> Result<Self, KeysFault> {
        let path = folder.join(KEYS);
        let file = |why| KeysFault::File {
            path: path.clone(),
            why,
        };
        match fs::read_to_string(&path) {
            Ok(text) => Self::read(&text).ok_or_else(|| KeysFault::Damaged { path: path.clone() }),
            Err(why) if why.kind() == io::ErrorKind::NotFound => {
                let keys = Self::new()?;
                // One folder may be new; a whole path that is not there is a slip of the pen.
                if !folder.exists() {
                    fs::create_dir(folder).map_err(file)?;
                }
                let mut laid = private(&path).map_err(file)?;
                laid.write_all(keys.written().as_bytes()).map_err(file)?;
                Ok(keys)
            }
            Err(why) => Err(file(why)),
        }
    }

    /// New keys.
    ///
    /// # Errors
    /// When the system has no random source.
    pub fn new() -> Result<Self, getrandom::Error> {
        Ok(Self {
            job: random::digits(BYTES)?,
            write: random::digits(BYTES)?,
            look: random::digits(BYTES)?,
        })
    }

    /// Tells this job from every other. It opens nothing.
    #[must_use]
    pub fn job(&self) -> &str {
        &self.job
    }

    /// The word that opens.
    #[must_use]
    pub fn word(&self, key: Key) -> &str {
        match key {
            Key::Write => &self.write,
            Key::Look => &self.look,
        }
    }

    /// What a word opens, if anything. Digests are compared, so that the time it takes tells
    /// nothing of the key.
    #[must_use]
    pub fn fits(&self, word: &str) -> Option<Key> {
        let digest = |word: &str| Sha256::digest(word.as_bytes());
        [Key::Write, Key::Look]
            .into_iter()
            .find(|key| digest(self.word(*key)) == digest(word))
    }

    /// Cookies do not tell ports apart; this name lets two jobs on one machine live together.
    #[must_use]
    pub fn cookie_name(&self) -> String {
        format!("matchmark-{}", &self.job[..8])
    }

    fn written(&self) -> String {
        format!(
            "// Who may come in to the pages of this job. Delete this file to shut everybody out.\n\
             job {}\nwrite {}\nlook {}\n",
            self.job, self.write, self.look
        )
    }

    fn read(text: &str) -> Option<Self> {
        let word = |name: &str| {
            text.lines()
                .filter_map(|line| line.split_once(' '))
                .find(|(key, _)| *key == name)
                .map(|(_, word)| word.trim().to_owned())
                .filter(|word| word.len() == 2 * BYTES)
                .filter(|word| word.bytes().all(|byte| byte.is_ascii_hexdigit()))
        };
        Some(Self {
            job: word("job")?,
            write: word("write")?,
            look: word("look")?,
        })
    }
}

/// Never shows a key, wherever it may be printed.
impl fmt::Debug for Keys {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.debug_struct("Keys")
            .field("job", &self.job)
            .finish_non_exhaustive()
    }
}

/// A new file that only its owner may read.
fn private(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)
}
