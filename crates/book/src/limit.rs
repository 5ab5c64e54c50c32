//! A limit: a number to judge a reading by, with its source.

use quantity::Length;

use crate::amount::Amount;
use crate::fact::Fact;
use crate::id::{LimitId, Ref};
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

/// A number to judge a reading by. The id is also the name of the reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Its name.
    pub id: LimitId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this limit.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// The part, joint, circuit, … that is measured.
    pub of: Option<Mention<Ref>>,
    /// The least allowed.
    pub min: Fact<Amount>,
    /// The most allowed.
    pub max: Fact<Amount>,
    /// What a new one measures, where the maker says it.
    pub new: Fact<Amount>,
    /// The stretch the limit holds over: 0.05 mm per 150 mm.
    pub per: Fact<Length>,
    /// How many readings make it whole, one for each cylinder, corner or journal.
    pub readings: Fact<u32>,
    /// Where the number comes from.
    pub source: Origin,
}

/// Where a number of the book comes from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Origin {
    /// How firm it is; nothing when the book does not say.
    pub kind: Option<OriginKind>,
    /// Which page, section or table.
    pub at: Option<String>,
}

/// How firm the origin of a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OriginKind {
    /// The maker of the engine or part.
    Maker,
    /// A workshop or machine shop.
    Shop,
    /// A standard, book or paper.
    Published,
    /// Trade practice without a citable source.
    CommonPractice,
    /// Made up for a demonstration or to try things out.
    Invented,
    /// Nobody knows; said so on purpose.
    None,
}

words! {
    OriginKind {
        Maker "maker",
        Shop "shop",
        Published "published",
        CommonPractice "common-practice",
        Invented "invented",
        None "none",
    }
}
