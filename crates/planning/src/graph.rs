//! What is in the way of what: the graph that follows from a book.
//!
//! Nobody writes joints and ends as *needs-off*. Here they become edges:
//!
//! * A part that is fastened onto another (a joint of it is `to` that one) comes off first,
//!   unless it comes with it. The book may say otherwise: when the upper part itself needs
//!   the lower one off, when each is fastened to the other, when the upper one is `fixed`, or
//!   when a rule takes the lower one off first. Then the joint between them is undone and
//!   neither is in the way of the other.
//! * A part leaves as a unit with everything under its `comes-with`, and theirs. What holds
//!   the unit to the rest is undone; what holds the unit together stays. What is in the way of
//!   a member coming off its seat is not in the way of the unit.
//! * An end on a port of the unit comes off unless both ends of its line leave with the unit.
//! * A circuit is drained when a port of the unit that is not `open` carries its liquid, when
//!   it drains there, when the circuit says it goes through, or when the part says so.
//!
//! What must be clear to get at a thing is the matter of [`crate::access`]; which parts are
//! cheapest to take off that of [`crate::removal`].

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, CircuitId, JointId, Order, OrderAct, Part, PartId, Ref};

mod chosen;
pub(crate) use chosen::unchosen;
pub use chosen::{Choices, chosen, open_variants};

/// A part by its place in the graph.
pub(crate) type At = usize;

/// What must be off: every part of `all`, and of each group in `any` one way wholly.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Clear {
    pub(crate) all: BTreeSet<At>,
    pub(crate) any: Vec<Vec<Vec<At>>>,
}

impl Clear {
    /// One part off.
    pub(crate) fn part(part: At) -> Self {
        Self {
            all: BTreeSet::from([part]),
            any: Vec::new(),
        }
    }

    /// Both at once.
    pub(crate) fn and(mut self, other: &Self) -> Self {
        self.all.extend(&other.all);
        self.any.extend(other.any.iter().cloned());
        self
    }

    /// Whether it holds when `gone` are out of the way.
    pub(crate) fn holds(&self, gone: &BTreeSet<At>) -> bool {
        let way = |way: &Vec<At>| way.iter().all(|part| gone.contains(part));
        self.all.is_subset(gone) && self.any.iter().all(|group| group.iter().any(way))
    }
}

/// One part of the graph.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    /// It never comes off.
    pub(crate) fixed: bool,
    /// Parts the book says are in its way, and its groups of ways.
    pub(crate) needs: Clear,
    /// For each group of `needs.any`, its place among the groups of the book's part.
    pub(crate) group_numbers: Vec<usize>,
    /// Parts fastened onto the unit that come off before it.
    pub(crate) mounted: BTreeSet<At>,
    /// Parts that come off in one piece with it, without itself.
    pub(crate) unit: BTreeSet<At>,
    /// Parts it can come off with.
    pub(crate) carried_by: BTreeSet<At>,
    /// Joints to undo, by place in the book, as far as no unit parts with it undid them.
    pub(crate) joints: Vec<usize>,
    /// Ends to take off: line by place in the book, and 0 or 1.
    pub(crate) ends: Vec<(usize, usize)>,
    /// Circuits to drain, by place in the book.
    pub(crate) circuits: Vec<usize>,
}

/// The graph of one vehicle.
#[derive(Clone, Debug)]
pub struct Graph {
    pub(crate) book: Book,
    pub(crate) choices: Choices,
    pub(crate) nodes: Vec<Node>,
    index: BTreeMap<PartId, At>,
}

impl Graph {
    /// The graph of a book for the variants chosen.
    #[must_use]
    pub fn new(book: &Book, choices: &Choices) -> Self {
        let book = chosen(book, choices);
        let mut index = BTreeMap::new();
        for (at, part) in book.parts.iter().enumerate() {
            index.entry(part.id.clone()).or_insert(at);
        }
        let mut graph = Self {
            nodes: Vec::with_capacity(book.parts.len()),
            choices: choices.clone(),
            book,
            index,
        };
        graph.nodes = (0..graph.book.parts.len())
            .map(|at| graph.plain(at))
            .collect();
        graph.fasten();
        graph.connect();
        graph
    }

