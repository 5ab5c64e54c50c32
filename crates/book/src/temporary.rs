//! Something put in for a while that must come out again: rag, plug, wedge, locking pin.

use crate::id::{PartId, Ref, TemporaryId};
use crate::span::{Mention, Span};
use crate::variant::When;

/// Something put in for a while.
#[derive(Clone, Debug, PartialEq)]
pub struct Temporary {
    /// Its name.
    pub id: TemporaryId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this item.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// The part it sits in.
    pub sits_in: Option<Mention<PartId>>,
    /// It must be out before this part goes back on, or before this gate.
    pub out_before: Vec<Mention<Ref>>,
    /// It must be in before this part comes off.
    pub in_before: Vec<Mention<Ref>>,
    /// How many there are.
    pub count: u32,
}
