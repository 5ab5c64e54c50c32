//! After an entry: does tomorrow or a purchase change? One line, or nothing.
//!
//! The calendar of the way back is laid as it stood before the entry and as it stands after it,
//! with small budgets and in the order people already know. Entries that cannot change it are not
//! asked about, so that logging stays quick.

use jiff::civil::Date;
use job::plan::Plan;
use job::{Act, Entry, State, Where};
use planning::calendar::{Calendar, again, change};
use planning::sequence::{Legs, Wish};
use planning::{Budget, Graph, Standing};
use report::{Finding, Weight};

use crate::calendar::{day_of, done};
use crate::folder::Folder;
use crate::sequence::order;

/// Moves of the search for the order, and orders of the tasks tried: enough to compare two plans
/// that are made the same way, no more.
const MOVES: u64 = 5_000;
const ORDERS: u64 = 4;

/// What the entries just stored change about the next act or a purchase; `before` is the state
/// they met.
pub(crate) fn changed(folder: &Folder, before: &State, stored: &[Entry]) -> Option<Finding> {
    let last = stored.iter().rev().find(|entry| stirs(&entry.act))?;
    let first = day_of(last.at)?;
    let old = laid(folder, before, first, &[])?;
    let kept = old.0.order(&old.1);
    let new = laid(folder, &folder.state, first, &kept)?;
    let says = change((&old.0, &old.1), (&new.0, &new.1))?;
    let finding = Finding::new("plan-changed", "", says).next("matchmark calendar shows it whole");
    Some(finding.weight(Weight::Note))
}

/// Whether an entry can change what comes next or what is to be bought. What was done as it was
/// planned changes neither.
fn stirs(act: &Act) -> bool {
    match act {
        Act::Ordered(_)
        | Act::Arrived { .. }
        | Act::SentOut(_)
        | Act::Back { .. }
        | Act::Replaced { .. }
        | Act::Chosen { .. }
        | Act::Undone { .. }
        | Act::Corrected { .. } => true,
        Act::Off { new, .. } | Act::On { new, .. } | Act::Aside { new, .. } => *new,
        _ => false,
    }
}

/// The calendar of the way back from a state; nothing where nobody is here, nothing is off, or
/// there is no plan.
fn laid(
    folder: &Folder,
    state: &State,
    first: Date,
    kept: &[job::plan::StepName],
) -> Option<(Calendar, Plan)> {
    let shop = folder.shop.as_ref()?;
    let mut parts = state.parts.values();
    if !state.has_book || !parts.any(|part| matches!(part.state, Where::Off | Where::Aside)) {
        return None;
    }
    let graph = Graph::new(&state.known, &Standing::from(state).choices);
    let wish = Wish {
        targets: Vec::new(),
        legs: Legs::Together,
    };
    let plan = order(state, Some(shop), &graph, &wish, &Budget::moves(MOVES)).ok()?;
    let done = done(folder, state, first);
    let budget = Budget::moves(ORDERS);
    let calendar = again(&graph, &plan, shop, first, &done, kept, &budget).ok()?;
    Some((calendar, plan))
}
