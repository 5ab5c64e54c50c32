//! The whole job in one file: the book, the workshop, the record and the photos.
//!
//! A zip file, because every telephone and every computer opens one without this program. What
//! can be worked out again is not in it. Writing a copy changes nothing in the job, and laying
//! one out begins a job where none was.

mod lay_out;

use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Seek, Write};
use std::path::{Path, PathBuf};

use record::{Store, StoreError};
use report::{Figure, Finding, Report, Weight};
use zip::result::ZipError;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

use crate::folder::{BOOK, Folder, FolderFault, PHOTOS, RECORD, SHOP};

pub use lay_out::{is_copy, lay_out};

const COMMAND: &str = "copy";
const TITLE: &str = "A copy of the job";

/// What a copy holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Copied {
    /// Entries of the record.
    pub entries: u64,
    /// Photos and films.
    pub photos: usize,
    /// Bytes before packing.
    pub bytes: u64,
}

/// Why a copy could not be written or laid out.
#[derive(Debug, thiserror::Error)]
pub enum CopyFault {
    /// The job could not be read, or the new one not laid.
    #[error(transparent)]
    Folder(#[from] FolderFault),
    /// The record could not be copied.
    #[error(transparent)]
    Record(#[from] StoreError),
    /// A file could not be read or written.
    #[error("{} could not be read or written: {why}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// The copy could not be written to where it goes.
    #[error("the copy could not be written: {0}")]
    Writing(io::Error),
    /// The copy was written, and what was read back is not what was written.
    #[error("the copy could not be read back: {0}")]
    ReadBack(String),
    /// The folder it is to be laid out in holds something.
    #[error("{} holds files already", path.display())]
    NotEmpty {
        /// The folder.
        path: PathBuf,
    },
    /// The file is not a copy of a job.
    #[error("{} is no copy of a job: {why}", path.display())]
    NotACopy {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
}

impl CopyFault {
    /// The fault as a refusal of a command.
    pub(crate) fn refusal(&self, command: &'static str) -> Report {
        let way_out = match self {
            Self::Folder(fault) => return fault.refusal(command),
            Self::Record(_) => "look at the file named; nothing in the job was changed",
            Self::File { .. } | Self::Writing(_) => {
                "check that there is room and that the folder may be written to"
            }
            Self::ReadBack(_) => {
                "try another disk or stick: this one does not keep what it is given"
            }
            Self::NotEmpty { .. } => "name a folder that is not there yet, or an empty one",
            Self::NotACopy { .. } => "name a file that `matchmark copy FILE` wrote",
        };
        let finding = Finding::new("copy", "", self.to_string()).next(way_out);
        let mut report = Report::refusal(command, TITLE, finding);
        report.headline = Some("No copy was made, and nothing was changed.".to_owned());
        report
    }
}

/// Writes the whole job into one stream, as a zip file.
///
/// Others may go on writing meanwhile: what is copied is the job as it stood at one moment.
/// The same job gives the same bytes.
///
/// # Errors
/// [`CopyFault`] when a file of the job cannot be read or the stream takes no more.
pub fn write(folder: &Folder, to: impl Write) -> Result<Copied, CopyFault> {
    let mut copied = Copied::default();
    let mut pack = ZipWriter::new_stream(to);
    // The record goes first: a photo is on disk before its entry is, so every photo that this
    // record speaks of is there to follow it.
    let aside = tempfile::tempdir().map_err(CopyFault::Writing)?;
    let record = aside.path().join(RECORD);
    folder.back_up(&record)?;
    copied.entries = record::SqliteStore::open(&record)?.count()?;
    copied.bytes += add(&mut pack, &record, RECORD)?;
    for name in [BOOK, SHOP] {
        let path = folder.path().join(name);
        if path.exists() {
            copied.bytes += add(&mut pack, &path, name)?;
        }
    }
    for (path, name) in photos(&folder.path().join(PHOTOS))? {
        copied.bytes += add(&mut pack, &path, &name)?;
        copied.photos += 1;
    }
    let mut done = pack.finish().map_err(writing)?;
    done.flush().map_err(CopyFault::Writing)?;
    Ok(copied)
}

/// Every file under the photos, by name, with its name in the copy. Names that begin with a
/// dot are work in progress, and what is only linked to lies elsewhere.
fn photos(folder: &Path) -> Result<Vec<(PathBuf, String)>, CopyFault> {
    let mut found = Vec::new();
    let mut open = vec![(folder.to_owned(), PHOTOS.to_owned())];
    while let Some((folder, name)) = open.pop() {
        let file = |why| CopyFault::File {
            path: folder.clone(),
            why,
        };
        let inside = match fs::read_dir(&folder) {
            Ok(inside) => inside,
            Err(why) if why.kind() == io::ErrorKind::NotFound => continue,
            Err(why) => return Err(file(why)),
        };
        for entry in inside {
            let entry = entry.map_err(file)?;
            let kind = entry.file_type().map_err(file)?;
            let own = entry.file_name().to_string_lossy().into_owned();
            if own.starts_with('.') {
                continue;
            }
            let name = format!("{name}/{own}");
            if kind.is_dir() {
                open.push((entry.path(), name));
            } else if kind.is_file() {
                found.push((entry.path(), name));
            }
        }
    }
    found.sort();
    Ok(found)
}

/// Packs one file and says how long it is.
fn add<W: Write + Seek>(
    pack: &mut ZipWriter<W>,
    path: &Path,
    name: &str,
) -> Result<u64, CopyFault> {
    let file = |why| CopyFault::File {
        path: path.to_owned(),
        why,
    };
    let mut from = File::open(path).map_err(file)?;
    let length = from.metadata().map_err(file)?.len();
    // A photo or film is packed by its camera already.
    let method = if name.starts_with(PHOTOS) {
        CompressionMethod::Stored
    } else {
        CompressionMethod::Deflated
    };
    let options = SimpleFileOptions::default()
        .compression_method(method)
        .large_file(length >= u64::from(u32::MAX));
    pack.start_file(name, options).map_err(writing)?;
    io::copy(&mut from, pack).map_err(CopyFault::Writing)
}

fn writing(fault: ZipError) -> CopyFault {
    CopyFault::Writing(match fault {
        ZipError::Io(why) => why,
        other => io::Error::other(other),
    })
}

/// Writes the copy into a file that is not there yet, or into a folder under a name of its own.
/// The file appears whole or not at all, and is read back before it is called a copy.
#[must_use]
pub fn copy(folder: &Folder, to: &Path, now_micros: i64) -> Report {
    let to = if to.is_dir() {
        to.join(name(folder, now_micros))
    } else {
        to.to_owned()
    };
    if to.exists() {
        let says = "is there already, and a copy never takes the place of another";
        let finding = Finding::new("file", to.display().to_string(), says);
        let next = "name a file that is not there yet, or a folder";
        return Report::refusal(COMMAND, TITLE, finding.next(next));
    }
    match save(folder, &to) {
        Ok(copied) => told(&copied, &to),
        Err(fault) => fault.refusal(COMMAND),
    }
}

fn save(folder: &Folder, to: &Path) -> Result<Copied, CopyFault> {
    let file = |why| CopyFault::File {
        path: to.to_owned(),
        why,
    };
    let beside = match to.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        Some(_) | None => Path::new("."),
    };
    let mut part = tempfile::NamedTempFile::new_in(beside).map_err(file)?;
    let copied = write(folder, BufWriter::new(part.as_file_mut()))?;
    part.as_file().sync_all().map_err(file)?;
    read_back(part.reopen().map_err(file)?)?;
    part.persist_noclobber(to)
        .map_err(|fault| file(fault.error))?;
    // The name of the new file must survive a power cut too, where the system can promise it.
    if let Ok(beside) = File::open(beside) {
        let _ = beside.sync_all();
    }
    Ok(copied)
}

/// Reads every byte of a copy; the checksums in it tell whether they are those written.
fn read_back(file: File) -> Result<(), CopyFault> {
    let broken = |why: ZipError| CopyFault::ReadBack(why.to_string());
    let mut pack = ZipArchive::new(file).map_err(broken)?;
    for at in 0..pack.len() {
        let mut one = pack.by_index(at).map_err(broken)?;
        io::copy(&mut one.by_ref(), &mut io::sink())
            .map_err(|why| CopyFault::ReadBack(why.to_string()))?;
    }
    Ok(())
}

/// The name of a copy: the folder's and the day.
#[must_use]
pub fn name(folder: &Folder, now_micros: i64) -> String {
    let whole = folder.path().canonicalize();
    let name = whole
        .as_deref()
        .unwrap_or(folder.path())
        .file_name()
        .map_or_else(|| "job".into(), |name| name.to_string_lossy());
    match crate::calendar::day_of(now_micros) {
        Some(day) => format!("{name}-{day}.zip"),
        None => format!("{name}.zip"),
    }
}

fn told(copied: &Copied, to: &Path) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    let entries = usize::try_from(copied.entries).unwrap_or(usize::MAX);
    report.headline = Some(format!(
        "The whole job is in {}, and was read back.",
        to.display()
    ));
    report.figures = vec![
        Figure::count("entries", "entries of the record", entries),
        Figure::count("photos", "photos", copied.photos),
    ];
    report.findings.push(
        Finding::new(
            "copy",
            "",
            "keep it on another machine or stick than the job",
        )
        .next(format!(
            "matchmark new DIR --from {} lays it out again",
            to.display()
        ))
        .weight(Weight::Note),
    );
    report
}

#[cfg(test)]
mod tests;
