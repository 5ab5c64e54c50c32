//! Off, on, loosened: parts, joints and ends.

use book::{JointId, LineId, PartId};
use report::{Finding, Weight};

use super::fasteners::At;
use super::{Applied, contradiction};
use crate::act::{Details, Run};
use crate::entry::EntryId;
use crate::names::Named;
use crate::state::{EndState, HoleState, PartState, State, Where};

impl State {
    pub(super) fn off(
        &mut self,
        entry: EntryId,
        what: &[String],
        run: Option<Run>,
        details: &Details,
        new: bool,
    ) -> Applied {
        let mut targets = Vec::new();
        for name in what {
            let target = self.in_hand(name, run, new)?;
            if let Some(target) = &target {
                self.may_come_off(target)?;
            }
            targets.push((name, target));
        }
        for (name, target) in targets {
            let target = match target {
                Some(target) => target,
                None => self.meet_in_hand(entry, name, run, details)?,
            };
            match target {
                Named::Part(part) => self.part_off(entry, &part, details)?,
                Named::Joint(joint) => self.joint_off(entry, &joint, details),
                Named::Line(line) => self.ends(entry, &line, &[0, 1], true),
                Named::End(line, end) => self.ends(entry, &line, &[end], true),
                Named::Circuit(_) => {}
            }
        }
        Ok(())
    }

    /// A new name in the hand: a hose or lead when its two ports were said, else a part.
    fn meet_in_hand(
        &mut self,
        entry: EntryId,
        name: &str,
        run: Option<Run>,
        details: &Details,
    ) -> Result<Named, Box<Finding>> {
        if let (Some(from), Some(to)) = (&details.from, &details.to) {
            let line = self.meet_line(entry, name, run, details, [from, to])?;
            return Ok(Named::Line(line));
        }
        let part = self.meet_part(entry, name);
        if let Some(known) = self.known.parts.iter_mut().find(|known| known.id == part) {
            known.note.clone_from(&details.note);
            let zone = details
                .zone
                .as_deref()
                .and_then(|zone| book::ZONES.iter().find(|known| **known == zone));
            known.zone = zone.map(|zone| crate::met::mention(book::ZoneId::from(*zone)));
        }
        Ok(Named::Part(part))
    }

    pub(super) fn may_come_off(&self, target: &Named) -> Applied {
        match target {
            Named::Part(part) => match self.parts.get(part) {
                Some(held) if held.state == Where::Off && self.assembly(part).is_none() => {
                    let says = format!(
                        "{} is off since entry {}",
                        self.part_label(part),
                        held.since
                    );
                    Err(contradiction(
                        part.to_string(),
                        says,
                        "undo or correct one of the two entries",
                    ))
                }
                Some(_) | None => Ok(()),
            },
            Named::Joint(joint) => match self.joints.get(joint) {
                Some(held) if held.open => {
                    let says = format!(
                        "{} is open since entry {}",
                        self.joint_label(joint),
                        held.since
                    );
                    Err(contradiction(
                        joint.to_string(),
                        says,
                        "undo or correct one of the two entries",
                    ))
                }
                Some(_) | None => Ok(()),
            },
            Named::Line(line) => self.ends_must_be(line, &[0, 1], false),
            Named::End(line, end) => self.ends_must_be(line, &[*end], false),
            Named::Circuit(_) => Ok(()),
        }
    }

    /// Refuses ends that are all in the state they should come to.
    fn ends_must_be(&self, line: &LineId, ends: &[usize], off: bool) -> Applied {
        let Some(held) = self.lines.get(line) else {
            return if off {
                Err(self.end_is(line, "on", None))
            } else {
                Ok(())
            };
        };
        if ends.iter().any(|&end| held[end].off == off) {
            return Ok(());
        }
        let word = if off { "on" } else { "off" };
        Err(self.end_is(line, word, ends.first().map(|&end| held[end].since)))
    }

    fn end_is(&self, line: &LineId, word: &str, since: Option<EntryId>) -> Box<Finding> {
        let label = self.line_label(line);
        let says = match since {
            Some(since) => format!("{label} is {word} since entry {since}"),
            None => format!("{label} was never off"),
        };
        contradiction(
            line.to_string(),
            says,
            "undo or correct one of the two entries",
        )
    }

    fn ends(&mut self, entry: EntryId, line: &LineId, ends: &[usize], off: bool) {
        let held = self.lines.entry(line.clone()).or_default();
        for &end in ends {
            if held[end].off != off {
                held[end] = EndState { off, since: entry };
            }
        }
    }

