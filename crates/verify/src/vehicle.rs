//! The book of the vehicle at hand, and what can be read off it about how things sit together.
//!
//! Everything here is looked up in the book each time it is asked: slow beside a graph, and
//! with nothing in it that a graph could have wrong.

use std::collections::BTreeSet;

use book::{Book, Circuit, Joint, Line, Medium, OrderAct, Part, PartId, Ref};
use job::State;

/// The things of a book that this vehicle has. A variant nobody chose excludes nothing.
pub(crate) fn of(book: &Book, state: &State) -> Book {
    let mut left = book.clone();
    left.parts.retain(|part| state.applies(&part.when));
    let parts: BTreeSet<PartId> = left.parts.iter().map(|part| part.id.clone()).collect();
    for part in &mut left.parts {
        part.needs_off.retain(|other| parts.contains(&other.id));
        part.comes_with.retain(|other| parts.contains(&other.id));
        // A way through parts this vehicle does not have is open as far as they go.
        for way in part
            .needs_off_any
            .iter_mut()
            .flat_map(|group| &mut group.ways)
        {
            way.parts.retain(|other| parts.contains(&other.id));
        }
        part.ports.retain(|port| state.applies(&port.when));
    }
    left.joints.retain(|joint| {
        state.applies(&joint.when) && parts.contains(&joint.of) && parts.contains(&joint.to.id)
    });
    for joint in &mut left.joints {
        joint.holes.retain(|hole| state.applies(&hole.when));
    }
    left.lines.retain(|line| state.applies(&line.when));
    left.circuits.retain(|circuit| state.applies(&circuit.when));
    left.shafts.retain(|shaft| state.applies(&shaft.when));
    left.limits.retain(|limit| state.applies(&limit.when));
    left.checks.retain(|check| state.applies(&check.when));
    left.temporaries.retain(|item| state.applies(&item.when));
    left.rules.retain(|rule| state.applies(&rule.when));
    left.gates.retain(|gate| state.applies(&gate.when));
    for gate in &mut left.gates {
        gate.needs.retain(|need| state.applies(&need.when));
    }
    left
}

/// Whether a book has a thing. The gates every job has need no node.
pub(crate) fn has(book: &Book, target: &Ref) -> bool {
    match target {
        Ref::Part(id) => book.part(id).is_some(),
        Ref::Joint(id) => book.joint(id).is_some(),
        Ref::Hole(hole) => book.hole(hole).is_some(),
        Ref::Line(id) => book.line(id).is_some(),
        Ref::Port(port) => book.port(port).is_some(),
        Ref::Circuit(id) => book.circuit(id).is_some(),
        Ref::Limit(id) => book.limit(id).is_some(),
        Ref::Check(id) => book.check(id).is_some(),
        Ref::Temporary(id) => book.temporary(id).is_some(),
        Ref::Gate(id) => book.gate(id).is_some() || book::GATES.contains(&id.as_str()),
        Ref::Shaft(id) => book.shaft(id).is_some(),
    }
}

/// A part and everything under its `comes-with`, through and through.
pub(crate) fn unit(book: &Book, part: &PartId) -> BTreeSet<PartId> {
    let mut unit = BTreeSet::from([part.clone()]);
    let mut open = vec![part.clone()];
    while let Some(next) = open.pop() {
        let carried = book
            .part(&next)
            .into_iter()
            .flat_map(|part| &part.comes_with);
        for mention in carried {
            if unit.insert(mention.id.clone()) {
                open.push(mention.id.clone());
            }
        }
    }
    unit
}

/// Whether the book lets the lower of two fastened parts leave under the upper one, once the
/// joint between them is undone.
///
/// That is so where the upper part itself cannot come off before the lower: it never comes off,
/// it needs the lower off, each is fastened to the other, or a rule takes the lower off first.
pub(crate) fn lower_leaves_first(book: &Book, joint: &Joint) -> bool {
    let (upper, lower) = (&joint.of, &joint.to.id);
    let needed = book.part(upper).is_some_and(|part| {
        let named = part.needs_off.iter().any(|other| other.id == *lower);
        let by_every_way = part.needs_off_any.iter().any(|group| {
            let mut ways = group.ways.iter();
            ways.all(|way| way.parts.iter().any(|other| other.id == *lower))
        });
        part.fixed || named || by_every_way
    });
    let each_on_other = book
        .joints
        .iter()
        .any(|other| other.of == *lower && other.to.id == *upper);
    needed || each_on_other || ruled(book, OrderAct::TakeOff, lower, upper)
}

/// Whether a rule of the book puts one part before another in this act.
pub(crate) fn ruled(book: &Book, act: OrderAct, first: &PartId, then: &PartId) -> bool {
    let part = |target: &Ref, id: &PartId| matches!(target, Ref::Part(own) if own == id);
    let mut orders = book.rules.iter().flat_map(|rule| &rule.orders);
    orders
        .any(|order| order.act == act && part(&order.first.id, first) && part(&order.then.id, then))
}

/// Whether a circuit runs through a part: the part or the circuit says so, or a port carries it.
pub(crate) fn is_wet(part: &Part, circuit: &Circuit) -> bool {
    let at_port = [&circuit.drains, &circuit.bleeds, &circuit.fills]
        .into_iter()
        .flatten()
        .any(|port| port.id.part == part.id);
    let carries = |medium: &Medium| medium.is_liquid() && *medium == circuit.medium;
    let by_medium = |port: &book::Port| port.medium.known().is_some_and(carries);
    at_port
        || part.needs_drained.iter().any(|own| own.id == circuit.id)
        || circuit.through.iter().any(|own| own.id == part.id)
        || part.ports.iter().any(by_medium)
}

/// Whether a circuit runs out when a part of it is opened. A filler or a capped opening above the
/// liquid does not let it run; a drain does.
pub(crate) fn runs_out(part: &Part, circuit: &Circuit) -> bool {
    let carries = |medium: &Medium| medium.is_liquid() && *medium == circuit.medium;
    let holds = |port: &book::Port| !port.open && port.medium.known().is_some_and(carries);
    part.needs_drained.iter().any(|own| own.id == circuit.id)
        || circuit.through.iter().any(|own| own.id == part.id)
        || circuit.drains.iter().any(|port| port.id.part == part.id)
        || part.ports.iter().any(holds)
}

/// What flows at one end of a line: the port says it, else the line.
pub(crate) fn medium_at<'a>(book: &'a Book, line: &'a Line, end: usize) -> Option<&'a Medium> {
    let port = book.port(&line.ends[end].port.id);
    port.and_then(|port| port.medium.known())
        .or_else(|| line.medium.known())
}
