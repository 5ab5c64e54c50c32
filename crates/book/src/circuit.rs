//! A circuit: a fluid system with a capacity and a state.

use quantity::{Flow, GaugePressure, Ratio, Volume};

use crate::effort::Estimate;
use crate::fact::Fact;
use crate::id::{CircuitId, PartId, PortRef};
use crate::medium::Medium;
use crate::money::Price;
use crate::span::{Mention, Span};
use crate::variant::When;

/// A fluid system. What drains out of it is a reading, not a fact of the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Its name, most often the medium itself.
    pub id: CircuitId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// What is in it.
    pub medium: Medium,
    /// How much a dry circuit takes.
    pub capacity: Fact<Volume>,
    /// Share of concentrate wanted, for coolant.
    pub target: Fact<Ratio>,
    /// What to buy, in plain words: `5W-30`, `silicate-free ethylene glycol`.
    pub fluid: Fact<String>,
    /// Pressure the cap holds.
    pub cap: Fact<GaugePressure>,
    /// Price of one litre.
    pub price: Fact<Price>,
    /// What must fill before pressure stands at the far end: oil filter and galleries; fuel
    /// line, filter and rail.
    pub line_volume: Fact<Volume>,
    /// What an oil pump moves at one turn of the crank.
    pub pump_per_turn: Fact<Volume>,
    /// Share of that which arrives at cranking speed.
    pub pump_efficiency: Fact<Ratio>,
    /// What an electric pump moves at working pressure.
    pub pump_flow: Fact<Flow>,
    /// How long it takes to drain it, with what has to be set under it and carried away.
    pub draining: Fact<Estimate>,
    /// How long it takes to fill and bleed it.
    pub filling: Fact<Estimate>,
    /// Ports that drain it.
    pub drains: Vec<Mention<PortRef>>,
    /// Ports that let air out.
    pub bleeds: Vec<Mention<PortRef>>,
    /// Ports it is filled through.
    pub fills: Vec<Mention<PortRef>>,
    /// Parts it flows through that have no port of it in the book.
    pub through: Vec<Mention<PartId>>,
}
