//! Finding the thing a name means, and meeting it where it is new and may be.

use book::{CircuitId, JointId, LineId, PartId, PortName, PortRef};

use crate::act::{Details, Run};
use crate::apply::Applied;
use crate::entry::EntryId;
use crate::item::Item;
use crate::met;
use crate::names::{NameFault, Named};
use crate::state::State;

/// Stands for what a part was held to when nobody said it.
pub(crate) const REST: &str = "rest-of-vehicle";

type Found<T> = Result<T, Box<report::Finding>>;

fn refused(fault: &NameFault) -> Box<report::Finding> {
    Box::new(fault.finding())
}

/// Parts and lines first, then joints; what a person takes in the hand.
const fn in_hand(what: &Named) -> Option<u8> {
    match what {
        Named::Part(_) | Named::Line(_) | Named::End(..) => Some(0),
        Named::Joint(_) => Some(1),
        Named::Circuit(_) => None,
    }
}

impl State {
    /// Whether a name that is not known may be taken as new.
    fn may_meet(&self, new: bool) -> bool {
        new || !self.has_book
    }

    /// What a name means that came off or went on. `Ok(None)`: it is new and may be.
    pub(super) fn in_hand(&self, name: &str, run: Option<Run>, new: bool) -> Found<Option<Named>> {
        let whole = self.names.one(name, in_hand);
        let fault = match whole {
            Ok(what) => return Ok(Some(what)),
            Err(fault) => fault,
        };
        if run.is_some()
            && let Some((_, short)) = name.split_once(' ')
            && let Ok(what) = self.names.one(short, in_hand)
        {
            return Ok(Some(what));
        }
        match fault {
            NameFault::Unknown { .. } if self.may_meet(new) => Ok(None),
            NameFault::Unknown { .. } | NameFault::Ambiguous { .. } => Err(refused(&fault)),
        }
    }

    /// The part a name means, met if it may be.
    pub(super) fn part_named(&mut self, entry: EntryId, name: &str, new: bool) -> Found<PartId> {
        let only_parts = |what: &Named| matches!(what, Named::Part(_)).then_some(0);
        match self.names.one(name, only_parts) {
            Ok(Named::Part(id)) => Ok(id),
            Err(fault @ NameFault::Ambiguous { .. }) => Err(refused(&fault)),
            Err(fault) if !self.may_meet(new) => Err(refused(&fault)),
            Ok(_) | Err(_) => Ok(self.meet_part(entry, name)),
        }
    }

    /// Whether every name is a part or may become one, without meeting any yet.
    pub(super) fn parts_may_be(&self, names: &[String], new: bool) -> Applied {
        for name in names {
            let only_parts = |what: &Named| matches!(what, Named::Part(_)).then_some(0);
            match self.names.one(name, only_parts) {
                Err(fault @ NameFault::Ambiguous { .. }) => return Err(refused(&fault)),
                Err(fault) if !self.may_meet(new) => return Err(refused(&fault)),
                Ok(_) | Err(_) => {}
            }
        }
        Ok(())
    }

    /// The circuit a name means, met if it may be.
    pub(super) fn circuit_named(&mut self, entry: EntryId, name: &str) -> Found<CircuitId> {
        let only_circuits = |what: &Named| matches!(what, Named::Circuit(_)).then_some(0);
        match self.names.one(name, only_circuits) {
            Ok(Named::Circuit(id)) => return Ok(id),
            Err(fault) if self.has_book => return Err(refused(&fault)),
            Ok(_) | Err(_) => {}
        }
        let id = CircuitId::new(self.free_id(name));
        self.known.circuits.push(met::circuit(id.clone(), name));
        self.names.add(name, Named::Circuit(id.clone()));
        self.met.insert(id.to_string(), entry);
        Ok(id)
    }

    /// An id for a new thing that nothing has yet.
    fn free_id(&self, name: &str) -> String {
        let wanted = met::id_of(name);
        let taken = |id: &str| {
            self.known.parts.iter().any(|part| part.id.as_str() == id)
                || self
                    .known
                    .joints
                    .iter()
                    .any(|joint| joint.id.as_str() == id)
                || self.known.lines.iter().any(|line| line.id.as_str() == id)
        };
        let numbered = (2..).map(|number| format!("{wanted}-{number}"));
        let mut tries = std::iter::once(wanted.clone()).chain(numbered);
        tries.find(|id| !taken(id)).unwrap_or(wanted)
    }

    /// Adds a part that nobody spoke of before.
    pub(super) fn meet_part(&mut self, entry: EntryId, name: &str) -> PartId {
        let id = PartId::new(self.free_id(name));
        let label = (id.as_str() != name).then(|| name.to_owned());
        self.known.parts.push(met::part(id.clone(), label));
        self.names.add(name, Named::Part(id.clone()));
        self.names.add(id.as_str(), Named::Part(id.clone()));
        self.met.insert(id.to_string(), entry);
        id
    }

