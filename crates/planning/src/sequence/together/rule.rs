//! Rules of the book about putting back and tightening. They win over the plain reversal.

use book::{Order, OrderAct, Ref};
use job::plan::{Because, StepAct};

use super::Back;

impl Back<'_> {
    /// Every rule whose both sides are in the way back.
    pub(super) fn rules(&mut self) {
        for rule in &self.graph.book().rules {
            for order in &rule.orders {
                let because = Because::Rule(rule.id.clone(), rule.reason.clone());
                match order.act {
                    OrderAct::TakeOff => {}
                    OrderAct::Refit => self.refit(order, &because),
                    OrderAct::Tighten => self.tighten(order, &because),
                }
            }
        }
    }

    pub(super) fn refit(&mut self, order: &Order, because: &Because) {
        let first = self.fitted(&order.first.id);
        let then = self.begun(&order.then.id);
        // The reversal would have it the other way round; the book knows better.
        for &late in &self.fitted(&order.then.id) {
            for &early in &self.begun(&order.first.id) {
                self.draft.release(late, early);
            }
        }
        for &early in &first {
            for &late in &then {
                self.draft.wait(early, late, because);
            }
        }
    }

    fn tighten(&mut self, order: &Order, because: &Because) {
        let step = |target: &Ref| match target {
            Ref::Joint(joint) => self.joint_step(joint).into_iter().collect(),
            other => self.fitted(other),
        };
        let (first, then) = (step(&order.first.id), step(&order.then.id));
        for &early in &first {
            for &late in &then {
                self.draft.wait(early, late, because);
            }
        }
    }

    /// The steps after which a thing is fitted: a part with its joints, a joint, ends.
    fn fitted(&self, target: &Ref) -> Vec<usize> {
        match target {
            Ref::Part(part) => self
                .graph
                .at(part)
                .map(|at| self.whole(at))
                .unwrap_or_default(),
            other => self.begun(other),
        }
    }

    /// The steps with which a thing begins to be fitted.
    fn begun(&self, target: &Ref) -> Vec<usize> {
        if let Ref::Line(line) = target {
            let ends = self
                .graph
                .book()
                .line(line)
                .map(|line| &line.ends[..])
                .unwrap_or_default();
            let ports = ends.iter().map(|end| Ref::Port(end.port.id.clone()));
            return ports
                .filter_map(|port| self.draft.steps.find(StepAct::On, &port))
                .collect();
        }
        // A part that goes on with its unit begins with the unit.
        if let Ref::Part(part) = target {
            return self
                .graph
                .at(part)
                .and_then(|at| self.on.get(&at))
                .copied()
                .into_iter()
                .collect();
        }
        let acts = [
            StepAct::On,
            StepAct::DoUp,
            StepAct::Fill,
            StepAct::Check,
            StepAct::Pass,
        ];
        acts.iter()
            .filter_map(|&act| self.draft.steps.find(act, target))
            .collect()
    }
}
