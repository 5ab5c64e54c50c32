//! The book: everything one text says about one engine in one vehicle.

use crate::check::Check;
use crate::circuit::Circuit;
use crate::engine::Engine;
use crate::gate::Gate;
use crate::hole::Hole;
use crate::id::{
    CheckId, CircuitId, GateId, HoleRef, JointId, LimitId, LineId, PartId, PortRef, ShaftId,
    TemporaryId,
};
use crate::joint::Joint;
use crate::limit::Limit;
use crate::line::Line;
use crate::medium::Crossing;
use crate::part::Part;
use crate::port::Port;
use crate::rule::Rule;
use crate::shaft::Shaft;
use crate::temporary::Temporary;
use crate::variant::Variant;
use crate::word::words;
use crate::zone::Zone;

/// Everything a build book says, in book order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Book {
    /// What the book is about.
    pub title: Option<String>,
    /// The units a reader wants.
    pub units: Units,
    /// The currency of its prices.
    pub currency: Option<String>,
    /// The data are made up, and answers say so.
    pub invented: bool,
    /// The engine.
    pub engine: Option<Engine>,
    /// What differs between vehicles.
    pub variants: Vec<Variant>,
    /// Zones beyond the usual ones.
    pub zones: Vec<Zone>,
    /// Parts.
    pub parts: Vec<Part>,
    /// Joints of all parts.
    pub joints: Vec<Joint>,
    /// Hoses, pipes, leads, cables, connectors and grounds.
    pub lines: Vec<Line>,
    /// Fluid systems.
    pub circuits: Vec<Circuit>,
    /// Crank and cams.
    pub shafts: Vec<Shaft>,
    /// Limits.
    pub limits: Vec<Limit>,
    /// Checks.
    pub checks: Vec<Check>,
    /// Things put in for a while.
    pub temporaries: Vec<Temporary>,
    /// Rules.
    pub rules: Vec<Rule>,
    /// Gates.
    pub gates: Vec<Gate>,
    /// What crossed media do, beyond the built-in table.
    pub crossings: Vec<Crossing>,
}

/// The units a reader wants first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// mm, N·m, bar, °C.
    #[default]
    Metric,
    /// in, lbf·ft, psi, °F.
    Inch,
}

words! {
    Units {
        Metric "metric",
        Inch "inch",
    }
}

impl Book {
    /// The part with this id.
    #[must_use]
    pub fn part(&self, id: &PartId) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == *id)
    }

    /// The joint with this id.
    #[must_use]
    pub fn joint(&self, id: &JointId) -> Option<&Joint> {
        self.joints.iter().find(|joint| joint.id == *id)
    }

    /// The joints that come off with a part.
    pub fn joints_of<'a>(&'a self, part: &'a PartId) -> impl Iterator<Item = &'a Joint> {
        self.joints.iter().filter(move |joint| joint.of == *part)
    }

    /// The joints by which other parts hang on this one.
    pub fn joints_to<'a>(&'a self, part: &'a PartId) -> impl Iterator<Item = &'a Joint> {
        self.joints.iter().filter(move |joint| joint.to.id == *part)
    }

    /// The hole with this name.
    #[must_use]
    pub fn hole(&self, hole: &HoleRef) -> Option<&Hole> {
        self.joint(&hole.joint)?.hole(&hole.hole)
    }

    /// The line with this id.
    #[must_use]
    pub fn line(&self, id: &LineId) -> Option<&Line> {
        self.lines.iter().find(|line| line.id == *id)
    }

    /// The lines with an end on a part, with which of their ends (0 or 1).
    pub fn ends_on<'a>(&'a self, part: &'a PartId) -> impl Iterator<Item = (&'a Line, usize)> {
        self.lines.iter().flat_map(move |line| {
            (0..2)
                .filter(move |&end| line.ends[end].port.id.part == *part)
                .map(move |end| (line, end))
        })
    }

    /// The port.
    #[must_use]
    pub fn port(&self, port: &PortRef) -> Option<&Port> {
        self.part(&port.part)?
            .ports
            .iter()
            .find(|candidate| candidate.name == port.port)
    }

    /// The circuit with this id.
    #[must_use]
    pub fn circuit(&self, id: &CircuitId) -> Option<&Circuit> {
        self.circuits.iter().find(|circuit| circuit.id == *id)
    }

    /// The limit with this id.
    #[must_use]
    pub fn limit(&self, id: &LimitId) -> Option<&Limit> {
        self.limits.iter().find(|limit| limit.id == *id)
    }

    /// The check with this id.
    #[must_use]
    pub fn check(&self, id: &CheckId) -> Option<&Check> {
        self.checks.iter().find(|check| check.id == *id)
    }

    /// The temporary item with this id.
    #[must_use]
    pub fn temporary(&self, id: &TemporaryId) -> Option<&Temporary> {
        self.temporaries.iter().find(|item| item.id == *id)
    }

    /// The gate with this id, where the book adds to it.
    #[must_use]
    pub fn gate(&self, id: &GateId) -> Option<&Gate> {
        self.gates.iter().find(|gate| gate.id == *id)
    }

    /// The shaft with this id.
    #[must_use]
    pub fn shaft(&self, id: &ShaftId) -> Option<&Shaft> {
        self.shafts.iter().find(|shaft| shaft.id == *id)
    }
}
