//! The book of one vehicle: what is left once the variants are chosen.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::Book;
use crate::gate::NeedKind;
use crate::id::{HoleName, JointId, PartId, PortRef, Ref, VariantId};
use crate::part::{NeedsOffAny, Part};
use crate::span::Mention;
use crate::variant::When;

impl Book {
    /// The book with these choices made: nodes of another value do not exist, and nothing
    /// mentions them any more. A variant nobody chose yet leaves all its nodes in.
    #[must_use]
    pub fn under(&self, chosen: &BTreeMap<VariantId, String>) -> Self {
        let mut book = self.clone();
        if book.variants.is_empty() {
            return book;
        }
        let holds = |when: &When| when.holds(chosen);
        book.parts.retain(|part| holds(&part.when));
        for part in &mut book.parts {
            part.ports.retain(|port| holds(&port.when));
        }
        book.joints.retain(|joint| holds(&joint.when));
        for joint in &mut book.joints {
            joint.holes.retain(|hole| holds(&hole.when));
        }
        book.lines.retain(|line| holds(&line.when));
        book.circuits.retain(|circuit| holds(&circuit.when));
        book.shafts.retain(|shaft| holds(&shaft.when));
        book.limits.retain(|limit| holds(&limit.when));
        book.checks.retain(|check| holds(&check.when));
        book.temporaries.retain(|item| holds(&item.when));
        book.rules.retain(|rule| holds(&rule.when));
        book.gates.retain(|gate| holds(&gate.when));
        for gate in &mut book.gates {
            gate.needs.retain(|need| holds(&need.when));
        }
        forget_the_vanished(&mut book);
        book
    }
}

/// What still exists.
struct Left {
    parts: BTreeSet<PartId>,
    ports: BTreeSet<PortRef>,
    joints: BTreeMap<JointId, BTreeSet<HoleName>>,
    others: BTreeSet<String>,
}

fn forget_the_vanished(book: &mut Book) {
    let parts: BTreeSet<PartId> = book.parts.iter().map(|part| part.id.clone()).collect();
    book.joints
        .retain(|joint| parts.contains(&joint.of) && parts.contains(&joint.to.id));
    let ports = book.parts.iter().flat_map(|part| {
        part.ports.iter().map(|port| PortRef {
            part: part.id.clone(),
            port: port.name.clone(),
        })
    });
    let ports: BTreeSet<PortRef> = ports.collect();
    book.lines
        .retain(|line| line.ends.iter().all(|end| ports.contains(&end.port.id)));
    let joints = book.joints.iter().map(|joint| {
        let holes = joint.holes.iter().map(|hole| hole.name.clone()).collect();
        (joint.id.clone(), holes)
    });
    let mut left = Left {
        parts,
        ports,
        joints: joints.collect(),
        others: BTreeSet::new(),
    };
    left.others = others(book);
    forget_in_joints(book, &left);
    for part in &mut book.parts {
        forget_in_part(part, &left);
    }
    forget_subjects(book, &left);
    // Limits and checks went with their subjects, so gates and checks are looked at again.
    left.others = others(book);
    forget_in_gates(book, &left);
}

fn others(book: &Book) -> BTreeSet<String> {
    let lines = book.lines.iter().map(|line| line.id.as_str());
    let circuits = book.circuits.iter().map(|circuit| circuit.id.as_str());
    let shafts = book.shafts.iter().map(|shaft| shaft.id.as_str());
    let limits = book.limits.iter().map(|limit| limit.id.as_str());
    let checks = book.checks.iter().map(|check| check.id.as_str());
    let items = book.temporaries.iter().map(|item| item.id.as_str());
    lines
        .chain(circuits)
        .chain(shafts)
        .chain(limits)
        .chain(checks)
        .chain(items)
        .map(str::to_owned)
        .collect()
}

impl Left {
    fn has(&self, reference: &Ref) -> bool {
        match reference {
            Ref::Part(id) => self.parts.contains(id),
            Ref::Joint(id) => self.joints.contains_key(id),
            Ref::Hole(hole) => self
                .joints
                .get(&hole.joint)
                .is_some_and(|holes| holes.contains(&hole.hole)),
            Ref::Port(port) => self.ports.contains(port),
            // Gates are there whether the book adds to them or not.
            Ref::Gate(_) => true,
            Ref::Line(id) => self.others.contains(id.as_str()),
            Ref::Circuit(id) => self.others.contains(id.as_str()),
            Ref::Limit(id) => self.others.contains(id.as_str()),
            Ref::Check(id) => self.others.contains(id.as_str()),
            Ref::Temporary(id) => self.others.contains(id.as_str()),
            Ref::Shaft(id) => self.others.contains(id.as_str()),
        }
    }

    fn keep(&self, mentions: &mut Vec<Mention<Ref>>) {
        mentions.retain(|mention| self.has(&mention.id));
    }
}

