//! A first order in no time: always the cheapest step that may come next.

use super::Problem;
use crate::chance::Chance;

/// The order that always takes the cheapest allowed next step; with `noise` above 0 each
/// cost is first raised by up to that share, so that other threads start elsewhere.
pub(super) fn order(problem: &Problem, noise: f64, chance: &mut Chance) -> Vec<usize> {
    let n = problem.len();
    let mut waiting: Vec<usize> = (0..n).map(|i| problem.before(i).len()).collect();
    let mut open: Vec<usize> = (0..n).filter(|&i| waiting[i] == 0).collect();
    let mut order = Vec::with_capacity(n);
    let mut at = n;
    while !open.is_empty() {
        let mut best = (f64::INFINITY, usize::MAX, 0);
        for (i, &step) in open.iter().enumerate() {
            let cost = f64::from(problem.link(at, step));
            let felt = if noise > 0.0 {
                (cost + 1.0) * (1.0 + noise * chance.share())
            } else {
                cost
            };
            if (felt, step) < (best.0, best.1) {
                best = (felt, step, i);
            }
        }
        at = open.swap_remove(best.2);
        order.push(at);
        for &j in problem.after(at) {
            waiting[j as usize] -= 1;
            if waiting[j as usize] == 0 {
                open.push(j as usize);
            }
        }
    }
    order
}
