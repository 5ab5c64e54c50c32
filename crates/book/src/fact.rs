//! A fact that may be missing, and why it is.

use quantity::Said;

/// What the book knows about one thing.
///
/// A fact left out was never asked; `"?"` was asked and is unknown; `none` does not apply.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Fact<T> {
    /// Nothing is written.
    #[default]
    NeverAsked,
    /// `"?"`: somebody looked and could not tell.
    Unknown,
    /// `none`: the question makes no sense here.
    DoesNotApply,
    /// The value, beside the words it was read from.
    Known(Said<T>),
}

impl<T> Fact<T> {
    /// The value, when it is known.
    #[must_use]
    pub fn known(&self) -> Option<&T> {
        match self {
            Self::Known(said) => Some(&said.value),
            Self::NeverAsked | Self::Unknown | Self::DoesNotApply => None,
        }
    }

    /// The words it was read from, when it is known.
    #[must_use]
    pub fn typed(&self) -> Option<&str> {
        match self {
            Self::Known(said) => Some(&said.typed),
            Self::NeverAsked | Self::Unknown | Self::DoesNotApply => None,
        }
    }

    /// True when the value is missing and could be found out: never asked, or asked and unknown.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        matches!(self, Self::NeverAsked | Self::Unknown)
    }

    /// A known value with the words it was read from.
    #[must_use]
    pub fn said(value: T, typed: impl Into<String>) -> Self {
        Self::Known(Said {
            value,
            typed: typed.into(),
            notes: Vec::new(),
        })
    }
}
