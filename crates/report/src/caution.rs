//! Care where the work can hurt someone or break something.

/// A caution, shown at the act it belongs to. It defers to the maker's instructions,
/// local rules and licensed trades.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The act it belongs to: `opening the cooling system`.
    pub act: String,
    /// What can happen and what to do about it.
    pub says: String,
}

impl Caution {
    /// A caution at an act.
    #[must_use]
    pub fn new(act: impl Into<String>, says: impl Into<String>) -> Self {
        Self {
            act: act.into(),
            says: says.into(),
        }
    }
}