    fn part_off(&mut self, entry: EntryId, part: &PartId, details: &Details) -> Applied {
        if let Some(assembly) = self.assembly(part) {
            return self.split(entry, part, &assembly, details);
        }
        let joints: Vec<JointId> = self
            .known
            .joints_of(part)
            .map(|joint| joint.id.clone())
            .collect();
        let joints = if joints.is_empty() && !details.items.is_empty() {
            vec![self.meet_joint(entry, part, details.from.as_deref())?]
        } else {
            joints
        };
        self.take_away(entry, part, details.place.as_ref(), None);
        let with: Vec<PartId> = self
            .known
            .part(part)
            .map(|known| known.comes_with.iter().map(|it| it.id.clone()).collect())
            .unwrap_or_default();
        for other in with {
            if self.whereabouts(&other) != Where::Off {
                self.take_away(entry, &other, None, Some(part));
            }
        }
        // Fasteners that came out earlier lie where they were laid then, not with the part.
        let laid: Vec<JointId> = joints
            .iter()
            .filter(|joint| {
                let open = self.joints.get(joint).is_some_and(|state| state.open);
                !open || !details.items.is_empty()
            })
            .cloned()
            .collect();
        self.open(entry, &joints, &details.items, None);
        self.lay(&laid, details);
        self.photographed_with(entry, part.as_str(), details);
        Ok(())
    }

    pub(super) fn lay(&mut self, joints: &[JointId], details: &Details) {
        for joint in joints {
            if let Some(state) = self.joints.get_mut(joint) {
                state.place.clone_from(&details.place);
            }
        }
    }

    pub(super) fn take_away(
        &mut self,
        entry: EntryId,
        part: &PartId,
        place: Option<&String>,
        with: Option<&PartId>,
    ) {
        let held = self.parts.entry(part.clone()).or_default();
        // A new one that was fitted is the old one from now on.
        let waits = !held.renewed;
        *held = PartState {
            state: Where::Off,
            place: place.cloned(),
            since: entry,
            with: with.cloned(),
            was_off: true,
            renewed: false,
            arrived: held.arrived.filter(|_| waits),
            compared: held.compared.take().filter(|_| waits),
            unlike: held.unlike && waits,
        };
    }

    fn joint_off(&mut self, entry: EntryId, joint: &JointId, details: &Details) {
        let joints = [joint.clone()];
        let named: Vec<At> = details
            .items
            .iter()
            .flat_map(|item| &item.holes)
            .filter_map(|name| self.hole_named(&joints, name))
            .collect();
        let all_named =
            !details.items.is_empty() && details.items.iter().all(|item| !item.holes.is_empty());
        self.open(
            entry,
            &joints,
            &details.items,
            all_named.then_some(&named[..]),
        );
        self.lay(&joints, details);
        self.photographed_with(entry, joint.as_str(), details);
    }

    pub(super) fn on(
        &mut self,
        entry: EntryId,
        what: &[String],
        run: Option<Run>,
        details: &Details,
        new: bool,
    ) -> Applied {
        let mut targets = Vec::new();
        for name in what {
            let Some(target) = self.in_hand(name, run, new)? else {
                let finding = crate::names::NameFault::Unknown {
                    name: name.clone(),
                    near: Vec::new(),
                }
                .finding();
                return Err(Box::new(finding.next(
                    "nothing of that name ever came off; write its name as it came off",
                )));
            };
            self.may_go_on(&target)?;
            targets.push(target);
        }
        for target in targets {
            match target {
                Named::Part(part) => self.part_on(entry, &part, details),
                Named::Joint(joint) => self.joint_on(entry, &joint, details),
                Named::Line(line) => self.ends(entry, &line, &[0, 1], false),
                Named::End(line, end) => self.ends(entry, &line, &[end], false),
                Named::Circuit(_) => {}
            }
        }
        Ok(())
    }

    fn may_go_on(&self, target: &Named) -> Applied {
        match target {
            Named::Part(part) => {
                let away = self
                    .errands
                    .iter()
                    .find(|it| it.part.as_ref() == Some(part) && it.back.is_none());
                if let Some(away) = away {
                    let says = format!(
                        "{} went out in entry {} and is not back",
                        self.part_label(part),
                        away.since
                    );
                    return Err(contradiction(
                        part.to_string(),
                        says,
                        "write `back NAME` first",
                    ));
                }
                let half_done = self.known.joints_of(part).any(|joint| {
                    self.joints.get(&joint.id).is_some_and(|state| {
                        !state.unplaced_out.is_empty() || state.holes.values().any(HoleState::lacks)
                    })
                });
                if self.whereabouts(part) == Where::Fitted && !half_done {
                    let says = format!("{} is on already", self.part_label(part));
                    return Err(contradiction(
                        part.to_string(),
                        says,
                        "undo or correct one of the two entries",
                    ));
                }
                Ok(())
            }
            Named::Joint(joint) => {
                let state = self.joints.get(joint);
                let closed = state.is_none_or(|state| {
                    !state.open
                        && state.unplaced_out.is_empty()
                        && !state.holes.values().any(HoleState::lacks)
                });
                if closed {
                    let says = format!("{} is closed already", self.joint_label(joint));
                    return Err(contradiction(
                        joint.to_string(),
                        says,
                        "undo or correct one of the two entries",
                    ));
                }
                Ok(())
            }
            Named::Line(line) => self.ends_must_be(line, &[0, 1], true),
            Named::End(line, end) => self.ends_must_be(line, &[*end], true),
            Named::Circuit(_) => Ok(()),
        }
    }

