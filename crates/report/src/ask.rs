//! A fact the program knows it does not know.

/// One question whose answer would change tonight's work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What is missing: `torque of runners-to-head`.
    pub what: String,
    /// Why it is asked now.
    pub why: String,
    /// How to answer: a line to type, an option to give, a thing to measure.
    pub how: String,
}

impl Ask {
    /// A question with its reason and the way to answer it.
    #[must_use]
    pub fn new(what: impl Into<String>, why: impl Into<String>, how: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            why: why.into(),
            how: how.into(),
        }
    }
}
