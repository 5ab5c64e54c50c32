//! Where holes and ports sit: an entry gives them positions, as the book could have.

use book::{JointId, PartId, Position};
use report::Finding;

use super::{Applied, contradiction};
use crate::act::Spot;
use crate::entry::EntryId;
use crate::names::Named;
use crate::state::State;

/// How far two measurements of one distance may lie apart before it is said, in millimetres:
/// what taps on a photo and a calliper over bolt heads do not tell apart.
const APART_MM: f64 = 1.0;

/// Whose positions they are.
enum Face {
    Holes(JointId),
    Ports(PartId),
}

impl State {
    pub(super) fn placed(&mut self, entry: EntryId, what: &str, spots: &[Spot]) -> Applied {
        let face = self.face(what, spots)?;
        let before = self.positions(&face);
        for spot in spots {
            let slot = self.position_of(&face, &spot.name);
            if let Some(slot) = slot {
                *slot = Some(Position {
                    x: spot.x,
                    y: spot.y,
                });
            }
        }
        if let Some(says) = moved(&before, spots) {
            let finding = Finding::new("not-in-book", what, says)
                .next("measure again; `place` once more, or correct the book");
            self.note_finding(entry, finding);
        }
        let kept: Vec<&str> = before
            .iter()
            .filter(|(name, _)| !spots.iter().any(|spot| same(&spot.name, name)))
            .map(|(name, _)| name.as_str())
            .collect();
        if !kept.is_empty() {
            let says = format!(
                "{} kept the position said before; both must start from one corner",
                kept.join(", ")
            );
            self.note_finding(entry, Finding::new("places-mixed", what, says));
        }
        Ok(())
    }

    /// The joint whose holes are named, or the part whose ports are.
    fn face(&self, what: &str, spots: &[Spot]) -> Result<Face, Box<Finding>> {
        let rank = |what: &Named| match what {
            Named::Joint(_) => Some(0),
            Named::Part(_) => Some(1),
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => None,
        };
        let named = match self.names.one(what, rank) {
            Ok(named) => named,
            Err(fault) => return Err(Box::new(fault.finding())),
        };
        let joints: Vec<&book::Joint> = match &named {
            Named::Joint(id) => self.known.joint(id).into_iter().collect(),
            Named::Part(id) => self.known.joints_of(id).collect(),
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => Vec::new(),
        };
        let has = |joint: &&&book::Joint| {
            let hole = |name: &str| {
                joint
                    .holes
                    .iter()
                    .any(|hole| same(hole.name.as_str(), name))
            };
            spots.iter().all(|spot| hole(&spot.name))
        };
        let fitting: Vec<&&book::Joint> = joints.iter().filter(has).collect();
        match fitting[..] {
            [one] => return Ok(Face::Holes(one.id.clone())),
            [] => {}
            [..] => {
                let names: Vec<String> = fitting.iter().map(|one| one.id.to_string()).collect();
                let says = format!("{what} has these holes in {} joints", names.len());
                let next = format!("write one of: {}", names.join(", "));
                return Err(contradiction(what, says, &next));
            }
        }
        if let Named::Part(id) = &named
            && let Some(part) = self.known.part(id)
        {
            let port = |name: &str| part.ports.iter().any(|port| same(port.name.as_str(), name));
            if spots.iter().all(|spot| port(&spot.name)) {
                return Ok(Face::Ports(id.clone()));
            }
        }
        Err(self.no_such_hole(what, &joints, spots))
    }

    /// The first name that is no hole and no port there, and those that are.
    fn no_such_hole(&self, what: &str, joints: &[&book::Joint], spots: &[Spot]) -> Box<Finding> {
        let known: Vec<&str> = joints
            .iter()
            .flat_map(|joint| joint.holes.iter().map(|hole| hole.name.as_str()))
            .collect();
        let strange = spots
            .iter()
            .map(|spot| spot.name.as_str())
            .find(|name| !known.iter().any(|hole| same(hole, name)))
            .unwrap_or_default();
        let says = format!("{what} has no hole and no port {strange}");
        let next = if known.is_empty() {
            format!("log the fasteners first: `off {what}: 3 bolts M8x40 holes A..C`")
        } else {
            format!("its holes are {}", known.join(", "))
        };
        contradiction(what, says, &next)
    }

    fn position_of(&mut self, face: &Face, name: &str) -> Option<&mut Option<Position>> {
        match face {
            Face::Holes(id) => {
                let joint = self.known.joints.iter_mut().find(|joint| joint.id == *id)?;
                let mut holes = joint.holes.iter_mut();
                let hole = holes.find(|hole| same(hole.name.as_str(), name))?;
                Some(&mut hole.position)
            }
            Face::Ports(id) => {
                let part = self.known.parts.iter_mut().find(|part| part.id == *id)?;
                let mut ports = part.ports.iter_mut();
                let port = ports.find(|port| same(port.name.as_str(), name))?;
                Some(&mut port.position)
            }
        }
    }

    /// The positions that are known, by name.
    fn positions(&self, face: &Face) -> Vec<(String, Position)> {
        let (holes, ports) = match face {
            Face::Holes(id) => (self.known.joint(id).map(|joint| &joint.holes), None),
            Face::Ports(id) => (None, self.known.part(id).map(|part| &part.ports)),
        };
        let holes = holes.into_iter().flatten();
        let ports = ports.into_iter().flatten();
        holes
            .map(|hole| (hole.name.to_string(), hole.position))
            .chain(ports.map(|port| (port.name.to_string(), port.position)))
            .filter_map(|(name, position)| Some((name, position?)))
            .collect()
    }
}

fn same(one: &str, other: &str) -> bool {
    one.eq_ignore_ascii_case(other)
}

/// The first distance between two holes that was another one before. Only distances are
/// compared: another corner, or a photo held at a slant, is no contradiction.
fn moved(before: &[(String, Position)], spots: &[Spot]) -> Option<String> {
    let apart = |one: Position, other: Position| {
        let (x, y) = (
            one.x.in_mm() - other.x.in_mm(),
            one.y.in_mm() - other.y.in_mm(),
        );
        libm::hypot(x, y)
    };
    let now_at = |spot: &Spot| Position {
        x: spot.x,
        y: spot.y,
    };
    let both: Vec<(&Spot, &Position)> = spots
        .iter()
        .filter_map(|spot| {
            let (_, was) = before.iter().find(|(name, _)| same(name, &spot.name))?;
            Some((spot, was))
        })
        .collect();
    let ((first, first_was), rest) = both.split_first()?;
    rest.iter().find_map(|(spot, was)| {
        let now = apart(now_at(spot), now_at(first));
        let then = apart(**was, **first_was);
        ((now - then).abs() > APART_MM).then(|| {
            format!(
                "{} to {} is {now:.1} mm here and was {then:.1} mm before",
                first.name, spot.name
            )
        })
    })
}
