//! Taking off what is free: in which order a set comes off, and a good first set.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::{Cost, Problem, Removal};

/// The order in which the parts of `allowed` come free, each by its cheapest open way
/// at the time, and whatever of them never does. Only ways for which `may(part, choice,
/// way)` holds are taken.
pub(super) fn peel(
    problem: &Problem,
    allowed: &[bool],
    may: &impl Fn(usize, usize, usize) -> bool,
) -> (Vec<Removal>, Vec<usize>) {
    let count = problem.parts.len();
    let mut off = vec![false; count];
    let mut left: Vec<usize> = (0..count).filter(|&p| allowed[p]).collect();
    let mut order = Vec::new();
    loop {
        let before = order.len();
        left.retain(|&p| {
            let Some(ways) = open_ways(problem, p, &off, may) else {
                return true;
            };
            off[p] = true;
            for &brought in &problem.parts[p].brings {
                off[brought] = true;
            }
            order.push(Removal { part: p, ways });
            false
        });
        if order.len() == before {
            return (order, left);
        }
    }
}

/// For each choice of a part its cheapest way that is wholly off; `None` when the part is
/// not free.
fn open_ways(
    problem: &Problem,
    p: usize,
    off: &[bool],
    may: &impl Fn(usize, usize, usize) -> bool,
) -> Option<Vec<usize>> {
    let part = &problem.parts[p];
    if !part.needs.iter().all(|&n| off[n]) {
        return None;
    }
    let cheapest = |(c, choice): (usize, &Vec<super::Way>)| {
        let ways = choice.iter().enumerate();
        let open = ways.filter(|&(w, way)| may(p, c, w) && way.blockers.iter().all(|&b| off[b]));
        open.min_by_key(|(w, way)| (way.extra, *w)).map(|(w, _)| w)
    };
    part.choices.iter().enumerate().map(cheapest).collect()
}

/// Removals pruned to what the targets need, in an order in which each is free. Later
/// parts are tried first: what is taken last is needed by the fewest.
///
/// Returns `None` when `allowed` does not reach the targets.
pub(super) fn prune(problem: &Problem, allowed: &[bool]) -> Option<(Vec<Removal>, Cost)> {
    let mut kept = allowed.to_vec();
    let (order, stuck) = peel(problem, &kept, &|_, _, _| true);
    for p in stuck {
        kept[p] = false;
    }
    let mut best = with_value(problem, order)?;
    let mut candidates: Vec<usize> = best.0.iter().map(|r| r.part).collect();
    candidates.sort_by_key(|&p| Reverse(problem.parts[p].cost));
    for p in candidates {
        kept[p] = false;
        let (order, stuck) = peel(problem, &kept, &|_, _, _| true);
        match with_value(problem, order) {
            Some(found) if found.1 <= best.1 => {
                for &s in &stuck {
                    kept[s] = false;
                }
                best = found;
            }
            _ => kept[p] = true,
        }
    }
    Some(best)
}

fn with_value(problem: &Problem, order: Vec<Removal>) -> Option<(Vec<Removal>, Cost)> {
    let value = problem.value(&order)?;
    Some((order, value))
}

/// An offer to take a part off: what it costs with everything behind it (the bits of a
/// number that is not negative, which sort as it does), the part that would be off, who
/// takes it off, and what must be off before.
type Offer = (u64, usize, usize, Vec<usize>);

/// A set that reaches the targets, found by letting parts come free in the order of what
/// they cost with everything behind them. What several blockers share is counted for each
/// of them, so the set is good and not cheapest. `weight` is the cost of each part as the
/// search sees it.
pub(super) fn first_set(problem: &Problem, weight: &[f64]) -> Vec<bool> {
    let count = problem.parts.len();
    let mut label = vec![f64::INFINITY; count];
    let mut taken_by: Vec<Option<(usize, Vec<usize>)>> = vec![None; count];
    let mut offers = BinaryHeap::new();
    let asks = asks(problem);
    for p in 0..count {
        offers.extend(self::offers(problem, weight, &label, p));
    }
    while let Some(Reverse((bits, off, by, wants))) = offers.pop() {
        if taken_by[off].is_some() {
            continue;
        }
        label[off] = f64::from_bits(bits);
        taken_by[off] = Some((by, wants));
        for &p in &asks[off] {
            offers.extend(self::offers(problem, weight, &label, p));
        }
    }
    // Back from the targets along the ways chosen.
    let mut set = vec![false; count];
    let mut stack = problem.targets.clone();
    let mut seen = vec![false; count];
    while let Some(off) = stack.pop() {
        if std::mem::replace(&mut seen[off], true) {
            continue;
        }
        if let Some((by, wants)) = &taken_by[off] {
            set[*by] = true;
            stack.extend(wants);
        }
    }
    set
}

/// By part: who names it as need or blocker.
fn asks(problem: &Problem) -> Vec<Vec<usize>> {
    let mut asks = vec![Vec::new(); problem.parts.len()];
    for (p, part) in problem.parts.iter().enumerate() {
        let blockers = part.choices.iter().flatten().flat_map(|way| &way.blockers);
        for &b in part.needs.iter().chain(blockers) {
            asks[b].push(p);
        }
    }
    asks
}

/// What taking `p` off now would cost, offered for itself and for what it brings along;
/// nothing when it is not free yet.
fn offers(problem: &Problem, weight: &[f64], label: &[f64], p: usize) -> Vec<Reverse<Offer>> {
    let part = &problem.parts[p];
    let behind = |parts: &[usize]| parts.iter().map(|&b| label[b]).sum::<f64>();
    let mut sum = weight[p] + behind(&part.needs);
    let mut wants = part.needs.clone();
    for choice in &part.choices {
        let along = choice
            .iter()
            .map(|way| (way.extra.work as f64 + behind(&way.blockers), way));
        let Some((cost, way)) = along.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return Vec::new();
        };
        sum += cost;
        wants.extend(&way.blockers);
    }
    if !sum.is_finite() {
        return Vec::new();
    }
    let off = std::iter::once(&p).chain(&part.brings);
    off.map(|&off| Reverse((sum.to_bits(), off, p, wants.clone())))
        .collect()
}
