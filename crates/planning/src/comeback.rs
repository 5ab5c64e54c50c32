//! What it costs to come back for a thing from the finished engine, for everything there is.
//!
//! The cost is that of getting there and back again, the thing's own work, and what has to be
//! new or filled again; with the sealants that must cure and the checks and gates to repeat.

use std::collections::{BTreeMap, BTreeSet};

use book::{CheckId, Critical, GateId, PartId, Ref};
use job::plan::Takes;
use quantity::Duration;

use crate::graph::{Clear, Graph};
use crate::item::Item;
use crate::removal::{Clearing, Held, Removal, both, no_time};
use crate::spend::Spend;
use crate::standing::Standing;

/// What coming back for one item costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Comeback {
    /// The item.
    pub item: Item,
    /// There, the work, and back.
    pub takes: Takes,
    /// No way takes less likely time.
    pub bound: Duration,
    /// What comes off, in order.
    pub parts: Vec<PartId>,
    /// What has to be new or filled again.
    pub spend: Spend,
    /// Checks to do again.
    pub checks: Vec<CheckId>,
    /// Gates to pass again.
    pub gates: Vec<GateId>,
    /// Parts among those whose minutes the book does not say: the time is at least this.
    pub untimed: Vec<PartId>,
}

impl Comeback {
    /// Whether no cheaper way exists.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.bound >= self.takes.likely
    }
}

/// Everything, worst first: by likely minutes, then by how much has to be new.
///
/// Items that nothing ever gets at again, because parts hold each other up, are left out and
/// returned beside.
#[must_use]
pub fn comeback(graph: &Graph, standing: &Standing) -> (Vec<Comeback>, Vec<Item>) {
    let whole = Standing::whole(standing.choices.clone());
    let mut clearing = Clearing::new(graph, &whole);
    let mut costs = Costs::default();
    let mut rows = Vec::new();
    let mut never = Vec::new();
    for item in graph.items() {
        match costs.of(graph, &mut clearing, &whole, &item) {
            Some(row) => rows.push(row),
            None => never.push(item),
        }
    }
    rows.sort_by(|one, other| {
        let key = |row: &Comeback| {
            (
                row.spend.one_use.len() + row.spend.fluids.len(),
                row.item.clone(),
            )
        };
        let by_time = other
            .takes
            .likely
            .in_seconds()
            .total_cmp(&one.takes.likely.in_seconds());
        let (one, other) = (key(one), key(other));
        by_time
            .then_with(|| other.0.cmp(&one.0))
            .then_with(|| one.1.cmp(&other.1))
    });
    (rows, never)
}

/// The costs of getting at things, worked out once for things got at the same way.
#[derive(Default)]
pub(crate) struct Costs {
    known: BTreeMap<Clear, Option<Comeback>>,
}

impl Costs {
    /// What coming back for an item costs from a standing; nothing where nothing gets there.
    pub(crate) fn of(
        &mut self,
        graph: &Graph,
        clearing: &mut Clearing<'_>,
        standing: &Standing,
        item: &Item,
    ) -> Option<Comeback> {
        let clear = graph.item_access(item);
        if !self.known.contains_key(&clear) {
            let found = clearing.cheapest(&clear);
            self.known
                .insert(clear.clone(), there(graph, standing, &found));
        }
        let mut row = self.known.get(&clear)?.clone()?;
        row.item = item.clone();
        if let Some(work) = graph.item_work(item) {
            row.takes = both(row.takes, work);
            row.bound = row.bound + work.likely;
        }
        if let Item::Fluid(circuit) = item {
            let book = graph.book().circuit(circuit);
            let capacity = book.and_then(|circuit| circuit.capacity.known().copied());
            if !row.spend.fluids.iter().any(|(other, _)| other == circuit) {
                row.spend.fluids.push((circuit.clone(), capacity));
            }
        }
        Some(row)
    }
}

/// Getting there and back, without the item.
pub(crate) fn there(
    graph: &Graph,
    standing: &Standing,
    found: &Result<Removal, Held>,
) -> Option<Comeback> {
    let removal = found.as_ref().ok()?;
    let mut takes = no_time();
    let mut untimed = Vec::new();
    for lift in &removal.lifts {
        let times = [graph.minutes_off(lift.part), graph.minutes_on(lift.part)];
        if times.iter().any(Option::is_none) {
            untimed.push(graph.part(lift.part).id.clone());
        }
        takes = times.into_iter().flatten().fold(takes, both);
    }
    let gone = removal.gone();
    let checks = graph
        .book()
        .checks
        .iter()
        .filter(|check| !graph.to_check(check).all.is_disjoint(&gone));
    let is_head = |lift: &crate::removal::Lift| {
        let joints = graph.nodes[lift.part].joints.iter();
        let mut joints = joints.map(|&joint| &graph.book().joints[joint]);
        joints.any(|joint| joint.critical == Some(Critical::Head))
    };
    let mut gates = Vec::new();
    if removal.lifts.iter().any(is_head) {
        gates.push(GateId::from("before-head-on"));
    }
    if turns(graph, &gone) {
        gates.push(GateId::from("turn-by-hand"));
    }
    if !removal.lifts.is_empty() {
        gates.push(GateId::from("fire"));
    }
    let part = |at: usize| graph.part(at).id.clone();
    Some(Comeback {
        item: Item::Part(PartId::from("")),
        takes,
        bound: Duration::seconds(removal.bound.work as f64).unwrap_or_default(),
        parts: removal.lifts.iter().map(|lift| part(lift.part)).collect(),
        spend: graph.spend(&removal.lifts, &standing.drained),
        checks: checks.map(|check| check.id.clone()).collect(),
        gates,
        untimed,
    })
}

/// Whether a cam drive or what a cam sits in is among these.
fn turns(graph: &Graph, gone: &BTreeSet<usize>) -> bool {
    let parts = graph
        .book()
        .shafts
        .iter()
        .flat_map(|shaft| shaft.drive_part.iter().chain(&shaft.sits_in));
    parts
        .into_iter()
        .filter_map(|part| graph.at(&part.id))
        .any(|at| gone.contains(&at))
}

/// What an item stands for in the book.
#[must_use]
pub fn target_of(item: &Item) -> Ref {
    match item {
        Item::Part(part) => Ref::Part(part.clone()),
        Item::Fasteners(joint, _) | Item::Seal(joint, _) => Ref::Joint(joint.clone()),
        Item::End(line, _) => Ref::Line(line.clone()),
        Item::Temporary(item) => Ref::Temporary(item.clone()),
        Item::Check(check) => Ref::Check(check.clone()),
        Item::Reading(limit) => Ref::Limit(limit.clone()),
        Item::Fluid(circuit) => Ref::Circuit(circuit.clone()),
    }
}

#[cfg(test)]
mod tests;
