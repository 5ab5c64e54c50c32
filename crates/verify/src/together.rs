//! The way back: what must be there before a part, an end, a joint or a fluid goes in, and what
//! it would shut away.

use std::collections::BTreeSet;

use book::{CircuitId, JointId, LineId, OrderAct, PartId, Ref, TemporaryId};

use crate::reason::Reason;
use crate::run::Run;
use crate::scene::Holding;
use crate::vehicle;

impl Run<'_> {
    pub(crate) fn part_on(&mut self, part: &PartId, with: &[PartId]) {
        if !self.scene.is_clear(part) {
            let says = format!("{part} is on already");
            self.refuse(Reason::NotOff, part, says);
            return;
        }
        let unit = self.unit_on(part, with);
        self.head_gate(part, &unit);
        self.seated(&unit);
        let first = self.ruled_before(part);
        self.blocked(part, "go on", &first);
        self.shuts(part, &unit);
        self.due(part, &unit);
        self.left_inside(part, &unit);
        for member in unit {
            self.scene.off.remove(&member);
            self.scene.aside.remove(&member);
        }
    }

    /// What goes on together with a part: of what is under its `comes-with`, what the step says.
    fn unit_on(&mut self, part: &PartId, with: &[PartId]) -> BTreeSet<PartId> {
        let unit = vehicle::unit(&self.book, part);
        let mut going = BTreeSet::from([part.clone()]);
        for member in with {
            if !unit.contains(member) {
                let says = format!("{member} does not go on in one piece with {part}");
                self.refuse(Reason::ComesWith, member, says);
            } else if !self.scene.is_clear(member) {
                let says = format!("{member} is on already and cannot go on with {part}");
                self.refuse(Reason::ComesWith, member, says);
            }
            going.insert(member.clone());
        }
        going
    }

    /// A part goes onto something that is there.
    fn seated(&mut self, unit: &BTreeSet<PartId>) {
        for joint in self.book.joints.clone() {
            let leaves = unit.contains(&joint.of) && !unit.contains(&joint.to.id);
            if !leaves || !self.scene.off.contains(&joint.to.id) {
                continue;
            }
            let excused = vehicle::lower_leaves_first(&self.book, &joint)
                || vehicle::ruled(&self.book, OrderAct::Refit, &joint.of, &joint.to.id);
            if !excused {
                let says = format!("{} goes onto {}, which is off", joint.of, joint.to.id);
                self.refuse(Reason::SeatOff, &joint.to.id, says);
            }
        }
    }

    /// Parts that a rule of the book puts back before this one, whatever is in the way of what.
    fn ruled_before(&self, part: &PartId) -> BTreeSet<PartId> {
        let parts = self.book.parts.iter().map(|other| &other.id);
        parts
            .filter(|other| vehicle::ruled(&self.book, OrderAct::Refit, other, part))
            .cloned()
            .collect()
    }

    /// What still has to go in and could no longer.
    fn shuts(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        let mut shut = Vec::new();
        for other in &self.book.parts {
            if unit.contains(&other.id) || !self.scene.is_clear(&other.id) {
                continue;
            }
            let stays_clear = |id: &PartId| self.scene.is_clear(id) && !unit.contains(id);
            let excused = |id: &PartId| {
                unit.contains(id) && vehicle::ruled(&self.book, OrderAct::Refit, id, &other.id)
            };
            let in_way = |id: &PartId| unit.contains(id) && !excused(id);
            let by_part = other.needs_off.iter().any(|needed| in_way(&needed.id));
            let by_way = other.needs_off_any.iter().any(|group| {
                let open = |test: &dyn Fn(&PartId) -> bool| {
                    let mut ways = group.ways.iter();
                    ways.any(|way| way.parts.iter().all(|needed| test(&needed.id)))
                };
                open(&|id| self.scene.is_clear(id)) && !open(&|id| stays_clear(id) || excused(id))
            });
            if by_part || by_way {
                shut.push(other.id.clone());
            }
        }
        for other in shut {
            let says = format!("{part} would shut away {other}, which still has to go on");
            self.refuse(Reason::WayClosed, other, says);
        }
    }

    /// What must be out before a part goes back on.
    fn left_inside(&mut self, part: &PartId, unit: &BTreeSet<PartId>) {
        for item in self.book.temporaries.clone() {
            let named = item
                .out_before
                .iter()
                .any(|mention| matches!(&mention.id, Ref::Part(wanted) if unit.contains(wanted)));
            if named && self.scene.inside.contains(&item.id) {
                let says = format!("{} is still in when {part} goes on", item.id);
                self.refuse(Reason::TemporaryLeftIn, &item.id, says);
            }
        }
    }

    pub(crate) fn ends_on(&mut self, target: &Ref, ends: &[(LineId, usize)]) {
        if ends.is_empty() {
            let says = format!("nothing belongs on {target}");
            self.refuse(Reason::WrongTarget, target, says);
            return;
        }
        // Of the ends on a part that was off before, the record need not speak.
        let sat_off = |(line, end): &(LineId, usize)| {
            let line = self.book.line(line);
            line.is_some_and(|line| self.was_clear.contains(&line.ends[*end].port.id.part))
        };
        let can_go_on = |end: &(LineId, usize)| self.scene.ends_off.contains(end) || sat_off(end);
        if !ends.iter().any(can_go_on) {
            let says = format!("{target} is on already");
            self.refuse(Reason::NotOff, target, says);
        }
        for end in ends {
            let line = self.book.line(&end.0);
            let seat = line.map(|line| line.ends[end.1].port.id.part.clone());
            if let Some(seat) = seat.filter(|seat| self.scene.off.contains(seat)) {
                let says = format!("{} goes onto {seat}, which is off", end.0);
                self.refuse(Reason::EndWithoutPart, &seat, says);
            }
            self.scene.ends_off.remove(end);
        }
    }

    pub(crate) fn do_up(&mut self, joint: &JointId) {
        let Some(node) = self.book.joint(joint).cloned() else {
            return;
        };
        if self.scene.holding(joint) == Holding::Tight {
            let says = format!("{joint} is done up already");
            self.refuse(Reason::AlreadyDoneUp, joint, says);
        }
        for part in [&node.of, &node.to.id] {
            if self.scene.off.contains(part) {
                let says = format!("{joint} cannot be done up while {part} is off");
                self.refuse(Reason::JointWithoutPart, part, says);
            }
        }
        for line in self.book.lines.clone() {
            for (number, end) in line.ends.iter().enumerate() {
                let held = end.held_by.as_ref().is_some_and(|held| held.id == *joint);
                if held && self.scene.ends_off.contains(&(line.id.clone(), number)) {
                    let says = format!("{joint} holds the end of {}, which is not there", line.id);
                    self.refuse(Reason::EndNotHeld, &line.id, says);
                }
            }
        }
        self.spent_early(&node);
        self.scene.set(joint, Holding::Tight);
    }

    pub(crate) fn fill(&mut self, circuit: &CircuitId) {
        if !self.scene.drained.contains(circuit) {
            let says = format!("{circuit} is full already");
            self.refuse(Reason::NotDrained, circuit, says);
        }
        if let Some(leak) = self.leak(circuit) {
            let says = format!("{circuit} would run out: {leak}");
            self.refuse(Reason::CircuitOpen, circuit, says);
        }
        self.scene.drained.remove(circuit);
    }

    /// The first place where a circuit is open.
    fn leak(&self, circuit: &CircuitId) -> Option<String> {
        let circuit = self.book.circuit(circuit)?;
        let wet = |part: &&book::Part| vehicle::is_wet(part, circuit);
        let wet: Vec<&book::Part> = self.book.parts.iter().filter(wet).collect();
        if let Some(part) = wet.iter().find(|part| self.scene.off.contains(&part.id)) {
            return Some(format!("{} is off", part.id));
        }
        let open = |joint: &&book::Joint| {
            wet.iter().any(|part| part.id == joint.of)
                && self.scene.holding(&joint.id) != Holding::Tight
        };
        if let Some(joint) = self.book.joints.iter().find(open) {
            return Some(format!("{} is not done up", joint.id));
        }
        let loose = |(line, end): &&(LineId, usize)| {
            self.book.line(line).is_some_and(|line| {
                vehicle::medium_at(&self.book, line, *end) == Some(&circuit.medium)
            })
        };
        let (line, _) = self.scene.ends_off.iter().find(loose)?;
        Some(format!("an end of {line} is off"))
    }

    pub(crate) fn take_out(&mut self, item: &TemporaryId) {
        if !self.scene.inside.remove(item) {
            let says = format!("{item} is not in");
            self.refuse(Reason::NotIn, item, says);
        }
    }
}
