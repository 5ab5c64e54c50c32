//! Fasteners out of holes and back into them, counted.
//!
//! A count without hole names goes to holes only where there is one way to do it. What
//! cannot be told hole by hole stays *not placed* at the joint, counted all the same.

use book::{HoleName, JointId};
use report::{Finding, Weight};

use crate::entry::EntryId;
use crate::item::{Item, Sort};
use crate::met;
use crate::state::{HoleState, JointState, State};

/// One hole of one joint.
pub(super) type At = (JointId, HoleName);

/// By what a fastener is given to a hole.
#[derive(Clone, Copy, PartialEq, Eq)]
enum By {
    /// By all that is known of both.
    All,
    /// By thread and length.
    Size,
    /// By all but the length.
    Looks,
    /// By the thread alone.
    Thread,
}

impl State {
    /// What a hole should hold: what came out of it, else what the book says.
    #[must_use]
    pub fn wanted_in(&self, joint: &JointId, hole: &HoleName) -> Option<Item> {
        let touched = self
            .joints
            .get(joint)
            .and_then(|state| state.holes.get(hole));
        let from_book = || {
            self.known
                .joint(joint)
                .and_then(|known| known.hole(hole))
                .and_then(met::fastener)
        };
        touched
            .and_then(|state| state.came_out.clone())
            .or_else(from_book)
    }

    /// Whether what a hole should hold meets a condition, looked at in place.
    fn wants(&self, (joint, hole): &At, meets: impl Fn(&Item) -> bool) -> bool {
        let touched = self
            .joints
            .get(joint)
            .and_then(|state| state.holes.get(hole));
        match touched.and_then(|state| state.came_out.as_ref()) {
            Some(wanted) => meets(wanted),
            None => self
                .wanted_in(joint, hole)
                .is_some_and(|wanted| meets(&wanted)),
        }
    }

    /// Whether a hole is empty now.
    pub(super) fn is_empty(&self, (joint, hole): &At) -> bool {
        let state = self
            .joints
            .get(joint)
            .and_then(|state| state.holes.get(hole));
        state.is_some_and(|state| state.empty)
    }

    pub(super) fn holes_of(&self, joint: &JointId) -> Vec<At> {
        let known = self
            .known
            .joint(joint)
            .map(|known| known.holes.as_slice())
            .unwrap_or_default();
        let fastened = known.iter().filter(|hole| met::fastener(hole).is_some());
        fastened
            .map(|hole| (joint.clone(), hole.name.clone()))
            .collect()
    }

    /// Every hole of a joint, those with dowels and those open by design among them.
    pub(super) fn every_hole_of(&self, joint: &JointId) -> Vec<At> {
        let known = self.known.joint(joint).map(|known| known.holes.as_slice());
        let holes = known.unwrap_or_default().iter();
        holes
            .map(|hole| (joint.clone(), hole.name.clone()))
            .collect()
    }

    pub(super) fn hole_mut(&mut self, (joint, hole): &At) -> &mut HoleState {
        let state = self.joints.entry(joint.clone()).or_default();
        state.holes.entry(hole.clone()).or_default()
    }

    pub(super) fn joint_mut(&mut self, joint: &JointId) -> &mut JointState {
        self.joints.entry(joint.clone()).or_default()
    }

    /// A hole by the name typed, whatever its case.
    pub(super) fn hole_named(&self, joints: &[JointId], name: &str) -> Option<At> {
        let mut holes = joints.iter().flat_map(|joint| self.every_hole_of(joint));
        holes.find(|(_, hole)| hole.as_str().eq_ignore_ascii_case(name))
    }

    /// Opens joints: everything comes out of their holes, and what was counted is compared.
    pub(super) fn open(
        &mut self,
        entry: EntryId,
        joints: &[JointId],
        items: &[Item],
        only: Option<&[At]>,
    ) {
        let mut opened: Vec<At> = Vec::new();
        for joint in joints {
            let state = self.joint_mut(joint);
            if only.is_none() {
                state.open = true;
            }
            state.was_open = true;
            state.since = entry;
            state.seals.clear();
            state.unplaced_back.clear();
        }
        let all: Vec<At> = match only {
            Some(only) => only.to_vec(),
            None => joints
                .iter()
                .flat_map(|joint| self.holes_of(joint))
                .collect(),
        };
        for at in all {
            if self.is_empty(&at) {
                continue;
            }
            let content = self.wanted_in(&at.0, &at.1);
            let hole = self.hole_mut(&at);
            *hole = HoleState {
                empty: true,
                came_out: hole.inside.take().or(content),
                out_with: std::mem::take(&mut hole.out_with),
                broke: hole.broke,
                since: entry,
                ..HoleState::default()
            };
            opened.push(at);
        }
        self.count_out(entry, joints, items, &opened);
    }

