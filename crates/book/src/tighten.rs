//! Tightening: stages, condition of the thread, pattern.

use crate::fact::Fact;
use crate::id::HoleName;
use crate::limit::Origin;
use crate::span::Span;

/// How a group of holes is tightened.
#[derive(Clone, Debug, PartialEq)]
pub struct Tighten {
    /// The holes; none: all of the joint.
    pub holes: Option<Vec<HoleName>>,
    /// The stages, in order.
    pub stages: Stages,
    /// The state of the thread the figure is meant for.
    pub condition: Fact<Condition>,
    /// The lubricant or sealer by name, where the figure depends on it.
    pub lubricant: Option<String>,
    /// Where the figure comes from.
    pub source: Origin,
    /// Where the node stands.
    pub span: Span,
}

/// The stages of a tightening, or why there are none.
#[derive(Clone, Debug, PartialEq)]
pub enum Stages {
    /// `"?"`: asked and unknown.
    Unknown,
    /// `none`: nothing to tighten here.
    DoesNotApply,
    /// The stages, in order.
    Known(Vec<Stage>),
}

/// One stage as the book writes it: `12 N·m`, `90°`, `30 N·m + 90°`.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// The words.
    pub typed: String,
    /// Where it stands.
    pub span: Span,
}

/// The state of the thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// Clean and dry.
    Dry,
    /// Engine oil on thread and under the head.
    Oiled,
    /// A special lubricant.
    Lubricated,
    /// Thread sealer.
    Sealed,
    /// Thread locker.
    Locked,
}

impl Condition {
    /// All conditions, in the order of the manual.
    pub const ALL: [Self; 5] = [
        Self::Dry,
        Self::Oiled,
        Self::Lubricated,
        Self::Sealed,
        Self::Locked,
    ];

    /// The word in the book.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Oiled => "oiled",
            Self::Lubricated => "lubricated",
            Self::Sealed => "sealed",
            Self::Locked => "locked",
        }
    }
}

/// The order in which the holes of a joint are tightened.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// How the order is given.
    pub kind: PatternKind,
    /// Rounds at each stage where more than one is wanted (cam caps drawn down).
    pub rounds: u32,
    /// Where the node stands.
    pub span: Span,
}

/// How the order of a pattern is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PatternKind {
    /// From the middle to the ends.
    InsideOut,
    /// From the ends to the middle, for taking off.
    OutsideIn,
    /// Opposite ones in turn.
    Cross,
    /// Hole after hole in book order.
    Around,
    /// Exactly this order, every hole once.
    Order(Vec<HoleName>),
}