    /// Closes a joint. Whoever bolts a part down has set it in its place first, so a part that
    /// was away is back with its first joint; the others stay open until they are closed too.
    fn joint_on(&mut self, entry: EntryId, joint: &JointId, details: &Details) {
        let part = self.known.joint(joint).map(|known| known.of.clone());
        if let Some(part) = part.filter(|part| self.is_away(part)) {
            self.seat(entry, &part);
        }
        self.close(entry, std::slice::from_ref(joint), &details.items);
    }

    /// Sets a part in its place, with what came away in one piece with it.
    fn seat(&mut self, entry: EntryId, part: &PartId) -> Vec<PartId> {
        let with: Vec<PartId> = self
            .parts
            .iter()
            .filter(|(id, held)| {
                *id == part || held.with.as_ref() == Some(part) && held.state == Where::Off
            })
            .map(|(id, _)| id.clone())
            .collect();
        for id in with.iter().chain(std::iter::once(part)) {
            let held = self.parts.entry(id.clone()).or_default();
            held.state = Where::Fitted;
            held.place = None;
            held.since = entry;
            held.with = None;
        }
        with
    }

    fn part_on(&mut self, entry: EntryId, part: &PartId, details: &Details) {
        let with = self.seat(entry, part);
        // Its own joints first: what cannot be placed stays with them.
        let own = |joint: &book::Joint| joint.of == *part;
        let back = |joint: &book::Joint| own(joint) || with.contains(&joint.of);
        let mut joints: Vec<(bool, JointId)> = self
            .known
            .joints
            .iter()
            .filter(|joint| {
                back(joint)
                    && self
                        .joints
                        .get(&joint.id)
                        .is_some_and(|state| state.was_open)
            })
            .map(|joint| (!own(joint), joint.id.clone()))
            .collect();
        joints.sort_by_key(|(other, _)| *other);
        let joints: Vec<JointId> = joints.into_iter().map(|(_, id)| id).collect();
        self.close(entry, &joints, &details.items);
    }

    pub(super) fn loosened(
        &mut self,
        entry: EntryId,
        what: &str,
        holes: &[String],
        new: bool,
    ) -> Applied {
        let target = match self.in_hand(what, None, new)? {
            Some(target) => target,
            None => Named::Part(self.meet_part(entry, what)),
        };
        self.may_come_off(&target)?;
        let joints: Vec<JointId> = match &target {
            Named::Part(part) => self
                .known
                .joints_of(part)
                .map(|joint| joint.id.clone())
                .collect(),
            Named::Joint(joint) => vec![joint.clone()],
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => Vec::new(),
        };
        let at: Vec<At> = if holes.is_empty() {
            joints
                .iter()
                .flat_map(|joint| self.holes_of(joint))
                .collect()
        } else {
            holes
                .iter()
                .filter_map(|name| self.hole_named(&joints, name))
                .collect()
        };
        if at.len() < holes.len() {
            return Err(contradiction(
                what,
                format!("{what} has not all of the holes {}", holes.join(", ")),
                "correct the hole names",
            ));
        }
        let mut undone = Vec::new();
        for (joint, hole) in at {
            let state = self
                .joints
                .entry(joint)
                .or_default()
                .holes
                .entry(hole.clone())
                .or_default();
            if state.stage() > 0 {
                undone.push((hole.to_string(), state.stage()));
                state.loosened_by = Some(entry);
            }
            state.loosened = true;
            state.tightened.clear();
            state.since = entry;
        }
        self.begins_again(entry, what, &undone);
        if let Named::Part(part) = target {
            let held = self.parts.entry(part).or_default();
            held.state = Where::Loosened;
            held.since = entry;
        }
        Ok(())
    }

    /// Says that bolts which had a stage count from the first one again.
    fn begins_again(&mut self, entry: EntryId, what: &str, undone: &[(String, u32)]) {
        let Some(stage) = undone.iter().map(|(_, stage)| *stage).max() else {
            return;
        };
        let names: Vec<&str> = undone.iter().map(|(name, _)| name.as_str()).collect();
        let says = format!(
            "{} had stage {stage} and count from stage 1 again",
            names.join(", ")
        );
        let next =
            "`matchmark tighten` shows what comes next; if they were not loosened, `undo` this";
        let finding = Finding::new("begins-again", what, says).next(next);
        self.note_finding(entry, finding.weight(Weight::Note));
    }
}
