//! Checks: done while they can be done, before what shuts them away and before what they could
//! spoil.

use std::collections::BTreeSet;

use book::{Check, CheckId, Joint, Mention, PartId, Ref};
use job::plan::StepAct;

use crate::reason::Reason;
use crate::run::Run;

impl Run<'_> {
    pub(crate) fn check(&mut self, id: &CheckId) {
        let Some(check) = self.book.check(id).cloned() else {
            return;
        };
        for mention in &check.after_off {
            if let Ref::Part(part) = &mention.id
                && self.book.part(part).is_some()
                && !self.scene.is_clear(part)
            {
                let says = format!("{id} cannot be done while {part} is on");
                self.refuse(Reason::CheckHidden, part, says);
            }
        }
        self.scene.checked.insert(id.clone());
        self.scene.read.extend(check.limit.map(|limit| limit.id));
    }

    /// Checks that must be done before a part goes back on.
    pub(crate) fn due(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        let due: Vec<CheckId> = self
            .book
            .checks
            .iter()
            .filter(|check| !self.scene.checked.contains(&check.id) && self.is_asked(&check.id))
            .filter(|check| {
                let mut named = check.before.iter();
                named.any(|mention| matches!(&mention.id, Ref::Part(id) if unit.contains(id)))
            })
            .map(|check| check.id.clone())
            .collect();
        for check in due {
            let says = format!("{check} must be done before {part} goes on");
            self.refuse(Reason::CheckLate, check, says);
        }
    }

    /// Whether a check concerns this job. One that is done with parts off is asked only where this
    /// job takes them off: nobody pulls a timing cover to look at chains that nobody touched.
    pub(crate) fn is_asked(&self, id: &CheckId) -> bool {
        let Some(check) = self.book.check(id) else {
            return false;
        };
        let parts = |mentions: &[Mention<Ref>]| -> Vec<PartId> {
            let parts = mentions.iter().filter_map(|mention| match &mention.id {
                Ref::Part(part) if self.book.part(part).is_some() => Some(part.clone()),
                _ => None,
            });
            parts.collect()
        };
        let (after, before) = (parts(&check.after_off), parts(&check.before));
        let touched =
            |part: &PartId| self.was_clear.contains(part) || self.taken_off(part).is_some();
        let possible = after.iter().all(touched);
        let named = after.iter().chain(&before).chain(self.subject(check));
        let free = after.is_empty() && before.is_empty();
        possible && (free || named.into_iter().any(touched))
    }

    /// A check that is still to come, of the very part these fasteners hold, and done with parts
    /// off: what it finds may want the joint undone again, and its fasteners serve once. A part
    /// that is itself bought new each time is looked at in its place.
    pub(crate) fn spent_early(&mut self, joint: &Joint) {
        let once = |hole: &book::Hole| hole.one_use.known() == Some(&true);
        let new_part = self
            .book
            .part(&joint.of)
            .is_some_and(|part| part.one_use.known() == Some(&true));
        if new_part || !joint.holes.iter().any(once) {
            return;
        }
        let later: BTreeSet<&Ref> = self.plan.steps[self.at..]
            .iter()
            .filter(|step| step.name.act == StepAct::Check)
            .map(|step| &step.name.target)
            .collect();
        let late: Vec<CheckId> = self
            .book
            .checks
            .iter()
            .filter(|check| !self.scene.checked.contains(&check.id))
            .filter(|check| later.contains(&Ref::Check(check.id.clone())))
            .filter(|check| self.subject(check) == Some(&joint.of) && needs_parts_off(check))
            .map(|check| check.id.clone())
            .collect();
        for check in late {
            let says = format!(
                "the one-use fasteners of {} would be spent before {check}",
                joint.id
            );
            self.refuse(Reason::OneUseSpent, check, says);
        }
    }

    /// The part a check looks at.
    fn subject<'b>(&'b self, check: &'b Check) -> Option<&'b PartId> {
        match &check.of.as_ref()?.id {
            Ref::Part(part) => Some(part),
            Ref::Joint(joint) => self.book.joint(joint).map(|joint| &joint.of),
            Ref::Hole(hole) => self.book.joint(&hole.joint).map(|joint| &joint.of),
            Ref::Port(port) => Some(&port.part),
            _ => None,
        }
    }
}

/// Whether a check names parts that are off while it is done.
fn needs_parts_off(check: &Check) -> bool {
    let mut named = check.before.iter().chain(&check.after_off);
    named.any(|mention| matches!(mention.id, Ref::Part(_)))
}
