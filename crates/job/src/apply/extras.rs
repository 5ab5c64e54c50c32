//! What goes with a fastener, hole by hole: washers, sleeves, spacers; and dowels.
//!
//! A washer that was counted out must be counted in. What only the book knows is asked for
//! where something new goes in, or where its like is counted: nobody counts twelve collars
//! into a cover to say that ten are enough.

use book::{Holds, JointId};
use report::{Finding, Weight};

use super::fasteners::{At, add_to, merged};
use crate::entry::EntryId;
use crate::item::{Item, Sort, same_name};
use crate::state::{HoleState, State};

impl State {
    /// Whether a fastener comes out of this hole when its joint is opened.
    pub(super) fn wants_a_fastener(&self, (joint, hole): &At) -> bool {
        let known = self.known.joint(joint).and_then(|known| known.hole(hole));
        known.is_some_and(|hole| !matches!(hole.holds, Holds::Dowel | Holds::Nothing))
    }

    /// Dowels that came out of a joint of the book: they stay in as a rule and are said.
    pub(super) fn dowels_out(&mut self, entry: EntryId, joints: &[JointId], item: &Item) {
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        let holds_one = |(joint, hole): &At| {
            let known = self.known.joint(joint).and_then(|known| known.hole(hole));
            known.is_some_and(|known| known.holds == Holds::Dowel)
        };
        let named = |(_, hole): &At| {
            item.holes.is_empty()
                || item
                    .holes
                    .iter()
                    .any(|name| hole.as_str().eq_ignore_ascii_case(name))
        };
        let holes: Vec<At> = joints
            .iter()
            .flat_map(|joint| self.every_hole_of(joint))
            .filter(|at| holds_one(at) && named(at) && !self.is_empty(at))
            .take(usize::try_from(item.count).unwrap_or(usize::MAX))
            .collect();
        for at in &holes {
            *self.hole_mut(at) = HoleState {
                empty: true,
                came_out: Some(single.clone()),
                counted: true,
                since: entry,
                ..HoleState::default()
            };
        }
        let found = u32::try_from(holes.len()).unwrap_or(u32::MAX);
        let over = item.count.saturating_sub(found);
        if let (Some(first), true) = (joints.first(), over > 0) {
            // Nobody draws every dowel into a book; what came out is counted all the same.
            add_to(
                &mut self.joint_mut(first).unplaced_out,
                &Item {
                    holes: Vec::new(),
                    ..item.counting(over)
                },
            );
        }
    }

    /// The washer that came out with a fastener, where a line counted it.
    pub(super) fn washer_out(&mut self, at: &At, item: &Item) {
        if item.washer == Some(true) {
            let hole = self.hole_mut(at);
            if !hole.out_with.iter().any(is_washer) {
                hole.out_with.push(washer());
            }
        }
    }

    /// The washer that went in with a fastener, or that is missing from it.
    pub(super) fn washer_back(&mut self, entry: EntryId, at: &At, item: &Item) {
        let wants = self
            .wanted_in(&at.0, &at.1)
            .is_some_and(|wanted| wanted.washer == Some(true));
        if item.washer == Some(true) {
            let one = washer();
            if !self.takes(at, &one) {
                let joint = at.0.clone();
                let elsewhere = self.every_hole_of(&joint);
                let found = elsewhere.iter().any(|other| self.takes(other, &one));
                if !found {
                    take_one(&mut self.joint_mut(&joint).unplaced_out, &one);
                }
            }
        } else if wants && (item.washer == Some(false) || item.new == Some(true)) {
            let hole = self.hole_mut(at);
            if !hole.out_with.iter().any(is_washer) {
                hole.out_with.push(washer());
            }
        }
        self.new_and_not_described(entry, at, item);
    }

