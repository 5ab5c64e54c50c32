//! A plan of work as plain data: steps in order, each with its place, tools, time and reasons.
//!
//! Who makes a plan and who checks it share these types and nothing else. A step says what
//! is done to which thing of the book; it does not say how it was found.

use std::fmt;

use book::{GateId, PartId, Ref, RuleId, ToolId, ZoneId};
use quantity::Duration;

/// What a step does. The target says to which thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepAct {
    /// A part, a line or an end comes off.
    Off,
    /// A part, a line or an end goes on.
    On,
    /// A joint is undone: every fastener of it is out.
    Undo,
    /// A joint is done up: every fastener in, every stage reached.
    DoUp,
    /// A circuit is drained.
    Drain,
    /// A circuit is filled and bled.
    Fill,
    /// A check is done, with its reading where a limit judges it.
    Check,
    /// A gate is passed.
    Pass,
    /// A temporary item goes in.
    PutIn,
    /// A temporary item comes out.
    TakeOut,
}

impl StepAct {
    /// The word a step begins with.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Off => "off",
            Self::On => "on",
            Self::Undo => "undo",
            Self::DoUp => "do-up",
            Self::Drain => "drain",
            Self::Fill => "fill",
            Self::Check => "check",
            Self::Pass => "gate",
            Self::PutIn => "in",
            Self::TakeOut => "out",
        }
    }
}

/// Which half of the job a step belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Leg {
    /// The way off: taking apart.
    Apart,
    /// The way back: putting together.
    Together,
}

/// The name of a step in its plan: what is done to what. A plan does each such thing once.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StepName {
    /// What is done.
    pub act: StepAct,
    /// To which thing of the book.
    pub target: Ref,
}

impl fmt::Display for StepName {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{} {}", self.act.word(), self.target)
    }
}

/// How long a step takes, as a likely time between a low and a high one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Takes {
    /// The least time.
    pub low: Duration,
    /// The likely time.
    pub likely: Duration,
    /// The most time.
    pub high: Duration,
}

/// Why one step waits for another.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Because {
    /// The other part is in the way of this one.
    InTheWay,
    /// The other part is fastened onto this one.
    MountedOn,
    /// The fasteners hold it.
    Fastened,
    /// The line is connected to it.
    Connected,
    /// Fluid would run out.
    Wet,
    /// It goes back the way it came: what came off over it goes on after it.
    Covers,
    /// A rule of the book, with its reason.
    Rule(RuleId, String),
    /// A condition of a gate.
    Gate(GateId),
    /// The check comes before what would hide or spoil it.
    CheckFirst,
    /// A free check comes before a part or bolt that can only be used once.
    BeforeOneUse,
    /// The temporary item must be in (or out) by then.
    Temporary,
    /// Nothing may be turned until then.
    NotTurned,
    /// Everything is off before anything goes back on.
    ApartFirst,
    /// The engine must be whole and dry inside before it is filled.
    Whole,
    /// It came off later, so it is put back earlier: the record reversed, not the book.
    RecordReversed,
}

impl Because {
    /// The reason in words.
    #[must_use]
    pub fn words(&self) -> String {
        let fixed = match self {
            Self::InTheWay => "in its way",
            Self::MountedOn => "fastened onto it",
            Self::Fastened => "its fasteners hold it",
            Self::Connected => "still connected",
            Self::Wet => "fluid would run out",
            Self::Covers => "would be covered",
            Self::CheckFirst => "checked while it can be reached",
            Self::BeforeOneUse => "a free check before a one-use part",
            Self::Temporary => "the temporary item belongs there by then",
            Self::NotTurned => "must not be turned yet",
            Self::ApartFirst => "apart before together",
            Self::Whole => "all its joints and ends closed first",
            Self::RecordReversed => "came off later (record, not book)",
            Self::Rule(_, reason) => return reason.clone(),
            Self::Gate(gate) => return format!("asked by gate {gate}"),
        };
        fixed.to_owned()
    }
}

/// One thing a step waits for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Wait {
    /// The step that comes first.
    pub first: StepName,
    /// Why.
    pub because: Because,
}

/// One act with a place, tools, a duration, hands, and what it waits for.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is done to what.
    pub name: StepName,
    /// Which half of the job it belongs to.
    pub leg: Leg,
    /// Parts that come off, or go on, in one piece with the target.
    pub with: Vec<PartId>,
    /// Where a person must be; unknown where the book does not say.
    pub zone: Option<ZoneId>,
    /// The tools it needs.
    pub tools: Vec<ToolId>,
    /// How long it takes; unknown where the book does not say.
    pub takes: Option<Takes>,
    /// People needed at the same moment.
    pub hands: u32,
    /// It hangs on the hoist.
    pub hoist: bool,
    /// Time to wait after it before what it seals may carry fluid or pressure.
    pub cures: Option<Duration>,
    /// What it waits for, in order of the steps named.
    pub waits: Vec<Wait>,
}

/// Where a plan comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// What the book says is in the way of what.
    Book,
    /// The record reversed: having come off later is not the same as being blocked.
    RecordReversed,
}

/// One way that was chosen where the book offers several.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WayTaken {
    /// The part that is freed.
    pub part: PartId,
    /// Which of its groups of ways, from 0 in book order.
    pub group: usize,
    /// Which way of the group, from 0 in book order.
    pub way: usize,
}

/// Steps in the order in which one person does them.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The steps.
    pub steps: Vec<Step>,
    /// The ways taken.
    pub ways: Vec<WayTaken>,
    /// Where it comes from.
    pub basis: Basis,
    /// Walking and tool changing between the steps.
    pub between: Duration,
    /// No order of these steps needs less walking and tool changing.
    pub bound: Duration,
}

impl Plan {
    /// Whether no better order of these steps exists.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.bound >= self.between
    }

    /// Where a step stands in the order, from 0.
    #[must_use]
    pub fn place(&self, name: &StepName) -> Option<usize> {
        self.steps.iter().position(|step| step.name == *name)
    }
}