    /// The book as the chosen variants leave it.
    #[must_use]
    pub fn book(&self) -> &Book {
        &self.book
    }

    /// Where a part stands.
    pub(crate) fn at(&self, part: &PartId) -> Option<At> {
        self.index.get(part).copied()
    }

    /// The part at a place.
    pub(crate) fn part(&self, at: At) -> &Part {
        &self.book.parts[at]
    }

    /// Everything that must be off before a part can leave.
    pub(crate) fn blockers(&self, at: At) -> Clear {
        let node = &self.nodes[at];
        let mut clear = node.needs.clone();
        clear.all.extend(&node.mounted);
        clear
    }

    /// The place of the part a joint belongs to.
    pub(crate) fn owner(&self, joint: usize) -> Option<At> {
        self.at(&self.book.joints[joint].of)
    }

    /// The place of a joint in the book.
    pub(crate) fn joint_at(&self, joint: &JointId) -> Option<usize> {
        self.book.joints.iter().position(|other| other.id == *joint)
    }

    /// The place of a circuit in the book.
    pub(crate) fn circuit_at(&self, circuit: &CircuitId) -> Option<usize> {
        self.book
            .circuits
            .iter()
            .position(|other| other.id == *circuit)
    }

    /// The part an end sits on.
    pub(crate) fn seat(&self, line: usize, end: usize) -> Option<At> {
        self.at(&self.book.lines[line].ends[end].port.id.part)
    }

    /// A part with what its own node says.
    fn plain(&self, at: At) -> Node {
        let part = self.part(at);
        let places = |parts: &[book::Mention<PartId>]| -> Vec<At> {
            let known = parts.iter().filter_map(|mention| self.at(&mention.id));
            known.filter(|&other| other != at).collect()
        };
        let mut any = Vec::new();
        let mut group_numbers = Vec::new();
        for (number, group) in part.needs_off_any.iter().enumerate() {
            let ways: Vec<Vec<At>> = group.ways.iter().map(|way| places(&way.parts)).collect();
            // A way whose parts this vehicle does not have is open from the start.
            if ways.iter().all(|way| !way.is_empty()) {
                any.push(ways);
                group_numbers.push(number);
            }
        }
        Node {
            fixed: part.fixed,
            needs: Clear {
                all: places(&part.needs_off).into_iter().collect(),
                any,
            },
            group_numbers,
            mounted: BTreeSet::new(),
            unit: self.unit_of(at),
            carried_by: BTreeSet::new(),
            joints: Vec::new(),
            ends: Vec::new(),
            circuits: Vec::new(),
        }
    }

    /// Everything under `comes-with`, through and through.
    fn unit_of(&self, at: At) -> BTreeSet<At> {
        let mut unit = BTreeSet::new();
        let mut open = vec![at];
        while let Some(part) = open.pop() {
            for mention in &self.part(part).comes_with {
                if let Some(member) = self.at(&mention.id).filter(|&member| member != at)
                    && unit.insert(member)
                {
                    open.push(member);
                }
            }
        }
        unit
    }

    /// Joints: what is undone with each unit, and what is mounted on it.
    fn fasten(&mut self) {
        let mut otherwise = BTreeSet::new();
        for (upper, lower) in self.fastened() {
            if self.says_otherwise(upper, lower) {
                otherwise.insert((upper, lower));
            }
        }
        for at in 0..self.nodes.len() {
            let mut inside = self.nodes[at].unit.clone();
            inside.insert(at);
            let mut joints = Vec::new();
            let mut mounted = BTreeSet::new();
            for (number, joint) in self.book.joints.iter().enumerate() {
                let (Some(upper), Some(lower)) = (self.at(&joint.of), self.at(&joint.to.id)) else {
                    continue;
                };
                match (inside.contains(&upper), inside.contains(&lower)) {
                    (true, false) => joints.push(number),
                    (false, true) if otherwise.contains(&(upper, lower)) => joints.push(number),
                    (false, true) => {
                        mounted.insert(upper);
                    }
                    (true, true) | (false, false) => {}
                }
            }
            for &member in &self.nodes[at].unit.clone() {
                self.nodes[member].carried_by.insert(at);
            }
            self.nodes[at].joints = joints;
            self.nodes[at].mounted = mounted;
        }
    }

