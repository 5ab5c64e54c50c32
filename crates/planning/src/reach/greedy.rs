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

/// A set that reaches the targets, found by letting parts come free in the order of what
/// they cost along with their dearest way there; shared blockers are counted once for
/// every part that wants them, so the set is good and not cheapest. `weight` is the cost of each part as
/// the search sees it.
pub(super) fn first_set(problem: &Problem, weight: &[f64]) -> Vec<bool> {
    let count = problem.parts.len();
    let mut label = vec![f64::INFINITY; count];
    let mut taken_by: Vec<Option<(usize, Vec<usize>)>> = vec![None; count];
    let mut heap = BinaryHeap::new();
    let mut done = vec![false; count];
    // Which parts name a part as need or blocker.
    let mut asks = vec![Vec::new(); count];
    for (p, part) in problem.parts.iter().enumerate() {
        let blockers = part.choices.iter().flatten().flat_map(|way| &way.blockers);
        for &b in part.needs.iter().chain(blockers) {
            asks[b].push(p);
        }
    }
    let price = |p: usize, label: &[f64]| -> (f64, Vec<usize>) {
        let part = &problem.parts[p];
        let mut sum = weight[p] + part.needs.iter().map(|&n| label[n]).sum::<f64>();
        let mut wants = part.needs.clone();
        for choice in &part.choices {
            let along = |way: &super::Way| {
                way.extra.work as f64 + way.blockers.iter().map(|&b| label[b]).sum::<f64>()
            };
            let cheapest = choice.iter().map(|way| (along(way), way));
            match cheapest.min_by(|a, b| a.0.total_cmp(&b.0)) {
                Some((cost, way)) => {
                    sum += cost;
                    wants.extend(&way.blockers);
                }
                None => sum = f64::INFINITY,
            }
        }
        (sum, wants)
    };
    let offer = |p: usize,
                 label: &[f64],
                 heap: &mut BinaryHeap<Reverse<(u64, usize, usize, Vec<usize>)>>| {
        let (sum, wants) = price(p, label);
        if sum.is_finite() {
            for off in std::iter::once(p).chain(problem.parts[p].brings.iter().copied()) {
                // Sums are not negative, so their bits sort as they do.
                heap.push(Reverse((sum.to_bits(), off, p, wants.clone())));
            }
        }
    };
    for p in 0..count {
        offer(p, &label, &mut heap);
    }
    while let Some(Reverse((bits, off, by, wants))) = heap.pop() {
        if done[off] {
            continue;
        }
        done[off] = true;
        label[off] = f64::from_bits(bits);
        taken_by[off] = Some((by, wants));
        for &p in &asks[off] {
            if !done[p] || !problem.parts[p].brings.is_empty() {
                offer(p, &label, &mut heap);
            }
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
