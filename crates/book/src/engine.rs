//! The engine as a whole: layout, numbers, firing order.

use quantity::{Angle, Length, Ratio, Volume};

use crate::fact::Fact;
use crate::span::Span;
use crate::word::words;

/// The engine as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Engine {
    /// The layout as written: `V6`, `I4`.
    pub layout: String,
    /// Where the node stands.
    pub span: Span,
    /// It sits across the vehicle.
    pub across: Fact<bool>,
    /// Angle between the banks.
    pub angle: Fact<Angle>,
    /// Angle between the two crankpins of one throw.
    pub offset_crankpins: Fact<Angle>,
    /// Cylinder bore.
    pub bore: Fact<Length>,
    /// Stroke.
    pub stroke: Fact<Length>,
    /// Connecting rod, centre to centre.
    pub rod: Fact<Length>,
    /// Compression ratio, as a plain number.
    pub ratio: Fact<Ratio>,
    /// Displacement as the maker states it.
    pub displacement: Fact<Volume>,
    /// Banks, each with its cylinders from the drive end.
    pub banks: Vec<Bank>,
    /// The firing order; empty where the book does not say.
    pub firing_order: Vec<u32>,
    /// Sense of the crank, looking at the drive end.
    pub rotation: Fact<Sense>,
    /// When the inlet valve closes.
    pub inlet_closes: Option<InletCloses>,
    /// Two or four strokes to a cycle.
    pub strokes: Fact<u32>,
    /// Valves for each cylinder.
    pub valves: Fact<u32>,
    /// What lights the charge.
    pub lights: Fact<Lights>,
}

impl Engine {
    /// All cylinders, bank by bank, from the drive end.
    pub fn cylinders(&self) -> impl Iterator<Item = u32> {
        self.banks
            .iter()
            .flat_map(|bank| bank.cylinders.iter().copied())
    }
}

/// One row of cylinders.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bank {
    /// Its name: `bulkhead`, `left`, `only`.
    pub name: String,
    /// Cylinder numbers from the drive end.
    pub cylinders: Vec<u32>,
    /// Where the node stands.
    pub span: Span,
}

/// What lights the charge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lights {
    /// A spark.
    Spark,
    /// Compression alone: a diesel.
    Compression,
}

words! {
    Lights {
        Spark "spark",
        Compression "compression",
    }
}

/// A sense of turning, looking at the drive end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sense {
    /// As a clock.
    Clockwise,
    /// Against the clock.
    Anticlockwise,
}

words! {
    Sense {
        Clockwise "clockwise",
        Anticlockwise "anticlockwise",
    }
}

/// When the inlet valve closes: what effective compression depends on.
#[derive(Clone, Debug, PartialEq)]
pub struct InletCloses {
    /// Crank angle after bottom dead centre.
    pub after_bottom: Fact<Angle>,
    /// The lift at which it was measured.
    pub at_lift: Fact<Length>,
    /// Where the node stands.
    pub span: Span,
}
