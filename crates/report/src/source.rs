//! Where a number or a rule comes from.

/// How firm a source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SourceKind {
    /// The maker of the engine or part, as typed from its book.
    Maker,
    /// A workshop or machine shop that measured it.
    Shop,
    /// A standard, book, paper or official manual.
    Published,
    /// Worked out by a general library, named with its version.
    Computed,
    /// A public data set or document.
    PublicData,
    /// Trade practice without a citable source.
    CommonPractice,
    /// Recalled and not verified.
    FromMemory,
}

impl SourceKind {
    /// The word, as people and JSON read it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Maker => "maker",
            Self::Shop => "shop",
            Self::Published => "published",
            Self::Computed => "computed by a general library",
            Self::PublicData => "public data",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory",
        }
    }
}

/// A source with its kind.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Source {
    /// How firm it is.
    pub kind: SourceKind,
    /// What it is: title, edition, clause or table.
    pub title: String,
}

impl Source {
    /// A source of a kind.
    #[must_use]
    pub fn new(kind: SourceKind, title: impl Into<String>) -> Self {
        Self {
            kind,
            title: title.into(),
        }
    }

    /// Trade practice, said plainly to be without a source.
    #[must_use]
    pub fn common_practice(what: impl Into<String>) -> Self {
        Self::new(SourceKind::CommonPractice, what)
    }
}