    /// A new fastener whose strength or length was not said, where the old one's is known.
    fn new_and_not_described(&mut self, entry: EntryId, at: &At, item: &Item) {
        let Some(wanted) = self
            .wanted_in(&at.0, &at.1)
            .filter(|_| item.new == Some(true))
        else {
            return;
        };
        let length = item.length.is_none() && wanted.length.is_some();
        let grade = item.grade.is_none() && wanted.grade.is_some();
        let lacks = match (length, grade) {
            (true, true) => "length and strength",
            (true, false) => "length",
            (false, true) => "strength",
            (false, false) => return,
        };
        let label = self.joint_label(&at.0);
        let known = |it: &crate::state::EntryFinding| {
            it.entry == entry && it.finding.code == NOT_DESCRIBED && it.finding.concerns == label
        };
        if self.findings.iter().any(known) {
            return;
        }
        let says = format!(
            "the {lacks} of the new {} was not said; the old one is {}",
            item.name,
            wanted.counting(1).shown()
        );
        let next = "compare new with old and write it: `correct ENTRY: on … 8 new bolts M11x128 10.9 with washer`";
        let finding = Finding::new(NOT_DESCRIBED, label, says).next(next);
        self.note_finding(entry, finding.weight(Weight::Note));
    }

    /// Takes one such thing from what a hole is still missing.
    fn takes(&mut self, (joint, hole): &At, item: &Item) -> bool {
        let held = self.joints.get_mut(joint);
        let held = held.and_then(|held| held.holes.get_mut(hole));
        held.is_some_and(|held| take_one(&mut held.out_with, item))
    }

    /// A washer, sleeve or spacer that came out: at the holes that were named, else at those
    /// where the book has its like, else at the joint.
    pub(super) fn extra_out(&mut self, entry: EntryId, joints: &[JointId], item: &Item) {
        let Some(first) = joints.first() else { return };
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        let named: Vec<At> = item
            .holes
            .iter()
            .filter_map(|name| self.hole_named(joints, name))
            .collect();
        let of_book = self.with_sleeve(joints, item);
        let holes = if item.holes.is_empty() {
            if !of_book.is_empty() && of_book.len() != usize::try_from(item.count).unwrap_or(0) {
                let says = format!("{} came out, the book has {}", item.shown(), of_book.len());
                let finding = Finding::new("count-short", self.joint_label(first), says)
                    .next("look in the holes and on the bolts, or correct the count");
                self.note_finding(entry, finding);
            }
            of_book
        } else {
            named
        };
        let mut left = item.count;
        for at in holes
            .iter()
            .take(usize::try_from(item.count).unwrap_or(usize::MAX))
        {
            self.hole_mut(at).out_with.push(single.clone());
            left -= 1;
        }
        if left > 0 {
            let rest = Item {
                holes: Vec::new(),
                ..item.counting(left)
            };
            add_to(&mut self.joint_mut(first).unplaced_out, &rest);
        }
    }

    /// A washer, sleeve or spacer that went back: into the holes that were named, else into
    /// those it is missing from.
    pub(super) fn extra_back(&mut self, entry: EntryId, joints: &[JointId], item: &Item) {
        let Some(first) = joints.first() else { return };
        let single = Item {
            holes: Vec::new(),
            ..item.counting(1)
        };
        self.expect_sleeves(joints, item);
        let mut left = item.count;
        for name in &item.holes {
            let Some(at) = self.hole_named(joints, name) else {
                let says = format!("there is no hole {name} here");
                let finding = Finding::new("no-such-hole", name.clone(), says)
                    .next("correct the entry with the hole's name");
                self.note_finding(entry, finding);
                continue;
            };
            left = left.saturating_sub(1);
            if !self.takes(&at, &single) {
                self.hole_mut(&at).in_with.push(single.clone());
            }
        }
        if !item.holes.is_empty() {
            return;
        }
        let all: Vec<At> = joints
            .iter()
            .flat_map(|joint| self.every_hole_of(joint))
            .collect();
        for at in &all {
            while left > 0 && self.takes(at, &single) {
                left -= 1;
            }
        }
        for joint in joints {
            while left > 0 && take_one(&mut self.joint_mut(joint).unplaced_out, &single) {
                left -= 1;
            }
        }
        if left > 0 {
            add_to(
                &mut self.joint_mut(first).unplaced_back,
                &single.counting(left),
            );
        }
    }

