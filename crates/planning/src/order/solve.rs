//! The search: rounds of annealing on every thread, a descent after each, and an
//! exchange of the best order between rounds.

use std::thread;

use super::anneal::{self, Cooling, Patience};
use super::bound::Prices;
use super::exchange::{Agenda, Followers, descend, wander};
use super::path::Path;
use super::{Problem, greedy};
use crate::chance::Chance;
use crate::{Budget, Stop};

/// How often a round doubles before the budget is used up.
const DOUBLINGS: u32 = 4;

/// More moves for each thread than anybody waits for: a search until it is stopped.
const UNBOUNDED: u64 = 1 << 48;

/// What a search found: an order, what it costs, and what no order can go below.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// All steps, in order.
    pub order: Vec<usize>,
    /// What the order costs.
    pub value: u64,
    /// No order costs less than this.
    pub bound: u64,
    /// Moves tried.
    pub moves: u64,
}

impl Solution {
    /// Whether no better order exists.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.bound >= self.value
    }
}

/// What all threads share and none changes.
struct Setting<'a> {
    problem: &'a Problem,
    followers: Followers,
    patience: Patience,
    scale: f64,
    stop: &'a Stop,
}

/// One thread's part of the search.
struct Walker {
    path: Path,
    best: Path,
    chance: Chance,
    agenda: Agenda,
    wanders: bool,
}

/// Looks for the cheapest order. `better` hears of the first order at once and then of
/// every improvement, at the end of the round that found it.
///
/// A move is one swap tried. The search ends when the budget is spent, the flag is
/// raised, or the bound proves the order best.
pub fn search(
    problem: &Problem,
    budget: &Budget,
    stop: &Stop,
    better: &mut dyn FnMut(&[usize], u64),
) -> Solution {
    let mut walkers = Vec::new();
    for thread in 0..budget.threads.max(1) {
        let mut chance = Chance::new(budget.seed, thread as u64);
        let noise = if thread == 0 { 0.0 } else { 0.3 };
        let path = Path::new(problem, &greedy::order(problem, noise, &mut chance));
        walkers.push(Walker {
            best: path.clone(),
            path,
            chance,
            agenda: Agenda::empty(problem),
            wanders: thread % 2 == 1,
        });
    }
    let mut best = walkers[0].best.clone();
    better(&best.order(), best.value().unsigned_abs());
    let mut chance = Chance::new(budget.seed, u64::MAX);
    let setting = Setting {
        problem,
        followers: Followers::new(problem, &mut chance),
        patience: Patience::new(),
        scale: anneal::scale(problem, &best, &mut chance).max(1.0),
        stop,
    };
    let mut prices = Prices::new(problem);
    let mut moves = 0;
    for round in 0.. {
        let proved = prices.bound() >= best.value().unsigned_abs();
        if moves >= budget.moves || stop.raised() || proved || problem.len() < 2 {
            break;
        }
        let each = |moves: u64| moves.div_ceil(walkers.len() as u64);
        let length = round_length(problem.len(), round, each(budget.moves));
        let length = length.min(each(budget.moves - moves));
        let known = best.value().unsigned_abs();
        thread::scope(|scope| {
            for walker in &mut walkers {
                let (setting, best) = (&setting, &best);
                scope.spawn(move || walk(setting, walker, best, round, length));
            }
            if round == 1 {
                prices.assign(stop);
            }
            if round > 0 && !prices.exhausted() {
                let cells = (problem.len() + 2).pow(2) as u64;
                prices.improve(length / (4 * cells) + 1, known, stop);
            }
        });
        moves += length * walkers.len() as u64;
        for walker in &walkers {
            if walker.best.value() < best.value() {
                best.copy_from(&walker.best);
            }
        }
        if best.value().unsigned_abs() < known {
            better(&best.order(), best.value().unsigned_abs());
        }
    }
    let value = best.value().unsigned_abs();
    Solution {
        order: best.order(),
        value,
        bound: if problem.len() < 2 {
            value
        } else {
            prices.bound()
        },
        moves,
    }
}

/// Moves each thread tries in this round: longer and longer, for slower cooling finds what quick
/// cooling cannot. A search that knows how far it may go gives half of it to the last round, a
/// quarter to the one before and so on; one that does not begins short and doubles now and then.
fn round_length(n: usize, round: u32, each: u64) -> u64 {
    if each >= UNBOUNDED {
        return (3_000 * n as u64) << (round / 4).min(20);
    }
    match round {
        0 => each >> DOUBLINGS,
        _ => each >> (DOUBLINGS + 1).saturating_sub(round),
    }
    .max(1_000)
}

/// One round on one thread. Every fourth round goes on from where the walk stands and
/// starts hot; the others start from the best of all threads, not so hot.
fn walk(setting: &Setting, walker: &mut Walker, best: &Path, round: u32, length: u64) {
    let Walker {
        path,
        best: own,
        chance,
        agenda,
        wanders,
    } = walker;
    if *wanders && round % 2 == 1 {
        own.copy_from(best);
        agenda.fill(own, setting.problem.len());
        descend(setting.problem, &setting.followers, own, agenda);
        wander(
            setting.problem,
            &setting.followers,
            own,
            agenda,
            (length, chance, setting.stop),
        );
        return;
    }
    let heat = if round.is_multiple_of(4) { 0.6 } else { 0.25 };
    if !round.is_multiple_of(4) {
        path.copy_from(best);
    }
    own.copy_from(path);
    let cooling = Cooling {
        hot: setting.scale * heat,
        cold: setting.scale * 0.01,
        moves: length,
    };
    anneal::round(
        setting.problem,
        &setting.followers,
        &setting.patience,
        cooling,
        (path, own),
        chance,
        setting.stop,
    );
    agenda.fill(own, setting.problem.len());
    descend(setting.problem, &setting.followers, own, agenda);
}
