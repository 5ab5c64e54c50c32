//! The linear programme behind the search: how much of each part is taken and of each
//! way is used, if parts could be taken in halves, and the rows that forbid what no
//! order of removals can do.

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Solution, SolveOutcome, Variable};
use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;

use super::greedy::peel;
use super::implied::Implied;
use super::{Cost, Fault, Problem, Removal};

/// Smaller differences count as none.
const EPSILON: f64 = 1e-6;

/// Which part of the cost is made small.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Goal {
    /// Work alone.
    Work,
    /// Money, among answers that take no more work than this.
    Money {
        /// The least work.
        work: u64,
    },
}

/// One part as the programme sees it: single ways have become needs.
#[derive(Debug)]
struct Item {
    part: usize,
    taken: Variable,
    needs: Vec<usize>,
    choices: Vec<Vec<Use>>,
    /// By choice of the part: the one way left, where only one is.
    single: Vec<Option<usize>>,
}

/// One way as the programme sees it.
#[derive(Debug)]
struct Use {
    used: Variable,
    choice: usize,
    way: usize,
    blockers: Vec<usize>,
    /// Parts taken whenever this way is used.
    implied: Vec<usize>,
}

/// A row `sum of factor · variable >= 0`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cut(Vec<(Variable, f64)>);

/// The programme with its variables.
#[derive(Debug)]
pub(super) struct Model<'a> {
    problem: &'a Problem,
    items: Vec<Item>,
    /// By part: its place among the items.
    item: Vec<Option<usize>>,
}

impl<'a> Model<'a> {
    /// Builds the programme and solves it without cuts. `None`: no answer at all, which
    /// only a limit on work can bring about.
    pub(super) fn new(
        problem: &'a Problem,
        implied: &Implied,
        goal: Goal,
    ) -> Result<(Self, Option<Solution>), Fault> {
        let mut programme = microlp::Problem::new(OptimizationDirection::Minimize);
        let weigh = |cost: Cost| match goal {
            Goal::Work => cost.work as f64,
            Goal::Money { .. } => cost.money as f64,
        };
        let mut work: Vec<(Variable, f64)> = Vec::new();
        let mut item = vec![None; problem.parts.len()];
        let mut items = Vec::new();
        for p in (0..problem.parts.len()).filter(|&p| implied.useful[p]) {
            let part = &problem.parts[p];
            let mut cost = part.cost;
            let mut needs = part.needs.clone();
            let mut choices = Vec::new();
            let mut single = vec![None; part.choices.len()];
            for (c, open) in implied.ways[p].iter().enumerate() {
                if let [only] = open[..] {
                    single[c] = Some(only);
                    cost = cost + part.choices[c][only].extra;
                    needs.extend(&part.choices[c][only].blockers);
                    continue;
                }
                let uses = open.iter().map(|&w| {
                    let way = &part.choices[c][w];
                    let used = programme.add_var(weigh(way.extra), (0.0, 1.0));
                    work.push((used, way.extra.work as f64));
                    let set = implied.by_way(problem, p, c, w);
                    Use {
                        used,
                        choice: c,
                        way: w,
                        blockers: way.blockers.clone(),
                        implied: (0..problem.parts.len())
                            .filter(|&q| set.contains(q))
                            .collect(),
                    }
                });
                choices.push(uses.collect());
            }
            needs.sort_unstable();
            needs.dedup();
            let low = if implied.forced.contains(&p) {
                1.0
            } else {
                0.0
            };
            let taken = programme.add_var(weigh(cost), (low, 1.0));
            work.push((taken, cost.work as f64));
            item[p] = Some(items.len());
            items.push(Item {
                part: p,
                taken,
                needs,
                choices,
                single,
            });
        }
        let model = Self {
            problem,
            items,
            item,
        };
        model.add_rows(&mut programme);
        if let Goal::Money { work: limit } = goal {
            programme.add_constraint(&work[..], ComparisonOp::Le, limit as f64);
        }
        let solved = outcome(programme.solve())?;
        Ok((model, solved))
    }

    /// The rows that stand from the beginning.
    fn add_rows(&self, programme: &mut microlp::Problem) {
        for item in &self.items {
            for uses in &item.choices {
                let mut row: Vec<_> = uses.iter().map(|u| (u.used, 1.0)).collect();
                row.push((item.taken, -1.0));
                programme.add_constraint(&row[..], ComparisonOp::Eq, 0.0);
                let mut asking: BTreeMap<usize, Vec<Variable>> = BTreeMap::new();
                for u in uses {
                    for &b in &u.blockers {
                        asking.entry(b).or_default().push(u.used);
                    }
                }
                for (b, used) in asking {
                    let mut row = self.off(b);
                    row.retain(|&(v, _)| v != item.taken);
                    row.extend(used.into_iter().map(|v| (v, -1.0)));
                    programme.add_constraint(&row[..], ComparisonOp::Ge, 0.0);
                }
            }
            for &n in &item.needs {
                let mut row = self.off(n);
                // What comes off with a part is not off before it.
                row.retain(|&(v, _)| v != item.taken);
                row.push((item.taken, -1.0));
                programme.add_constraint(&row[..], ComparisonOp::Ge, 0.0);
            }
        }
        for &t in &self.problem.targets {
            programme.add_constraint(&self.off(t)[..], ComparisonOp::Ge, 1.0);
        }
    }

