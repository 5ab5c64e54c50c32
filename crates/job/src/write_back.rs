//! The state as a build book the next person can start from.

use book::{Book, PartId};
use report::Ask;

use crate::state::State;

/// A book written back, and what it could not know.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The book: what it said before, and everything met since.
    pub book: Book,
    /// What nobody said and the next person would want to know; and where entries and the
    /// book differ, which of the two stands.
    pub asks: Vec<Ask>,
}

/// Makes a book of everything that is known.
///
/// The order of taking apart is not written as *needs-off*: having come off later is not
/// being blocked. Facts that were never said are left out, never invented.
#[must_use]
pub fn write_back(state: &State) -> Written {
    let mut book = state.known.clone();
    let mut asks = Vec::new();
    if book.title.is_none() {
        book.title = Some("Written back from the record".to_owned());
    }
    for joint in &book.joints {
        if joint.to.id.as_str() == "rest-of-vehicle" {
            asks.push(Ask::new(
                format!("what {} was held to", joint.of),
                "the book needs both sides of a joint",
                format!("correct its entry: `off {} from PART: …`", joint.of),
            ));
        }
        let unknown = |hole: &&book::Hole| hole.holds == book::Holds::Bolt && hole.length.is_open();
        let open: Vec<&str> = joint
            .holes
            .iter()
            .filter(unknown)
            .map(|hole| hole.name.as_str())
            .collect();
        if !open.is_empty() && state.met.contains_key(joint.id.as_str()) {
            asks.push(Ask::new(
                format!("bolt lengths of {}, holes {}", joint.of, open.join(", ")),
                "bolts of different lengths are mixed up when nobody wrote them down",
                "measure the bolts in the bag and correct the entry",
            ));
        }
    }
    for it in state
        .findings
        .iter()
        .filter(|it| it.finding.code == "not-in-book")
    {
        asks.push(Ask::new(
            it.finding.says.clone(),
            format!("entry {} and the book differ; both are kept", it.entry),
            "change the book if the entry is right; correct the entry if the book is",
        ));
    }
    differing_lengths(state, &mut asks);
    Written { book, asks }
}

/// Holes where another length came out than the book has.
fn differing_lengths(state: &State, asks: &mut Vec<Ask>) {
    for (joint, held) in &state.joints {
        for (name, hole) in &held.holes {
            let known = state
                .known
                .joint(joint)
                .and_then(|known| known.hole(name))
                .and_then(|hole| hole.length.known());
            let seen = hole.came_out.as_ref().and_then(|item| item.length);
            if let (Some(known), Some(seen)) = (known, seen)
                && !crate::item::same_length(known, &seen)
            {
                asks.push(Ask::new(
                    format!(
                        "{joint}, hole {name}: {} mm in the book, {} mm came out",
                        crate::mm(*known),
                        crate::mm(seen)
                    ),
                    format!("entry {} and the book differ; both are kept", hole.since),
                    "measure the depth of the hole, then change the book or the bolt",
                ));
            }
        }
    }
}

impl State {
    /// Parts still away from their place, in the order to put them back if nothing else is
    /// known: the record reversed.
    #[must_use]
    pub fn way_back(&self) -> Vec<PartId> {
        let mut away: Vec<_> = self
            .parts
            .iter()
            .filter(|(id, _)| self.is_away(id))
            .collect();
        away.sort_by_key(|(_, held)| std::cmp::Reverse(held.since));
        away.into_iter().map(|(id, _)| id.clone()).collect()
    }
}
