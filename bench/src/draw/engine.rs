//! A made-up engine taken apart and put back: modules in a tree, each with its place,
//! its tools and its steps; the way back mirrors the way there.

use anyhow::Result;
use planning::{crew, order};

use super::Lots;

/// Places a person works from; the last two are under the vehicle and the bench.
const PLACES: usize = 6;
const UNDER: usize = 4;
const BENCH: usize = 5;

/// Seconds to move between places.
const WALK: [[u32; PLACES]; PLACES] = [
    [0, 15, 20, 20, 120, 60],
    [15, 0, 25, 30, 120, 60],
    [20, 25, 0, 40, 120, 60],
    [20, 30, 40, 0, 120, 60],
    [120, 120, 120, 120, 0, 150],
    [60, 60, 60, 60, 150, 0],
];

/// Hand tools, and among them those only used for tightening; eight lie in a drawer.
const TOOLS: usize = 25;
const TORQUE_TOOLS: [usize; 3] = [21, 22, 23];
const DRAWER: usize = 8;

/// Seconds to take up another tool, and more when it lies in another drawer.
const NEW_TOOL: u32 = 25;
const OTHER_DRAWER: u32 = 15;

/// Ten-minute slots in a day.
const DAY: u32 = 144;

/// One step of the made-up engine.
#[derive(Debug, Clone)]
struct Act {
    place: usize,
    tool: usize,
    minutes: usize,
}

/// The acts and which must come before which.
#[derive(Debug, Clone)]
struct Engine {
    acts: Vec<Act>,
    pairs: Vec<(usize, usize)>,
}

/// A made-up instance: its name, the problem, and no best value known.
type Made<P> = (String, P, Option<u64>);

/// Three orders each of 60, 150 and 400 steps.
///
/// # Errors
/// An engine the search does not take.
pub fn orders() -> Result<Vec<Made<order::Problem>>> {
    named(|engine, _| {
        let n = engine.acts.len();
        let mut costs = vec![0; n * n];
        for (i, a) in engine.acts.iter().enumerate() {
            for (j, b) in engine.acts.iter().enumerate() {
                let tool = if a.tool == b.tool { 0 } else { NEW_TOOL };
                let drawer = if a.tool / DRAWER == b.tool / DRAWER {
                    0
                } else {
                    OTHER_DRAWER
                };
                costs[i * n + j] = WALK[a.place][b.place] + tool + drawer;
            }
        }
        Ok(order::Problem::new(n, &costs, &engine.pairs)?)
    })
}

/// Three jobs each of 60, 150 and 400 steps, for two people with different evenings, a
/// hoist, single special tools, waits and deliveries.
///
/// # Errors
/// A job the search does not take.
pub fn jobs() -> Result<Vec<Made<crew::Problem>>> {
    named(job)
}

/// Draws the nine engines and makes a problem of each.
fn named<P>(make: impl Fn(&Engine, &mut Lots) -> Result<P>) -> Result<Vec<Made<P>>> {
    let mut made = Vec::new();
    for steps in [60, 150, 400] {
        for seed in 1..=3 {
            let mut lots = Lots::new(steps as u64 * 1_000 + seed);
            let engine = Engine::draw(steps, &mut lots);
            let problem = make(&engine, &mut lots)?;
            made.push((format!("engine{steps}_{seed}"), problem, None));
        }
    }
    Ok(made)
}

impl Engine {
    /// Half the steps take the engine apart, the other half mirror them.
    fn draw(steps: usize, lots: &mut Lots) -> Self {
        let half = steps / 2;
        let mut engine = Self {
            acts: Vec::new(),
            pairs: Vec::new(),
        };
        // A tree of modules of about nine steps; the last steps of each, before which
        // its children cannot be begun.
        let mut modules: Vec<(Vec<usize>, Option<usize>)> = Vec::new();
        while engine.acts.len() < half {
            let parent = (!modules.is_empty()).then(|| lots.below(modules.len()));
            let size = lots.between(6, 12).min(half - engine.acts.len());
            let own = engine.module(size, lots);
            if let Some(parent) = parent {
                let before = &modules[parent].0;
                for &late in &before[before.len().saturating_sub(2)..] {
                    engine.pairs.push((late, own[0]));
                }
                if lots.in_hundred(50) {
                    let early = before[lots.below(before.len())];
                    engine.pairs.push((early, own[own.len() / 2]));
                }
            }
            modules.push((own, parent));
        }
        for i in 1..half {
            if lots.in_hundred(12) {
                engine.pairs.push((lots.below(i), i));
            }
        }
        engine.mirror(half, lots);
        let innermost = modules.last().map_or(&[][..], |(own, _)| own);
        engine.all_out_first(half, innermost);
        engine
    }

