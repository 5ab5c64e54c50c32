//! In which order tasks are placed: by the plan, by the longest chain behind them, and by lots.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use job::plan::{Plan, StepName};

use super::hours::day_of;
use super::place::{Crew, Lengths, Placing, place};
use super::work::{Sort, Work};
use crate::Budget;
use crate::chance::Chance;

/// An order that obeys the waits; among the tasks that could come next the one with the larger
/// key comes first.
fn by_key(work: &Work, key: &[u64]) -> Vec<usize> {
    let mut waiting: Vec<usize> = work.tasks.iter().map(|task| task.after.len()).collect();
    let mut followers = vec![Vec::new(); work.tasks.len()];
    for (task, of) in work.tasks.iter().enumerate() {
        for &(before, _) in &of.after {
            followers[before].push(task);
        }
    }
    let ready = (0..work.tasks.len()).filter(|&task| waiting[task] == 0);
    let mut heap: BinaryHeap<(u64, Reverse<usize>)> =
        ready.map(|task| (key[task], Reverse(task))).collect();
    let mut list = Vec::new();
    while let Some((_, Reverse(task))) = heap.pop() {
        list.push(task);
        for &then in &followers[task] {
            waiting[then] -= 1;
            if waiting[then] == 0 {
                heap.push((key[then], Reverse(then)));
            }
        }
    }
    list
}

/// The rank of each step: its place in an order that is to be kept, else that of the step before
/// it in the plan. Without an order to keep, its place in the plan.
pub(crate) fn ranks(plan: &Plan, kept: &[StepName]) -> Vec<u64> {
    let places: BTreeMap<&StepName, u64> = kept.iter().zip(1..).collect();
    let mut rank = 0;
    let steps = plan.steps.iter().enumerate().map(|(number, step)| {
        rank = if kept.is_empty() {
            number as u64
        } else {
            places.get(&step.name).copied().unwrap_or(rank)
        };
        rank
    });
    steps.collect()
}

/// Keys that keep the ranks. What goes on elsewhere begins as soon as it can.
fn by_rank(work: &Work, ranks: &[u64]) -> Vec<u64> {
    let key = |number: usize| match work.tasks[number].sort {
        Sort::Hands(step) => u64::MAX - 1 - ranks.get(step).copied().unwrap_or_default(),
        Sort::Outside(_) | Sort::Delivery(..) | Sort::Inspected => u64::MAX,
    };
    (0..work.tasks.len()).map(key).collect()
}

/// Keys by the time from the beginning of a task to the end of the longest chain behind it.
fn by_tail(work: &Work, lengths: &Lengths) -> Vec<u64> {
    let mut tail = vec![0_u64; work.tasks.len()];
    let order = by_key(work, &vec![0; work.tasks.len()]);
    for &task in order.iter().rev() {
        let takes = match work.tasks[task].sort {
            Sort::Hands(_) => lengths[task],
            // Days elsewhere weigh as days.
            Sort::Outside(_) | Sort::Delivery(..) | Sort::Inspected => lengths[task] * 86_400.0,
        };
        tail[task] += takes.max(0.0) as u64 + work.tasks[task].cures.unsigned_abs();
        for &(before, wait) in &work.tasks[task].after {
            tail[before] = tail[before].max(tail[task] + wait.unsigned_abs());
        }
    }
    tail
}

/// The list whose last task is done first, with its placing. A move is one list placed.
///
/// The order of the ranks is tried first and kept where nothing ends on an earlier day: it walks
/// least, or is the one people already know.
///
/// # Errors
/// The first task of that order that finds no room.
pub(crate) fn best(
    work: &Work,
    crew: &Crew,
    lengths: &Lengths,
    ranks: &[u64],
    budget: &Budget,
) -> Result<(Vec<usize>, Placing), usize> {
    let list = by_key(work, &by_rank(work, ranks));
    let mut found = place(work, crew, lengths, &list).map(|placing| (list, placing));
    let tail = by_tail(work, lengths);
    let mut chance = Chance::new(budget.seed, 0);
    for round in 0..budget.moves {
        // The first list goes by the chain alone; every later one blurs it by up to a half.
        let blur =
            |key: &u64, chance: &mut Chance| (*key as f64 * (1.0 - 0.5 * chance.share())) as u64;
        let keys: Vec<u64> = match round {
            0 => tail.clone(),
            _ => tail.iter().map(|key| blur(key, &mut chance)).collect(),
        };
        let list = by_key(work, &keys);
        if let Ok(placing) = place(work, crew, lengths, &list)
            && found.as_ref().map_or(true, |(_, other)| {
                day_of(placing.finish) < day_of(other.finish)
            })
        {
            found = Ok((list, placing));
        }
    }
    found
}
