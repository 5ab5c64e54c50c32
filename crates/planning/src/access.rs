//! What must be clear to get at a thing: a part, a joint, a hole, an end, a check.
//!
//! * A part is got at when it is off itself.
//! * The fasteners of a joint, and an end on a port, are got at when all that is in the way of
//!   the part they sit on is off, and with it every part mounted there that is worked on from the
//!   same place. A part worked on from another zone does not hide it. Where a zone is not known
//!   the mounted part counts as in the way.
//! * A seal is got at when the part its joint comes off with is off.
//! * A check wants off what stands under `after-off` and the parts under `before`; where it
//!   names neither, what hides the thing it is about.
//! * A temporary item is hidden by the parts it must be out before, and by what is in the way
//!   of the parts it must be in before.

use book::{Check, Mention, Ref, Temporary, ZoneId};

use crate::graph::{At, Clear, Graph};

/// Why a target cannot be asked for.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AccessFault {
    /// The book has no such thing, or this vehicle does not.
    #[error("{0} is not in the book of this vehicle")]
    NotThere(Ref),
    /// A thing one does not get at by taking parts off.
    #[error("{0} is {kind}: there is nothing to get at", kind = .0.noun())]
    NotATarget(Ref),
}

impl Graph {
    /// What must be off to get at a target.
    ///
    /// # Errors
    /// [`AccessFault`] when this vehicle has no such thing, or it is not a thing to get at.
    pub(crate) fn access(&self, target: &Ref) -> Result<Clear, AccessFault> {
        let missing = || AccessFault::NotThere(target.clone());
        match target {
            Ref::Part(part) => self.at(part).map(Clear::part).ok_or_else(missing),
            Ref::Joint(joint) => {
                let joint = self.joint_at(joint).ok_or_else(missing)?;
                self.to_joint(joint).ok_or_else(missing)
            }
            Ref::Hole(hole) => {
                self.book().hole(hole).ok_or_else(missing)?;
                let joint = self.joint_at(&hole.joint).ok_or_else(missing)?;
                self.to_joint(joint).ok_or_else(missing)
            }
            Ref::Port(port) => {
                self.book().port(port).ok_or_else(missing)?;
                let at = self.at(&port.part).ok_or_else(missing)?;
                let zone = self.port_zone(at, port);
                Ok(self.to_seat(at, zone))
            }
            Ref::Line(line) => {
                let found = self.book().lines.iter().position(|other| other.id == *line);
                let line = found.ok_or_else(missing)?;
                Ok(self.to_end(line, 0).and(&self.to_end(line, 1)))
            }
            Ref::Check(check) => {
                let check = self.book().check(check).ok_or_else(missing)?;
                Ok(self.to_check(check))
            }
            Ref::Limit(limit) => {
                let limit = self.book().limit(limit).ok_or_else(missing)?;
                Ok(self.to_reading(limit))
            }
            Ref::Temporary(item) => {
                let item = self.book().temporary(item).ok_or_else(missing)?;
                Ok(self.to_temporary(item))
            }
            Ref::Circuit(circuit) => match self.circuit_at(circuit) {
                Some(_) => Ok(Clear::default()),
                None => Err(missing()),
            },
            Ref::Gate(_) | Ref::Shaft(_) => Err(AccessFault::NotATarget(target.clone())),
        }
    }

    /// What must be off to get at the fasteners of a joint. Nothing: a part of it is not there.
    pub(crate) fn to_joint(&self, joint: usize) -> Option<Clear> {
        let at = self.owner(joint)?;
        let zone = self.joint_zone(joint);
        Some(self.to_seat(at, zone))
    }

    /// What must be off to get at one end of a line.
    pub(crate) fn to_end(&self, line: usize, end: usize) -> Clear {
        let port = &self.book().lines[line].ends[end].port.id;
        self.at(&port.part).map_or_else(Clear::default, |at| {
            let zone = self.port_zone(at, port);
            self.to_seat(at, zone)
        })
    }

    /// What must be off for a check to be done.
    pub(crate) fn to_check(&self, check: &Check) -> Clear {
        let mut clear = Clear::default();
        clear.all.extend(self.parts(&check.after_off));
        clear.all.extend(self.parts(&check.before));
        if !clear.all.is_empty() {
            return clear;
        }
        let of = check.of.as_ref().map(|mention| &mention.id);
        of.map_or_else(Clear::default, |of| self.to_look(of))
    }

    /// What must be off for a limit to get its reading: what its check wants; without one, the
    /// part it is of.
    pub(crate) fn to_reading(&self, limit: &book::Limit) -> Clear {
        let mine = |check: &&Check| check.limit.as_ref().is_some_and(|own| own.id == limit.id);
        if let Some(check) = self.book().checks.iter().find(mine) {
            return self.to_check(check);
        }
        let of = limit.of.as_ref().map(|mention| &mention.id);
        match of {
            Some(Ref::Part(part)) => {
                let at = self.at(part).filter(|&at| !self.part(at).fixed);
                at.map_or_else(Clear::default, Clear::part)
            }
            Some(of) => self.to_look(of),
            None => Clear::default(),
        }
    }

    /// What must be off to get at a temporary item.
    pub(crate) fn to_temporary(&self, item: &Temporary) -> Clear {
        let mut clear = Clear::default();
        clear.all.extend(self.parts(&item.out_before));
        for at in self.parts(&item.in_before) {
            clear = clear.and(&self.nodes[at].needs);
        }
        clear
    }

    /// What must be off to look at a thing where it sits.
    fn to_look(&self, of: &Ref) -> Clear {
        match of {
            Ref::Part(part) => self
                .at(part)
                .map_or_else(Clear::default, |at| self.nodes[at].needs.clone()),
            other => self.access(other).unwrap_or_default(),
        }
    }

    /// What hides a place on a part that is worked on from `zone`.
    fn to_seat(&self, at: At, zone: Option<&ZoneId>) -> Clear {
        let node = &self.nodes[at];
        let mut clear = node.needs.clone();
        if node.fixed {
            return clear;
        }
        let hides = |&&mounted: &&At| {
            let its = self.part(mounted).zone.as_ref().map(|mention| &mention.id);
            match (its, zone) {
                (Some(its), Some(zone)) => its == zone,
                (None, _) | (_, None) => true,
            }
        };
        clear.all.extend(node.mounted.iter().filter(hides));
        clear
    }

    /// Where a person stands to work on a joint.
    pub(crate) fn joint_zone(&self, joint: usize) -> Option<&ZoneId> {
        let joint = &self.book().joints[joint];
        let part = || self.book().part(&joint.of)?.zone.as_ref();
        joint.zone.as_ref().or_else(part).map(|mention| &mention.id)
    }

    /// Where a person stands to work on a port.
    pub(crate) fn port_zone(&self, at: At, port: &book::PortRef) -> Option<&ZoneId> {
        let own = self.book().port(port).and_then(|port| port.zone.as_ref());
        let part = || self.part(at).zone.as_ref();
        own.or_else(part).map(|mention| &mention.id)
    }

    /// The parts among some mentions.
    pub(crate) fn parts<'a>(
        &'a self,
        mentions: &'a [Mention<Ref>],
    ) -> impl Iterator<Item = At> + 'a {
        mentions.iter().filter_map(|mention| match &mention.id {
            Ref::Part(part) => self.at(part),
            _ => None,
        })
    }
}