    /// Holes of the book with a sleeve or spacer of this name.
    fn with_sleeve(&self, joints: &[JointId], item: &Item) -> Vec<At> {
        let has = |hole: &&book::Hole| {
            hole.sleeve
                .known()
                .is_some_and(|sleeve| same_name(sleeve, &item.name))
        };
        let known = joints.iter().filter_map(|joint| self.known.joint(joint));
        known
            .flat_map(|joint| {
                let holes = joint.holes.iter().filter(has);
                holes.map(|hole| (joint.id.clone(), hole.name.clone()))
            })
            .collect()
    }

    /// Where a count of sleeves goes back that nobody counted out, the book counts them.
    fn expect_sleeves(&mut self, joints: &[JointId], item: &Item) {
        let expected = self.with_sleeve(joints, item);
        let told = |at: &At| {
            let held = self
                .joints
                .get(&at.0)
                .and_then(|held| held.holes.get(&at.1));
            held.is_some_and(|held| held.out_with.iter().any(|out| out.may_be(item)))
        };
        if expected.iter().any(told) {
            return;
        }
        for at in expected {
            let was_open = self.joints.get(&at.0).is_some_and(|held| held.was_open);
            if was_open {
                let single = Item {
                    holes: Vec::new(),
                    ..item.counting(1)
                };
                self.hole_mut(&at).out_with.push(single);
            }
        }
    }

    /// New seals and fasteners in a joint: seals count as put in; fasteners become the new ones
    /// in their holes, or lie ready for them.
    pub(super) fn renew(&mut self, entry: EntryId, joint: &JointId, items: &[Item]) {
        if !self.joints.contains_key(joint) {
            return;
        }
        for item in items {
            if item.is_fastener() {
                self.renew_fasteners(entry, joint, item);
            } else {
                self.joint_mut(joint).seals.push(Item {
                    new: Some(true),
                    ..item.clone()
                });
            }
        }
    }

    fn renew_fasteners(&mut self, entry: EntryId, joint: &JointId, item: &Item) {
        let joints = [joint.clone()];
        let mut holes: Vec<At> = item
            .holes
            .iter()
            .filter_map(|name| self.hole_named(&joints, name))
            .collect();
        if item.holes.is_empty() {
            holes = self.holes_of(joint);
            let wanted = |at: &At| self.wanted_in(&at.0, &at.1);
            let rank = |at: &At| match wanted(at) {
                Some(wanted) if item.may_be(&wanted) => Some(0),
                Some(wanted) if item.is_size_of(&wanted) => Some(1),
                Some(wanted) if item.is_like(&wanted) => Some(2),
                Some(wanted) if item.goes_where(&wanted) => Some(3),
                Some(_) | None => None,
            };
            let best = holes.iter().filter_map(rank).min();
            holes.retain(|at| best.is_some() && rank(at) == best);
        }
        let most = usize::try_from(item.count).unwrap_or(usize::MAX);
        let (found, label) = (holes.len().min(most), self.joint_label(joint));
        for at in holes.into_iter().take(most) {
            let old = self.wanted_in(&at.0, &at.1);
            let said = Item {
                new: Some(true),
                holes: Vec::new(),
                ..item.counting(1)
            };
            let fresh = merged(&said, old.as_ref());
            let hole = self.hole_mut(&at);
            if hole.empty {
                hole.ready = Some(fresh);
            } else {
                hole.inside = Some(fresh);
            }
        }
        if found < most {
            let says = format!(
                "{} go in, and {label} has {found} holes for them",
                item.shown()
            );
            let finding = Finding::new("no-such-hole", label, says)
                .next("compare them with the old ones; correct the size or the joint");
            self.note_finding(entry, finding);
        }
    }
}

const NOT_DESCRIBED: &str = "new-not-described";

fn washer() -> Item {
    Item::plain(1, Sort::Washer, "washer")
}

fn is_washer(item: &Item) -> bool {
    item.sort == Sort::Washer
}

/// Takes one such thing out of a list.
fn take_one(list: &mut Vec<Item>, item: &Item) -> bool {
    let Some(held) = list.iter_mut().find(|held| held.may_be(item)) else {
        return false;
    };
    held.count -= 1;
    list.retain(|held| held.count > 0);
    true
}
