//! Tightening: stages, condition of the thread, pattern.

use quantity::{Said, Spec, Step};

use crate::fact::Fact;
use crate::id::HoleName;
use crate::limit::Origin;
use crate::span::Span;
use crate::word::words;

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

impl Tighten {
    /// All steps of all stages, in order; empty when the figure is not known.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        let stages: &[Stage] = match &self.stages {
            Stages::Known(stages) => stages,
            Stages::Unknown | Stages::DoesNotApply => &[],
        };
        stages.iter().flat_map(|stage| &stage.spec.value.steps)
    }
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
    /// What it says, step by step, beside the words.
    pub spec: Said<Spec>,
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

words! {
    Condition {
        Dry "dry",
        Oiled "oiled",
        Lubricated "lubricated",
        Sealed "sealed",
        Locked "locked",
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
