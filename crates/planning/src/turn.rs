//! What may be turned now: crank and cams, which way, how far, and why not. Unknown means no.
//!
//! * A locking pin that is in forbids the shaft it locks and all that is coupled to it.
//! * A shaft whose drive is on turns with what drives it: it is turned by the crank, in the
//!   crank's sense, any number of turns, while every drive in between is on and fast.
//! * A drive that is off leaves two shafts free of each other. Then valves of a head that is on
//!   can meet pistons: the crank must not turn unless those valves cannot reach (no
//!   interference, or the head is off), and a cam may turn only when in addition the crank stands where
//!   the book parks it and a person said so.
//! * A drive that is aside, loose, half fastened or not named by the book, or whose tensioner is
//!   not in its place and tight, may have jumped a tooth: it is not known to be on or off.
//!
//! Nothing here knows plugs, liquid in a cylinder or what lies in the way of a bar.

use std::collections::BTreeSet;

use book::{PartId, Sense, Shaft, ShaftId, ShaftKind};
use quantity::Angle;

use crate::graph::Graph;
use crate::standing::Standing;
use crate::step::half_open;

/// Whether a shaft may be turned, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Turning {
    /// The shaft.
    pub shaft: ShaftId,
    /// Crank, cam or balance shaft.
    pub kind: ShaftKind,
    /// Whether it may be turned, by hand and slowly.
    pub may: bool,
    /// Which way; nothing when it may not, or either way will do.
    pub way: Option<Sense>,
    /// The shaft it has to be turned by, when it is not turned itself.
    pub by: Option<ShaftId>,
    /// Why not; or what makes it safe.
    pub why: Vec<String>,
    /// Facts that are missing and would change the answer.
    pub unknown: Vec<Unknown>,
}

/// A fact about a shaft that nobody wrote or said.
#[derive(Clone, Debug, PartialEq)]
pub enum Unknown {
    /// Which way it turns.
    Sense(ShaftId),
    /// What drives it, and which part that is.
    Drive(ShaftId),
    /// Which head or block it sits in.
    Seat(ShaftId),
    /// Whether its valves can meet a piston.
    Interference(ShaftId),
    /// Where the crank stands; the angle before top of cylinder 1 at which it is parked.
    Parked(ShaftId, Option<Angle>),
}

/// Whether a drive couples two shafts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Coupling {
    On,
    Off,
    Unknown,
}

/// Every shaft of the book, in book order.
#[must_use]
pub fn turn(graph: &Graph, standing: &Standing) -> Vec<Turning> {
    let asked = Turns { graph, standing };
    graph
        .book()
        .shafts
        .iter()
        .map(|shaft| asked.shaft(shaft))
        .collect()
}

struct Turns<'a> {
    graph: &'a Graph,
    standing: &'a Standing,
}

