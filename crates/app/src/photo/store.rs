//! Where the bytes of photos lie, and how they get there: whole or not at all.

use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, Write};
use std::path::{Path, PathBuf};

use files::photo::{Kind, Photo, PhotoFault};
use job::FileHash;
use report::Finding;
use sha2::{Digest, Sha256};
use tempfile::NamedTempFile;

use super::Settled;
use crate::folder::PHOTOS;

/// The folder of pictures drawn smaller, beside the photos; it may be deleted at any time.
const SMALLER: &str = "smaller";

/// How large a picture is drawn again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Size {
    /// For a list and a card: the longer side has 480 pixels at most.
    Small,
    /// For a page and a paper: 1600 pixels at most.
    Large,
}

impl Size {
    /// The longer side, in pixels.
    #[must_use]
    pub const fn pixels(self) -> u32 {
        match self {
            Self::Small => 480,
            Self::Large => 1600,
        }
    }
}

/// Why a photo could not be kept or given out.
#[derive(Debug, thiserror::Error)]
pub enum StoreFault {
    /// The bytes are no photo that can be kept or drawn.
    #[error("{0}")]
    Photo(#[from] PhotoFault),
    /// There is no such photo in the job folder.
    #[error("there is no photo {} in the job folder", file.short())]
    NotThere {
        /// Its name.
        file: FileHash,
    },
    /// A file could not be read or written.
    #[error("{} could not be read or written: {why}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
}

impl StoreFault {
    /// The fault as a finding about the picture a person named.
    pub(super) fn finding(&self, name: &str) -> Finding {
        let next = match self {
            Self::Photo(fault) => fault.way_out(),
            Self::NotThere { .. } => "matchmark check lists photos that are missing",
            Self::File { .. } => "check that the file is there, and that there is room",
        };
        let about = match self {
            Self::File { .. } => "",
            Self::Photo(_) | Self::NotThere { .. } => name,
        };
        Finding::new("photo", about, self.to_string()).next(next)
    }
}

/// The name of some bytes.
pub(super) fn name_of(bytes: &[u8]) -> Option<FileHash> {
    written_out(Sha256::new_with_prefix(bytes))
}

/// The name of a file of bytes, read piece by piece.
pub(super) fn name_of_file(path: &Path) -> io::Result<Option<FileHash>> {
    let mut from = BufReader::new(File::open(path)?);
    let mut sum = Sha256::new();
    loop {
        let piece = from.fill_buf()?;
        if piece.is_empty() {
            return Ok(written_out(sum));
        }
        sum.update(piece);
        let length = piece.len();
        from.consume(length);
    }
}

fn written_out(sum: Sha256) -> Option<FileHash> {
    let digest = sum.finalize();
    let letters: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    FileHash::read(&letters)
}

/// Where a photo of a kind lies.
pub(super) fn place(job: &Path, file: &FileHash, kind: Kind) -> PathBuf {
    job.join(PHOTOS).join(format!("{file}.{}", kind.ending()))
}

/// A photo that lies in the job folder, with its kind.
pub(super) fn find(job: &Path, file: &FileHash) -> Option<(Kind, PathBuf)> {
    Kind::ALL
        .into_iter()
        .map(|kind| (kind, place(job, file, kind)))
        .find(|(_, path)| path.is_file())
}

/// A picture whose bytes are on the disk, and are no photo of the job yet.
#[derive(Debug)]
pub(super) struct Staged {
    pub name: String,
    pub file: FileHash,
    photo: Photo,
    /// Nothing where the photo lies there already.
    part: Option<NamedTempFile>,
}

/// Reads a file of a picture, and no more of it than a picture may have.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, StoreFault> {
    let file = |why| StoreFault::File {
        path: path.to_owned(),
        why,
    };
    let length = fs::metadata(path).map_err(file)?.len();
    match usize::try_from(length) {
        Ok(bytes) if bytes <= files::photo::MOST_BYTES => fs::read(path).map_err(file),
        Ok(bytes) => Err(PhotoFault::TooManyBytes { bytes }.into()),
        Err(_) => Err(PhotoFault::TooManyBytes { bytes: usize::MAX }.into()),
    }
}

/// Looks at the bytes and writes them beside the photos under a name that begins with a dot:
/// work in progress, gone again unless it is settled.
pub(super) fn stage(job: &Path, name: &str, bytes: &[u8]) -> Result<Staged, StoreFault> {
    let photo = files::photo::look(bytes)?;
    let file = name_of(bytes).ok_or(PhotoFault::NoPicture)?;
    let part = match find(job, &file) {
        Some(_) => None,
        None => Some(written(&job.join(PHOTOS), bytes)?),
    };
    Ok(Staged {
        name: name.to_owned(),
        file,
        photo,
        part,
    })
}

fn written(folder: &Path, bytes: &[u8]) -> Result<NamedTempFile, StoreFault> {
    let fault = |why| StoreFault::File {
        path: folder.to_owned(),
        why,
    };
    fs::create_dir_all(folder).map_err(fault)?;
    let mut part = tempfile::Builder::new()
        .prefix(".part-")
        .tempfile_in(folder)
        .map_err(fault)?;
    part.write_all(bytes).map_err(fault)?;
    part.as_file().sync_all().map_err(fault)?;
    Ok(part)
}

impl Staged {
    /// Gives the picture its name in the job folder, and waits until the name is on the disk.
    pub(super) fn settle(self, job: &Path) -> Result<Settled, StoreFault> {
        if let Some(part) = self.part {
            let path = place(job, &self.file, self.photo.kind);
            // The same bytes may have come in by another hand meanwhile; either will do.
            let persisted = part.persist(&path).map_err(|fault| fault.error);
            persisted.map_err(|why| StoreFault::File {
                path: path.clone(),
                why,
            })?;
            if let Ok(folder) = File::open(job.join(PHOTOS)) {
                let _ = folder.sync_all();
            }
        }
        Ok(Settled {
            name: self.name,
            file: self.file,
            photo: self.photo,
        })
    }
}

/// A photo as it was taken, with its kind. It may say where that was: it is for the people of
/// this job, and never for others.
///
/// # Errors
/// [`StoreFault::NotThere`], or [`StoreFault::File`] when it cannot be read.
pub fn original(job: &Path, file: &FileHash) -> Result<(Kind, Vec<u8>), StoreFault> {
    let (kind, path) =
        find(job, file).ok_or_else(|| StoreFault::NotThere { file: file.clone() })?;
    let bytes = fs::read(&path).map_err(|why| StoreFault::File { path, why })?;
    Ok((kind, bytes))
}

/// A JPEG of a photo, upright, not larger than asked for, with nothing in it but the picture.
/// It is drawn once and kept in the folder `smaller`; without room for it, it is drawn anew
/// each time.
///
/// # Errors
/// [`StoreFault`] when the photo is not there, cannot be read or cannot be drawn.
pub fn smaller(job: &Path, file: &FileHash, size: Size) -> Result<Vec<u8>, StoreFault> {
    let folder = job.join(SMALLER);
    let path = folder.join(format!("{file}-{}.jpg", size.pixels()));
    if let Ok(bytes) = fs::read(&path) {
        return Ok(bytes);
    }
    let (_, bytes) = original(job, file)?;
    let drawn = files::photo::smaller(&bytes, size.pixels())?;
    if let Ok(part) = written(&folder, &drawn) {
        let _ = part.persist(&path);
    }
    Ok(drawn)
}