    /// One module: its place, its favoured tools and a loose chain of steps.
    fn module(&mut self, size: usize, lots: &mut Lots) -> Vec<usize> {
        let place = lots.below(PLACES);
        let skewed = |lots: &mut Lots| lots.below(TOOLS - 4).min(lots.below(TOOLS - 4));
        let favoured: Vec<usize> = (0..4).map(|_| skewed(lots)).collect();
        let mut own = Vec::new();
        for _ in 0..size {
            let at = if lots.in_hundred(85) {
                place
            } else {
                lots.below(PLACES)
            };
            let tool = if lots.in_hundred(80) {
                favoured[lots.below(4)]
            } else {
                skewed(lots)
            };
            let here = self.acts.len();
            if lots.in_hundred(55) && !own.is_empty() {
                self.pairs.push((own[lots.below(own.len())], here));
            }
            self.acts.push(Act {
                place: at,
                tool,
                minutes: lots.between(3, 30),
            });
            own.push(here);
        }
        own
    }

    /// The way back: every step has its mirror, and every pair turns round.
    fn mirror(&mut self, half: usize, lots: &mut Lots) {
        for i in 0..half {
            let mut act = self.acts[i].clone();
            act.minutes = act.minutes * 13 / 10;
            if lots.in_hundred(35) {
                act.tool = TORQUE_TOOLS[lots.below(TORQUE_TOOLS.len())];
            }
            self.acts.push(act);
            self.pairs.push((i, half + i));
        }
        let turned: Vec<_> = self
            .pairs
            .iter()
            .filter(|&&(_, after)| after < half)
            .map(|&(before, after)| (half + after, half + before))
            .collect();
        self.pairs.extend(turned);
    }

    /// The innermost module is wholly out before any of it goes back.
    fn all_out_first(&mut self, half: usize, innermost: &[usize]) {
        for &out in innermost {
            for &back in innermost {
                self.pairs.push((out, half + back));
            }
        }
    }
}

/// A job with calendar, people, hoist, special tools, deliveries and waits.
fn job(engine: &Engine, lots: &mut Lots) -> Result<crew::Problem> {
    const HOIST: usize = 0;
    const SPECIAL: usize = 5;
    let n = engine.acts.len();
    let mut steps = Vec::new();
    let mut links: Vec<crew::Link> = engine
        .pairs
        .iter()
        .map(|&(before, after)| crew::Link {
            before,
            after,
            // Glue and sealant want hours before the next step may disturb them.
            wait: if lots.in_hundred(2) {
                lots.between(6, DAY as usize) as u32
            } else {
                0
            },
        })
        .collect();
    for (i, act) in engine.acts.iter().enumerate() {
        let mut needs = Vec::new();
        if act.place == UNDER && lots.in_hundred(60) {
            needs.push((HOIST, 1));
        }
        if act.place != BENCH && lots.in_hundred(8) {
            needs.push((lots.between(1, SPECIAL), 1));
        }
        let arrives = i >= n / 2 && lots.in_hundred(10);
        steps.push(crew::Step {
            duration: act.minutes.div_ceil(10) as u32,
            hands: if lots.in_hundred(12) { 2 } else { 1 },
            needs,
            release: if arrives {
                lots.between(3, 10) as u32 * DAY
            } else {
                0
            },
        });
    }
    // Two parts go to the machine shop for a week between coming off and going back.
    for _ in 0..2 {
        let part = lots.below(n / 2);
        links.push(crew::Link {
            before: part,
            after: n / 2 + part,
            wait: 7 * DAY,
        });
    }
    let days = 200;
    let people = vec![
        evenings(days, |day| day % 7 != 5, 18),
        evenings(days, |day| day % 2 == 0, 19),
    ];
    let single = crew::Resource {
        amount: 1,
        hours: crew::Hours::Always,
    };
    let resources = vec![single; SPECIAL + 1];
    Ok(crew::Problem::new(
        steps,
        &links,
        people,
        resources,
        days * DAY,
    )?)
}

/// Evenings until ten on the days somebody has time, and nine to six at weekends.
fn evenings(days: u32, has_time: impl Fn(u32) -> bool, from_hour: u32) -> crew::Hours {
    let windows = (0..days).filter(|&day| has_time(day)).map(|day| {
        let (from, to) = if day % 7 >= 5 {
            (9, 18)
        } else {
            (from_hour, 22)
        };
        (day * DAY + from * 6, day * DAY + to * 6)
    });
    crew::Hours::Windows(windows.collect())
}
