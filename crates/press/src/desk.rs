//! The world a template lives in: its own files, one paper's data, the faces, a fixed day.
//!
//! Nothing is read from disk, network, clock or environment.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use book::Date;
use typst::LibraryExt;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, World};

use crate::PressFault;
use crate::data::Data;

/// The templates, by name.
const TEMPLATES: [(&str, &str); 5] = [
    ("main.typ", include_str!("../template/main.typ")),
    ("look.typ", include_str!("../template/look.typ")),
    ("pages.typ", include_str!("../template/pages.typ")),
    ("labels.typ", include_str!("../template/labels.typ")),
    ("card.typ", include_str!("../template/card.typ")),
];

/// The faces: those of the house, and the one that has the letters they lack.
pub(crate) static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
    let own = sheet::font::FACES.iter().map(|face| face.bytes);
    let all = own.chain(typst_assets::fonts());
    all.flat_map(|bytes| Font::iter(Bytes::new(bytes)))
        .filter(|font| crate::letters::FAMILIES.contains(&font.info().family.as_str()))
        .collect()
});

static BOOK: LazyLock<LazyHash<FontBook>> =
    LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// One paper on the desk.
pub(crate) struct Desk {
    main: FileId,
    sources: BTreeMap<&'static str, Source>,
    files: BTreeMap<String, Bytes>,
    day: Datetime,
}

impl Desk {
    /// Lays out templates and data.
    pub(crate) fn of(data: Data, day: Date) -> Result<Self, PressFault> {
        let mut sources = BTreeMap::new();
        for (name, text) in TEMPLATES {
            sources.insert(name, Source::new(id(name)?, text.to_owned()));
        }
        let files = data
            .files
            .into_iter()
            .map(|(name, bytes)| (name, Bytes::new(bytes)))
            .chain([("data.json".to_owned(), Bytes::from_string(data.json))])
            .collect();
        Ok(Self {
            main: id("main.typ")?,
            sources,
            files,
            day: self::day(day)?,
        })
    }
}

fn id(name: &str) -> Result<FileId, PressFault> {
    let path = VirtualPath::new(name).map_err(|_| PressFault::Template(name.to_owned()))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// Midnight of a day, for a PDF's own record.
pub(crate) fn day(day: Date) -> Result<Datetime, PressFault> {
    Datetime::from_ymd_hms(i32::from(day.year), day.month, day.day, 0, 0, 0)
        .ok_or_else(|| PressFault::Day(day.to_string()))
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &BOOK
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let name = id.vpath().get_without_slash();
        let missing = || FileError::NotFound(name.into());
        self.sources.get(name).cloned().ok_or_else(missing)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.vpath().get_without_slash();
        let missing = || FileError::NotFound(name.into());
        self.files.get(name).cloned().ok_or_else(missing)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        Some(self.day)
    }
}
