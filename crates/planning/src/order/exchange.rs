//! Descent by exchanges of three links, until none improves, and a small kick to leave
//! such a place again.

use super::Problem;
use super::path::{Path, Swap};
use crate::Stop;
use crate::chance::Chance;

/// Followers of each step, cheapest first, among those that may stand straight after it.
#[derive(Debug)]
pub(super) struct Followers {
    rows: Vec<Vec<(i32, u32)>>,
    tied: bool,
}

impl Followers {
    /// Sorts every step's followers; equal costs are shuffled, lest low numbers be
    /// favoured where many steps cost nothing to change to.
    pub(super) fn new(problem: &Problem, chance: &mut Chance) -> Self {
        let n = problem.len();
        let rows = (0..n).map(|i| {
            let may = (0..n).filter(|&j| problem.may_follow(i, j));
            let mut row: Vec<(i32, u64, u32)> = may
                .map(|j| (problem.link(i, j), chance.bits(), j as u32))
                .collect();
            row.sort_unstable();
            row.into_iter().map(|(cost, _, j)| (cost, j)).collect()
        });
        let rows: Vec<Vec<(i32, u32)>> = rows.collect();
        let ties = rows.iter().filter(|row| match row.as_slice() {
            [first, second, ..] => first.0 == second.0,
            _ => false,
        });
        let tied = 2 * ties.count() > n;
        Self { rows, tied }
    }

    /// Whether most steps have several cheapest followers: so it is where a link costs nothing
    /// as long as place and tool stay, and not where every link is a distance of its own.
    pub(super) fn tied(&self) -> bool {
        self.tied
    }

    /// What the cheapest follower of a step costs; of one that nothing may follow, everything is
    /// cheap.
    pub(super) fn cheapest(&self, step: usize) -> i32 {
        self.rows[step].first().map_or(i32::MAX, |&(cost, _)| cost)
    }

    /// One step's followers with their costs, cheapest first.
    pub(super) fn of(&self, step: usize) -> &[(i32, u32)] {
        &self.rows[step]
    }
}

/// Steps whose surroundings changed since they were last looked at.
#[derive(Debug)]
pub(super) struct Agenda {
    stack: Vec<u32>,
    waiting: Vec<bool>,
}

impl Agenda {
    pub(super) fn empty(problem: &Problem) -> Self {
        Self {
            stack: Vec::new(),
            waiting: vec![false; problem.len() + 2],
        }
    }

    pub(super) fn push(&mut self, step: usize) {
        if !self.waiting[step] {
            self.waiting[step] = true;
            self.stack.push(step as u32);
        }
    }

    /// All steps of the path.
    pub(super) fn fill(&mut self, path: &Path, n: usize) {
        for i in (1..=n).rev() {
            self.push(path.at(i));
        }
    }

    /// The ends of the links a swap cuts.
    pub(super) fn push_cuts(&mut self, path: &Path, swap: Swap) {
        for i in [swap.a - 1, swap.a, swap.b, swap.b + 1, swap.c, swap.c + 1] {
            self.push(path.at(i));
        }
    }

    fn pop(&mut self) -> Option<usize> {
        let step = self.stack.pop()? as usize;
        self.waiting[step] = false;
        Some(step)
    }
}

/// Makes improving swaps until no step on the agenda begins one. Returns the swaps tried.
///
/// The three new links of an improving exchange begin at the three steps whose old links
/// it cuts, so at least one of these steps gets a cheaper link than it had. Looking only
/// at cheaper followers of every step therefore misses nothing.
pub(super) fn descend(
    problem: &Problem,
    followers: &Followers,
    path: &mut Path,
    agenda: &mut Agenda,
) -> u64 {
    let mut tried = 0;
    while let Some(step) = agenda.pop() {
        if step >= problem.len() {
            continue;
        }
        while let Some((swap, delta)) = improving(problem, followers, path, step, &mut tried) {
            agenda.push_cuts(path, swap);
            path.make(swap, delta);
        }
    }
    tried
}

/// The first improving swap that gives `x` a cheaper next step.
fn improving(
    problem: &Problem,
    followers: &Followers,
    path: &Path,
    x: usize,
    tried: &mut u64,
) -> Option<(Swap, i32)> {
    let n = problem.len();
    let i = path.place(x);
    let now = problem.link(x, path.at(i + 1));
    for &(cost, y) in followers.of(x) {
        if cost >= now {
            break;
        }
        let j = path.place(y as usize);
        let found = if j > i + 1 {
            // y's block comes forward to x …
            let forward = (j..=n).map(|c| Swap {
                a: i + 1,
                b: j - 1,
                c,
            });
            first_improving(problem, path, forward, tried).or_else(|| {
                // … or x's block goes back to y.
                let back = (1..=i).rev().map(|a| Swap { a, b: i, c: j - 1 });
                first_improving(problem, path, back, tried)
            })
        } else if j < i {
            let split = (j..i).map(|b| Swap { a: j, b, c: i });
            split
                .filter_map(|swap| {
                    *tried += 1;
                    let delta = path.delta(problem, swap);
                    (delta < 0).then_some((swap, delta))
                })
                .find(|&(swap, _)| path.allows(problem, swap))
        } else {
            None
        };
        if found.is_some() {
            return found;
        }
    }
    None
}

/// The first improving swap of a row in which each allows no more than the one before.
fn first_improving(
    problem: &Problem,
    path: &Path,
    swaps: impl Iterator<Item = Swap>,
    tried: &mut u64,
) -> Option<(Swap, i32)> {
    for swap in swaps {
        *tried += 1;
        let delta = path.delta(problem, swap);
        if delta < 0 {
            // Blocks only grow along the row: what one forbids, the later forbid too.
            return path.allows(problem, swap).then_some((swap, delta));
        }
    }
    None
}

/// Kicks and descends again and again, keeping what is no worse, until `moves` swaps are
/// tried. `path` must have no improving exchange left. Returns the swaps tried.
pub(super) fn wander(
    problem: &Problem,
    followers: &Followers,
    path: &mut Path,
    agenda: &mut Agenda,
    (moves, chance, stop): (u64, &mut Chance, &Stop),
) -> u64 {
    let mut trial = path.clone();
    let mut tried = 0;
    while tried < moves && !stop.raised() {
        kick(problem, &mut trial, agenda, chance);
        tried += 30 + descend(problem, followers, &mut trial, agenda);
        if trial.value() <= path.value() {
            path.copy_from(&trial);
        } else {
            trial.copy_from(path);
        }
    }
    tried
}

/// Two or three random allowed swaps of short blocks near one spot.
fn kick(problem: &Problem, path: &mut Path, agenda: &mut Agenda, chance: &mut Chance) {
    let n = problem.len();
    if n < 3 {
        return;
    }
    let spot = 1 + chance.below(n);
    let wanted = 2 + chance.below(2);
    let mut made = 0;
    for _ in 0..30 {
        let a = (spot + chance.below(31)).saturating_sub(15).clamp(1, n - 1);
        let b = (a + chance.below(6)).min(n - 1);
        let c = (b + 1 + chance.below(6)).min(n);
        let swap = Swap { a, b, c };
        if path.allows(problem, swap) {
            agenda.push_cuts(path, swap);
            let delta = path.delta(problem, swap);
            path.make(swap, delta);
            made += 1;
            if made == wanted {
                return;
            }
        }
    }
}