impl Turns<'_> {
    fn shaft(&self, shaft: &Shaft) -> Turning {
        let mut turning = Turning {
            shaft: shaft.id.clone(),
            kind: shaft.kind,
            may: true,
            way: None,
            by: None,
            why: Vec::new(),
            unknown: Vec::new(),
        };
        let coupled = self.coupled(shaft);
        for other in &coupled {
            self.pinned(other, &mut turning);
            self.drive_known(other, &mut turning);
        }
        let cams = self.graph.book().shafts.iter();
        let cams = cams.filter(|other| other.kind == ShaftKind::Cam);
        let meeting: Vec<&Shaft> = cams
            .filter(|cam| self.valves(shaft, cam, &coupled, &mut turning))
            .collect();
        turning.why.extend(self.collision(&meeting));
        let root = coupled
            .iter()
            .find(|other| other.kind == ShaftKind::Crank)
            .copied();
        self.sense(shaft, root, coupled.len() > 1, &mut turning);
        if turning.may && turning.why.is_empty() {
            turning.why.push(self.safe(shaft, coupled.len() > 1));
        }
        if !turning.may {
            turning.way = None;
            turning.by = None;
        }
        turning
    }

    /// The shafts that turn with this one, itself among them.
    fn coupled(&self, shaft: &Shaft) -> Vec<&Shaft> {
        let all = &self.graph.book().shafts;
        let mut ids = BTreeSet::from([shaft.id.clone()]);
        loop {
            let before = ids.len();
            for one in all {
                let Some(driver) = &one.driven_by else {
                    continue;
                };
                if self.coupling(one) != Coupling::Off
                    && (ids.contains(&one.id) || ids.contains(&driver.id))
                {
                    ids.insert(one.id.clone());
                    ids.insert(driver.id.clone());
                }
            }
            if ids.len() == before {
                break;
            }
        }
        all.iter().filter(|other| ids.contains(&other.id)).collect()
    }

    /// Whether the drive of a shaft is on.
    fn coupling(&self, shaft: &Shaft) -> Coupling {
        if shaft.driven_by.is_none() {
            return Coupling::Off;
        }
        let Some(part) = &shaft.drive_part else {
            // Gears stay in mesh; a belt or chain without a name may be on or off.
            return match shaft.drive.known() {
                Some(book::Drive::Gear) => Coupling::On,
                Some(book::Drive::Belt | book::Drive::Chain) | None => Coupling::Unknown,
            };
        };
        let seat_off = shaft
            .sits_in
            .as_ref()
            .is_some_and(|seat| self.standing.off.contains(&seat.id));
        if self.standing.off.contains(&part.id) || seat_off {
            return Coupling::Off;
        }
        if self.slack(shaft, &part.id).is_some() {
            return Coupling::Unknown;
        }
        Coupling::On
    }

    fn how_slack(&self, part: &PartId) -> &'static str {
        if self.standing.off.contains(part) {
            "off"
        } else if self.standing.aside.contains(part) {
            "moved aside"
        } else if self.standing.loosened.contains(part) {
            "loose"
        } else {
            "not done up"
        }
    }

    /// The part that leaves a drive slack: the drive itself, or what tensions it.
    fn slack(&self, shaft: &Shaft, drive: &PartId) -> Option<PartId> {
        if self.is_slack(drive) {
            return Some(drive.clone());
        }
        if shaft.drive.known() == Some(&book::Drive::Gear) {
            return None;
        }
        let tensioners = self.graph.book().parts.iter().filter(|part| {
            part.id.as_str().contains("tensioner") && self.tensions(&part.id, drive)
        });
        tensioners
            .map(|part| &part.id)
            .find(|part| self.standing.off.contains(*part) || self.is_slack(part))
            .cloned()
    }

    /// Whether a drive only comes off once this tensioner is off: then it tensions that drive.
    fn tensions(&self, tensioner: &PartId, drive: &PartId) -> bool {
        let drive = self.graph.book().part(drive);
        drive.is_some_and(|drive| drive.needs_off.iter().any(|need| need.id == *tensioner))
    }

    /// In its place and not fast: moved aside, loosened, or not done up.
    fn is_slack(&self, part: &PartId) -> bool {
        let half_done = |joint: &book::Joint| half_open(self.standing, joint);
        self.standing.aside.contains(part)
            || self.standing.loosened.contains(part)
            || self.graph.book().joints_of(part).any(half_done)
    }

    fn pinned(&self, shaft: &Shaft, turning: &mut Turning) {
        if let Some(pin) = &shaft.pin
            && self.standing.temporaries_in.contains(&pin.id)
        {
            turning.may = false;
            turning.why.push(format!(
                "{} holds {}",
                self.pin_name(&pin.id),
                self.name(shaft)
            ));
        }
    }

    fn drive_known(&self, shaft: &Shaft, turning: &mut Turning) {
        if shaft.driven_by.is_none() || self.coupling(shaft) != Coupling::Unknown {
            return;
        }
        turning.may = false;
        match &shaft.drive_part {
            Some(part) => {
                let slack = self.slack(shaft, &part.id);
                let slack = slack.as_ref().unwrap_or(&part.id);
                turning.why.push(format!(
                    "{}: {}, so the drive can jump a tooth and valves meet pistons",
                    self.graph.part_name(slack),
                    self.how_slack(slack)
                ));
            }
            None => {
                turning.why.push(format!(
                    "the book does not say which part drives {}",
                    self.name(shaft)
                ));
                turning.unknown.push(Unknown::Drive(shaft.id.clone()));
            }
        }
    }

    /// Whether turning `shaft` could bring a valve of `cam` and a piston together.
    fn valves(
        &self,
        shaft: &Shaft,
        cam: &Shaft,
        coupled: &[&Shaft],
        turning: &mut Turning,
    ) -> bool {
        let with = |other: &Shaft| coupled.iter().any(|one| one.id == other.id);
        let crank = self
            .graph
            .book()
            .shafts
            .iter()
            .find(|other| other.kind == ShaftKind::Crank);
        // In step with the crank, its valves keep clear of the pistons.
        let in_step = with(cam) && crank.is_none_or(with);
        let moves = with(cam) || crank.is_some_and(with);
        if in_step || !moves || cam.interference.known() == Some(&false) {
            return false;
        }
        let Some(seat) = &cam.sits_in else {
            turning.may = false;
            turning.why.push(format!(
                "the book does not say what {} sits in",
                self.name(cam)
            ));
            turning.unknown.push(Unknown::Seat(cam.id.clone()));
            return false;
        };
        if self.standing.off.contains(&seat.id) {
            return false;
        }
        let cam_alone = shaft.id == cam.id || (with(cam) && !crank.is_some_and(with));
        let parked = crank.is_some_and(|crank| self.standing.parked.contains(&crank.id));
        if cam_alone && parked && cam.parked.known().is_some() {
            turning
                .why
                .push("the crank is parked, so no piston is near its valves".to_owned());
            return false;
        }
        turning.may = false;
        if cam.interference.known().is_none() {
            turning.unknown.push(Unknown::Interference(cam.id.clone()));
        }
        if cam_alone {
            turning
                .unknown
                .push(Unknown::Parked(cam.id.clone(), cam.parked.known().copied()));
        }
        true
    }

    /// Valves that meet pistons, in one sentence.
    fn collision(&self, cams: &[&Shaft]) -> Option<String> {
        let names: Vec<String> = cams.iter().map(|cam| self.name(cam)).collect();
        let known = |cam: &&Shaft| cam.interference.known() == Some(&true);
        let meet = if cams.iter().all(known) {
            "can meet"
        } else {
            "may meet (not known)"
        };
        let seat = |cam: &Shaft| {
            cam.sits_in
                .as_ref()
                .map(|seat| self.graph.part_name(&seat.id))
        };
        match cams {
            [] => None,
            [cam] => Some(format!(
                "its drive is off and {} is on: valves of {} {meet} pistons",
                seat(cam).unwrap_or_default(),
                self.name(cam)
            )),
            _ => {
                let seats: BTreeSet<String> = cams.iter().filter_map(|cam| seat(cam)).collect();
                let seats: Vec<String> = seats.into_iter().collect();
                Some(format!(
                    "drives are off and {} {} on: valves of {} {meet} pistons",
                    seats.join(" and "),
                    if seats.len() == 1 { "is" } else { "are" },
                    names.join(", ")
                ))
            }
        }
    }

    /// Which way, and by which shaft.
    fn sense(&self, shaft: &Shaft, root: Option<&Shaft>, linked: bool, turning: &mut Turning) {
        let by = root.filter(|root| linked && root.id != shaft.id);
        turning.by = by.map(|root| root.id.clone());
        let turned = by.unwrap_or(shaft);
        turning.way = turned.sense.known().copied();
        if linked && turning.way.is_none() {
            turning.may = false;
            turning.why.push(format!(
                "which way {} may be turned is not known",
                self.name(turned)
            ));
            turning.unknown.push(Unknown::Sense(turned.id.clone()));
        }
    }

    fn safe(&self, shaft: &Shaft, linked: bool) -> String {
        if linked {
            return "drives are on and no pin is in: it turns in step".to_owned();
        }
        match &shaft.sits_in {
            Some(seat) if self.standing.off.contains(&seat.id) => {
                format!("{} is off the engine", self.graph.part_name(&seat.id))
            }
            _ if shaft.kind == ShaftKind::Crank => "no valve can reach a piston".to_owned(),
            _ => "its valves reach no piston".to_owned(),
        }
    }

    fn name(&self, shaft: &Shaft) -> String {
        shaft.label.clone().unwrap_or_else(|| shaft.id.to_string())
    }

    fn pin_name(&self, pin: &book::TemporaryId) -> String {
        let item = self.graph.book().temporary(pin);
        item.and_then(|item| item.label.clone())
            .unwrap_or_else(|| pin.to_string())
    }
}

#[cfg(test)]
mod tests;
