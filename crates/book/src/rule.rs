//! A rule: an order that does not follow from what is in the way, with its reason.

use crate::id::{Ref, RuleId};
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

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

words! {
    OrderAct {
        TakeOff "take-off",
        Refit "refit",
        Tighten "tighten",
    }
}