    /// What a part was held to: the part that was named, else the rest of the vehicle.
    fn held_to(&mut self, entry: EntryId, name: Option<&str>) -> Found<PartId> {
        if let Some(name) = name {
            return self.part_named(entry, name, true);
        }
        let rest = PartId::from(REST);
        if self.known.part(&rest).is_none() {
            let label = "Rest of the vehicle (what it was held to was not said)".to_owned();
            let mut part = met::part(rest.clone(), Some(label));
            part.fixed = true;
            self.known.parts.push(part);
            self.names.add(REST, Named::Part(rest.clone()));
            self.met.insert(REST.to_owned(), entry);
        }
        Ok(rest)
    }

    /// The joint of a part that has none yet.
    pub(super) fn meet_joint(
        &mut self,
        entry: EntryId,
        of: &PartId,
        to: Option<&str>,
    ) -> Found<JointId> {
        let to = self.held_to(entry, to)?;
        let id = JointId::new(self.free_id(&format!("{of}-to-{to}")));
        self.known
            .joints
            .push(met::joint(id.clone(), of.clone(), to));
        self.names.add(id.as_str(), Named::Joint(id.clone()));
        self.met.insert(id.to_string(), entry);
        Ok(id)
    }

    /// Adds a hole for every one of some fasteners that no hole is known for.
    pub(super) fn meet_holes(&mut self, joint: &JointId, item: &Item) -> Vec<book::HoleName> {
        let Some(joint) = self
            .known
            .joints
            .iter_mut()
            .find(|known| known.id == *joint)
        else {
            return Vec::new();
        };
        let mut made = Vec::new();
        let mut named = item.holes.iter();
        for _ in 0..item.count {
            let name = named.next().cloned().unwrap_or_else(|| {
                let taken =
                    |name: &String| joint.holes.iter().any(|hole| hole.name.as_str() == name);
                let numbered = (1..).map(|number| format!("h{number}"));
                numbered
                    .into_iter()
                    .find(|name| !taken(name))
                    .unwrap_or_default()
            });
            let name = book::HoleName::new(name);
            if joint.hole(&name).is_none() {
                joint.holes.push(met::hole(name.clone(), item));
            }
            made.push(name);
        }
        made
    }

    /// Adds a hose or lead whose two ports were said, with the parts they are on.
    pub(super) fn meet_line(
        &mut self,
        entry: EntryId,
        name: &str,
        run: Option<Run>,
        details: &Details,
        ports: [&str; 2],
    ) -> Found<LineId> {
        let short = match run {
            Some(_) => name.split_once(' ').map_or(name, |(_, rest)| rest),
            None => name,
        };
        let id = LineId::new(self.free_id(short));
        let mut ends = Vec::new();
        for (typed, side) in ports.into_iter().zip(["from", "to"]) {
            let (part, port) = match typed.rsplit_once('.') {
                Some((part, port)) => (part, met::id_of(port)),
                None => (typed, format!("{id}-{side}")),
            };
            let part = self.part_named(entry, part, true)?;
            let port = PortName::new(port);
            let known = self.known.parts.iter_mut().find(|known| known.id == part);
            if let Some(known) = known
                && !known.ports.iter().any(|had| had.name == port)
            {
                known.ports.push(met::port(port.clone()));
            }
            ends.push(PortRef { part, port });
        }
        let [from, to] = <[PortRef; 2]>::try_from(ends).map_err(|_| {
            Box::new(report::Finding::new(
                "name-unknown",
                name,
                "a hose has two ends",
            ))
        })?;
        for port in [&from, &to] {
            self.taken(entry, short, port);
        }
        let label = (id.as_str() != short).then(|| short.to_owned());
        let line = met::line(id.clone(), label, run, details, [from, to]);
        self.names
            .add_line(&[short.to_owned(), id.to_string()], &line);
        self.known.lines.push(line);
        self.met.insert(id.to_string(), entry);
        Ok(id)
    }

    /// Says that a port has the end of another line on it: one of two names, or a slip.
    fn taken(&mut self, entry: EntryId, name: &str, port: &PortRef) {
        let other = self
            .known
            .lines
            .iter()
            .find(|line| line.ends.iter().any(|end| end.port.id == *port));
        if let Some(other) = other {
            let other = self.line_label(&other.id);
            let says = format!("{port} has an end of {other} on it already");
            let next = format!(
                "if both are one thing, write `same {name} as {other}`; else correct one of the two entries, or call the port by a name of its own"
            );
            let finding = report::Finding::new("port-used-twice", name, says).next(next);
            self.note_finding(entry, finding);
        }
    }
}
