//! Tightening: stage by stage, kept at the single bolt and not at the joint.

use book::{JointId, Stages};
use report::Finding;

use super::fasteners::At;
use super::{Applied, contradiction};
use crate::act::Tightening;
use crate::entry::{Entry, EntryId};
use crate::names::{NameFault, Named};
use crate::state::{State, TightDone, Where};

impl State {
    pub(super) fn tightened(&mut self, entry: &Entry, what: &Tightening) -> Applied {
        let joint = self.joint_named(entry.id, &what.joint)?;
        let label = self.joint_label(&joint);
        if let Some(part) = self.known.joint(&joint).map(|known| known.of.clone())
            && self.whereabouts(&part) == Where::Off
        {
            let says = format!("{} is off", self.part_label(&part));
            return Err(contradiction(label, says, "write `on NAME` first"));
        }
        let holes = self.holes_meant(&joint, &label, what)?;
        let stages = self.stages(&joint);
        if let (Some(stage), Some(most)) = (what.stage, stages)
            && stage > most
        {
            let says = format!("the book has {most} stages here, not {stage}");
            return Err(contradiction(label, says, "correct the stage"));
        }
        let mut skipped = Vec::new();
        for (joint, hole) in holes {
            let state = self
                .joints
                .entry(joint)
                .or_default()
                .holes
                .entry(hole.clone())
                .or_default();
            let reached = state.stage();
            let stage = what.stage.unwrap_or(reached + 1);
            if stage > reached + 1 {
                skipped.push(hole.to_string());
            }
            state.loosened = false;
            state.since = entry.id;
            state.tightened.push(TightDone {
                stage: stages.map_or(stage, |most| stage.min(most)),
                figure: what.figure.clone(),
                wrench: what.wrench.clone(),
                condition: what.condition.clone(),
                by: entry.author.clone(),
                at: entry.at,
                entry: entry.id,
            });
        }
        self.fast_again(entry.id, &joint);
        if !skipped.is_empty() {
            let says = format!(
                "stage {} before the one below it: {}",
                what.stage.unwrap_or_default(),
                skipped.join(", ")
            );
            let finding = Finding::new("stage-skipped", label, says)
                .next("loosen and begin again at stage 1, or enter the stage that is missing");
            self.note_finding(entry.id, finding);
        }
        Ok(())
    }

    /// A part that was loosened is in its place again once nothing of it is loose.
    fn fast_again(&mut self, entry: EntryId, joint: &JointId) {
        let Some(part) = self.known.joint(joint).map(|known| known.of.clone()) else {
            return;
        };
        let loose = self
            .known
            .joints_of(&part)
            .filter_map(|joint| self.joints.get(&joint.id))
            .any(|held| held.holes.values().any(|hole| hole.loosened));
        if let Some(held) = self.parts.get_mut(&part)
            && held.state == Where::Loosened
            && !loose
        {
            held.state = Where::Fitted;
            held.since = entry;
        }
    }

    /// The holes a tightening is about: all that hold something, or the named ones.
    fn holes_meant(
        &mut self,
        joint: &JointId,
        label: &str,
        what: &Tightening,
    ) -> Result<Vec<At>, Box<Finding>> {
        let joints = [joint.clone()];
        if what.holes.is_empty() {
            let holes: Vec<At> = self
                .holes_of(joint)
                .into_iter()
                .filter(|at| !self.is_empty(at))
                .collect();
            if holes.is_empty()
                && self
                    .joints
                    .get(joint)
                    .is_some_and(|state| !state.holes.is_empty())
            {
                return Err(contradiction(
                    label,
                    format!("{label} has nothing in its holes"),
                    "write `on NAME` first",
                ));
            }
            return Ok(holes);
        }
        let mut holes = Vec::new();
        for name in &what.holes {
            match self.hole_named(&joints, name) {
                Some(at) if self.is_empty(&at) => {
                    return Err(contradiction(
                        label,
                        format!("hole {name} is empty"),
                        "say first what went into it",
                    ));
                }
                Some(at) => holes.push(at),
                None => {
                    return Err(contradiction(
                        label,
                        format!("{label} has no hole {name}"),
                        "correct the hole's name",
                    ));
                }
            }
        }
        Ok(holes)
    }

    /// How many stages the book has for a joint, where it has any.
    pub(crate) fn stages(&self, joint: &JointId) -> Option<u32> {
        let known = self.known.joint(joint)?;
        let counts = known.tighten.iter().filter_map(|it| match &it.stages {
            Stages::Known(stages) => u32::try_from(stages.len()).ok(),
            Stages::Unknown | Stages::DoesNotApply => None,
        });
        counts.max()
    }

    /// The joint a name means: a joint, or the only joint of a part.
    fn joint_named(&mut self, entry: EntryId, name: &str) -> Result<JointId, Box<Finding>> {
        let rank = |what: &Named| match what {
            Named::Joint(_) => Some(0),
            Named::Part(_) => Some(1),
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => None,
        };
        let part = match self.names.one(name, rank) {
            Ok(Named::Joint(joint)) => return Ok(joint),
            Ok(Named::Part(part)) => part,
            Err(NameFault::Unknown { .. }) if !self.has_book => self.meet_part(entry, name),
            Ok(Named::Line(_) | Named::End(..) | Named::Circuit(_)) => {
                return Err(Box::new(Finding::new(
                    "name-unknown",
                    name,
                    "it has no joint",
                )));
            }
            Err(fault) => return Err(Box::new(fault.finding())),
        };
        let joints: Vec<JointId> = self
            .known
            .joints_of(&part)
            .map(|joint| joint.id.clone())
            .collect();
        match &joints[..] {
            [only] => Ok(only.clone()),
            [] if !self.has_book => self.meet_joint(entry, &part, None),
            [] => Err(contradiction(
                name,
                format!("{name} has no joint of its own"),
                "name the joint that was tightened",
            )),
            [..] => Err(Box::new(
                NameFault::Ambiguous {
                    name: name.to_owned(),
                    candidates: joints.iter().map(ToString::to_string).collect(),
                }
                .finding(),
            )),
        }
    }
}
