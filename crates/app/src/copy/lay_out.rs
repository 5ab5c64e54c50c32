//! A copy laid out again: a job in a folder, as it was when it was copied.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Component, Path};

use zip::ZipArchive;

use super::CopyFault;
use crate::folder::{BOOK, Folder, FolderFault, PHOTOS, RECORD, SHOP};

/// How a zip file begins.
const ZIP: &[u8] = b"PK\x03\x04";

/// Whether a file looks like a copy of a job rather than a text.
#[must_use]
pub fn is_copy(path: &Path) -> bool {
    let mut begin = [0; ZIP.len()];
    File::open(path).is_ok_and(|mut file| file.read_exact(&mut begin).is_ok() && begin == ZIP)
}

/// Lays the copy out in a folder that holds no job. The job is whole there or not there at all.
///
/// # Errors
/// [`CopyFault`] when the file is no copy, is damaged, or the folder holds a job already.
pub fn lay_out(copy: &Path, into: &Path) -> Result<Folder, CopyFault> {
    let taken = [BOOK, SHOP, RECORD, PHOTOS];
    if taken.iter().any(|name| into.join(name).exists()) {
        let path = into.to_owned();
        return Err(FolderFault::JobThere { path }.into());
    }
    let file = |why| CopyFault::File {
        path: into.to_owned(),
        why,
    };
    fs::create_dir_all(into).map_err(file)?;
    // Unpacked beside its place and looked at there, so that a broken copy leaves nothing.
    let aside = tempfile::Builder::new()
        .prefix(".copy-")
        .tempdir_in(into)
        .map_err(file)?;
    unpack(copy, aside.path())?;
    fs::create_dir_all(aside.path().join(PHOTOS)).map_err(file)?;
    drop(Folder::open(aside.path())?);
    // The record goes last: a folder without it is no job yet.
    for name in [PHOTOS, SHOP, BOOK, RECORD] {
        let from = aside.path().join(name);
        if from.exists() {
            fs::rename(from, into.join(name)).map_err(file)?;
        }
    }
    Ok(Folder::open(into)?)
}

fn unpack(copy: &Path, to: &Path) -> Result<(), CopyFault> {
    let refuse = |why: String| CopyFault::NotACopy {
        path: copy.to_owned(),
        why,
    };
    let reading = |why| CopyFault::File {
        path: copy.to_owned(),
        why,
    };
    let file = File::open(copy).map_err(reading)?;
    let mut pack = ZipArchive::new(file).map_err(|why| refuse(why.to_string()))?;
    if pack.index_for_name(RECORD).is_none() {
        return Err(refuse(format!("there is no {RECORD} in it")));
    }
    for at in 0..pack.len() {
        let mut one = pack.by_index(at).map_err(|why| refuse(why.to_string()))?;
        if one.is_dir() {
            continue;
        }
        // A name may lead out of the folder (`../…`); nothing but a job is taken from a copy.
        let name = one.enclosed_name().filter(|name| belongs(name));
        let Some(name) = name else {
            let name = one.name().unwrap_or_default();
            return Err(refuse(format!("`{name}` is no file of a job")));
        };
        let path = to.join(name);
        let writing = |why| CopyFault::File {
            path: path.clone(),
            why,
        };
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(writing)?;
        }
        let mut plain = File::create_new(&path).map_err(writing)?;
        io::copy(&mut one, &mut plain).map_err(|why| refuse(why.to_string()))?;
        plain.sync_all().map_err(writing)?;
    }
    Ok(())
}

fn belongs(name: &Path) -> bool {
    let plain = name
        .components()
        .all(|one| matches!(one, Component::Normal(_)));
    let whole = [BOOK, SHOP, RECORD]
        .iter()
        .any(|own| name == Path::new(own));
    plain && (whole || name.starts_with(PHOTOS))
}