    /// Compares what was counted with the holes that were opened.
    fn count_out(&mut self, entry: EntryId, joints: &[JointId], items: &[Item], opened: &[At]) {
        let Some(first) = joints.first() else { return };
        let mut counted_any = false;
        let (fasteners, others): (Vec<&Item>, Vec<&Item>) =
            items.iter().partition(|item| item.is_fastener());
        for item in fasteners {
            if item.sort == Sort::Dowel && !self.met.contains_key(first.as_str()) {
                self.dowels_out(entry, joints, item);
                continue;
            }
            counted_any |= item.sort != Sort::Dowel;
            let surplus = self.count_item(entry, joints, item, opened);
            if surplus == 0 {
                continue;
            }
            let rest = item.counting(surplus);
            if self.met.contains_key(first.as_str()) {
                for hole in self.meet_holes(first, &rest) {
                    let came_out = Some(Item {
                        holes: Vec::new(),
                        ..rest.counting(1)
                    });
                    *self.hole_mut(&(first.clone(), hole.clone())) = HoleState {
                        empty: true,
                        came_out,
                        counted: true,
                        since: entry,
                        ..HoleState::default()
                    };
                    self.washer_out(&(first.clone(), hole), item);
                }
            } else {
                let says = format!("{} more came out than the book has holes for", rest.shown());
                let finding = Finding::new("not-in-book", self.joint_label(first), says)
                    .next("both are kept; say which is right when the book is written back");
                self.note_finding(entry, finding);
                self.joint_mut(first).unplaced_out.push(rest);
            }
        }
        // Fasteners first: on a joint nobody has described they make the holes.
        for item in others {
            if self.is_seal(joints, item) {
                self.seal_seen(first, item);
            } else {
                self.extra_out(entry, joints, item);
            }
        }
        let uncounted: Vec<&At> = opened.iter().filter(|at| !self.is_counted(at)).collect();
        if counted_any && !uncounted.is_empty() {
            let names: Vec<String> = uncounted
                .iter()
                .map(|(joint, hole)| format!("{joint}.{hole}"))
                .collect();
            let says = format!(
                "{} more should have come out: {}",
                names.len(),
                names.join(", ")
            );
            let finding = Finding::new("count-short", self.joint_label(first), says)
                .next("look for them, or correct the count");
            self.note_finding(entry, finding);
        }
    }

    fn is_counted(&self, (joint, hole): &At) -> bool {
        let state = self
            .joints
            .get(joint)
            .and_then(|state| state.holes.get(hole));
        state.is_some_and(|state| state.counted)
    }

    /// Gives one counted item to the holes it came out of. Answers how many are left over.
    fn count_item(
        &mut self,
        entry: EntryId,
        joints: &[JointId],
        item: &Item,
        opened: &[At],
    ) -> u32 {
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        let mut left = item.count;
        for name in &item.holes {
            let Some(at) = self.hole_named(joints, name) else {
                continue;
            };
            let hole = self.hole_mut(&at);
            // A length the book has otherwise is a contradiction with the book, not with the
            // record: what was seen is kept, and outstanding compares again.
            hole.came_out = Some(merged(&single, hole.came_out.as_ref()));
            hole.counted = true;
            self.washer_out(&at, item);
            left = left.saturating_sub(1);
        }
        if left == 0 || !item.holes.is_empty() {
            return left;
        }
        let fits = |state: &Self, at: &At| {
            !state.is_counted(at) && state.wants(at, |wanted| single.may_be(wanted))
        };
        let candidates: Vec<At> = opened.iter().filter(|at| fits(self, at)).cloned().collect();
        let matched = u32::try_from(candidates.len()).unwrap_or(u32::MAX);
        let unique = matched <= left;
        let tells_more =
            |at: &At| self.wants(at, |wanted| *wanted != merged(&single, Some(wanted)));
        if !unique && candidates.iter().any(tells_more) {
            let says = format!(
                "{}: which holes they came out of was not said",
                item.shown()
            );
            let finding = Finding::new("not-placed", item.shown(), says)
                .next("name the holes where lengths differ: `holes B..D`")
                .weight(Weight::Note);
            self.note_finding(entry, finding);
        }
        for at in candidates
            .iter()
            .take(usize::try_from(left).unwrap_or(usize::MAX))
        {
            let hole = self.hole_mut(at);
            if unique {
                hole.came_out = Some(merged(&single, hole.came_out.as_ref()));
            }
            hole.counted = true;
            self.washer_out(at, item);
        }
        left.saturating_sub(matched)
    }

