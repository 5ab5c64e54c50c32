//! Made-up graphs of what blocks what: modules of parts, several ways to free most, and
//! some blockers turned round so that parts hold each other up.

use planning::reach::{Cost, Part, Problem, Way};

use super::Lots;

/// Parts in a module.
const MODULE: usize = 20;

/// Two graphs each of 60, 120, 200 and 500 parts.
pub fn graphs() -> Result<Vec<(String, Problem)>, planning::reach::Fault> {
    let mut made = Vec::new();
    for parts in [60, 120, 200, 500] {
        for seed in 1..=3 {
            let mut lots = Lots::new(parts as u64 * 1_000 + seed);
            made.push((format!("graph{parts}_{seed}"), graph(parts, &mut lots)?));
        }
    }
    Ok(made)
}

/// One graph. A part leans on parts of lower number, mostly of its own module; some of
/// its ways lean the other way.
fn graph(count: usize, lots: &mut Lots) -> Result<Problem, planning::reach::Fault> {
    let mut parts = Vec::new();
    for p in 0..count {
        // The outermost parts of each module are free.
        let ways = if p % MODULE < 2 { 0 } else { lots.between(1, 3) };
        let choice: Vec<Way> = (0..ways).map(|w| way(p, count, w == 0, lots)).collect();
        parts.push(Part {
            cost: Cost {
                work: lots.between(2, 60) as u64 * 60,
                money: if lots.in_hundred(20) { lots.between(1, 40) as u64 } else { 0 },
            },
            choices: if choice.is_empty() { Vec::new() } else { vec![choice] },
            ..Part::default()
        });
    }
    let targets: Vec<usize> = (0..(count / 40).max(2))
        .map(|_| count - 1 - lots.below(count / 4))
        .collect();
    Problem::new(parts, &targets)
}

/// One way: up to four blockers. The first way of each part never leans on a later one,
/// so that every part can come off somehow.
fn way(p: usize, count: usize, first: bool, lots: &mut Lots) -> Way {
    let start = p - p % MODULE;
    let mut blockers = Vec::new();
    for _ in 0..lots.between(if first { 1 } else { 0 }, 4) {
        let blocker = if !first && lots.in_hundred(15) {
            (p + 1 + lots.below(MODULE)).min(count - 1)
        } else if lots.in_hundred(80) {
            start + lots.below(p - start)
        } else {
            lots.below(p)
        };
        if blocker != p {
            blockers.push(blocker);
        }
    }
    blockers.sort_unstable();
    blockers.dedup();
    let extra = if blockers.is_empty() || lots.in_hundred(20) {
        lots.between(5, 240) as u64 * 60
    } else {
        0
    };
    Way {
        blockers,
        extra: Cost { work: extra, money: 0 },
    }
}
