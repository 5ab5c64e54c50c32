//! Where everything is while a plan is played through: what is off, open, drained, in, done.

use std::collections::{BTreeMap, BTreeSet};

use book::{
    Book, CheckId, CircuitId, GateId, Joint, JointId, LimitId, LineId, PartId, Stages, TemporaryId,
};
use job::{JointState, State, Where};

/// How a joint holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Holding {
    /// Every fastener in, every stage reached.
    Tight,
    /// Some fastener out, loose or not through its last stage.
    Loose,
    /// Every fastener out.
    Out,
}

/// The moment between two steps.
#[derive(Clone, Debug, Default)]
pub(crate) struct Scene {
    pub(crate) off: BTreeSet<PartId>,
    pub(crate) aside: BTreeSet<PartId>,
    /// Joints that are not tight.
    pub(crate) joints: BTreeMap<JointId, Holding>,
    pub(crate) ends_off: BTreeSet<(LineId, usize)>,
    pub(crate) drained: BTreeSet<CircuitId>,
    pub(crate) inside: BTreeSet<TemporaryId>,
    pub(crate) checked: BTreeSet<CheckId>,
    pub(crate) read: BTreeSet<LimitId>,
    pub(crate) passed: BTreeSet<GateId>,
}

impl Scene {
    /// The moment before the first step.
    pub(crate) fn of(book: &Book, state: &State) -> Self {
        let mut scene = Self::default();
        for part in &book.parts {
            match state.whereabouts(&part.id) {
                Where::Off => scene.off.insert(part.id.clone()),
                Where::Aside => scene.aside.insert(part.id.clone()),
                Where::Fitted | Where::Loosened => false,
            };
        }
        for joint in &book.joints {
            // Between a part that is off and one that is on, no joint holds, whatever was said of it.
            let apart = scene.off.contains(&joint.of) != scene.off.contains(&joint.to.id);
            let held = state.joints.get(&joint.id);
            let holding = held.map_or(Holding::Tight, |held| holding(joint, held));
            let holding = if apart { Holding::Out } else { holding };
            scene.set(&joint.id, holding);
        }
        for (line, ends) in &state.lines {
            let off = (0..2).filter(|&end| ends[end].off);
            scene.ends_off.extend(off.map(|end| (line.clone(), end)));
        }
        for line in &book.lines {
            let seat_off = |end: &usize| scene.off.contains(&line.ends[*end].port.id.part);
            let hanging: Vec<usize> = (0..2).filter(seat_off).collect();
            let said = (0..2).any(|end| scene.ends_off.contains(&(line.id.clone(), end)));
            // A part that is off without a word about its ends has them off all the same.
            if let ([end], false) = (hanging.as_slice(), said) {
                scene.ends_off.insert((line.id.clone(), *end));
            }
        }
        for (circuit, held) in &state.circuits {
            if held.is_short() {
                scene.drained.insert(circuit.clone());
            }
        }
        for item in &book.temporaries {
            let label = item.label.as_deref().unwrap_or(item.id.as_str());
            let is_in = state.temporaries.iter().any(|held| {
                job::same_name(&held.item.name, item.id.as_str())
                    || job::same_name(&held.item.name, label)
            });
            if is_in {
                scene.inside.insert(item.id.clone());
            }
        }
        for limit in &book.limits {
            let names = [Some(limit.id.as_str()), limit.label.as_deref()];
            let read = state.readings.iter().any(|(_, reading)| {
                let mut names = names.into_iter().flatten();
                names.any(|name| job::same_name(name, reading.of.as_str()))
            });
            if read {
                scene.read.insert(limit.id.clone());
            }
        }
        scene.checked = state.checks.keys().cloned().collect();
        scene.passed = state
            .passed
            .keys()
            .map(|gate| GateId::new(gate.as_str()))
            .collect();
        scene
    }

    /// Whether a part is out of the way: off, or moved aside.
    pub(crate) fn is_clear(&self, part: &PartId) -> bool {
        self.off.contains(part) || self.aside.contains(part)
    }

    /// How a joint holds.
    pub(crate) fn holding(&self, joint: &JointId) -> Holding {
        self.joints.get(joint).copied().unwrap_or(Holding::Tight)
    }

    pub(crate) fn set(&mut self, joint: &JointId, holding: Holding) {
        if holding == Holding::Tight {
            self.joints.remove(joint);
        } else {
            self.joints.insert(joint.clone(), holding);
        }
    }

    /// Whether the engine is as it came: nothing off, open or drained.
    pub(crate) fn is_whole(&self) -> bool {
        self.off.is_empty()
            && self.aside.is_empty()
            && self.joints.is_empty()
            && self.ends_off.is_empty()
            && self.drained.is_empty()
    }
}

/// How a joint holds after what was done to it.
fn holding(joint: &Joint, held: &JointState) -> Holding {
    let filled: Vec<&book::Hole> = joint
        .holes
        .iter()
        .filter(|hole| hole.holds != book::Holds::Nothing)
        .collect();
    let empty = |hole: &&book::Hole| held.holes.get(&hole.name).is_some_and(|hole| hole.empty);
    let loose = |hole: &&book::Hole| {
        held.holes.get(&hole.name).is_some_and(|state| {
            state.empty || state.loosened || (held.was_open && state.stage() < stages(joint, hole))
        })
    };
    if filled.is_empty() {
        return if held.open {
            Holding::Out
        } else {
            Holding::Tight
        };
    }
    if filled.iter().all(empty) {
        Holding::Out
    } else if held.open || filled.iter().any(loose) {
        Holding::Loose
    } else {
        Holding::Tight
    }
}

/// The stages a hole must reach: as many as the book says. Where it says none, a fastener that
/// went back is done up, as in the ledger.
fn stages(joint: &Joint, hole: &book::Hole) -> u32 {
    match joint.tighten_of(&hole.name).map(|entry| &entry.stages) {
        Some(Stages::Known(stages)) => u32::try_from(stages.len()).unwrap_or(u32::MAX),
        Some(Stages::Unknown | Stages::DoesNotApply) | None => 0,
    }
}
