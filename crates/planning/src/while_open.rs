//! What else lies open once a target is got at, and what coming back for it later would cost.
//! Wearing parts first.

use book::{PartId, Ref};
use job::plan::Takes;

use crate::access::AccessFault;
use crate::comeback::{Comeback, Costs};
use crate::graph::{At, Graph};
use crate::item::Item;
use crate::removal::{Clearing, both, no_time};
use crate::standing::Standing;

/// One thing that is within reach meanwhile.
#[derive(Clone, Debug, PartialEq)]
pub struct Open {
    /// The thing: a part or a check.
    pub item: Item,
    /// It wears and is best renewed while it is out.
    pub wears: bool,
    /// It is off anyway.
    pub off: bool,
    /// What it takes now, beyond what is done anyway.
    pub now: Takes,
    /// What coming back for it later takes.
    pub later: Comeback,
}

impl Open {
    /// Seconds saved by doing it now.
    #[must_use]
    pub fn saved_seconds(&self) -> f64 {
        self.later.takes.likely.in_seconds() - self.now.likely.in_seconds()
    }
}

/// What else lies open when the targets are got at the cheapest way.
///
/// # Errors
/// [`AccessFault`] when a target is none. A target nothing gets at leaves nothing open.
pub fn while_open(
    graph: &Graph,
    standing: &Standing,
    targets: &[Ref],
) -> Result<Vec<Open>, AccessFault> {
    let mut clear = crate::graph::Clear::default();
    for target in targets {
        clear = clear.and(&graph.access(target)?);
    }
    let Ok(removal) = Clearing::new(graph, standing).cheapest(&clear) else {
        return Ok(Vec::new());
    };
    let mut open = standing.clone();
    for lift in &removal.lifts {
        open.take_off(graph, lift.part);
    }
    let then = Clearing::new(graph, &open);
    let whole = Standing::whole(standing.choices.clone());
    let mut from_whole = Clearing::new(graph, &whole);
    let mut costs = Costs::default();
    let mut rows = Vec::new();
    let named = |part: &PartId| targets.contains(&Ref::Part(part.clone()));
    for at in
        (0..graph.nodes.len()).filter(|&at| !graph.nodes[at].fixed && !named(&graph.part(at).id))
    {
        let off = open.off.contains(&graph.part(at).id);
        if !off && !then.is_clear(&graph.blockers(at)) {
            continue;
        }
        let part = graph.part(at);
        let wears = part.wearing.known() == Some(&true);
        // What is off anyway is worth a word only when it is best renewed meanwhile.
        if off && !wears {
            continue;
        }
        let now = if off { no_time() } else { own_time(graph, at) };
        let later = later_part(graph, &mut from_whole, &whole, at);
        rows.extend(later.map(|later| Open {
            item: Item::Part(part.id.clone()),
            wears,
            off,
            now,
            later,
        }));
    }
    for check in graph
        .book()
        .checks
        .iter()
        .filter(|check| !standing.checks.contains(&check.id))
    {
        let item = Item::Check(check.id.clone());
        if then.is_clear(&graph.to_check(check)) {
            let later = costs.of(graph, &mut from_whole, &whole, &item);
            let now = graph.item_work(&item).unwrap_or_else(no_time);
            rows.extend(later.map(|later| Open {
                item,
                wears: false,
                off: false,
                now,
                later,
            }));
        }
    }
    // Less than a minute saved is nothing to speak of.
    rows.retain(|row| row.saved_seconds() >= 60.0);
    rows.sort_by(|one, other| {
        let first = other.wears.cmp(&one.wears);
        first
            .then_with(|| other.saved_seconds().total_cmp(&one.saved_seconds()))
            .then_with(|| one.item.cmp(&other.item))
    });
    Ok(rows)
}

/// A part's own minutes, off and on.
fn own_time(graph: &Graph, at: At) -> Takes {
    let times = [graph.minutes_off(at), graph.minutes_on(at)];
    times.into_iter().flatten().fold(no_time(), both)
}

/// What taking a part off and on again costs from the finished engine.
fn later_part(
    graph: &Graph,
    clearing: &mut Clearing<'_>,
    whole: &Standing,
    at: At,
) -> Option<Comeback> {
    let found = clearing.cheapest(&crate::graph::Clear::part(at));
    let mut later = crate::comeback::there(graph, whole, &found)?;
    later.item = Item::Part(graph.part(at).id.clone());
    Some(later)
}

#[cfg(test)]
mod tests;
