//! Filling: after everything a circuit runs through is whole.

use book::Ref;
use job::plan::{Because, Leg, StepAct};

use super::Back;
use crate::removal::takes;
use crate::step::bare;

impl Back<'_> {
    /// Every dry circuit is filled once all parts, joints and ends of its units are done.
    pub(super) fn fill(&mut self) {
        for circuit in self.dry.clone() {
            let book = &self.graph.book().circuits[circuit];
            let mut step = bare(StepAct::Fill, Ref::Circuit(book.id.clone()), Leg::Together);
            step.zone = self.filler(circuit);
            step.takes = takes(&book.filling);
            let fill = self.draft.steps.add(step);
            for number in 0..self.lifts.len() {
                let lift = &self.lifts[number];
                let mut members = lift.with.iter().chain([&lift.part]);
                if !members.any(|&at| self.graph.is_of_circuit(at, circuit)) {
                    continue;
                }
                let unit = &self.units[number];
                let joints = unit.joints.iter().map(|&(_, step)| step);
                let own = joints
                    .chain(unit.ends.iter().map(|&(_, step)| step))
                    .chain([unit.part]);
                for step in own.collect::<Vec<_>>() {
                    self.draft.wait(step, fill, &Because::Whole);
                }
            }
            for (port, step) in self.end_steps() {
                let medium = self
                    .graph
                    .book()
                    .port(&port)
                    .and_then(|port| port.medium.known());
                if medium.is_some_and(|medium| *medium == book.medium) {
                    self.draft.wait(step, fill, &Because::Whole);
                }
            }
        }
    }
}