    /// The terms that say how much of a part is off.
    fn off(&self, p: usize) -> Vec<(Variable, f64)> {
        let takers = self.problem.takers[p].iter().filter_map(|&t| self.item[t]);
        takers.map(|i| (self.items[i].taken, 1.0)).collect()
    }

    /// How much of each part is taken.
    pub(super) fn taken(&self, solution: &Solution) -> Vec<f64> {
        let mut taken = vec![0.0; self.problem.parts.len()];
        for item in &self.items {
            taken[item.part] = solution.var_value(item.taken);
        }
        taken
    }

    /// The removals a whole solution names, in an order in which each is free.
    pub(super) fn removals(&self, solution: &Solution) -> Vec<Removal> {
        let taken = self.taken(solution);
        let allowed: Vec<bool> = taken.iter().map(|&x| x > 0.5).collect();
        let may = |p: usize, c: usize, w: usize| {
            self.item[p].is_some_and(|i| {
                let item = &self.items[i];
                let mut uses = item.choices.iter().flatten();
                item.single[c].map_or_else(
                    || {
                        uses.any(|u| {
                            (u.choice, u.way) == (c, w) && solution.var_value(u.used) > 0.5
                        })
                    },
                    |only| only == w,
                )
            })
        };
        peel(self.problem, &allowed, &may).0
    }

    /// The variable farthest from being whole: parts first, then ways.
    pub(super) fn most_broken(&self, solution: &Solution) -> Option<Variable> {
        let broken = |v: Variable| {
            let value = solution.var_value(v);
            let off = value.min(1.0 - value);
            (off > EPSILON).then_some((off, v))
        };
        let worst = |all: &mut dyn Iterator<Item = Variable>| {
            all.filter_map(broken)
                .reduce(|a, b| if b.0 > a.0 { b } else { a })
        };
        let parts = worst(&mut self.items.iter().map(|i| i.taken));
        let uses = || self.items.iter().flat_map(|i| i.choices.iter().flatten());
        let found = parts.or_else(|| worst(&mut uses().map(|u| u.used)));
        found.map(|(_, v)| v)
    }

    /// Rows that this solution breaks and every whole answer keeps.
    pub(super) fn cuts(&self, solution: &Solution) -> Vec<Cut> {
        let mut cuts = self.implied_cuts(solution);
        cuts.extend(self.support_cuts(solution));
        cuts
    }

    /// Whoever uses ways that imply a part takes the part.
    fn implied_cuts(&self, solution: &Solution) -> Vec<Cut> {
        let mut cuts = Vec::new();
        for item in &self.items {
            for uses in &item.choices {
                let mut implying: BTreeMap<usize, Vec<Variable>> = BTreeMap::new();
                for u in uses.iter().filter(|u| solution.var_value(u.used) > EPSILON) {
                    for &q in &u.implied {
                        implying.entry(q).or_default().push(u.used);
                    }
                }
                for (q, used) in implying {
                    let Some(i) = self.item[q] else { continue };
                    let sum: f64 = used.iter().map(|&v| solution.var_value(v)).sum();
                    if sum > solution.var_value(self.items[i].taken) + EPSILON {
                        let row = uses.iter().filter(|u| u.implied.contains(&q));
                        let mut row: Vec<_> = row.map(|u| (u.used, -1.0)).collect();
                        row.push((self.items[i].taken, 1.0));
                        cuts.push(Cut(row));
                    }
                }
            }
        }
        cuts
    }

    /// Parts that hold each other up need one of them to be freed from outside: over a
    /// group, the use of ways that lean on nobody inside is at least what is taken of
    /// any one in it.
    fn support_cuts(&self, solution: &Solution) -> Vec<Cut> {
        let mut cuts = Vec::new();
        let amount: Vec<f64> = self
            .items
            .iter()
            .map(|i| solution.var_value(i.taken))
            .collect();
        let mut inside: Vec<bool> = amount.iter().map(|&x| x > EPSILON).collect();
        loop {
            // Whatever is wholly held from outside is settled.
            let mut best = (f64::NEG_INFINITY, None);
            let mut settled = false;
            for i in (0..self.items.len()).filter(|&i| amount[i] > EPSILON) {
                if inside[i] {
                    let held = self.support(i, &inside, solution).0;
                    if held >= amount[i] - EPSILON {
                        inside[i] = false;
                        settled = true;
                    } else if held / amount[i] > best.0 {
                        best = (held / amount[i], Some(i));
                    }
                }
            }
            if settled {
                continue;
            }
            let Some(next) = best.1 else { return cuts };
            for group in self.groups(&inside, solution) {
                cuts.extend(self.group_cut(&group, &amount, solution));
            }
            inside[next] = false;
        }
    }

