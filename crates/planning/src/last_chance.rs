//! The last chance: what putting a part back on is about to cover, and no entry confirms.
//!
//! Putting X on covers an item when getting at it costs nothing before and something after.
//! While another way to it stays open at no cost it is not covered.

use book::PartId;

use crate::comeback::{Comeback, Costs};
use crate::graph::Graph;
use crate::item::{Item, Unconfirmed};
use crate::removal::Clearing;
use crate::standing::Standing;

/// One item that is about to be covered unconfirmed.
#[derive(Clone, Debug, PartialEq)]
pub struct LastChance {
    /// The part that covers it when it goes on.
    pub before: PartId,
    /// The item, and what is missing about it.
    pub item: Unconfirmed,
    /// What coming back for it costs from then on; nothing where no way leads back.
    pub comeback: Option<Comeback>,
}

/// What putting one part (with all that goes on in one piece with it) on now would cover, the
/// dearest first.
#[must_use]
pub fn last_chance(graph: &Graph, standing: &Standing, part: &PartId) -> Vec<LastChance> {
    let Some(at) = graph.at(part) else {
        return Vec::new();
    };
    let mut after = standing.clone();
    after.put_on(graph, at);
    let now = Clearing::new(graph, standing);
    let mut then = Clearing::new(graph, &after);
    let mut costs = Costs::default();
    let mut rows = Vec::new();
    for open in graph.unconfirmed(standing) {
        // What goes on with the part is not forgotten by putting it on.
        let goes_on = matches!(&open.item, Item::Part(other) if after.in_place(other));
        let clear = graph.item_access(&open.item);
        if goes_on || !now.is_clear(&clear) || then.is_clear(&clear) {
            continue;
        }
        rows.push(LastChance {
            before: part.clone(),
            comeback: costs.of(graph, &mut then, &after, &open.item),
            item: open,
        });
    }
    let minutes = |row: &LastChance| {
        row.comeback
            .as_ref()
            .map_or(f64::INFINITY, |cost| cost.takes.likely.in_seconds())
    };
    rows.sort_by(|one, other| {
        minutes(other)
            .total_cmp(&minutes(one))
            .then_with(|| one.item.cmp(&other.item))
    });
    rows
}

/// The parts that are off and could go on next: nothing they cover is still off.
#[must_use]
pub fn next_parts(graph: &Graph, standing: &Standing) -> Vec<PartId> {
    let off = |part: &PartId| standing.off.contains(part) || standing.aside.contains(part);
    let mut next = Vec::new();
    for unit in crate::sequence::units_back(graph, standing, &[]) {
        let id = &graph.part(unit.part).id;
        // A part that is off and has this one in its way must go on first.
        let waits = graph.book().parts.iter().any(|under| {
            let Some(under_at) = graph.at(&under.id) else {
                return false;
            };
            off(&under.id) && under.id != *id && graph.blockers(under_at).all.contains(&unit.part)
        });
        if !waits {
            next.push(id.clone());
        }
    }
    next
}

#[cfg(test)]
mod tests;
