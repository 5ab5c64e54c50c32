//! Money: whole hundredths and a currency word, never added across currencies.

/// An amount of money.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money {
    /// The currency word (`EUR`); empty when the book says none.
    pub currency: String,
    /// The amount in hundredths.
    pub hundredths: i64,
}

/// A price, possibly only known between two ends. One currency for both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// The low end.
    pub low: Money,
    /// The high end; equal to the low end for a plain price.
    pub high: Money,
}
