//! The island post van: an invented job, laid in a folder and lived through.
//!
//! The story is told from the same reports as every command; nothing in it is written down
//! beforehand but the book, the workshop and the typed lines.

mod life;
mod story;

use std::fs;
use std::path::Path;

use report::{Finding, Report};

use crate::folder::{self, Folder, FolderFault, RECORD};
use crate::photo::{self, StoreFault};

pub use life::{Chapter, LIFE, LifeFault, read};

/// The build book of the demo. Invented.
pub const BOOK: &str = include_str!("../demo/post-van.kdl");

/// The workshop of the demo. Invented.
pub const SHOP: &str = include_str!("../demo/shop.kdl");

/// Its photos: drawn, not taken, and invented like the van. The record speaks of them by the
/// names of their bytes.
const PHOTOS: [(&str, &[u8]); 5] = [
    ("bay.jpg", include_bytes!("../demo/photos/bay.jpg")),
    (
        "two-hoses.jpg",
        include_bytes!("../demo/photos/two-hoses.jpg"),
    ),
    ("vee.jpg", include_bytes!("../demo/photos/vee.jpg")),
    ("chain.jpg", include_bytes!("../demo/photos/chain.jpg")),
    ("gasket.jpg", include_bytes!("../demo/photos/gasket.jpg")),
];

/// The folder of the typed lines inside the job folder; it also marks the folder as a demo.
const LINES: &str = "lines";

/// Lays the demo in a folder, lives through it and tells the story. A folder that holds the
/// demo already is begun anew; any other job is left alone. `prints` says whether this program
/// has a press, so that the story names the papers or how to come by them.
#[must_use]
pub fn demo(path: &Path, prints: bool) -> Report {
    match laid(path).and_then(|folder| story::tell(folder, prints)) {
        Ok(report) => report,
        Err(fault) => fault.into_report(),
    }
}

/// Why the demo could not be told.
#[derive(Debug, thiserror::Error)]
pub(crate) enum DemoFault {
    /// The folder could not be laid or written to.
    #[error(transparent)]
    Folder(#[from] FolderFault),
    /// A photo could not be laid.
    #[error(transparent)]
    Photo(#[from] StoreFault),
    /// A line of the life cannot be read.
    #[error(transparent)]
    Life(#[from] LifeFault),
    /// A plan could not be made.
    #[error("no plan: {0}")]
    Plan(String),
}

impl DemoFault {
    fn into_report(self) -> Report {
        match self {
            Self::Folder(fault) => fault.refusal("demo"),
            other => Report::refusal(
                "demo",
                "The demo",
                Finding::new("demo", "", other.to_string()),
            ),
        }
    }
}

fn laid(path: &Path) -> Result<Folder, DemoFault> {
    let file = |path: &Path| {
        let path = path.to_owned();
        move |why| FolderFault::File { path, why }
    };
    let lines = path.join(LINES);
    if lines.join(LIFE[0].name).exists() {
        for name in [
            folder::BOOK,
            folder::SHOP,
            RECORD,
            // Phones that knew the old record hold lines for it: they are to come in anew.
            folder::KEYS,
            "record.sqlite-wal",
            "record.sqlite-shm",
        ] {
            match fs::remove_file(path.join(name)) {
                Err(why) if why.kind() != std::io::ErrorKind::NotFound => {
                    return Err(FolderFault::File {
                        path: path.join(name),
                        why,
                    }
                    .into());
                }
                Ok(()) | Err(_) => {}
            }
        }
    }
    let folder = Folder::begin(path, Some(BOOK), Some(SHOP))?;
    for (name, bytes) in PHOTOS {
        photo::lay(path, name, bytes)?;
    }
    fs::create_dir_all(&lines).map_err(file(&lines))?;
    for chapter in LIFE {
        let path = lines.join(chapter.name);
        fs::write(&path, chapter.text()).map_err(file(&path))?;
    }
    Ok(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every file the life speaks of is laid, and nothing else; nothing in it contradicts.
    #[test]
    fn the_photos_of_the_life_are_there_with_their_marks() {
        let place = tempfile::tempdir().unwrap();
        let mut folder = laid(&place.path().join("van")).unwrap();
        for chapter in LIFE {
            folder.append(&chapter.entries().unwrap()).unwrap();
        }
        assert!(photo::loose(&folder).is_empty());
        let kept = folder.state.photos.iter().filter(|it| it.file.is_some());
        let kept: Vec<_> = kept.collect();
        assert_eq!(kept.len(), PHOTOS.len());
        assert!(kept.iter().all(|it| it.show && !it.spots.is_empty()));
    }
}
