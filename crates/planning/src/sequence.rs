//! The order of work: the way off and the way back, with the reason of every wait.
//!
//! The way off follows the removal: what is in the way first, fluid out before what would let
//! it run, fasteners and ends before the part. The way back is the way off reversed, with the
//! exceptions the book declares as rules; a rule wins over the reversal it contradicts. Checks
//! come before what hides them, and before one-use bolts and gaskets they could spoil. Among the orders that obey
//! all this the one with least walking and tool changing is looked for with
//! [`crate::order`].
//!
//! Nothing here knows people or days; that is the matter of [`crate::crew`].

use std::collections::BTreeSet;

use book::{Ref, Shop};
use job::plan::{Basis, Because, Plan, Step, StepName, Wait, WayTaken};
use quantity::Duration;

use crate::access::AccessFault;
use crate::graph::{At, Clear, Graph};
use crate::order::{self, Problem};
use crate::removal::{Clearing, Held, Lift};
use crate::standing::Standing;
use crate::{Budget, Stop};

mod apart;
mod draft;
mod reversed;
mod together;
mod travel;

use draft::Draft;
pub use reversed::{Question, Reversed, reversed};
pub use travel::{TOOL_CHANGE, WALK};

/// Rounds of pricing for the bound where the search had no time for it.
const PRICINGS: u64 = 20;

/// What the order is wanted for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wish {
    /// The way off to these; none: to every part of the book.
    pub targets: Vec<Ref>,
    /// Which way is wanted.
    pub legs: Legs,
}

/// Which way is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Legs {
    /// The way off only.
    Apart,
    /// The way back of what is off now.
    Together,
    /// The way off, then the way back.
    Both,
}

/// Why there is no order.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SequenceFault {
    /// A target cannot be asked for.
    #[error(transparent)]
    Access(#[from] AccessFault),
    /// Parts hold each other up, or the way leads through a part that never comes off.
    #[error("these hold each other up, and no way leads out: {}", listed(.0))]
    Held(Vec<Ref>),
    /// Rules and what is in the way contradict each other.
    #[error("each of these waits for the one before it, round in a circle: {}", circle(.0))]
    Circle(Vec<Wait>, StepName),
    /// More steps than can be ordered at once, or a search that failed.
    #[error("{0}")]
    Search(String),
}

fn listed(parts: &[Ref]) -> String {
    let names: Vec<String> = parts.iter().map(ToString::to_string).collect();
    names.join(", ")
}

fn circle(waits: &[Wait]) -> String {
    let names: Vec<String> = waits
        .iter()
        .map(|wait| format!("{} ({})", wait.first, wait.because.words()))
        .collect();
    names.join("; ")
}

/// Looks for the order of work. `better` hears of the first valid plan at once and of every
/// improvement after it.
///
/// # Errors
/// [`SequenceFault`] names the target, the parts or the circle of waits that leave no order.
pub fn sequence(
    graph: &Graph,
    standing: &Standing,
    wish: &Wish,
    shop: Option<&Shop>,
    budget: &Budget,
    stop: &Stop,
    better: &mut dyn FnMut(&Plan),
) -> Result<Plan, SequenceFault> {
    let lifts = match wish.legs {
        Legs::Together => Vec::new(),
        Legs::Apart | Legs::Both => way_off(graph, standing, &wish.targets)?,
    };
    let mut drafts = Vec::new();
    if wish.legs != Legs::Together {
        drafts.push(apart::draft(graph, standing, &lifts));
    }
    if wish.legs != Legs::Apart {
        drafts.push(together::draft(graph, standing, &lifts));
    }
    let ways = ways_taken(graph, &lifts);
    let share = Budget {
        moves: budget.moves / drafts.len().max(1) as u64,
        ..*budget
    };
    let mut plan = Plan {
        steps: Vec::new(),
        ways,
        basis: Basis::Book,
        between: Duration::default(),
        bound: Duration::default(),
    };
    let problems: Vec<(Draft, Problem)> = drafts
        .into_iter()
        .map(|draft| draft.problem(shop).map(|problem| (draft, problem)))
        .collect::<Result<_, _>>()?;
    // The first order of every leg is known at once, so that the first plan heard of is whole.
    let first: Vec<(Vec<Step>, u64)> = problems
        .iter()
        .map(|(draft, problem)| first_order(draft, problem))
        .collect();
    better(&assembled(
        &plan,
        first
            .iter()
            .map(|(steps, value)| (steps.clone(), *value, 0)),
    ));
    let mut legs: Vec<(Vec<Step>, u64, u64)> = first
        .into_iter()
        .map(|(steps, value)| (steps, value, 0))
        .collect();
    for (leg, (draft, problem)) in problems.iter().enumerate() {
        let mut hear = |order: &[usize], value: u64| {
            if value < legs[leg].1 {
                legs[leg] = (draft.in_order(order), value, 0);
                better(&assembled(&plan, legs.iter().cloned()));
            }
        };
        let solution = order::search(problem, &share, stop, &mut hear);
        let bound = match solution.bound {
            // A short budget ends before the search has priced anything.
            0 if !stop.raised() => order::lower_bound(problem, solution.value, PRICINGS, stop),
            bound => bound,
        };
        legs[leg] = (draft.in_order(&solution.order), solution.value, bound);
    }
    plan = assembled(&plan, legs.into_iter());
    Ok(plan)
}

