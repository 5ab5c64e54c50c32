//! Gates on the way back: where each stands, and what it waits for.

use book::{CircuitState, Critical, GateId, NeedKind, OrderAct, PartState, Ref, TemporaryState};
use job::plan::{Because, Leg, StepAct};

use super::Back;
use crate::step::bare;

/// The gates that come at the end, in order.
const LAST: [&str; 4] = ["turn-by-hand", "spin", "fire", "drive"];

/// Those among them that are asked for only where something that turns was opened.
const TURNING: [&str; 2] = ["turn-by-hand", "spin"];

impl Back<'_> {
    /// The gates of every job, and the book's own that something in this way back is asked by.
    pub(super) fn gates(&mut self) {
        if self.lifts.is_empty() && self.draft.steps.all.is_empty() {
            return;
        }
        self.head_gate();
        let own: Vec<GateId> = self
            .graph
            .book()
            .gates
            .iter()
            .map(|gate| gate.id.clone())
            .collect();
        for gate in own
            .iter()
            .filter(|gate| !book::GATES.contains(&gate.as_str()))
        {
            self.pass(gate);
        }
        // Everything is whole before it fires; only the last of each chain needs to be said.
        let count = self.draft.steps.all.len();
        let last: Vec<usize> = (0..count)
            .filter(|&step| !self.draft.is_awaited(step))
            .collect();
        let asked = LAST
            .iter()
            .filter(|gate| !TURNING.contains(gate) || self.turns());
        let asked: Vec<GateId> = asked.map(|gate| GateId::from(*gate)).collect();
        let passes: Vec<usize> = asked.iter().map(|gate| self.pass(gate)).collect();
        for (number, pair) in passes.windows(2).enumerate() {
            self.draft
                .wait(pair[0], pair[1], &Because::Gate(asked[number + 1].clone()));
        }
        if self.turns() {
            self.turning(passes[0]);
        }
        let fire = GateId::from("fire");
        if let Some(place) = asked.iter().position(|gate| *gate == fire) {
            for step in last {
                self.draft
                    .wait(step, passes[place], &Because::Gate(fire.clone()));
            }
        }
        self.gate_rules();
    }

    /// Before a head goes on.
    fn head_gate(&mut self) {
        let is_head = |number: &usize| {
            let joints = &self.graph.nodes[self.lifts[*number].part].joints;
            let mut joints = joints.iter().map(|&joint| &self.graph.book().joints[joint]);
            joints.any(|joint| joint.critical == Some(Critical::Head))
        };
        let heads: Vec<usize> = (0..self.lifts.len()).filter(is_head).collect();
        if heads.is_empty() {
            return;
        }
        let gate = GateId::from("before-head-on");
        let pass = self.pass(&gate);
        for head in heads {
            self.draft
                .wait(pass, self.units[head].part, &Because::Gate(gate.clone()));
        }
    }

    /// The step that passes a gate, with what the book says it needs.
    fn pass(&mut self, gate: &GateId) -> usize {
        let target = Ref::Gate(gate.clone());
        let pass = self
            .draft
            .steps
            .add(bare(StepAct::Pass, target.clone(), Leg::Together));
        let because = Because::Gate(gate.clone());
        let book = self.graph.book();
        let needs = book
            .gate(gate)
            .map(|gate| &gate.needs[..])
            .unwrap_or_default();
        for need in needs {
            for step in self.needed(&need.what) {
                self.draft.wait(step, pass, &because);
            }
        }
        for check in book
            .checks
            .iter()
            .filter(|check| check.before.iter().any(|mention| mention.id == target))
        {
            let step = self
                .draft
                .steps
                .find(StepAct::Check, &Ref::Check(check.id.clone()));
            if let Some(step) = step {
                self.draft.wait(step, pass, &because);
            }
        }
        for item in book
            .temporaries
            .iter()
            .filter(|item| item.out_before.iter().any(|mention| mention.id == target))
        {
            if let Some(step) = self
                .draft
                .steps
                .find(StepAct::TakeOut, &Ref::Temporary(item.id.clone()))
            {
                self.draft.wait(step, pass, &Because::Temporary);
            }
        }
        pass
    }

    /// The steps that make a condition hold.
    fn needed(&self, what: &NeedKind) -> Vec<usize> {
        let find = |act, target: Ref| self.draft.steps.find(act, &target).into_iter().collect();
        match what {
            NeedKind::Check(check) => find(StepAct::Check, Ref::Check(check.id.clone())),
            NeedKind::Limit(limit) => {
                let checks = self.graph.book().checks.iter();
                let mine = checks
                    .filter(|check| check.limit.as_ref().is_some_and(|own| own.id == limit.id));
                let step = |check: &book::Check| {
                    self.draft
                        .steps
                        .find(StepAct::Check, &Ref::Check(check.id.clone()))
                };
                mine.filter_map(step).collect()
            }
            NeedKind::Circuit(circuit, CircuitState::Full) => {
                find(StepAct::Fill, Ref::Circuit(circuit.id.clone()))
            }
            NeedKind::Part(part, PartState::On) => self
                .graph
                .at(&part.id)
                .map(|at| self.whole(at))
                .unwrap_or_default(),
            NeedKind::Joint(joint) => self.joint_step(&joint.id).into_iter().collect(),
            NeedKind::Line(line) => {
                let ends = self
                    .graph
                    .book()
                    .line(&line.id)
                    .map(|line| &line.ends[..])
                    .unwrap_or_default();
                let port = |end: &book::End| Ref::Port(end.port.id.clone());
                ends.iter()
                    .filter_map(|end| self.draft.steps.find(StepAct::On, &port(end)))
                    .collect()
            }
            NeedKind::Temporary(item, TemporaryState::Out) => {
                find(StepAct::TakeOut, Ref::Temporary(item.id.clone()))
            }
            NeedKind::Circuit(_, CircuitState::Drained)
            | NeedKind::Part(_, PartState::Off)
            | NeedKind::Temporary(_, TemporaryState::In)
            | NeedKind::Word(_) => Vec::new(),
        }
    }

    /// Whether a cam drive, what a shaft sits in or a pin is part of this way back.
    fn turns(&self) -> bool {
        self.graph.book().shafts.iter().any(|shaft| {
            let mut parts = shaft.drive_part.iter().chain(&shaft.sits_in);
            let off = parts.any(|part| {
                self.graph
                    .at(&part.id)
                    .is_some_and(|at| self.on.contains_key(&at))
            });
            let pin = shaft.pin.as_ref().is_some_and(|pin| {
                self.draft
                    .steps
                    .find(StepAct::TakeOut, &Ref::Temporary(pin.id.clone()))
                    .is_some()
            });
            off || pin
        })
    }

    /// Nothing is turned by hand until the pins are out, and drives and heads are on and tight.
    fn turning(&mut self, turn: usize) {
        for shaft in &self.graph.book().shafts {
            let pin = shaft.pin.iter();
            let pins = pin.filter_map(|pin| {
                self.draft
                    .steps
                    .find(StepAct::TakeOut, &Ref::Temporary(pin.id.clone()))
            });
            let parts = shaft.drive_part.iter().chain(&shaft.sits_in);
            let places = parts
                .filter_map(|part| self.graph.at(&part.id))
                .flat_map(|at| self.whole(at));
            for step in pins.chain(places).collect::<Vec<_>>() {
                self.draft.wait(step, turn, &Because::NotTurned);
            }
        }
    }

    /// Rules that order something before (or after) a gate: the gates had no steps before.
    fn gate_rules(&mut self) {
        let is_gate = |target: &Ref| matches!(target, Ref::Gate(_));
        for rule in &self.graph.book().rules {
            for order in &rule.orders {
                if order.act != OrderAct::TakeOff
                    && (is_gate(&order.first.id) || is_gate(&order.then.id))
                {
                    self.refit(order, &Because::Rule(rule.id.clone(), rule.reason.clone()));
                }
            }
        }
    }
}