    /// A seal that came out of a joint that was not described before is a fact about it.
    fn seal_seen(&mut self, joint: &JointId, item: &Item) {
        let is_new = self.met.contains_key(joint.as_str());
        if let Some(known) = self
            .known
            .joints
            .iter_mut()
            .find(|known| known.id == *joint)
            && is_new
            && !known
                .seals
                .iter()
                .any(|seal| crate::item::same_name(&seal.what, &item.name))
        {
            known.seals.push(met::seal(item));
        }
    }

    /// Closes joints with what was said to go back. With no fastener said, all go back.
    pub(super) fn close(&mut self, entry: EntryId, joints: &[JointId], items: &[Item]) {
        for joint in joints {
            let state = self.joint_mut(joint);
            state.open = false;
            state.since = entry;
        }
        let (seals, others): (Vec<&Item>, Vec<&Item>) =
            items.iter().partition(|item| self.is_seal(joints, item));
        for item in seals {
            if let Some(joint) = self.joint_of_seal(joints, item) {
                self.joint_mut(&joint).seals.push(item.clone());
            }
        }
        if others.is_empty() {
            let all: Vec<At> = joints
                .iter()
                .flat_map(|joint| self.every_hole_of(joint))
                .collect();
            for at in all {
                if self.is_empty(&at) {
                    self.fill(entry, &at, None);
                }
            }
            for joint in joints {
                let state = self.joint_mut(joint);
                state.unplaced_out.clear();
                for hole in state.holes.values_mut() {
                    hole.out_with.clear();
                }
            }
            return;
        }
        let (fasteners, extras): (Vec<&Item>, Vec<&Item>) =
            others.iter().partition(|item| item.is_fastener());
        for item in fasteners {
            self.put_back(entry, joints, item);
        }
        self.settle(entry, joints);
        for item in extras {
            self.extra_back(entry, joints, item);
        }
    }

    fn fill(&mut self, entry: EntryId, at: &At, inside: Option<Item>) {
        if let Some(item) = &inside {
            self.washer_back(entry, at, item);
        }
        let hole = self.hole_mut(at);
        hole.empty = false;
        let ready = hole.ready.take();
        hole.inside = inside.or(ready);
        hole.tightened.clear();
        hole.loosened = false;
        hole.loosened_by = None;
        hole.since = entry;
    }

    /// Puts one counted item back.
    fn put_back(&mut self, entry: EntryId, joints: &[JointId], item: &Item) {
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        if !item.holes.is_empty() {
            for name in &item.holes {
                match self.hole_named(joints, name) {
                    Some(at) if self.is_empty(&at) => self.fill(entry, &at, Some(single.clone())),
                    Some(at) if item.sort == Sort::Dowel && !self.wants_a_fastener(&at) => {
                        // A new dowel where none came out: nothing to settle.
                        self.hole_mut(&at).inside = Some(single.clone());
                    }
                    Some(_) => self.note_finding(
                        entry,
                        Finding::new(
                            "hole-not-empty",
                            name.clone(),
                            format!("hole {name} was not empty"),
                        )
                        .next("correct the entry, or say what came out of it first"),
                    ),
                    None => self.note_finding(
                        entry,
                        Finding::new(
                            "no-such-hole",
                            name.clone(),
                            format!("there is no hole {name} here"),
                        )
                        .next("correct the entry with the hole's name"),
                    ),
                }
            }
            return;
        }
        if let Some(first) = joints.first() {
            add_to(&mut self.joint_mut(first).unplaced_back, item);
        }
    }

