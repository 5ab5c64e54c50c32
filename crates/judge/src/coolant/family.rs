//! Families of coolant by their inhibitors, and whether two may meet.
//!
//! Colour says nothing about them. What a mixture does is disputed in the trade; the rule used
//! here is named and careful: families are not mixed, and what is left of the old one after
//! enough fills does not count.

use quantity::unit::PERCENT;
use quantity::{Ratio, show_fixed};
use report::{Ask, Finding, Source, SourceKind, Weight};

/// The share of the old one that no longer counts. *Common practice, no source.*
pub(super) const NO_LONGER_COUNTS: f64 = 0.05;

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

    /// The letters the trade writes on bottles for it.
    const fn letters(self) -> &'static [&'static str] {
        match self {
            Self::Inorganic => &["iat"],
            Self::Organic => &["oat"],
            Self::Silicated => &["hoat", "si-oat"],
            Self::Phosphated => &["p-oat", "phoat"],
            Self::Nitrited => &["noat"],
        }
    }

    /// The family a word or the letters on a bottle name.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase();
        Self::ALL
            .into_iter()
            .find(|family| family.key() == word || family.letters().contains(&word.as_str()))
    }
}

/// What is said of two families, or asked where one of them is not known. `left` is the share
/// of the old coolant in the new fill, where it is known and any old coolant is in it.
pub(super) fn judged(
    inside: Option<Family>,
    poured: Option<Family>,
    left: Option<Ratio>,
    fills: usize,
) -> Result<Finding, Ask> {
    match (inside, poured) {
        (Some(inside), Some(poured)) => Ok(meeting(inside, poured, left, fills)),
        (known, _) => {
            let (what, option) = match known {
                Some(_) => ("which family is poured", "--family"),
                None if poured.is_some() => ("which family is inside", "--inside-family"),
                None => (
                    "which family is inside, and which is poured",
                    "--inside-family and --family",
                ),
            };
            Err(Ask::new(
                what,
                "old coolant stays inside, and unlike families are not mixed.",
                format!(
                    "Read the maker's number on bottle and book, not the colour; give {option}."
                ),
            ))
        }
    }
}

/// What the rules `same-family` and `weakest-of-the-mixture` say of two families that meet.
fn meeting(inside: Family, poured: Family, left: Option<Ratio>, fills: usize) -> Finding {
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
    let share = left.map_or_else(String::new, |left| {
        format!("; {} of the fill is old", show_fixed(left, &PERCENT, 0))
    });
    let finding = Finding::new(
        "families-meet",
        "families",
        format!(
            "{} inside, {} poured{share}",
            inside.words(),
            poured.words()
        ),
    );
    if left.is_some_and(|left| left.in_fraction() <= NO_LONGER_COUNTS) {
        return finding
            .points_to("so little of the old one no longer counts")
            .weight(Weight::Note);
    }
    finding
        .points_to("rule weakest-of-the-mixture: not to be mixed; protection and life of the weaker one; deposits happen, gelling is no certainty, and neither is that all goes well")
        .next(format!(
            "{fills} drains and fills with water first, until under 5 % of the old is left; if it is mixed already, plan a change at the life of the shorter-lived one"
        ))
        .weight(Weight::Stop)
}

/// Where the rule comes from.
pub(super) fn source() -> Source {
    Source::new(
        SourceKind::Published,
        "what compatible means is still argued: ASTM STP 1556 (2014)",
    )
}
