//! How early no plan can end: the longest chain through an empty calendar, and the work
//! that people and tools have to find room for.

use super::frame::Layout;
use super::schedule::no_room;
use super::{Fault, Problem};

/// A slot no plan can end before.
///
/// # Errors
/// [`Fault::NeverFits`] or [`Fault::CalendarEnds`] when a chain of steps finds no room
/// even in an empty calendar.
pub fn lower_bound(problem: &Problem) -> Result<u32, Fault> {
    let layout = Layout::new(problem);
    let heads = heads(problem, &layout)?;
    let ends = (0..heads.len()).map(|s| heads[s] + problem.steps[s].duration);
    let chain = ends.max().unwrap_or(0);
    let tails = tails(problem);
    let mut bound = chain;
    if !problem.people.is_empty() {
        let mut there = vec![0_u64; problem.horizon as usize];
        for hours in &problem.people {
            for (t, sum) in there.iter_mut().enumerate() {
                *sum += u64::from(hours.open(t as u32));
            }
        }
        bound = bound.max(room(problem, &heads, &tails, &there, |s| {
            problem.steps[s].hands.into()
        }));
    }
    for (r, resource) in problem.resources.iter().enumerate() {
        let amount = |t| u64::from(resource.hours.open(t)) * u64::from(resource.amount);
        let there: Vec<u64> = (0..problem.horizon).map(amount).collect();
        bound = bound.max(room(problem, &heads, &tails, &there, |s| {
            let needs = problem.steps[s].needs.iter();
            needs
                .filter(|&&(of, _)| of == r)
                .map(|&(_, a)| a.into())
                .max()
                .unwrap_or(0)
        }));
    }
    Ok(bound)
}

/// The first slot of each step in an otherwise empty calendar.
fn heads(problem: &Problem, layout: &Layout) -> Result<Vec<u32>, Fault> {
    let mut heads = vec![0; problem.steps.len()];
    let mut frame = layout.frame();
    for &s in &problem.order {
        let s = s as usize;
        let waits = problem.before[s].iter();
        let from =
            waits.map(|&(j, wait)| heads[j as usize] + problem.steps[j as usize].duration + wait);
        let from = from.max().unwrap_or(0).max(problem.steps[s].release);
        frame.clear(layout, problem.horizon);
        let (start, _) = frame
            .take_early(layout, s, from)
            .ok_or_else(|| no_room(problem, layout, s))?;
        heads[s] = start;
    }
    Ok(heads)
}

/// Slots that must pass between the end of each step and the end of all.
fn tails(problem: &Problem) -> Vec<u32> {
    let mut tails = vec![0; problem.steps.len()];
    for &s in problem.order.iter().rev() {
        let behind = problem.after[s as usize].iter();
        let longest =
            behind.map(|&(j, wait)| wait + problem.steps[j as usize].duration + tails[j as usize]);
        tails[s as usize] = longest.max().unwrap_or(0);
    }
    tails
}

/// The earliest end by which the work finds room: for every beginning `h` and every
/// closing time `q`, the steps that cannot begin before `h` and leave at least `q` slots
/// behind them need their work's worth of room between `h` and the end less `q`.
fn room(
    problem: &Problem,
    heads: &[u32],
    tails: &[u32],
    there: &[u64],
    need: impl Fn(usize) -> u64,
) -> u32 {
    let work = |s: usize| need(s) * u64::from(problem.steps[s].duration);
    let mut busy: Vec<usize> = (0..heads.len()).filter(|&s| work(s) > 0).collect();
    busy.sort_unstable_by_key(|&s| std::cmp::Reverse(heads[s]));
    let mut closing: Vec<u32> = busy.iter().map(|&s| tails[s]).collect();
    closing.sort_unstable();
    closing.dedup();
    // Room up to each slot, for taking differences.
    let mut upto = vec![0_u64; there.len() + 1];
    for (t, amount) in there.iter().enumerate() {
        upto[t + 1] = upto[t] + amount;
    }
    let mut bound = 0;
    for &q in &closing {
        let mut sum = 0;
        for &s in busy.iter().filter(|&&s| tails[s] >= q) {
            sum += work(s);
            let needed = upto[heads[s] as usize] + sum;
            let end = upto.partition_point(|&room| room < needed);
            bound = bound.max(end as u32 + q);
        }
    }
    bound
}
