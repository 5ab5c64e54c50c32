//! Checks: before what hides them, and before the one-use things a bad result would cost.

use std::collections::BTreeSet;

use book::{Check, Ref};
use job::plan::{Because, Leg, StepAct};

use super::Back;
use crate::graph::At;
use crate::step::{bare, check_takes};

impl Back<'_> {
    /// Every check that is still to do and has to do with what goes back.
    pub(super) fn checks(&mut self) {
        let book = self.graph.book();
        for check in &book.checks {
            if self.standing.checks.contains(&check.id) || before_opening(check) {
                continue;
            }
            let hidden = self.graph.to_check(check).all;
            let subject = self.subject(check);
            let touched = hidden
                .iter()
                .chain(&subject)
                .any(|at| self.on.contains_key(at));
            let by_gate = check
                .before
                .iter()
                .any(|mention| matches!(mention.id, Ref::Gate(_)));
            if (touched || by_gate) && self.can_be_done(check) {
                self.add_check(check, &hidden, subject);
            }
        }
    }

    /// Whether the parts a check wants off are off in this way back. Where one stays on, the check
    /// cannot be done and nothing waits for it; the answer says so.
    fn can_be_done(&self, check: &Check) -> bool {
        let off =
            |at: At| self.on.contains_key(&at) || !self.standing.in_place(&self.graph.part(at).id);
        self.graph.parts(&check.after_off).all(off)
    }

    fn add_check(&mut self, check: &Check, hidden: &BTreeSet<At>, subject: Option<At>) {
        let mut step = bare(StepAct::Check, Ref::Check(check.id.clone()), Leg::Together);
        step.takes = check_takes(check);
        let zone = subject.and_then(|at| self.graph.part(at).zone.as_ref());
        step.zone = zone.map(|mention| mention.id.clone());
        let place = self.draft.steps.add(step);
        self.before_cover(place, hidden, &Because::CheckFirst);
        let spoils = self.spoiled(check, hidden, subject);
        for &unit in &spoils {
            let on = self.units[unit].part;
            self.draft.wait(place, on, &Because::BeforeOneUse);
        }
        let Some(subject) = subject.filter(|at| !hidden.contains(at)) else {
            return;
        };
        if self
            .unit_of
            .get(&subject)
            .is_none_or(|unit| !spoils.contains(unit))
        {
            for step in self.whole(subject) {
                self.draft.wait(step, place, &Because::Fastened);
            }
        }
    }

    /// The units whose one-use bolts and seals a bad result would cost: a check that is done with
    /// parts off, about the unit itself or about something that is fastened onto it and off then.
    fn spoiled(
        &self,
        check: &Check,
        hidden: &BTreeSet<At>,
        subject: Option<At>,
    ) -> BTreeSet<usize> {
        let Some(subject) = subject.filter(|_| !hidden.is_empty() && named_parts(check)) else {
            return BTreeSet::new();
        };
        let one_use = |unit: &usize| {
            let lift = &self.lifts[*unit];
            let own = self.graph.part(lift.part).one_use.known() == Some(&true);
            let joints = self.graph.nodes[lift.part].joints.iter();
            let once = joints
                .map(|&joint| &self.graph.book().joints[joint])
                .any(|joint| {
                    joint
                        .holes
                        .iter()
                        .any(|hole| hole.one_use.known() == Some(&true))
                        || joint
                            .seals
                            .iter()
                            .any(|seal| seal.new.known() == Some(&true))
                });
            // A check of a part that is itself bought new looks at the new one in place.
            once && !own
        };
        let mut spoils = BTreeSet::new();
        let mut open = vec![subject];
        let mut seen = BTreeSet::from([subject]);
        while let Some(at) = open.pop() {
            spoils.extend(self.unit_of.get(&at).filter(|unit| one_use(unit)));
            if !hidden.contains(&at) {
                continue;
            }
            // It is off for the check, so what it is fastened onto can wait.
            let below = self.graph.book().joints_of(&self.graph.part(at).id);
            open.extend(
                below
                    .filter_map(|joint| self.graph.at(&joint.to.id))
                    .filter(|&to| seen.insert(to)),
            );
        }
        spoils
    }
}

/// Whether a check names the parts that are off for it.
fn named_parts(check: &Check) -> bool {
    let mut named = check.before.iter().chain(&check.after_off);
    named.any(|mention| matches!(mention.id, Ref::Part(_)))
}

/// Whether a check belongs before the engine is opened.
fn before_opening(check: &Check) -> bool {
    let opening = Ref::Gate(book::GateId::from("before-opening"));
    check.before.iter().any(|mention| mention.id == opening)
}
