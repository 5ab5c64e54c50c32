//! The condition of the threads a figure is for, and the words for it.
//!
//! What a condition does to the preload is not this module's business.

use crate::read::Scan;

/// The state of the threads a figure is for.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Condition {
    /// The spec does not say. Nothing may be concluded from that.
    #[default]
    NotStated,
    /// Clean and dry.
    Dry,
    /// Oil on the threads and under the head.
    Oiled,
    /// A sealer on the threads.
    Sealer,
    /// A threadlock on the threads.
    Threadlock,
    /// Another lubricant, in the words of the spec.
    Lubricant(String),
}

impl Condition {
    /// The condition in words, as they stand in a spec.
    #[must_use]
    pub fn words(&self) -> &str {
        match self {
            Self::NotStated => "condition not stated",
            Self::Dry => "dry",
            Self::Oiled => "oiled",
            Self::Sealer => "with sealer",
            Self::Threadlock => "with threadlock",
            Self::Lubricant(words) => words,
        }
    }
}

/// A condition of the threads, longest wording first.
pub(super) fn condition(scan: &mut Scan<'_>) -> Option<Condition> {
    const DRY: &[&str] = &["clean and dry", "dry threads", "threads dry", "dry"];
    const OILED: &[&str] = &[
        "lightly oiled",
        "with engine oil",
        "engine oil",
        "oiled threads",
        "threads oiled",
        "with oil",
        "oiled",
        "oil",
    ];
    const SEALER: &[&str] = &[
        "with thread sealant",
        "with thread sealer",
        "thread sealant",
        "with sealant",
        "with sealer",
        "sealant",
        "sealer",
    ];
    const THREADLOCK: &[&str] = &[
        "with thread lock",
        "with threadlock",
        "thread lock",
        "threadlock",
    ];
    const LUBRICANT: &[&str] = &[
        "with assembly paste",
        "with copper paste",
        "with moly grease",
        "with anti seize",
        "with grease",
        "assembly paste",
        "copper paste",
        "moly grease",
        "anti seize",
        "lubricated",
        "greased",
        "grease",
    ];
    if scan.take_word(DRY) {
        return Some(Condition::Dry);
    }
    if scan.take_word(OILED) {
        return Some(Condition::Oiled);
    }
    if scan.take_word(SEALER) {
        return Some(Condition::Sealer);
    }
    if scan.take_word(THREADLOCK) {
        return Some(Condition::Threadlock);
    }
    let start = scan.at();
    scan.take_word(LUBRICANT)
        .then(|| Condition::Lubricant(scan.text()[start..scan.at()].trim().to_lowercase()))
}
