//! The way off: what must be out of the way before a part, an end, a joint or a fluid goes.

use std::collections::BTreeSet;

use book::{Circuit, CircuitId, JointId, LineId, PartId, Ref, TemporaryId};

use crate::reason::Reason;
use crate::run::Run;
use crate::scene::Holding;
use crate::vehicle;

impl Run<'_> {
    pub(crate) fn part_off(&mut self, part: &PartId, with: &[PartId]) {
        if self.scene.off.contains(part) {
            let says = format!("{part} is off already");
            self.refuse(Reason::AlreadyOff, part, says);
            return;
        }
        if self.book.part(part).is_some_and(|part| part.fixed) {
            let says = format!("{part} never comes off in this book");
            self.refuse(Reason::FixedPart, part, says);
        }
        self.opened_before_gate(part);
        let unit = self.unit_off(part, with);
        self.blocked(part, "come off", &BTreeSet::new());
        self.held(part, &unit);
        self.connected(part, &unit);
        self.wet(part, &unit);
        self.temporaries_in(part, &unit);
        for member in unit {
            self.scene.aside.remove(&member);
            self.scene.off.insert(member);
        }
    }

    /// What leaves together with a part: everything under its `comes-with` that is still on, and
    /// nothing else.
    fn unit_off(&mut self, part: &PartId, with: &[PartId]) -> BTreeSet<PartId> {
        let mut unit = vehicle::unit(&self.book, part);
        unit.retain(|member| member == part || !self.scene.off.contains(member));
        for stranger in with.iter().filter(|other| !unit.contains(*other)) {
            let says = format!("{stranger} does not come off in one piece with {part}");
            self.refuse(Reason::ComesWith, stranger, says);
        }
        for member in &unit {
            if member != part && !with.contains(member) {
                let says = format!("{member} comes off with {part}, and the step does not say so");
                self.refuse(Reason::ComesWith, member, says);
            }
        }
        unit
    }

    /// Whether everything the book wants off for this part is out of the way. What rules put on
    /// before it (`excused`) need not be.
    pub(crate) fn blocked(&mut self, part: &PartId, act: &str, excused: &BTreeSet<PartId>) {
        let Some(node) = self.book.part(part).cloned() else {
            return;
        };
        let clear =
            |scene: &crate::scene::Scene, id: &PartId| scene.is_clear(id) || excused.contains(id);
        for other in &node.needs_off {
            if !clear(&self.scene, &other.id) {
                let says = format!("{part} cannot {act} while {} is on", other.id);
                self.refuse(Reason::BlockedPart, &other.id, says);
            }
        }
        for group in &node.needs_off_any {
            let mut ways = group.ways.iter();
            if !ways.any(|way| way.parts.iter().all(|other| clear(&self.scene, &other.id))) {
                let says = format!("{part} cannot {act}: none of its ways is wholly off");
                self.refuse(Reason::NoWayOpen, part, says);
            }
        }
    }

    /// Fasteners, and parts mounted on the unit.
    fn held(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        for joint in self.book.joints.clone() {
            let (own, under) = (unit.contains(&joint.of), unit.contains(&joint.to.id));
            if own == under {
                continue;
            }
            let beside = under && !vehicle::lower_leaves_first(&self.book, &joint);
            if beside {
                if !self.scene.is_clear(&joint.of) {
                    let says = format!("{} is still on {}", joint.of, joint.to.id);
                    self.refuse(Reason::MountedPart, &joint.of, says);
                }
                continue;
            }
            // Whatever was fastened to a part that is gone is undone.
            if self.scene.holding(&joint.id) != Holding::Out {
                let says = format!("{part} is still held by {}", joint.id);
                self.refuse(Reason::FastenersIn, &joint.id, says);
            }
        }
    }

    fn connected(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        for line in self.book.lines.clone() {
            let here = [0, 1].map(|end| unit.contains(&line.ends[end].port.id.part));
            for end in [0, 1] {
                let alone = here[end] && !here[1 - end];
                if alone && !self.scene.ends_off.contains(&(line.id.clone(), end)) {
                    let port = &line.ends[end].port.id;
                    let says = format!("{part} cannot come off: {} is still on {port}", line.id);
                    self.refuse(Reason::EndOn, &line.id, says);
                }
            }
        }
    }

    fn wet(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        for circuit in self.full_circuits() {
            let parts = self.book.parts.iter();
            let wet = |member: &book::Part| {
                unit.contains(&member.id) && vehicle::runs_out(member, &circuit)
            };
            if parts.clone().any(wet) {
                let says = format!("{part} cannot come off: {} is not drained", circuit.id);
                self.refuse(Reason::WetCircuit, &circuit.id, says);
            }
        }
    }

    fn full_circuits(&self) -> Vec<Circuit> {
        let full = |circuit: &&Circuit| !self.scene.drained.contains(&circuit.id);
        self.book.circuits.iter().filter(full).cloned().collect()
    }

    /// What must be in before a part comes off.
    fn temporaries_in(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        for item in self.book.temporaries.clone() {
            let named = item
                .in_before
                .iter()
                .any(|mention| matches!(&mention.id, Ref::Part(wanted) if unit.contains(wanted)));
            if named && !self.scene.inside.contains(&item.id) {
                let says = format!("{} must be in before {part} comes off", item.id);
                self.refuse(Reason::TemporaryMissing, &item.id, says);
            }
        }
    }

    pub(crate) fn ends_off(&mut self, target: &Ref, ends: &[(LineId, usize)]) {
        self.opened_before_gate(target);
        if ends.is_empty() {
            let says = format!("nothing is connected to {target}");
            self.refuse(Reason::WrongTarget, target, says);
            return;
        }
        if ends.iter().all(|end| self.scene.ends_off.contains(end)) {
            let says = format!("{target} is off already");
            self.refuse(Reason::AlreadyOff, target, says);
        }
        for (line, end) in ends {
            let Some(line) = self.book.line(line).cloned() else {
                continue;
            };
            let held_by = line.ends[*end].held_by.as_ref();
            if let Some(joint) = held_by
                && self.book.joint(&joint.id).is_some()
                && self.scene.holding(&joint.id) == Holding::Tight
            {
                let says = format!("the end of {} is still held by {}", line.id, joint.id);
                self.refuse(Reason::FastenersIn, &joint.id, says);
            }
            let medium = vehicle::medium_at(&self.book, &line, *end).cloned();
            for circuit in self.full_circuits() {
                let carries = medium
                    .as_ref()
                    .is_some_and(|medium| medium.is_liquid() && *medium == circuit.medium);
                if carries {
                    let says = format!("{} would run out of {}", circuit.id, line.id);
                    self.refuse(Reason::WetCircuit, &circuit.id, says);
                }
            }
        }
        self.scene.ends_off.extend(ends.iter().cloned());
    }

    pub(crate) fn undo(&mut self, joint: &JointId) {
        self.opened_before_gate(joint);
        if self.scene.holding(joint) == Holding::Out {
            let says = format!("{joint} is undone already");
            self.refuse(Reason::AlreadyUndone, joint, says);
        }
        let node = self.book.joint(joint).cloned();
        let of = node
            .as_ref()
            .and_then(|joint| self.book.part(&joint.of))
            .cloned();
        // A joint undone for the sake of its lower part says nothing of fluid in the upper one.
        let own = node.is_some_and(|joint| !vehicle::lower_leaves_first(&self.book, &joint));
        if let Some(of) = of.filter(|of| own && !self.scene.off.contains(&of.id)) {
            for circuit in self.full_circuits() {
                if vehicle::runs_out(&of, &circuit) {
                    let says = format!("{} would run out at {joint}", circuit.id);
                    self.refuse(Reason::WetCircuit, &circuit.id, says);
                }
            }
        }
        self.scene.set(joint, Holding::Out);
    }

    pub(crate) fn drain(&mut self, circuit: &CircuitId) {
        self.opened_before_gate(circuit);
        if !self.scene.drained.insert(circuit.clone()) {
            let says = format!("{circuit} is drained already");
            self.refuse(Reason::AlreadyDrained, circuit, says);
        }
    }

    pub(crate) fn put_in(&mut self, item: &TemporaryId) {
        if !self.scene.inside.insert(item.clone()) {
            let says = format!("{item} is in already");
            self.refuse(Reason::AlreadyIn, item, says);
        }
    }
}
