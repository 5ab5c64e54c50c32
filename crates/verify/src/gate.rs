//! Gates: passed when their conditions hold, in their order, and before what they guard.

use std::collections::BTreeSet;

use book::{
    CircuitState, Critical, GateId, Medium, NeedKind, PartId, PartState, Ref, TemporaryState,
};

use crate::reason::Reason;
use crate::run::Run;
use crate::scene::Holding;
use crate::vehicle;

const OPENING: &str = "before-opening";
const HEAD: &str = "before-head-on";
const FIRE: &str = "fire";
const DRIVE: &str = "drive";

/// The gates behind which something turns.
const TURNING: [&str; 4] = ["turn-by-hand", "spin", FIRE, DRIVE];

impl Run<'_> {
    pub(crate) fn pass(&mut self, gate: &GateId) {
        let needs = self.book.gate(gate).map(|node| node.needs.clone());
        for need in needs.unwrap_or_default() {
            if let Some(says) = self.unmet(&need.what) {
                let says = format!("gate {gate} stays shut: {says}");
                self.refuse(Reason::GateEarly, gate, says);
            }
        }
        self.before_gate(gate);
        if TURNING.contains(&gate.as_str()) {
            self.turning(gate);
        }
        self.unfinished(gate);
        self.in_turn(gate);
        self.scene.passed.insert(gate.clone());
    }

    /// Why one condition of a gate does not hold. Words only a person can say are left to the
    /// person, and a limit that no check of the book reads is left to the gauge.
    fn unmet(&self, need: &NeedKind) -> Option<String> {
        let scene = &self.scene;
        let unless = |holds: bool, says: String| (!holds).then_some(says);
        match need {
            NeedKind::Check(check) => unless(
                scene.checked.contains(&check.id) || !self.is_asked(&check.id),
                format!("{} is not done", check.id),
            ),
            NeedKind::Limit(limit) => {
                let mut checks = self.book.checks.iter();
                let can_be_read = checks.any(|check| {
                    let reads = check.limit.as_ref().is_some_and(|own| own.id == limit.id);
                    reads && self.is_asked(&check.id)
                });
                unless(
                    !can_be_read || scene.read.contains(&limit.id),
                    format!("{} is not measured", limit.id),
                )
            }
            NeedKind::Circuit(circuit, wanted) => unless(
                scene.drained.contains(&circuit.id) == (*wanted == CircuitState::Drained),
                format!("{} is not {}", circuit.id, wanted.word()),
            ),
            NeedKind::Part(part, wanted) => unless(
                scene.is_clear(&part.id) == (*wanted == PartState::Off),
                format!("{} is not {}", part.id, wanted.word()),
            ),
            NeedKind::Joint(joint) => unless(
                scene.holding(&joint.id) == Holding::Tight,
                format!("{} is not done up", joint.id),
            ),
            NeedKind::Line(line) => unless(
                (0..2).all(|end| !scene.ends_off.contains(&(line.id.clone(), end))),
                format!("{} is not on at both ends", line.id),
            ),
            NeedKind::Temporary(item, wanted) => unless(
                scene.inside.contains(&item.id) == (*wanted == TemporaryState::In),
                format!("{} is not {}", item.id, wanted.word()),
            ),
            NeedKind::Word(_) => None,
        }
    }

    /// Checks and temporary items that name the gate.
    fn before_gate(&mut self, gate: &GateId) {
        let target = Ref::Gate(gate.clone());
        let names = |mentions: &[book::Mention<Ref>]| mentions.iter().any(|own| own.id == target);
        let mut found = Vec::new();
        for check in &self.book.checks {
            let done = self.scene.checked.contains(&check.id);
            if names(&check.before) && !done && self.is_asked(&check.id) {
                let says = format!("{} must be done before gate {gate}", check.id);
                found.push((Reason::GateEarly, check.id.to_string(), says));
            }
        }
        for item in &self.book.temporaries {
            let is_in = self.scene.inside.contains(&item.id);
            if names(&item.out_before) && is_in {
                let says = format!("{} is still in at gate {gate}", item.id);
                found.push((Reason::TemporaryLeftIn, item.id.to_string(), says));
            }
            if names(&item.in_before) && !is_in {
                let says = format!("{} must be in before gate {gate}", item.id);
                found.push((Reason::TemporaryMissing, item.id.to_string(), says));
            }
        }
        for (reason, concerns, says) in found {
            self.refuse(reason, concerns, says);
        }
    }

    /// Nothing is turned while a pin locks a shaft or its drive is off or loose.
    fn turning(&mut self, gate: &GateId) {
        let mut found = Vec::new();
        for shaft in &self.book.shafts {
            let pin = shaft.pin.as_ref().map(|pin| &pin.id);
            if let Some(pin) = pin.filter(|pin| self.scene.inside.contains(pin)) {
                found.push((shaft.id.clone(), format!("{pin} locks {}", shaft.id)));
            }
            let drive = shaft.drive_part.as_ref().map(|part| &part.id);
            let Some(drive) = drive.filter(|drive| self.book.part(drive).is_some()) else {
                continue;
            };
            let mut joints = self.book.joints_of(drive);
            if self.scene.is_clear(drive) {
                let says = format!("{drive} is off, so {} would stand still", shaft.id);
                found.push((shaft.id.clone(), says));
            } else if joints.any(|joint| self.scene.holding(&joint.id) != Holding::Tight) {
                found.push((shaft.id.clone(), format!("{drive} is not done up")));
            }
        }
        for (shaft, says) in found {
            let says = format!("gate {gate} must not be passed: {says}");
            self.refuse(Reason::MustNotTurn, shaft, says);
        }
    }

    /// An engine that is to fire has its own fluids in and the ends on that carry them, nothing
    /// left inside and its critical joints tight; to drive, everything is whole. The book need
    /// not say so.
    fn unfinished(&mut self, gate: &GateId) {
        let open = match gate.as_str() {
            FIRE => self.unfit_to_fire(),
            DRIVE => self.open_things(),
            _ => return,
        };
        for (_, concerns, says) in open {
            let says = format!("gate {gate} stays shut: {says}");
            self.refuse(Reason::GateEarly, concerns, says);
        }
    }

    fn unfit_to_fire(&self) -> Vec<(Reason, String, String)> {
        let fluid = |id: &str| {
            let circuit = self.book.circuits.iter().find(|own| own.id.as_str() == id);
            circuit.is_some_and(|circuit| runs_on(&circuit.medium))
        };
        let carries = |id: &str| {
            let mut ends = self
                .scene
                .ends_off
                .iter()
                .filter(|(line, _)| line.as_str() == id);
            ends.any(|(line, end)| {
                let line = self.book.line(line);
                line.and_then(|line| vehicle::medium_at(&self.book, line, *end))
                    .is_some_and(runs_on)
            })
        };
        let critical = |id: &str| {
            let joint = self.book.joints.iter().find(|own| own.id.as_str() == id);
            joint.is_some_and(|joint| joint.critical.is_some_and(of_engine))
        };
        let mut open = self.open_things();
        open.retain(|(reason, concerns, _)| match reason {
            Reason::TemporaryLeftIn => true,
            Reason::NotFilled => fluid(concerns),
            Reason::EndLeftOff => carries(concerns),
            Reason::JointLeftOpen => critical(concerns),
            _ => false,
        });
        open
    }

    /// The gates of every job have an order.
    fn in_turn(&mut self, gate: &GateId) {
        let place = |name: &str| book::GATES.iter().position(|other| *other == name);
        let Some(own) = place(gate.as_str()) else {
            return;
        };
        let earlier = self.plan.steps[..self.at].iter();
        let later = earlier
            .filter_map(|step| match &step.name.target {
                Ref::Gate(other) => Some(other),
                _ => None,
            })
            .find(|other| place(other.as_str()).is_some_and(|other| other > own));
        if let Some(later) = later.cloned() {
            let says = format!("gate {gate} comes before gate {later}");
            self.refuse(Reason::GateOrder, gate, says);
        }
    }

    /// The first act that opens a whole engine comes after the gate before opening.
    pub(crate) fn opened_before_gate(&mut self, target: impl ToString) {
        let gate = GateId::from(OPENING);
        let first = self.was_whole && self.scene.is_whole();
        if first && !self.scene.passed.contains(&gate) {
            let target = target.to_string();
            let says = format!("{target} is opened before gate {gate}");
            self.refuse(Reason::GateMissed, target, says);
        }
    }

    /// A head goes on after the gate before it.
    pub(crate) fn head_gate(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        let gate = GateId::from(HEAD);
        let head = self.book.joints.iter().any(|joint| {
            joint.critical == Some(Critical::Head)
                && unit.contains(&joint.of)
                && !unit.contains(&joint.to.id)
        });
        if head && !self.scene.passed.contains(&gate) {
            let says = format!("{part} goes on before gate {gate} is passed");
            self.refuse(Reason::GateMissed, part, says);
        }
    }
}

/// Whether an engine is harmed by running without it.
const fn runs_on(medium: &Medium) -> bool {
    matches!(medium, Medium::Coolant | Medium::Oil | Medium::Fuel)
}

/// Whether a critical joint is one of the engine itself; wheels may wait until it drives.
const fn of_engine(critical: Critical) -> bool {
    matches!(
        critical,
        Critical::Head | Critical::Rod | Critical::Main | Critical::Flywheel | Critical::Cam
    )
}
