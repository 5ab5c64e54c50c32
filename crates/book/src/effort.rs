//! What an act takes: minutes, hands, tools, a hoist; and what is done outside the house.

use quantity::{Duration, Range};

use crate::fact::Fact;
use crate::id::ToolId;
use crate::money::Price;
use crate::span::{Mention, Span};
use crate::word::words;

/// How long something takes, as a likely figure with a low and a high one where known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The likely time.
    pub likely: Duration,
    /// Low and high, where somebody gave them; the likely time lies between.
    pub range: Option<Range<Duration>>,
}

/// What taking a part off and putting it back takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effort {
    /// Time to take it off, ends and fasteners included.
    pub off: Fact<Estimate>,
    /// Time to put it back.
    pub on: Fact<Estimate>,
    /// How many hands it takes at the same moment, as persons: 1 or 2.
    pub hands: Fact<u32>,
    /// Tools beyond sockets and wrenches, in plain words or ids of the shop file.
    pub tools: Vec<Mention<ToolId>>,
    /// The hoist or crane it hangs on.
    pub hoist: Fact<bool>,
}

/// Work done outside the house, with the ways it can end.
#[derive(Clone, Debug, PartialEq)]
pub struct OutsideWork {
    /// What is done: `crack test and skim`.
    pub what: String,
    /// The ways it can end, in book order: good, needs work, scrap.
    pub outcomes: Vec<Outcome>,
    /// Where the node stands.
    pub span: Span,
}

/// One way outside work can end.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Which one.
    pub kind: OutcomeKind,
    /// How long until the part is back.
    pub takes: Fact<Range<Duration>>,
    /// What it costs.
    pub price: Fact<Price>,
    /// Where it stands.
    pub span: Span,
}

/// The three ways outside work ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OutcomeKind {
    /// It is sound and comes back as it went.
    Good,
    /// It needs work and comes back good.
    NeedsWork,
    /// It is scrap; another one must be found.
    Scrap,
}

words! {
    OutcomeKind {
        Good "good",
        NeedsWork "needs-work",
        Scrap "scrap",
    }
}