fn forget_in_joints(book: &mut Book, left: &Left) {
    for joint in &mut book.joints {
        let Some(holes) = left.joints.get(&joint.id) else {
            continue;
        };
        for tighten in &mut joint.tighten {
            if let Some(named) = &mut tighten.holes {
                named.retain(|hole| holes.contains(hole));
            }
        }
        joint
            .tighten
            .retain(|tighten| tighten.holes.as_ref().is_none_or(|named| !named.is_empty()));
        for seal in &mut joint.seals {
            if let Some(named) = &mut seal.holes {
                named.retain(|hole| holes.contains(hole));
            }
        }
        joint
            .seals
            .retain(|seal| seal.holes.as_ref().is_none_or(|named| !named.is_empty()));
        if let Some(pattern) = &mut joint.pattern
            && let crate::tighten::PatternKind::Order(order) = &mut pattern.kind
        {
            order.retain(|hole| holes.contains(hole));
        }
    }
}

fn forget_in_part(part: &mut Part, left: &Left) {
    part.needs_off
        .retain(|mention| left.parts.contains(&mention.id));
    part.comes_with
        .retain(|mention| left.parts.contains(&mention.id));
    part.needs_drained
        .retain(|mention| left.others.contains(mention.id.as_str()));
    for choice in &mut part.needs_off_any {
        for way in &mut choice.ways {
            way.parts.retain(|mention| left.parts.contains(&mention.id));
        }
    }
    // A way whose parts all do not exist is open already.
    part.needs_off_any
        .retain(|choice: &NeedsOffAny| choice.ways.iter().all(|way| !way.parts.is_empty()));
    if part
        .pair
        .as_ref()
        .is_some_and(|pair| !left.parts.contains(&pair.with.id))
    {
        part.pair = None;
    }
}

fn forget_subjects(book: &mut Book, left: &Left) {
    for line in &mut book.lines {
        for end in &mut line.ends {
            let gone = |joint: &Mention<JointId>| !left.joints.contains_key(&joint.id);
            if end.held_by.as_ref().is_some_and(gone) {
                end.held_by = None;
            }
        }
    }
    for circuit in &mut book.circuits {
        circuit.drains.retain(|port| left.ports.contains(&port.id));
        circuit.bleeds.retain(|port| left.ports.contains(&port.id));
        circuit.fills.retain(|port| left.ports.contains(&port.id));
        circuit.through.retain(|part| left.parts.contains(&part.id));
    }
    for shaft in &mut book.shafts {
        let parts = &left.parts;
        shaft.drive_part = shaft
            .drive_part
            .take()
            .filter(|part| parts.contains(&part.id));
        shaft.sits_in = shaft.sits_in.take().filter(|part| parts.contains(&part.id));
        shaft.pin = shaft
            .pin
            .take()
            .filter(|pin| left.others.contains(pin.id.as_str()));
        let driver = shaft.driven_by.take();
        shaft.driven_by = driver.filter(|other| left.others.contains(other.id.as_str()));
    }
    let about = |of: &Option<Mention<Ref>>| of.as_ref().is_none_or(|of| left.has(&of.id));
    book.limits.retain(|limit| about(&limit.of));
    book.checks.retain(|check| about(&check.of));
    for check in &mut book.checks {
        left.keep(&mut check.before);
        left.keep(&mut check.after_off);
        check.limit = check
            .limit
            .take()
            .filter(|limit| left.others.contains(limit.id.as_str()));
    }
    for item in &mut book.temporaries {
        left.keep(&mut item.out_before);
        left.keep(&mut item.in_before);
        item.sits_in = item
            .sits_in
            .take()
            .filter(|part| left.parts.contains(&part.id));
    }
    for rule in &mut book.rules {
        rule.orders
            .retain(|order| left.has(&order.first.id) && left.has(&order.then.id));
    }
    book.rules.retain(|rule| !rule.orders.is_empty());
}

fn forget_in_gates(book: &mut Book, left: &Left) {
    for check in &mut book.checks {
        check.limit = check
            .limit
            .take()
            .filter(|limit| left.others.contains(limit.id.as_str()));
    }
    for gate in &mut book.gates {
        gate.needs.retain(|need| match &need.what {
            NeedKind::Check(check) => left.others.contains(check.id.as_str()),
            NeedKind::Limit(limit) => left.others.contains(limit.id.as_str()),
            NeedKind::Circuit(circuit, _) => left.others.contains(circuit.id.as_str()),
            NeedKind::Line(line) => left.others.contains(line.id.as_str()),
            NeedKind::Temporary(item, _) => left.others.contains(item.id.as_str()),
            NeedKind::Part(part, _) => left.parts.contains(&part.id),
            NeedKind::Joint(joint) => left.joints.contains_key(&joint.id),
            NeedKind::Word(_) => true,
        });
    }
}
