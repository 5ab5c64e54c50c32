//! Made-up graphs of what blocks what: modules of parts, several ways to free most, and
//! some blockers turned round so that parts hold each other up.

use planning::reach::{self, Cost, Fault, Part, Problem, Way};
use planning::{Budget, Stop};

use super::Lots;

/// Parts in a module.
const MODULE: usize = 20;

/// How much a graph turns round: blockers in a hundred that lean the other way.
const KINDS: [(&str, usize); 2] = [("graph", 6), ("knot", 20)];

/// Three graphs of each kind of 60, 120, 200 and 500 parts.
///
/// # Errors
/// A graph whose costs or numbers the search does not take.
pub fn graphs() -> Result<Vec<(String, Problem)>, Fault> {
    let mut made = Vec::new();
    for (kind, turned) in KINDS {
        for parts in [60, 120, 200, 500] {
            for seed in 1..=3 {
                let mut lots = Lots::new((parts * 1_000 + turned * 10) as u64 + seed);
                made.push((
                    format!("{kind}{parts}_{seed}"),
                    graph(parts, turned, &mut lots)?,
                ));
            }
        }
    }
    Ok(made)
}

/// One graph whose targets lie deep and can come off.
fn graph(count: usize, turned: usize, lots: &mut Lots) -> Result<Problem, Fault> {
    let mut parts: Vec<Part> = (0..count)
        .map(|p| Part {
            cost: Cost {
                work: lots.between(2, 60) as u64 * 60,
                money: if lots.in_hundred(20) {
                    lots.between(1, 40) as u64
                } else {
                    0
                },
            },
            // The outermost parts of each module are free.
            choices: if p % MODULE < 2 {
                Vec::new()
            } else {
                vec![choice(p, count, turned, lots)]
            },
            ..Part::default()
        })
        .collect();
    let targets: Vec<usize> = (0..(count / 40).max(2))
        .map(|_| count - 1 - lots.below(count / 4))
        .collect();
    // A part caught in a circle with no way out gets a dear one: somebody cuts it free.
    loop {
        let problem = Problem::new(parts.clone(), &targets)?;
        match reach::solve(&problem, &Budget::moves(0), &Stop::new(), &mut |_, _| ()) {
            Err(Fault::Stuck { held, .. }) => {
                let extra = Cost {
                    work: lots.between(120, 480) as u64 * 60,
                    money: 0,
                };
                let way = Way {
                    blockers: Vec::new(),
                    extra,
                };
                parts[held[0]].choices[0].push(way);
            }
            Err(fault) => return Err(fault),
            Ok(_) => return Ok(problem),
        }
    }
}

/// One to three ways to free a part.
fn choice(p: usize, count: usize, turned: usize, lots: &mut Lots) -> Vec<Way> {
    (0..lots.between(1, 3))
        .map(|_| way(p, count, turned, lots))
        .collect()
}

/// One way: up to four blockers, of lower number and mostly of the part's own module,
/// unless they are turned round.
fn way(p: usize, count: usize, turned: usize, lots: &mut Lots) -> Way {
    let start = p - p % MODULE;
    let mut blockers = Vec::new();
    for _ in 0..lots.between(0, 4) {
        blockers.push(if lots.in_hundred(turned) {
            (p + 1 + lots.below(MODULE)).min(count - 1)
        } else if lots.in_hundred(80) {
            start + lots.below(p - start)
        } else {
            lots.below(p)
        });
    }
    blockers.retain(|&b| b != p);
    blockers.sort_unstable();
    blockers.dedup();
    let extra = if blockers.is_empty() || lots.in_hundred(20) {
        lots.between(5, 240) as u64 * 60
    } else {
        0
    };
    Way {
        blockers,
        extra: Cost {
            work: extra,
            money: 0,
        },
    }
}
