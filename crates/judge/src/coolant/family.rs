//! Families of coolant by their inhibitors, and whether two may meet.
//!
//! Colour says nothing about them. What a mixture does is disputed in the trade; the rule used
//! here is named and careful.

use report::{Finding, Source, SourceKind, Weight};

/// What keeps the metal from corroding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Silicate, phosphate, borate.
    Inorganic,
    /// Organic acids alone.
    Organic,
    /// Organic acids with silicate.
    Silicated,
    /// Organic acids with phosphate.
    Phosphated,
    /// With nitrite, for heavy engines.
    Nitrited,
}

impl Family {
    /// All families.
    pub const ALL: [Self; 5] = [
        Self::Inorganic,
        Self::Organic,
        Self::Silicated,
        Self::Phosphated,
        Self::Nitrited,
    ];

    /// The word an option takes.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Inorganic => "inorganic",
            Self::Organic => "organic",
            Self::Silicated => "silicated",
            Self::Phosphated => "phosphated",
            Self::Nitrited => "nitrited",
        }
    }

    /// The family in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inorganic => "inorganic (silicate, phosphate, borate)",
            Self::Organic => "organic acids alone",
            Self::Silicated => "organic acids with silicate",
            Self::Phosphated => "organic acids with phosphate",
            Self::Nitrited => "nitrited, for heavy engines",
        }
    }

    /// The family a word names.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase();
        Self::ALL.into_iter().find(|family| family.key() == word)
    }
}

/// What the rule `weakest-of-the-mixture` says of two families that meet.
pub(super) fn meeting(inside: Family, poured: Family) -> Finding {
    if inside == poured {
        return Finding::new(
            "same-family",
            "families",
            format!("both are {}", inside.words()),
        )
        .points_to(
            "rule same-family: they may meet where the maker's number on bottle and book agrees",
        )
        .weight(Weight::Note);
    }
    Finding::new(
        "families-meet",
        "families",
        format!("{} inside, {} poured", inside.words(), poured.words()),
    )
    .points_to("rule weakest-of-the-mixture: protection and life of the weaker one; deposits happen, gelling is no certainty, and neither is that all goes well")
    .next("flush until under 5 % of the old is left, or plan a change at the life of the shorter-lived one")
}

/// Where the rule comes from.
pub(super) fn source() -> Source {
    Source::new(
        SourceKind::Published,
        "what compatible means is still argued: ASTM STP 1556 (2014)",
    )
}
