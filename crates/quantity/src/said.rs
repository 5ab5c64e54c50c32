//! What a person wrote, beside what it means.

use crate::kind::Quantity;

/// A quantity with the text it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Said<Q> {
    /// What it means, in SI.
    pub value: Q,
    /// The text as it was typed, kept for every sheet.
    pub typed: String,
    /// What the answer must say about the reading: a US quart was assumed, a slash was taken as a joiner.
    pub notes: Vec<String>,
}

/// A low and a high end, low first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<Q> {
    /// The low end.
    pub low: Q,
    /// The high end, never below the low one.
    pub high: Q,
}

/// A reading that may be only a bound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bound<Q> {
    /// A plain value.
    Exactly(Q),
    /// Less than this: the blade does not enter.
    Below(Q),
    /// More than this: the thickest blade goes in.
    Above(Q),
    /// Between the two: one blade goes, the next does not.
    Between(Range<Q>),
}

impl<Q: Quantity> Bound<Q> {
    /// The largest value it can be, if there is one.
    #[must_use]
    pub fn high(self) -> Option<Q> {
        match self {
            Self::Exactly(value) | Self::Below(value) => Some(value),
            Self::Above(_) => None,
            Self::Between(range) => Some(range.high),
        }
    }

    /// The smallest value it can be, if there is one.
    #[must_use]
    pub fn low(self) -> Option<Q> {
        match self {
            Self::Exactly(value) | Self::Above(value) => Some(value),
            Self::Below(_) => None,
            Self::Between(range) => Some(range.low),
        }
    }
}
