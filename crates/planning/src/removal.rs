//! The cheapest parts to take off so that something comes clear, and what that takes.
//!
//! This turns the graph and a standing into a problem of plain numbers for [`crate::reach`]
//! and its answer back into parts. Minutes count off and on, each part once; money for
//! one-use parts, new seals and fluids decides between equal minutes. A part whose minutes
//! nobody wrote counts as none and is named, so the total is then *at least*.

use std::collections::{BTreeMap, BTreeSet};

use book::{Estimate, Fact, Price};
use job::plan::Takes;
use quantity::Duration;

use crate::graph::{At, Clear, Graph};
use crate::reach::{self, Cost, Problem};
use crate::standing::Standing;
use crate::{Budget, Stop};

/// Linear programmes allowed for one answer. Engines need some dozens.
const MOVES: u64 = 20_000;

/// One part taken off, with the parts that leave in one piece with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Lift {
    pub(crate) part: At,
    /// For each group of ways of the part, the way taken.
    pub(crate) ways: Vec<usize>,
    /// Parts of its unit that were still on.
    pub(crate) with: Vec<At>,
}

/// Parts to take off, each free at its turn.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Removal {
    pub(crate) lifts: Vec<Lift>,
    /// Seconds off and on, and hundredths of money.
    pub(crate) value: Cost,
    pub(crate) bound: Cost,
}

/// Nothing can be taken off that clears the target.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Held {
    /// These hold each other up, or never come off.
    By(Vec<At>),
    /// The solver gave up.
    Solver(String),
}

impl Removal {
    /// Every part that is off after it.
    pub(crate) fn gone(&self) -> BTreeSet<At> {
        let all = self
            .lifts
            .iter()
            .flat_map(|lift| lift.with.iter().chain([&lift.part]));
        all.copied().collect()
    }
}

/// Answers how something comes clear, from one standing.
#[derive(Debug)]
pub(crate) struct Clearing<'a> {
    graph: &'a Graph,
    /// Off, and so out of the way and not to be taken off again.
    off: BTreeSet<At>,
    /// Off or moved aside: out of the way.
    gone: BTreeSet<At>,
    drained: BTreeSet<usize>,
    known: BTreeMap<Clear, Result<Removal, Held>>,
}

impl<'a> Clearing<'a> {
    pub(crate) fn new(graph: &'a Graph, standing: &Standing) -> Self {
        let places = |parts: &BTreeSet<book::PartId>| -> BTreeSet<At> {
            parts.iter().filter_map(|part| graph.at(part)).collect()
        };
        let off = places(&standing.off);
        let circuits = standing.drained.iter();
        Self {
            gone: off.union(&places(&standing.aside)).copied().collect(),
            off,
            drained: circuits.filter_map(|id| graph.circuit_at(id)).collect(),
            known: BTreeMap::new(),
            graph,
        }
    }

    /// Whether it is clear now, so that getting there costs nothing.
    pub(crate) fn is_clear(&self, clear: &Clear) -> bool {
        clear.holds(&self.gone)
    }

    /// The cheapest removal that makes it clear.
    pub(crate) fn cheapest(&mut self, clear: &Clear) -> Result<Removal, Held> {
        if let Some(known) = self.known.get(clear) {
            return known.clone();
        }
        let found = self.solve(clear, None);
        self.known.insert(clear.clone(), found.clone());
        found
    }

    /// The cheapest removal when one way of one group of one part is closed.
    pub(crate) fn without(
        &self,
        clear: &Clear,
        closed: (At, usize, usize),
    ) -> Result<Removal, Held> {
        self.solve(clear, Some(closed))
    }

    fn solve(&self, clear: &Clear, closed: Option<(At, usize, usize)>) -> Result<Removal, Held> {
        let count = self.graph.nodes.len();
        let mut parts: Vec<reach::Part> = (0..count).map(|at| self.number(at)).collect();
        if let Some((at, group, way)) = closed
            && let Some(way) = parts[at]
                .choices
                .get_mut(group)
                .and_then(|ways| ways.get_mut(way))
        {
            // A way that waits for its own part is never open.
            way.blockers = vec![at];
        }
        parts.extend((0..self.graph.book().circuits.len()).map(|circuit| self.fluid(circuit)));
        let target = parts.len();
        let mut wanted = self.wants(clear);
        // A part moved aside is out of the way of others, and not off.
        wanted.needs = clear.all.difference(&self.off).copied().collect();
        parts.push(wanted);
        let problem =
            Problem::new(parts, &[target]).map_err(|fault| Held::Solver(fault.to_string()))?;
        let solved = reach::solve(
            &problem,
            &Budget::moves(MOVES),
            &Stop::new(),
            &mut |_, _| {},
        );
        let solution = match solved {
            Ok(solution) => solution,
            Err(reach::Fault::Stuck { held, .. }) => {
                return Err(Held::By(
                    held.into_iter().filter(|&part| part < count).collect(),
                ));
            }
            Err(fault) => return Err(Held::Solver(fault.to_string())),
        };
        let mut gone = self.gone.clone();
        let mut lifts = Vec::new();
        for removal in solution
            .removals
            .into_iter()
            .filter(|removal| removal.part < count)
        {
            let fresh = |member: &&At| gone.insert(**member);
            let with = self.graph.nodes[removal.part]
                .unit
                .iter()
                .filter(fresh)
                .copied()
                .collect();
            gone.insert(removal.part);
            lifts.push(Lift {
                part: removal.part,
                ways: removal.ways,
                with,
            });
        }
        Ok(Removal {
            lifts,
            value: solution.value,
            bound: solution.bound,
        })
    }