/// The first order the search hands over, without any move.
fn first_order(draft: &Draft, problem: &Problem) -> (Vec<Step>, u64) {
    let stop = Stop::new();
    stop.raise();
    let solution = order::search(problem, &Budget::moves(0), &stop, &mut |_, _| {});
    (draft.in_order(&solution.order), solution.value)
}

/// One plan of its legs.
fn assembled(plan: &Plan, legs: impl Iterator<Item = (Vec<Step>, u64, u64)>) -> Plan {
    let mut plan = plan.clone();
    let (mut between, mut bound) = (0, 0);
    for (steps, value, least) in legs {
        plan.steps.extend(steps);
        between += value;
        bound += least;
    }
    plan.between = travel::duration(between);
    plan.bound = travel::duration(bound);
    plan
}

/// The parts to take off for some targets, or all of the book.
fn way_off(
    graph: &Graph,
    standing: &Standing,
    targets: &[Ref],
) -> Result<Vec<Lift>, SequenceFault> {
    let mut clear = Clear::default();
    if targets.is_empty() {
        clear.all = (0..graph.nodes.len())
            .filter(|&at| !graph.nodes[at].fixed)
            .collect();
    }
    for target in targets {
        clear = clear.and(&graph.access(target)?);
    }
    let found = Clearing::new(graph, standing).cheapest(&clear);
    let removal = found.map_err(|held| match held {
        Held::By(parts) => SequenceFault::Held(
            parts
                .iter()
                .map(|&at| Ref::Part(graph.part(at).id.clone()))
                .collect(),
        ),
        Held::Solver(reason) => SequenceFault::Search(reason),
    })?;
    Ok(removal.lifts)
}

fn ways_taken(graph: &Graph, lifts: &[Lift]) -> Vec<WayTaken> {
    let mut taken = Vec::new();
    for lift in lifts {
        let numbers = &graph.nodes[lift.part].group_numbers;
        for (&group, &way) in numbers.iter().zip(&lift.ways) {
            taken.push(WayTaken {
                part: graph.part(lift.part).id.clone(),
                group,
                way,
            });
        }
    }
    taken
}

/// The units that go back on, as if they had come off in an order in which each was free: what
/// is off or aside now, and what the way off takes off.
///
/// How parts that are off now came off does not matter, only how they can go back. Something
/// that can never have been free comes last, with no way taken.
pub(crate) fn units_back(graph: &Graph, standing: &Standing, lifts: &[Lift]) -> Vec<Lift> {
    let before = standing.off.iter().chain(&standing.aside);
    let mut left: BTreeSet<At> = before.filter_map(|part| graph.at(part)).collect();
    let mut gone = BTreeSet::new();
    let mut units = Vec::new();
    loop {
        let free = |at: &&At| graph.blockers(**at).holds(&gone);
        // Who brings others goes first, so that what was lifted together goes back together.
        let most = |at: &&At| std::cmp::Reverse(graph.nodes[**at].unit.intersection(&left).count());
        let next = left.iter().filter(free).min_by_key(most).copied();
        let Some(part) = next.or_else(|| left.first().copied()) else {
            break;
        };
        let ways = graph.nodes[part].needs.any.iter().map(|group| {
            let open = |way: &Vec<At>| way.iter().all(|other| gone.contains(other));
            group.iter().position(open).unwrap_or(usize::MAX)
        });
        let ways = ways.collect();
        left.remove(&part);
        let carried =
            |member: &&At| left.contains(*member) && still_joined(graph, standing, **member, part);
        let with: Vec<At> = graph.nodes[part]
            .unit
            .iter()
            .filter(carried)
            .copied()
            .collect();
        for member in &with {
            left.remove(member);
        }
        gone.insert(part);
        gone.extend(&with);
        units.push(Lift { part, ways, with });
    }
    units.extend(lifts.iter().cloned());
    units
}

/// Whether no joint between a part and the unit it came off with was opened.
fn still_joined(graph: &Graph, standing: &Standing, member: At, carrier: At) -> bool {
    let mut unit = graph.nodes[carrier].unit.clone();
    unit.insert(carrier);
    let inside = |part: &book::PartId| graph.at(part).is_some_and(|at| unit.contains(&at));
    let id = &graph.part(member).id;
    let mut between = graph.book().joints.iter().filter(|joint| {
        (joint.of == *id || joint.to.id == *id) && inside(&joint.of) && inside(&joint.to.id)
    });
    !between.any(|joint| crate::step::half_open(standing, joint))
}

/// The parts in the way of a unit at its turn: what it needs off, by the ways it took.
pub(crate) fn in_the_way(graph: &Graph, lift: &Lift) -> Vec<(At, Because)> {
    let node = &graph.nodes[lift.part];
    let needs = node.needs.all.iter().map(|&at| (at, Because::InTheWay));
    let mounted = node.mounted.iter().map(|&at| (at, Because::MountedOn));
    let ways = node
        .needs
        .any
        .iter()
        .zip(&lift.ways)
        .filter_map(|(group, &way)| group.get(way));
    let by_way = ways.flatten().map(|&at| (at, Because::InTheWay));
    needs.chain(by_way).chain(mounted).collect()
}

#[cfg(test)]
mod tests;
