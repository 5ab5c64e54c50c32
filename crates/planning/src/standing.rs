//! Where a job stands, as far as planning needs it: what is off, open, in, done.
//!
//! A standing is small and says nothing of how it came about; it is read from a replayed job
//! or written by hand in a test.

use std::collections::{BTreeMap, BTreeSet};

use book::{
    CheckId, CircuitId, GateId, Holds, HoleRef, Joint, JointId, LimitId, LineId, PartId, ShaftId,
    TemporaryId,
};

use crate::graph::{Choices, Graph};

mod of_state;

/// Where a job stands. What is not named is as the vehicle came: on, tight, full, not done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// The variants chosen.
    pub choices: Choices,
    /// Parts that are off.
    pub off: BTreeSet<PartId>,
    /// Parts moved aside, still connected: out of the way of others, and not off.
    pub aside: BTreeSet<PartId>,
    /// Parts in their place that were loosened and neither tightened nor put on since.
    pub loosened: BTreeSet<PartId>,
    /// Ends that are off: the line, and 0 for its `from`, 1 for its `to`.
    pub ends_off: BTreeSet<(LineId, usize)>,
    /// Holes that were opened, with the stages reached since.
    pub opened: BTreeMap<HoleRef, u32>,
    /// Joints that were opened, with the seals of each entry in the book fitted since.
    pub seals: BTreeMap<JointId, Vec<u32>>,
    /// Circuits that are drained.
    pub drained: BTreeSet<CircuitId>,
    /// Temporary items that are in.
    pub temporaries_in: BTreeSet<TemporaryId>,
    /// Checks that are done.
    pub checks: BTreeSet<CheckId>,
    /// Limits that have their readings.
    pub readings: BTreeSet<LimitId>,
    /// Gates that are passed.
    pub gates: BTreeSet<GateId>,
    /// Shafts a person said stand where the book parks them.
    pub parked: BTreeSet<ShaftId>,
}

impl Standing {
    /// The standing of a vehicle as it came, with these variants.
    #[must_use]
    pub fn whole(choices: Choices) -> Self {
        Self {
            choices,
            ..Self::default()
        }
    }

    /// Whether a part is neither off nor moved aside.
    #[must_use]
    pub fn in_place(&self, part: &PartId) -> bool {
        !self.off.contains(part) && !self.aside.contains(part)
    }

    /// The stages a hole of a joint must reach: as many as the book says, one where it does not.
    #[must_use]
    pub fn stages(joint: &Joint, hole: &book::HoleName) -> u32 {
        match joint.tighten_of(hole).map(|entry| &entry.stages) {
            Some(book::Stages::Known(stages)) => {
                u32::try_from(stages.len()).unwrap_or(u32::MAX).max(1)
            }
            Some(book::Stages::Unknown | book::Stages::DoesNotApply) | None => 1,
        }
    }

    /// Whether a hole was opened and has not reached its last stage since.
    #[must_use]
    pub fn is_open(&self, joint: &Joint, hole: &book::Hole) -> bool {
        let name = HoleRef {
            joint: joint.id.clone(),
            hole: hole.name.clone(),
        };
        let reached = self.opened.get(&name);
        hole.holds != Holds::Nothing
            && reached.is_some_and(|&stage| stage < Self::stages(joint, &hole.name))
    }

    /// Takes a part off with everything that leaves in one piece with it: the joints between the
    /// unit and the rest are open, the ends off, the circuits drained. For tests and for plans
    /// that look ahead.
    pub(crate) fn take_off(&mut self, graph: &Graph, at: usize) {
        let book = graph.book();
        let node = &graph.nodes[at];
        self.off.insert(graph.part(at).id.clone());
        for &member in &node.unit {
            self.off.insert(graph.part(member).id.clone());
        }
        for &joint in &node.joints {
            let joint = &book.joints[joint];
            for hole in &joint.holes {
                let name = HoleRef {
                    joint: joint.id.clone(),
                    hole: hole.name.clone(),
                };
                self.opened.insert(name, 0);
            }
            self.seals
                .insert(joint.id.clone(), vec![0; joint.seals.len()]);
        }
        for &(line, end) in &node.ends {
            self.ends_off.insert((book.lines[line].id.clone(), end));
        }
        for &circuit in &node.circuits {
            self.drained.insert(book.circuits[circuit].id.clone());
        }
    }

    /// Puts a part and its unit back on, and nothing else: joints, seals and ends stay as they are.
    pub(crate) fn put_on(&mut self, graph: &Graph, at: usize) {
        self.off.remove(&graph.part(at).id);
        self.aside.remove(&graph.part(at).id);
        for &member in &graph.nodes[at].unit {
            self.off.remove(&graph.part(member).id);
        }
    }
}
