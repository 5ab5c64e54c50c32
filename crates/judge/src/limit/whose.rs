//! Whose number a limit is, and how a person says so.

use report::SourceKind;

/// Whose number a limit is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Whose {
    /// The maker of the engine or part.
    #[default]
    Maker,
    /// A workshop or machine shop.
    Shop,
    /// A standard, book or paper.
    Published,
    /// Trade practice without a citable source.
    CommonPractice,
    /// Recalled, not verified.
    FromMemory,
    /// Made up for a demonstration.
    Invented,
    /// It was given and nobody said whose it is.
    Unsaid,
}

impl Whose {
    /// As it stands in a sentence: `maker's limit`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Maker => "maker's limit",
            Self::Shop => "shop's limit",
            Self::Published => "published limit",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory, not verified",
            Self::Invented => "invented for a demonstration",
            Self::Unsaid => "as given, owner not said",
        }
    }

    /// As it stands behind a figure: whose word it is.
    #[must_use]
    pub const fn source_words(self) -> &'static str {
        match self {
            Self::Maker => "maker",
            Self::Shop => "shop",
            Self::Published => "published",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory",
            Self::Invented => "invented for a demonstration",
            Self::Unsaid => "whose it is was not said",
        }
    }

    /// The kind of source, where there is one to name.
    #[must_use]
    pub const fn kind(self) -> Option<SourceKind> {
        match self {
            Self::Maker => Some(SourceKind::Maker),
            Self::Shop => Some(SourceKind::Shop),
            Self::Published => Some(SourceKind::Published),
            Self::CommonPractice => Some(SourceKind::CommonPractice),
            Self::FromMemory => Some(SourceKind::FromMemory),
            Self::Invented | Self::Unsaid => None,
        }
    }

    /// Reads `maker`, `maker, head section`, `shop: certificate 7`. Words that name no owner
    /// are kept as the place.
    #[must_use]
    pub fn read(typed: &str) -> (Self, Option<String>) {
        const OWNERS: [(&str, Whose); 6] = [
            ("common practice", Whose::CommonPractice),
            ("common-practice", Whose::CommonPractice),
            ("published", Whose::Published),
            ("invented", Whose::Invented),
            ("maker", Whose::Maker),
            ("shop", Whose::Shop),
        ];
        let typed = typed.trim();
        let lower = typed.to_lowercase();
        for (word, whose) in OWNERS {
            let Some(rest) = lower.strip_prefix(word) else {
                continue;
            };
            if rest.starts_with(char::is_alphanumeric) {
                continue;
            }
            let place = typed[word.len()..]
                .trim_start_matches([',', ':', ';', ' '])
                .trim();
            return (whose, (!place.is_empty()).then(|| place.to_owned()));
        }
        (Self::Unsaid, (!typed.is_empty()).then(|| typed.to_owned()))
    }
}