    /// Pairs of parts held by a joint: the one it belongs to, and the one it is to.
    fn fastened(&self) -> BTreeSet<(At, At)> {
        let pair = |joint: &book::Joint| Some((self.at(&joint.of)?, self.at(&joint.to.id)?));
        let pairs = self.book.joints.iter().filter_map(pair);
        pairs.filter(|(upper, lower)| upper != lower).collect()
    }

    /// Whether the book says that the lower of two fastened parts leaves before the upper.
    fn says_otherwise(&self, upper: At, lower: At) -> bool {
        let node = &self.nodes[upper];
        let in_every_way = |group: &Vec<Vec<At>>| group.iter().all(|way| way.contains(&lower));
        let back = self
            .book
            .joints
            .iter()
            .any(|joint| joint.of == self.part(lower).id && joint.to.id == self.part(upper).id);
        let ruled = |order: &Order| {
            order.act == OrderAct::TakeOff
                && order.first.id == Ref::Part(self.part(lower).id.clone())
                && order.then.id == Ref::Part(self.part(upper).id.clone())
        };
        let mut orders = self.book.rules.iter().flat_map(|rule| &rule.orders);
        node.fixed
            || back
            || node.needs.all.contains(&lower)
            || node.needs.any.iter().any(in_every_way)
            || orders.any(ruled)
    }

    /// Lines and circuits: what is taken off and drained with each unit.
    fn connect(&mut self) {
        for at in 0..self.nodes.len() {
            let mut inside = self.nodes[at].unit.clone();
            inside.insert(at);
            let mut ends = Vec::new();
            for line in 0..self.book.lines.len() {
                let here = [0, 1].map(|end| {
                    self.seat(line, end)
                        .is_some_and(|seat| inside.contains(&seat))
                });
                match here {
                    [true, false] => ends.push((line, 0)),
                    [false, true] => ends.push((line, 1)),
                    [true, true] | [false, false] => {}
                }
            }
            let wet = |&circuit: &usize| inside.iter().any(|&part| self.runs_out(part, circuit));
            let circuits = (0..self.book.circuits.len()).filter(wet).collect();
            self.nodes[at].ends = ends;
            self.nodes[at].circuits = circuits;
        }
    }

    /// Whether a circuit runs out when a part is opened. A filler or a capped opening above the
    /// liquid does not let it run; a drain does.
    fn runs_out(&self, at: At, circuit: usize) -> bool {
        let part = self.part(at);
        let circuit = &self.book.circuits[circuit];
        let holds = |port: &book::Port| !port.open && carries(port, circuit);
        part.needs_drained
            .iter()
            .any(|mention| mention.id == circuit.id)
            || circuit.through.iter().any(|mention| mention.id == part.id)
            || circuit
                .drains
                .iter()
                .any(|mention| mention.id.part == part.id)
            || part.ports.iter().any(holds)
    }

    /// Whether a part must be on and fast before a circuit can be filled: it runs through it, or
    /// is filled or bled there.
    pub(crate) fn is_of_circuit(&self, at: At, circuit: usize) -> bool {
        let part = self.part(at);
        let book = &self.book.circuits[circuit];
        let mut served = book.fills.iter().chain(&book.bleeds);
        served.any(|mention| mention.id.part == part.id)
            || part.ports.iter().any(|port| carries(port, book))
            || self.runs_out(at, circuit)
    }
}

/// Whether a port carries the liquid of a circuit.
fn carries(port: &book::Port, circuit: &book::Circuit) -> bool {
    let medium = port.medium.known();
    medium.is_some_and(|medium| medium.is_liquid() && *medium == circuit.medium)
}

#[cfg(test)]
mod tests;
