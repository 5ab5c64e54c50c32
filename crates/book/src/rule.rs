//! A rule: an order that does not follow from what is in the way, with its reason.

use crate::id::{Ref, RuleId};
use crate::span::{Mention, Span};
use crate::variant::When;

/// An order of work with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Its name.
    pub id: RuleId,
    /// Why; a rule without one is a fault.
    pub reason: String,
    /// For which variants it holds.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// What it asks.
    pub orders: Vec<Order>,
}

/// One act before another.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Which kind of act is ordered.
    pub act: OrderAct,
    /// What comes first.
    pub first: Mention<Ref>,
    /// What comes after it.
    pub then: Mention<Ref>,
    /// Where it stands.
    pub span: Span,
}

/// The act a rule orders.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OrderAct {
    /// Both are taken off: the first before the other.
    TakeOff,
    /// Both are put back: the first before the other (or before a gate).
    Refit,
    /// Joints are tightened: the first fully before the other.
    Tighten,
}

impl OrderAct {
    /// All acts, in the order of the manual.
    pub const ALL: [Self; 3] = [Self::TakeOff, Self::Refit, Self::Tighten];

    /// The word in the book.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::TakeOff => "take-off",
            Self::Refit => "refit",
            Self::Tighten => "tighten",
        }
    }
}
