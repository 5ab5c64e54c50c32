//! Annealing: random swaps of neighbouring blocks, dear ones accepted less and less.

use super::Problem;
use super::exchange::Followers;
use super::path::{Path, Swap};
use crate::Stop;
use crate::chance::Chance;

/// Cheapest followers of a step from which a move may choose.
const NEAR: usize = 8;

/// Steps by which the end of a block is moved at most to reach a dear link.
const FARTHEST: usize = 30;

/// Moves between two looks at the stop flag and two steps of the temperature.
const CHUNK: u64 = 1_000;

/// How a round of annealing cools: from `hot` to `cold`, both in cost units, over
/// `moves` moves.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cooling {
    pub(super) hot: f64,
    pub(super) cold: f64,
    pub(super) moves: u64,
}

/// Waiting times: minus the logarithm of evenly spread shares. A move that costs `d` is
/// accepted at temperature T with chance exp(−d/T), that is when d is at most T times a
/// random entry; the table saves a logarithm per move.
#[derive(Debug)]
pub(super) struct Patience(Vec<f32>);

impl Patience {
    pub(super) fn new() -> Self {
        let rows = 4096;
        let entry = |i: usize| -libm::log((i as f64 + 0.5) / rows as f64) as f32;
        Self((0..rows).map(entry).collect())
    }
}

/// The middle one of the costs of 2000 random allowed moves that cost something: the
/// unit of temperature.
pub(super) fn scale(problem: &Problem, path: &Path, chance: &mut Chance) -> f64 {
    let n = problem.len();
    if n < 2 {
        return 1.0;
    }
    let mut costs: Vec<i32> = (0..2_000)
        .filter_map(|_| {
            let swap = random_swap(n, chance);
            let delta = path.delta(problem, swap);
            (delta > 0 && path.allows(problem, swap)).then_some(delta)
        })
        .collect();
    costs.sort_unstable();
    costs.get(costs.len() / 2).map_or(1.0, |&d| f64::from(d))
}

/// One round of annealing; `path` ends where the walk ends and `best` is replaced when
/// the walk passes something better. Returns the moves tried.
pub(super) fn round(
    problem: &Problem,
    followers: &Followers,
    patience: &Patience,
    cooling: Cooling,
    (path, best): (&mut Path, &mut Path),
    chance: &mut Chance,
    stop: &Stop,
) -> u64 {
    let n = problem.len();
    if n < 2 {
        return cooling.moves;
    }
    let chunks = cooling.moves.div_ceil(CHUNK).max(1);
    let fade = libm::pow(cooling.cold / cooling.hot, 1.0 / chunks as f64);
    let mut heat = cooling.hot;
    for done in 0..chunks {
        if stop.raised() {
            return done * CHUNK;
        }
        for _ in 0..CHUNK {
            let draw = chance.bits();
            let swap = if draw & 1 == 0 {
                near_swap(n, followers, path, chance)
            } else {
                Some(random_swap(n, chance))
            };
            let Some(mut swap) = swap else { continue };
            if followers.tied() && draw & 2 == 0 {
                swap = stretched(problem, followers, path, swap, draw >> 2);
            }
            let delta = path.delta(problem, swap);
            let patience = patience.0[(draw >> 52) as usize];
            let bearable = delta <= 0 || f64::from(delta) <= heat * f64::from(patience);
            if bearable && path.allows(problem, swap) {
                path.make(swap, delta);
                if path.value() < best.value() {
                    best.copy_from(path);
                }
            }
        }
        heat *= fade;
    }
    chunks * CHUNK
}

/// The same swap with blocks stretched to where a link is dear. Where many steps cost nothing
/// to go on with, a cut in the midst of such a run rarely pays; where every link is a distance
/// of its own, stretching only narrows the choice, so it is left out there. Each of the three
/// cuts is stretched in one draw of two.
fn stretched(problem: &Problem, followers: &Followers, path: &Path, swap: Swap, draw: u64) -> Swap {
    let n = problem.len();
    let Swap {
        mut a,
        mut b,
        mut c,
    } = swap;
    let cheap = |i: usize| {
        let x = path.at(i);
        problem.link(x, path.at(i + 1)) <= followers.cheapest(x)
    };
    if draw & 1 == 0 {
        let least = a.saturating_sub(FARTHEST).max(1);
        while a > least && cheap(a - 1) {
            a -= 1;
        }
    }
    if draw & 2 == 0 {
        let most = (b + FARTHEST).min(n - 1);
        while b < most && cheap(b) {
            b += 1;
        }
        c = c.max(b + 1);
    }
    if draw & 4 == 0 {
        let most = (c + FARTHEST).min(n);
        while c < most && cheap(c) {
            c += 1;
        }
    }
    Swap { a, b, c }
}

/// A swap of two blocks of random length, mostly short, at a random place.
fn random_swap(n: usize, chance: &mut Chance) -> Swap {
    let a = 1 + chance.below(n - 1);
    let b = (a + length(chance) - 1).min(n - 1);
    let c = (b + length(chance)).min(n);
    Swap { a, b, c }
}

/// A length: 1, up to 4, or up to 30.
fn length(chance: &mut Chance) -> usize {
    let draw = chance.bits() >> 32;
    match draw & 3 {
        0 => 1 + (((draw >> 2) * 30) >> 30) as usize,
        1 => 1 + (draw >> 2 & 3) as usize,
        _ => 1,
    }
}

/// A swap that puts one of the nearest followers of a random step straight after it.
fn near_swap(n: usize, followers: &Followers, path: &Path, chance: &mut Chance) -> Option<Swap> {
    let x = chance.below(n);
    let row = followers.of(x);
    if row.is_empty() {
        return None;
    }
    let y = row[chance.below(row.len().min(NEAR))].1 as usize;
    let (i, j) = (path.place(x), path.place(y));
    if j > i + 1 {
        let long = length(chance);
        Some(if chance.bits() >> 63 == 0 {
            // The block that begins with y comes forward.
            let c = (j + long - 1).min(n);
            Swap {
                a: i + 1,
                b: j - 1,
                c,
            }
        } else {
            // The block that ends with x goes back.
            let a = (i + 1).saturating_sub(long).max(1);
            Swap { a, b: i, c: j - 1 }
        })
    } else if j < i {
        let b = (j + length(chance) - 1).min(i - 1);
        Some(Swap { a: j, b, c: i })
    } else {
        None
    }
}
