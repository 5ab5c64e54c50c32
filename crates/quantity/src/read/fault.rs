//! Why a text could not be read, where, and what to write instead.

use std::ops::Range;

/// A text that could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{text}`: {reason}; {hint}")]
pub struct ReadFault {
    /// The whole text as it was typed.
    pub text: String,
    /// The bytes of `text` that are at fault; always on character borders, empty where something is missing.
    pub at: Range<usize>,
    /// What is wrong, as a sentence without a full stop.
    pub reason: String,
    /// What to write or find out instead, as a sentence without a full stop.
    pub hint: String,
}

impl ReadFault {
    pub(crate) fn new(
        text: &str,
        at: Range<usize>,
        reason: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        debug_assert!(
            text.get(at.clone()).is_some(),
            "a fault lies inside its text, on character borders"
        );
        Self {
            text: text.to_owned(),
            at,
            reason: reason.into(),
            hint: hint.into(),
        }
    }

    pub(crate) fn whole(text: &str, reason: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(text, 0..text.len(), reason, hint)
    }

    pub(crate) fn too_large(text: &str, at: Range<usize>) -> Self {
        Self::new(
            text,
            at,
            "the number is too large to be a measurement",
            "check the digits and the unit",
        )
    }
}
