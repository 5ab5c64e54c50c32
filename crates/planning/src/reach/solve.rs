//! The search: branch on a broken part or way, cut off what no order can do, keep the
//! cheapest set seen.

use microlp::Solution as Relaxed;

use super::greedy::{first_set, prune};
use super::implied::Implied;
use super::relax::{Cut, Goal, Model, fix};
use super::{Cost, Fault, Problem, Removal};
use crate::{Budget, Stop};

/// Rounds of cuts at one node before branching.
const CUT_ROUNDS: usize = 40;

/// Bounds below a whole number by less than this count as the number.
const SLACK: f64 = 1e-4;

/// What a search found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// The parts to take off, in an order in which each is free at its turn.
    pub removals: Vec<Removal>,
    /// What that costs.
    pub value: Cost,
    /// Nothing that reaches the targets costs less than this.
    pub bound: Cost,
    /// Linear programmes solved.
    pub moves: u64,
}

impl Solution {
    /// Whether nothing cheaper reaches the targets.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.bound >= self.value
    }
}

/// Looks for the cheapest removals that reach the targets. `better` hears of the first
/// set at once and then of every improvement.
///
/// A move is one linear programme solved; one thread is used whatever the budget says.
///
/// # Errors
/// [`Fault::Stuck`] when a target cannot come off at all; [`Fault::Solver`] when the
/// solver of linear programmes fails.
pub fn solve(
    problem: &Problem,
    budget: &Budget,
    stop: &Stop,
    better: &mut dyn FnMut(&[Removal], Cost),
) -> Result<Solution, Fault> {
    let implied = Implied::of(problem)?;
    let weight: Vec<f64> = problem.parts.iter().map(|p| p.cost.work as f64).collect();
    let (removals, value) = prune(problem, &first_set(problem, &weight))
        .or_else(|| prune(problem, &implied.loose))
        .ok_or_else(|| Fault::Solver("the first set does not reach the targets".to_owned()))?;
    better(&removals, value);
    let mut search = Search {
        problem,
        implied: &implied,
        limit: budget.moves,
        stop,
        better,
        cuts: Vec::new(),
        solution: Solution {
            removals,
            value,
            bound: Cost::default(),
            moves: 0,
        },
    };
    let work = search.run(Goal::Work)?;
    search.solution.bound.work = work;
    if work == search.solution.value.work {
        let costs_money = |p: &super::Part| {
            let extras = p.choices.iter().flatten().map(|w| w.extra.money);
            p.cost.money > 0 || extras.into_iter().any(|m| m > 0)
        };
        search.solution.bound.money = if problem.parts.iter().any(costs_money) {
            search.run(Goal::Money { work })?
        } else {
            0
        };
    }
    Ok(search.solution)
}

struct Search<'a> {
    problem: &'a Problem,
    implied: &'a Implied,
    limit: u64,
    stop: &'a Stop,
    better: &'a mut dyn FnMut(&[Removal], Cost),
    /// Every cut found for the programme at hand; all hold everywhere.
    cuts: Vec<Cut>,
    solution: Solution,
}

impl Search<'_> {
    /// Searches for one goal until nothing better is left; returns the bound proved.
    fn run(&mut self, goal: Goal) -> Result<u64, Fault> {
        self.cuts.clear();
        let (model, root) = Model::new(self.problem, self.implied, goal)?;
        self.solution.moves += 1;
        let mut open: Vec<Relaxed> = root.into_iter().collect();
        while let Some(node) = open.pop() {
            if self.over() {
                open.push(node);
                let lowest = open.iter().map(|n| whole(n.objective())).min();
                return Ok(lowest.unwrap_or(0).min(self.goal(goal)));
            }
            let Some(node) = self.cut(&model, node, goal)? else {
                continue;
            };
            let Some(variable) = model.most_broken(&node) else {
                // Whole, and no cut is broken: it is a set with an order.
                let removals = model.removals(&node);
                if let Some(value) = self.problem.value(&removals) {
                    self.keep(removals, value);
                }
                continue;
            };
            let likely = node.var_value(variable).round();
            for value in [1.0 - likely, likely] {
                self.solution.moves += 1;
                open.extend(fix(node.clone(), variable, value)?);
            }
        }
        Ok(self.goal(goal))
    }

    fn over(&self) -> bool {
        self.stop.raised() || self.solution.moves >= self.limit
    }

    /// The part of the best value that this goal is about.
    fn goal(&self, goal: Goal) -> u64 {
        match goal {
            Goal::Work => self.solution.value.work,
            Goal::Money { .. } => self.solution.value.money,
        }
    }

    /// Adds cuts to a node until it breaks none, looking for sets on the way. `None`
    /// when nothing better is left in it.
    fn cut(
        &mut self,
        model: &Model,
        mut node: Relaxed,
        goal: Goal,
    ) -> Result<Option<Relaxed>, Fault> {
        for round in 0.. {
            if whole(node.objective()) >= self.goal(goal) {
                return Ok(None);
            }
            self.look(model, &node);
            if whole(node.objective()) >= self.goal(goal) {
                return Ok(None);
            }
            let mut broken: Vec<Cut> = self
                .cuts
                .iter()
                .filter(|c| c.broken_by(&node))
                .cloned()
                .collect();
            if broken.is_empty() {
                broken = model.cuts(&node);
                self.cuts.extend(broken.iter().cloned());
            }
            let enough = round >= CUT_ROUNDS && model.most_broken(&node).is_some();
            if broken.is_empty() || enough || self.over() {
                return Ok(Some(node));
            }
            for cut in broken {
                self.solution.moves += 1;
                match cut.add_to(node)? {
                    Some(left) => node = left,
                    None => return Ok(None),
                }
            }
        }
        Ok(Some(node))
    }

    /// Looks for a set near the relaxed solution: parts it takes look cheap.
    fn look(&mut self, model: &Model, node: &Relaxed) {
        let taken = model.taken(node);
        let parts = self.problem.parts.iter().zip(&taken);
        let weight: Vec<f64> = parts
            .map(|(p, x)| (p.cost.work as f64 + 1e-3) * (1.0 - x).max(0.0))
            .collect();
        if let Some((removals, value)) = prune(self.problem, &first_set(self.problem, &weight)) {
            self.keep(removals, value);
        }
    }

    fn keep(&mut self, removals: Vec<Removal>, value: Cost) {
        if value < self.solution.value {
            (self.better)(&removals, value);
            self.solution.removals = removals;
            self.solution.value = value;
        }
    }
}

/// The least whole number not below a bound computed in floating point.
fn whole(bound: f64) -> u64 {
    (bound - SLACK - bound.abs() * 1e-9).ceil().max(0.0) as u64
}
