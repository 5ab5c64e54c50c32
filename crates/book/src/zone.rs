//! Where a person must be.

use crate::id::ZoneId;
use crate::span::Span;

/// The zones every engine has. The engine's front is its drive end, whichever way it sits.
pub const ZONES: [&str; 8] = [
    "above",
    "drive-end",
    "flywheel-end",
    "radiator-side",
    "bulkhead-side",
    "under",
    "cabin",
    "bench",
];

/// A zone the book adds to [`ZONES`].
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Its name.
    pub id: ZoneId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Where the node stands.
    pub span: Span,
}