    /// Gives what is not placed to holes, as far as there is one way to do it.
    fn settle(&mut self, entry: EntryId, joints: &[JointId]) {
        let Some(first) = joints.first() else { return };
        let mut waiting = std::mem::take(&mut self.joint_mut(first).unplaced_back);
        // First against holes that want exactly this, then, for what is over, against holes
        // that want the same but for the length, then against holes it can be screwed into:
        // a wrong length or strength is found out later.
        for by in [By::All, By::Size, By::Looks, By::Thread] {
            for item in &mut waiting {
                self.settle_one(entry, joints, item, by);
            }
            waiting.retain(|item| item.count > 0);
        }
        // What came out beyond the holes: washers, spacers, fasteners the book does not have.
        for item in &mut waiting {
            for out in &mut self.joint_mut(first).unplaced_out {
                let both = if item.may_be(out) {
                    item.count.min(out.count)
                } else {
                    0
                };
                item.count -= both;
                out.count -= both;
            }
        }
        waiting.retain(|item| item.count > 0);
        let state = self.joint_mut(first);
        state.unplaced_out.retain(|item| item.count > 0);
        state.unplaced_back = waiting;
    }

    fn settle_one(&mut self, entry: EntryId, joints: &[JointId], item: &mut Item, by: By) {
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        let fits = |wanted: &Item| match by {
            By::All => single.may_be(wanted),
            By::Size => single.is_size_of(wanted),
            By::Looks => single.is_like(wanted),
            By::Thread => single.goes_where(wanted),
        };
        let empty = joints
            .iter()
            .flat_map(|joint| self.every_hole_of(joint))
            .filter(|at| self.is_empty(at));
        let candidates: Vec<At> = empty.filter(|at| self.wants(at, fits)).collect();
        let room = u32::try_from(candidates.len()).unwrap_or(u32::MAX);
        let unique = if by == By::All {
            room <= item.count
        } else {
            room == item.count
        };
        if room == 0 || item.count == 0 || !unique {
            return;
        }
        for at in &candidates {
            self.fill(entry, at, Some(single.clone()));
        }
        item.count -= room;
    }

    /// Whether an item is a seal: by its own words, or because a joint has a seal of that name.
    pub(super) fn is_seal(&self, joints: &[JointId], item: &Item) -> bool {
        let named = || {
            joints
                .iter()
                .filter_map(|joint| self.known.joint(joint))
                .flat_map(|joint| &joint.seals)
                .any(|seal| crate::item::same_name(&seal.what, &item.name))
        };
        item.sort == Sort::Seal || item.sort == Sort::Thing && named()
    }

    /// The joint a seal belongs to: the one whose book names it, else the only one with seals.
    fn joint_of_seal(&self, joints: &[JointId], item: &Item) -> Option<JointId> {
        let with_seals = |joint: &&JointId| {
            self.known
                .joint(joint)
                .is_some_and(|known| !known.seals.is_empty())
        };
        let named = joints.iter().find(|joint| {
            let known = self.known.joint(joint);
            known.is_some_and(|known| {
                known
                    .seals
                    .iter()
                    .any(|seal| crate::item::same_name(&seal.what, &item.name))
            })
        });
        named
            .or_else(|| joints.iter().find(with_seals))
            .or_else(|| joints.first())
            .cloned()
    }
}

/// Adds an item to a list, to the count of the same description where there is one.
pub(super) fn add_to(list: &mut Vec<Item>, item: &Item) {
    let same = |held: &&mut Item| held.counting(1) == item.counting(1);
    match list.iter_mut().find(same) {
        Some(held) => held.count += item.count,
        None => list.push(item.clone()),
    }
}

/// What was said of an item, filled up with what was known of it.
pub(super) fn merged(said: &Item, known: Option<&Item>) -> Item {
    let Some(known) = known else {
        return said.clone();
    };
    let thread = match (&said.thread, &known.thread) {
        (Some(said), Some(known)) if said.may_be(known) && said.pitch.is_none() => {
            Some(known.clone())
        }
        (Some(said), _) => Some(said.clone()),
        (None, known) => known.clone(),
    };
    Item {
        count: 1,
        sort: said.sort,
        name: said.name.clone(),
        thread,
        length: said.length.or(known.length),
        head: said.head.or(known.head),
        grade: said.grade.clone().or_else(|| known.grade.clone()),
        washer: said.washer.or(known.washer),
        new: said.new,
        holes: Vec::new(),
        note: said.note.clone().or_else(|| known.note.clone()),
    }
}
