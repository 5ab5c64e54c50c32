//! Shafts that turn: what "may it be turned now" is answered from.

use quantity::Angle;

use crate::engine::Sense;
use crate::fact::Fact;
use crate::id::{PartId, ShaftId, TemporaryId};
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

/// The crank or a cam. Unknown facts here mean: do not turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaft {
    /// Its name.
    pub id: ShaftId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// Crank or cam.
    pub kind: ShaftKind,
    /// The sense it may be turned in, looking at the drive end.
    pub sense: Fact<Sense>,
    /// The shaft that drives it.
    pub driven_by: Option<Mention<ShaftId>>,
    /// What drives it.
    pub drive: Fact<Drive>,
    /// The belt or chain as a part; while it is off, this shaft turns on its own.
    pub drive_part: Option<Mention<PartId>>,
    /// Teeth of its wheel.
    pub teeth: Fact<u32>,
    /// The pin that locks it.
    pub pin: Option<Mention<TemporaryId>>,
    /// The head or block it sits in; while that is off, its valves touch nothing.
    pub sits_in: Option<Mention<PartId>>,
    /// Open valves can meet a piston.
    pub interference: Fact<bool>,
    /// Crank angle before top of cylinder 1 at which no piston is near a valve.
    pub parked: Fact<Angle>,
}

/// What a shaft is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShaftKind {
    /// The crank.
    Crank,
    /// A cam.
    Cam,
    /// A balance shaft.
    Balance,
}

words! {
    ShaftKind {
        Crank "crank",
        Cam "cam",
        Balance "balance",
    }
}

/// What drives a shaft.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Drive {
    /// A toothed belt.
    Belt,
    /// A chain.
    Chain,
    /// Gears.
    Gear,
}

words! {
    Drive {
        Belt "belt",
        Chain "chain",
        Gear "gear",
    }
}
