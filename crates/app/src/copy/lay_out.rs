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

/// Lays the copy out in a folder that is not there yet or is empty. The job is whole there or
/// not there at all: it is laid beside its place, looked at, and moved there in one go.
///
/// # Errors
/// [`CopyFault`] when the file is no copy, is damaged, or the folder holds something.
pub fn lay_out(copy: &Path, into: &Path) -> Result<Folder, CopyFault> {
    let path = into.to_owned();
    if [BOOK, SHOP, RECORD]
        .iter()
        .any(|name| into.join(name).exists())
    {
        return Err(FolderFault::JobThere { path }.into());
    }
    let file = |why| CopyFault::File {
        path: into.to_owned(),
        why,
    };
    // A folder one stands in (`.`) cannot be changed for another under one's feet.
    let (Some(parent), Some(_)) = (into.parent(), into.file_name()) else {
        return Err(CopyFault::NotEmpty { path });
    };
    let there = into.exists();
    if there && fs::read_dir(into).map_err(file)?.next().is_some() {
        return Err(CopyFault::NotEmpty { path });
    }
    let parent = if parent.as_os_str().is_empty() {
        Path::new(".")
    } else {
        parent
    };
    fs::create_dir_all(parent).map_err(file)?;
    let aside = tempfile::Builder::new()
        .prefix(".copy-")
        .tempdir_in(parent)
        .map_err(file)?;
    let laid = aside.path().join("job");
    fs::create_dir_all(laid.join(PHOTOS)).map_err(file)?;
    unpack(copy, &laid)?;
    drop(Folder::open(&laid)?);
    if there {
        fs::remove_dir(into).map_err(file)?;
    }
    fs::rename(&laid, into).map_err(file)?;
    if let Ok(parent) = File::open(parent) {
        let _ = parent.sync_all();
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
        io::copy(&mut one, &mut plain).map_err(|why| match why.kind() {
            // Damage in the copy, as its checksums tell; anything else is the disk.
            io::ErrorKind::InvalidData
            | io::ErrorKind::InvalidInput
            | io::ErrorKind::UnexpectedEof => refuse(why.to_string()),
            _ => writing(why),
        })?;
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
