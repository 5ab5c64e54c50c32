//! The build book and the shop file: the nouns of the trade and their text.
//!
//! A book says what one engine in one vehicle is: parts, joints hole by hole, ends, circuits,
//! limits, rules. This crate holds the nouns as plain data and knows no formulas; what follows
//! from a book (what is in the way, what may turn, what a torque does) is worked out elsewhere.

mod id;
mod word;
mod span;
mod fact;
mod amount;
mod money;
mod date;
mod medium;
mod thread;
mod variant;
mod zone;

mod book;
mod engine;
mod part;
mod effort;
mod joint;
mod hole;
mod tighten;
mod seal;
mod port;
mod line;
mod circuit;
mod shaft;
mod limit;
mod check;
mod temporary;
mod rule;
mod gate;

mod shop;

pub mod codes;
mod fault;
mod lines;
mod near;
mod slip;
mod tree;
mod names;
mod read;
mod resolve;

mod display;
mod lookup;
mod under;
mod write;

pub use amount::Amount;
pub use book::{Book, Units};
pub use check::Check;
pub use circuit::Circuit;
pub use date::Date;
pub use display::{show_fault, show_faults};
pub use effort::{Effort, Estimate, Outcome, OutcomeKind, OutsideWork};
pub use engine::{Bank, Engine, InletCloses, Lights, Sense};
pub use fact::Fact;
pub use fault::{Fault, Severity};
pub use gate::{CircuitState, GATES, Gate, Need, NeedKind, PartState, TemporaryState};
pub use hole::{Bottom, Head, HeadShape, Holds, Hole, Position, Washer};
pub use id::*;
pub use joint::{Critical, EngineEnd, Joint, Retighten, Sealant};
pub use limit::{Limit, Origin, OriginKind};
pub use line::{Clamp, End, Line, LineKind};
pub use lines::{LineColumn, Lines};
pub use medium::{Crossing, CrossingGrade, Medium};
pub use money::{Money, Price};
pub use part::{Alike, NeedsOffAny, Pair, PairKind, Part, Way};
pub use port::Port;
pub use read::{Kind as TextKind, kind_of, read, read_shop};
pub use rule::{Order, OrderAct, Rule};
pub use seal::Seal;
pub use shaft::{Drive, Shaft, ShaftKind};
pub use shop::{
    AccuracyOf, Adapter, Gauge, Person, Place, ShimStock, Shop, SingleTool, Walk, Wrench,
    WrenchDirection, WrenchKind,
};
pub use span::{Mention, Span};
pub use temporary::Temporary;
pub use thread::{Fastener, Thread, ThreadFault, ThreadSystem};
pub use tighten::{Condition, Pattern, PatternKind, Stage, Stages, Tighten};
pub use variant::{Variant, When};
pub use write::{write, write_shop};
pub use zone::{ZONES, Zone};
