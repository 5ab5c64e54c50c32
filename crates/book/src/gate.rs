//! A gate: conditions that must hold before an act that cannot be taken back.

use crate::id::{CheckId, CircuitId, GateId, JointId, LimitId, LineId, PartId, TemporaryId};
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

/// The gates every job has, in the order they are met.
pub const GATES: [&str; 6] = [
    "before-opening",
    "before-head-on",
    "turn-by-hand",
    "spin",
    "fire",
    "drive",
];

/// Conditions beyond those every job has.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// Its name: one of [`GATES`] or the book's own.
    pub id: GateId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// What must hold.
    pub needs: Vec<Need>,
}

/// One condition of a gate.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// What must hold.
    pub what: NeedKind,
    /// For which variants it holds.
    pub when: When,
    /// Why, in one sentence.
    pub says: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// What a condition is about.
#[derive(Clone, Debug, PartialEq)]
pub enum NeedKind {
    /// A check is done.
    Check(Mention<CheckId>),
    /// A limit has its readings and they are within.
    Limit(Mention<LimitId>),
    /// A circuit is full or drained.
    Circuit(Mention<CircuitId>, CircuitState),
    /// A part is on or off.
    Part(Mention<PartId>, PartState),
    /// A joint is tightened, all holes, all stages.
    Joint(Mention<JointId>),
    /// Both ends of a line are on.
    Line(Mention<LineId>),
    /// A temporary item is out (or in).
    Temporary(Mention<TemporaryId>, TemporaryState),
    /// Something only a person can say, in plain words.
    Word(String),
}

/// The state a circuit must have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CircuitState {
    /// Filled.
    Full,
    /// Drained.
    Drained,
}

words! {
    CircuitState {
        Full "full",
        Drained "drained",
    }
}

/// The state a part must have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartState {
    /// Fitted.
    On,
    /// Taken off.
    Off,
}

words! {
    PartState {
        On "on",
        Off "off",
    }
}

/// The state a temporary item must have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TemporaryState {
    /// Taken out.
    Out,
    /// Put in.
    In,
}

words! {
    TemporaryState {
        Out "out",
        In "in",
    }
}