    /// How much item `i` is held by ways that lean on nobody inside, and these ways; the
    /// choice that holds least decides.
    fn support(&self, i: usize, inside: &[bool], solution: &Solution) -> (f64, Vec<Variable>) {
        let item = &self.items[i];
        let outside = |p: usize| {
            let takers = self.problem.takers[p].iter().filter_map(|&t| self.item[t]);
            takers.into_iter().any(|t| !inside[t])
        };
        if !item.needs.iter().all(|&n| outside(n)) {
            return (0.0, Vec::new());
        }
        let mut least = (solution.var_value(item.taken), vec![item.taken]);
        for uses in &item.choices {
            let free = uses
                .iter()
                .filter(|u| u.blockers.iter().all(|&b| outside(b)));
            let free: Vec<Variable> = free.map(|u| u.used).collect();
            let sum = free.iter().map(|&v| solution.var_value(v)).sum();
            if sum < least.0 {
                least = (sum, free);
            }
        }
        least
    }

    /// The groups of items inside that lean on each other in circles.
    fn groups(&self, inside: &[bool], solution: &Solution) -> Vec<Vec<usize>> {
        let mut graph = DiGraph::<usize, ()>::new();
        let nodes: Vec<_> = (0..self.items.len()).map(|i| graph.add_node(i)).collect();
        for (i, item) in self.items.iter().enumerate().filter(|&(i, _)| inside[i]) {
            let used = item.choices.iter().flatten();
            let used = used.filter(|u| solution.var_value(u.used) > EPSILON);
            let leans = used.flat_map(|u| &u.blockers).chain(&item.needs);
            for &p in leans {
                let takers = self.problem.takers[p].iter().filter_map(|&t| self.item[t]);
                for t in takers.filter(|&t| inside[t]) {
                    graph.add_edge(nodes[i], nodes[t], ());
                }
            }
        }
        let groups = tarjan_scc(&graph).into_iter().filter(|g| g.len() > 1);
        groups
            .map(|g| g.into_iter().map(|n| graph[n]).collect())
            .collect()
    }

    /// The row for one group, if it is broken.
    fn group_cut(&self, group: &[usize], amount: &[f64], solution: &Solution) -> Option<Cut> {
        let mut inside = vec![false; self.items.len()];
        for &i in group {
            inside[i] = true;
        }
        let most = group
            .iter()
            .copied()
            .reduce(|a, b| if amount[b] > amount[a] { b } else { a })?;
        let mut row: BTreeMap<usize, (Variable, f64)> = BTreeMap::new();
        let mut sum = 0.0;
        for &i in group {
            let (held, ways) = self.support(i, &inside, solution);
            sum += held;
            for v in ways {
                row.entry(v.idx()).or_insert((v, 0.0)).1 += 1.0;
            }
        }
        let taken = self.items[most].taken;
        row.entry(taken.idx()).or_insert((taken, 0.0)).1 -= 1.0;
        (sum < amount[most] - EPSILON)
            .then(|| Cut(row.into_values().filter(|t| t.1 != 0.0).collect()))
    }
}

impl Cut {
    /// Whether the solution breaks it.
    pub(super) fn broken_by(&self, solution: &Solution) -> bool {
        let sum: f64 = self
            .0
            .iter()
            .map(|&(v, factor)| factor * solution.var_value(v))
            .sum();
        sum < -EPSILON
    }

    /// The solution with this row added; `None` when nothing is left.
    pub(super) fn add_to(&self, solution: Solution) -> Result<Option<Solution>, Fault> {
        outcome(solution.add_constraint(&self.0[..], ComparisonOp::Ge, 0.0))
    }
}

/// The solution with a variable fixed; `None` when nothing is left.
pub(super) fn fix(
    solution: Solution,
    variable: Variable,
    value: f64,
) -> Result<Option<Solution>, Fault> {
    outcome(solution.fix_var(variable, value))
}

fn outcome(solved: Result<SolveOutcome, microlp::Error>) -> Result<Option<Solution>, Fault> {
    match solved {
        Ok(SolveOutcome::Solution(solution)) => Ok(Some(solution)),
        Ok(SolveOutcome::Interrupted(_)) => {
            Err(Fault::Solver("it stopped without being told to".to_owned()))
        }
        Err(microlp::Error::Infeasible) => Ok(None),
        Err(error) => Err(Fault::Solver(error.to_string())),
    }
}
