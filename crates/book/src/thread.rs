//! A thread as the book writes it: `M8x1.25`, `M8`, `1/4-20`.
//!
//! Only what a designation says. Areas, flanks and limits are formulas and live elsewhere.

use quantity::Length;

/// A thread as designated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Metric or unified.
    pub system: ThreadSystem,
    /// Nominal diameter.
    pub diameter: Length,
    /// Pitch, where it was written; `M8` alone leaves it open.
    pub pitch: Option<Length>,
    /// Left-hand thread (`M8x1.25-LH`).
    pub left_hand: bool,
}

/// The family a thread belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThreadSystem {
    /// ISO metric.
    Metric,
    /// Unified inch.
    Unified,
}
