//! A check: something to look at, try or measure while it can still be reached.

use crate::effort::Estimate;
use crate::fact::Fact;
use crate::id::{CheckId, LimitId, Ref};
use crate::span::{Mention, Span};
use crate::variant::When;

/// Something to look at, try or measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Its name.
    pub id: CheckId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this check.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// What is checked: a part, joint, hole, port, line or circuit.
    pub of: Option<Mention<Ref>>,
    /// It must be done before any of these goes back on, or before these gates.
    pub before: Vec<Mention<Ref>>,
    /// Parts that must be off for it to be done at all.
    pub after_off: Vec<Mention<Ref>>,
    /// How long it takes.
    pub takes: Fact<Estimate>,
    /// The limit its reading is judged by.
    pub limit: Option<Mention<LimitId>>,
    /// A photo is part of it.
    pub photo: bool,
    /// What hurts if it is forgotten, in one sentence.
    pub says: Option<String>,
}