    /// What a clearing wants, in numbers, without what is gone already.
    fn wants(&self, clear: &Clear) -> reach::Part {
        let left = |parts: &mut dyn Iterator<Item = At>| -> Vec<usize> {
            parts.filter(|part| !self.gone.contains(part)).collect()
        };
        let way = |way: &Vec<At>| reach::Way {
            blockers: left(&mut way.iter().copied()),
            extra: Cost::default(),
        };
        reach::Part {
            needs: left(&mut clear.all.iter().copied()),
            choices: clear
                .any
                .iter()
                .map(|group| group.iter().map(way).collect())
                .collect(),
            ..reach::Part::default()
        }
    }

    /// One part in numbers.
    fn number(&self, at: At) -> reach::Part {
        let node = &self.graph.nodes[at];
        let mut part = self.wants(&self.graph.blockers(at));
        if node.fixed {
            part.choices.push(Vec::new());
        }
        let count = self.graph.nodes.len();
        let wet = node
            .circuits
            .iter()
            .filter(|circuit| !self.drained.contains(circuit));
        part.needs.extend(wet.map(|circuit| count + circuit));
        part.brings = node.unit.iter().copied().collect();
        part.cost = Cost {
            work: seconds(self.graph.minutes_off(at)) + seconds(self.graph.minutes_on(at)),
            money: self.graph.parts_money(at),
        };
        part
    }

    /// A circuit in numbers: draining it costs its fluid.
    fn fluid(&self, circuit: usize) -> reach::Part {
        reach::Part {
            cost: Cost {
                work: 0,
                money: self.graph.fluid_money(circuit),
            },
            ..reach::Part::default()
        }
    }
}

/// Whole seconds of the likely time; none where it is not known.
fn seconds(takes: Option<Takes>) -> u64 {
    let likely = takes.map_or(0.0, |takes| takes.likely.in_seconds());
    // A book's times are read as durations of at most a few months.
    likely.round().max(0.0) as u64
}

/// A written time with its range, or the likely time three times.
pub(crate) fn takes(fact: &Fact<Estimate>) -> Option<Takes> {
    let estimate = fact.known()?;
    let (low, high) = match estimate.range {
        Some(range) => (range.low, range.high),
        None => (estimate.likely, estimate.likely),
    };
    Some(Takes {
        low,
        likely: estimate.likely,
        high,
    })
}

/// No time at all.
pub(crate) fn no_time() -> Takes {
    let none = Duration::default();
    Takes {
        low: none,
        likely: none,
        high: none,
    }
}

/// The sum of two times.
pub(crate) fn both(one: Takes, other: Takes) -> Takes {
    Takes {
        low: one.low + other.low,
        likely: one.likely + other.likely,
        high: one.high + other.high,
    }
}

/// The high end of a price in hundredths, so many times; nothing where it is not known.
pub(crate) fn dear(price: &Fact<Price>, count: u32) -> u64 {
    let high = price.known().map_or(0, |price| price.high.hundredths);
    u64::try_from(high)
        .unwrap_or(0)
        .saturating_mul(u64::from(count))
}

impl Graph {
    /// How long a part takes off, ends and fasteners included.
    pub(crate) fn minutes_off(&self, at: At) -> Option<Takes> {
        takes(&self.part(at).effort.off)
    }

    /// How long a part takes on, ends and fasteners included.
    pub(crate) fn minutes_on(&self, at: At) -> Option<Takes> {
        takes(&self.part(at).effort.on)
    }

    /// What one-use things of a part cost each time it comes off: the part, the new seals of
    /// its joints, the one-use lines on it.
    fn parts_money(&self, at: At) -> u64 {
        let node = &self.nodes[at];
        let part = self.part(at);
        let own = match part.one_use.known() {
            Some(true) => dear(&part.price, 1),
            Some(false) | None => 0,
        };
        let joints = node.joints.iter().map(|&joint| &self.book().joints[joint]);
        let seals = joints.flat_map(|joint| &joint.seals);
        let fresh = seals.filter(|seal| seal.new.known() == Some(&true));
        let lines = node.ends.iter().map(|&(line, _)| &self.book().lines[line]);
        let once = lines.filter(|line| line.one_use.known() == Some(&true));
        let sum = own
            + fresh.map(|seal| dear(&seal.price, seal.count)).sum::<u64>()
            + once.map(|line| dear(&line.price, 1)).sum::<u64>();
        sum.min(MOST_MONEY)
    }

    /// What the fluid of a circuit costs, by capacity and price of a litre.
    fn fluid_money(&self, circuit: usize) -> u64 {
        let circuit = &self.book().circuits[circuit];
        let litres = circuit
            .capacity
            .known()
            .map_or(0.0, |volume| volume.in_litres());
        let money = dear(&circuit.price, 1) as f64 * litres;
        (money.round().max(0.0) as u64).min(MOST_MONEY)
    }
}

/// More than any part costs; keeps a slip in a price from leaving the solver's range.
const MOST_MONEY: u64 = 1_000_000_000;

#[cfg(test)]
mod tests;
