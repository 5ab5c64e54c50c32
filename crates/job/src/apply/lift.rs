//! Parts moved aside, lifted away as one, split again, and laid somewhere else.

use book::{JointId, PartId};

use report::Finding;

use super::{Applied, contradiction};
use crate::act::Details;
use crate::entry::EntryId;
use crate::names::Named;
use crate::state::{State, Where};

impl State {
    /// The parts of these names, all of which may come off; the first that may not is the fault.
    fn coming_off(
        &mut self,
        entry: EntryId,
        what: &[String],
        new: bool,
    ) -> Result<Vec<PartId>, Box<Finding>> {
        self.parts_may_be(what, new)?;
        let parts = what
            .iter()
            .map(|name| self.part_named(entry, name, new))
            .collect::<Result<Vec<_>, _>>()?;
        for part in &parts {
            self.may_come_off(&Named::Part(part.clone()))?;
        }
        Ok(parts)
    }

    pub(super) fn aside(
        &mut self,
        entry: EntryId,
        what: &[String],
        note: Option<&String>,
        new: bool,
    ) -> Applied {
        let parts = self.coming_off(entry, what, new)?;
        for part in parts {
            let joints: Vec<JointId> = self
                .known
                .joints_of(&part)
                .map(|joint| joint.id.clone())
                .collect();
            self.open(entry, &joints, &[], None);
            let held = self.parts.entry(part).or_default();
            held.state = Where::Aside;
            held.place = note.cloned();
            held.since = entry;
        }
        Ok(())
    }

    /// Parts lifted as one stay joined to each other; the joints to everything else open.
    pub(super) fn lifted(
        &mut self,
        entry: EntryId,
        what: &[String],
        place: Option<&String>,
        new: bool,
    ) -> Applied {
        let parts = self.coming_off(entry, what, new)?;
        let joints: Vec<JointId> = self
            .known
            .joints
            .iter()
            .filter(|joint| parts.contains(&joint.of) && !parts.contains(&joint.to.id))
            .map(|joint| joint.id.clone())
            .collect();
        for (at, part) in parts.iter().enumerate() {
            self.take_away(entry, part, place, parts.first().filter(|_| at > 0));
        }
        self.open(entry, &joints, &[], None);
        Ok(())
    }

    /// The parts that were lifted away as one with this one and still are, the one that carries
    /// the others first. `None`: it is not part of such a thing.
    pub(super) fn assembly(&self, part: &PartId) -> Option<Vec<PartId>> {
        let held = self
            .parts
            .get(part)
            .filter(|held| held.state == Where::Off)?;
        let carrier = held.with.clone().unwrap_or_else(|| part.clone());
        let carried = self.parts.iter().filter(|(_, other)| {
            other.state == Where::Off && other.with.as_ref() == Some(&carrier)
        });
        let carried: Vec<PartId> = carried.map(|(id, _)| id.clone()).collect();
        (!carried.is_empty()).then(|| std::iter::once(carrier).chain(carried).collect())
    }

    /// Takes one part off the others it was lifted away with: what holds it to them opens, and
    /// from here on it lies on its own. The others stay together.
    pub(super) fn split(
        &mut self,
        entry: EntryId,
        part: &PartId,
        assembly: &[PartId],
        details: &Details,
    ) -> Applied {
        let between = |joint: &&book::Joint| {
            joint.of == *part && assembly.contains(&joint.to.id)
                || joint.to.id == *part && assembly.contains(&joint.of)
        };
        let held = self.known.joints.iter().filter(between);
        let all: Vec<JointId> = held.map(|joint| joint.id.clone()).collect();
        let open = |joint: &JointId| self.joints.get(joint).is_some_and(|held| held.open);
        let (_, mut closed): (Vec<JointId>, Vec<JointId>) =
            all.iter().cloned().partition(|joint| open(joint));
        let rest: Vec<&PartId> = assembly.iter().filter(|other| *other != part).collect();
        if all.is_empty() && !details.items.is_empty() {
            // Held to what was named, else to the first of the others.
            let to = details
                .from
                .clone()
                .or_else(|| rest.first().map(ToString::to_string));
            closed.push(self.meet_joint(entry, part, to.as_deref())?);
        }
        for (at, other) in rest.iter().enumerate() {
            if let Some(held) = self.parts.get_mut(*other) {
                held.with = rest
                    .first()
                    .filter(|_| at > 0)
                    .map(|first| (*first).clone());
            }
        }
        if let Some(held) = self.parts.get_mut(part) {
            held.with = None;
            held.since = entry;
            if details.place.is_some() {
                held.place.clone_from(&details.place);
            }
        }
        self.open(entry, &closed, &details.items, None);
        self.lay(&closed, details);
        self.photographed_with(entry, part.as_str(), details);
        Ok(())
    }

    pub(super) fn stowed(&mut self, what: &str, place: &str) -> Applied {
        match self.in_hand(what, None, false)? {
            Some(Named::Part(part)) if self.whereabouts(&part) == Where::Off => {
                // It is off since it came off: laying it elsewhere moves no step of the way back.
                self.parts.entry(part).or_default().place = Some(place.to_owned());
                Ok(())
            }
            Some(_) | None => Err(contradiction(
                what,
                format!("{what} is not off"),
                "only what is off lies somewhere",
            )),
        }
    }
}
