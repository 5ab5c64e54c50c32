//! A plan: when each step begins and who does it, built from a list of steps.

use super::frame::{Frame, Layout};
use super::{Fault, Problem};

/// When each step begins, and who does it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// First slot of each step.
    pub start: Vec<u32>,
    /// The people each step takes, by number.
    pub people: Vec<Vec<usize>>,
    /// The slot after the last one used.
    pub finish: u32,
}

/// Takes the steps one by one in the order of `list` and gives each its earliest place
/// among those already placed. Later steps fill gaps that earlier ones left.
///
/// # Errors
/// [`Fault::List`], [`Fault::NeverFits`] or [`Fault::CalendarEnds`].
pub fn schedule(problem: &Problem, list: &[usize]) -> Result<Schedule, Fault> {
    let mut place = vec![usize::MAX; problem.steps.len()];
    for (i, &step) in list.iter().enumerate() {
        if step >= place.len() || place[step] != usize::MAX {
            return Err(Fault::List);
        }
        place[step] = i;
    }
    let kept = |i: usize| {
        problem.before[i]
            .iter()
            .all(|&(j, _)| place[j as usize] < place[i])
    };
    if list.len() != place.len() || !(0..place.len()).all(kept) {
        return Err(Fault::List);
    }
    let layout = Layout::new(problem);
    let mut draft = Draft::new(problem, &layout);
    let list: Vec<u32> = list.iter().map(|&s| s as u32).collect();
    match draft.place_early(problem, &layout, &list) {
        Ok(()) => Ok(draft.schedule(&layout)),
        Err(step) => Err(no_room(problem, &layout, step)),
    }
}

/// Why a step found no place: because it never can, or because the calendar is full.
pub(super) fn no_room(problem: &Problem, layout: &Layout, step: usize) -> Fault {
    let horizon = problem.horizon;
    match layout.frame().take_early(layout, step, 0) {
        Some(_) => Fault::CalendarEnds { step, horizon },
        None => Fault::NeverFits {
            step,
            duration: problem.steps[step].duration,
            horizon,
        },
    }
}

/// A plan in the making, used again and again.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub(super) start: Vec<u32>,
    pub(super) taken: Vec<u64>,
    pub(super) finish: u32,
    pub(super) frame: Frame,
    /// The slot up to which the frame may be in use.
    used: u32,
}

impl Draft {
    pub(super) fn new(problem: &Problem, layout: &Layout) -> Self {
        Self {
            start: vec![0; problem.steps.len()],
            taken: vec![0; problem.steps.len()],
            finish: 0,
            frame: layout.frame(),
            used: 0,
        }
    }

    /// Makes the frame free again; `upto` is where the coming plan may reach.
    pub(super) fn clear(&mut self, layout: &Layout) {
        self.frame.clear(layout, self.used);
        self.used = 0;
    }

    /// Notes that slots below `end` are in use.
    pub(super) fn uses(&mut self, end: u32) {
        self.used = self.used.max(end);
    }

    /// Gives every step of the list its earliest place; the error is the first step
    /// without one.
    pub(super) fn place_early(
        &mut self,
        problem: &Problem,
        layout: &Layout,
        list: &[u32],
    ) -> Result<(), usize> {
        self.clear(layout);
        self.finish = 0;
        for &step in list {
            let step = step as usize;
            let mut from = problem.steps[step].release;
            for &(j, wait) in &problem.before[step] {
                let j = j as usize;
                from = from.max(self.start[j] + problem.steps[j].duration + wait);
            }
            let (start, taken) = self.frame.take_early(layout, step, from).ok_or(step)?;
            self.start[step] = start;
            self.taken[step] = taken;
            let end = start + problem.steps[step].duration;
            self.uses(end);
            self.finish = self.finish.max(end);
        }
        Ok(())
    }

    pub(super) fn schedule(&self, layout: &Layout) -> Schedule {
        Schedule {
            start: self.start.clone(),
            people: self
                .taken
                .iter()
                .map(|&mask| layout.persons(mask))
                .collect(),
            finish: self.finish,
        }
    }
}
