//! Mix-ups: what could physically go back in the wrong place, what would happen, and the
//! cheapest act that makes it impossible or visible.
//!
//! ```text
//! fit ──► arrange ──► ends ─┐
//!           fasteners ──────┼─► Mixup, worst first ──► answer, tags
//!           parts ──────────┘        ▲
//!                     consequence ───┘
//! ```
//!
//! What cannot be told for want of a fact is no mix-up but an [`Open`] question.

pub mod arrange;
pub mod consequence;
mod fit;

mod ends;
mod fasteners;
mod parts;
mod leads;

mod answer;
mod board;
mod map;
mod discovery;
mod tags;

pub use answer::{mixups, mixups_of};
pub use consequence::{Consequence, Shows};
pub use discovery::{Ages, open_ends};
pub use fit::Missing;
pub use leads::lead_map;
pub use map::ends;
pub(crate) use map::tag as tag_of;
pub use tags::tags;

use std::collections::BTreeSet;

use book::{LineId, Medium, PartId};
use job::{Named, State};

use crate::graph::Graph;

/// How things are exchanged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// Two change places.
    Swap,
    /// Three go round.
    Rotation,
    /// One takes the place of another, which is left over.
    Takes,
    /// One sits where nothing belongs.
    Unused,
    /// One is left off.
    LeftOff,
    /// One is turned round or over in its own place.
    Turned,
}

impl How {
    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Swap => "exchanged",
            Self::Rotation => "rotated",
            Self::Takes => "takes its place",
            Self::Unused => "on an unused port",
            Self::LeftOff => "left off",
            Self::Turned => "turned",
        }
    }
}

/// One way things can go back wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixup {
    /// How.
    pub how: How,
    /// The thing: an end as `line.from`, a part, a group of bolts.
    pub a: String,
    /// What it is exchanged with.
    pub b: String,
    /// Where `a` and `b` belong, for ends.
    pub homes: [String; 2],
    /// Others of the same family with the same consequence.
    pub others: Vec<String>,
    /// In how many ways this family can go together wrong, where it is a family.
    pub ways: Option<u64>,
    /// What runs through `a`.
    pub medium_a: Option<Medium>,
    /// What runs through `b`.
    pub medium_b: Option<Medium>,
    /// What it does.
    pub does: Consequence,
    /// The cheapest act against it.
    pub act: String,
    /// What makes it safe already: a tag, a mark, a check.
    pub secured: Option<String>,
    /// Ends that take part: the line, and 0 for `from`, 1 for `to`.
    pub ends: BTreeSet<(LineId, usize)>,
    /// Parts that take part.
    pub parts: BTreeSet<PartId>,
    /// How sure the book is of it: stated reach counts, so does lying on each other.
    pub(crate) nearness: u32,
}

impl Mixup {
    /// Whether a thing takes part: an end, a line by either end, a part, a joint by its bolts.
    pub(crate) fn concerns(&self, thing: &Named) -> bool {
        match thing {
            Named::Part(part) => self.parts.contains(part),
            Named::Joint(joint) => self.homes.iter().any(|home| home == joint.as_str()),
            Named::Line(line) => self.ends.iter().any(|(other, _)| other == line),
            Named::End(line, end) => self.ends.contains(&(line.clone(), *end)),
            Named::Circuit(_) => false,
        }
    }
}

/// A fact without which a mix-up can be neither told nor ruled out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Open {
    /// What is missing.
    pub missing: Missing,
    /// Of which ends or ports.
    pub of: BTreeSet<String>,
    /// The worst that could follow.
    pub worst: String,
}

/// Everything found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mixups {
    /// Mix-ups, worst first.
    pub found: Vec<Mixup>,
    /// Ends left off, a row a medium: not an exchange, and counted by the ledger.
    pub left_off: Vec<Mixup>,
    /// What could not be told.
    pub open: Vec<Open>,
    /// Rotations of three ends, those that are not listed among them.
    pub rotations: usize,
}

/// Finds every mix-up of a job.
#[must_use]
pub fn find(graph: &Graph, state: &State) -> Mixups {
    let mut all = ends::find(graph, state);
    all.found.extend(fasteners::find(graph, state));
    all.found.extend(parts::find(graph, state));
    // Stable: within a grade what shows last stands first, then what is surest, then book order.
    all.found.sort_by(|one, other| {
        let key = |it: &Mixup| (it.does.grade, it.does.shows, it.nearness);
        key(other).cmp(&key(one))
    });
    all
}

#[cfg(test)]
mod tests;
