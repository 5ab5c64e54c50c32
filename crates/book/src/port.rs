//! A port or terminal: where an end belongs.

use quantity::Length;

use crate::fact::Fact;
use crate::hole::Position;
use crate::id::{PortName, ZoneId};
use crate::medium::Medium;
use crate::span::{Mention, Span};
use crate::variant::When;

/// A port, nipple, socket or terminal of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Port {
    /// Its name on the part.
    pub name: PortName,
    /// What a reader sees instead of the name.
    pub label: Option<String>,
    /// What flows there.
    pub medium: Fact<Medium>,
    /// The size of hose or stud that fits.
    pub bore: Fact<Length>,
    /// The shape that only lets one connector in.
    pub key: Fact<String>,
    /// Where a person must be, when it is not where the part says.
    pub zone: Option<Mention<ZoneId>>,
    /// For which variants it exists.
    pub when: When,
    /// Nothing belongs on it by design (a cap stays on).
    pub open: bool,
    /// Where it sits on its part, from any corner the book likes; left out means it was never
    /// measured.
    pub position: Option<Position>,
    /// Where the node stands.
    pub span: Span,
}
