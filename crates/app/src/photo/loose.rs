//! Files without a line, lines without a file, and files that are not what their name says.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};

use job::{Act, EntryId, FileHash};
use report::{Finding, Weight};

use super::store;
use crate::folder::{Folder, PHOTOS};

/// What does not fit together between the photos in the folder and the record.
///
/// Every file is read, so that one that went bad on its disk is found while a copy of it may
/// still be had.
#[must_use]
pub fn loose(folder: &Folder) -> Vec<Finding> {
    let spoken = spoken_of(folder);
    let mut here = BTreeSet::new();
    let mut findings = Vec::new();
    let inside = match files_in(&folder.path().join(PHOTOS)) {
        Ok(inside) => inside,
        Err(why) => {
            let says = format!("the photos could not be listed: {why}");
            findings.push(stop(Finding::new("photos", PHOTOS, says)));
            Vec::new()
        }
    };
    for path in inside {
        match looked_at(folder.path(), &path, &spoken) {
            Ok(file) => {
                here.insert(file);
            }
            Err(finding) => findings.push(*finding),
        }
    }
    // A photo whose line was taken back is missed by nobody.
    let counts = |file: &FileHash| {
        let mut photos = folder.state.photos.iter();
        photos.any(|photo| photo.file.as_ref() == Some(file))
    };
    for (file, entry) in spoken.iter().filter(|(file, _)| !here.contains(*file)) {
        if counts(file) && store::find(folder.path(), file).is_none() {
            let says = format!("entry {entry} speaks of it, and it is not in `{PHOTOS}`");
            let next = "copy it from the camera or a copy of the job: matchmark photo FILE";
            let about = format!("photo {}", file.short());
            findings.push(stop(Finding::new("photo-missing", about, says).next(next)));
        }
    }
    findings
}

/// Every photo that a line of the record names, with the first such entry. Lines taken back
/// count: an undo may be undone.
fn spoken_of(folder: &Folder) -> BTreeMap<FileHash, EntryId> {
    let mut spoken = BTreeMap::new();
    for entry in &folder.entries {
        let act = match &entry.act {
            Act::Corrected { act, .. } => act,
            act => act,
        };
        if let Act::Photographed(shot) = act
            && let Some(file) = &shot.file
        {
            spoken.entry(file.clone()).or_insert(entry.id);
        }
    }
    spoken
}

/// The files among the photos by name. Names that begin with a dot are work in progress.
fn files_in(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let inside = match std::fs::read_dir(folder) {
        Ok(inside) => inside,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(why),
    };
    let mut found = Vec::new();
    for one in inside {
        let one = one?;
        if !one.file_name().to_string_lossy().starts_with('.') {
            found.push(one.path());
        }
    }
    found.sort();
    Ok(found)
}

/// The photo a file is, or what is wrong with it.
fn looked_at(
    job: &Path,
    path: &Path,
    spoken: &BTreeMap<FileHash, EntryId>,
) -> Result<FileHash, Box<Finding>> {
    let shown = path.strip_prefix(job).unwrap_or(path).display().to_string();
    let stem = path.file_stem().map(|stem| stem.to_string_lossy());
    let Some(named) = stem.and_then(|stem| FileHash::read(&stem)) else {
        let says = "is among the photos and was not put there by `matchmark photo`";
        let next = format!("matchmark photo {shown} puts it into the record; then remove it here");
        return Err(Box::new(
            Finding::new("photo-unnamed", shown, says).next(next),
        ));
    };
    match store::name_of_file(path) {
        Ok(Some(is)) if is == named && spoken.contains_key(&named) => Ok(named),
        Ok(Some(is)) if is == named => {
            let says = "no line of the record speaks of it";
            let next = format!("matchmark photo {shown} puts it into the record; or remove it");
            Err(Box::new(
                Finding::new("photo-without-line", shown, says).next(next),
            ))
        }
        Ok(_) => {
            let says = "its bytes are not those it was kept with";
            let next = "take it from a copy of the job; this one is damaged";
            Err(Box::new(stop(
                Finding::new("photo-changed", shown, says).next(next),
            )))
        }
        Err(why) => {
            let says = format!("could not be read: {why}");
            Err(Box::new(stop(Finding::new("photo", shown, says))))
        }
    }
}

fn stop(finding: Finding) -> Finding {
    finding.weight(Weight::Stop)
}
