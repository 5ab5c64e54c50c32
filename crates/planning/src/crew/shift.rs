//! Shifting a plan right against its end and left again, which closes gaps that no list
//! order showed (Tormos and Lova 2001; Valls, Ballestín and Quintanilla 2005).

use super::Problem;
use super::frame::Layout;
use super::schedule::Draft;

/// Room for sorting, kept from call to call.
#[derive(Debug, Default)]
pub(super) struct Shifter {
    keys: Vec<u64>,
    sorted: Vec<u32>,
}

impl Shifter {
    /// Shifts `draft` right and left for as long as it gets shorter. `list` must obey
    /// the links; it becomes the order of beginnings. Returns the passes made.
    pub(super) fn shift(
        &mut self,
        problem: &Problem,
        layout: &Layout,
        (draft, spare): (&mut Draft, &mut Draft),
        list: &mut Vec<u32>,
    ) -> u64 {
        let mut passes = 0;
        loop {
            let before = draft.finish;
            passes += 1;
            self.sort(list, |s| draft.start[s] + problem.steps[s].duration);
            if !place_late(problem, layout, draft, spare, &self.sorted) {
                break;
            }
            passes += 1;
            self.sort(list, |s| spare.start[s]);
            let placed = spare.place_early(problem, layout, &self.sorted);
            if placed.is_err() || spare.finish > before {
                break;
            }
            std::mem::swap(draft, spare);
            std::mem::swap(list, &mut self.sorted);
            if draft.finish == before {
                break;
            }
        }
        self.sort(list, |s| draft.start[s]);
        std::mem::swap(list, &mut self.sorted);
        passes
    }

    /// Sorts the list by a slot into `sorted`. Steps of the same slot keep their order,
    /// so that a step of no duration stays before those that wait for it.
    fn sort(&mut self, list: &[u32], slot: impl Fn(usize) -> u32) {
        self.keys.clear();
        let keys = list.iter().enumerate();
        self.keys
            .extend(keys.map(|(i, &s)| u64::from(slot(s as usize)) << 32 | i as u64));
        self.keys.sort_unstable();
        self.sorted.clear();
        let place = |key: &u64| list[(key & 0xFFFF_FFFF) as usize];
        self.sorted.extend(self.keys.iter().map(place));
    }
}

/// Places every step of `draft` as late as it can go without moving the finish, the last
/// of `by_end` first. False when one would have to begin before its release or finds no
/// place, which people of different hours can bring about.
fn place_late(
    problem: &Problem,
    layout: &Layout,
    draft: &Draft,
    late: &mut Draft,
    by_end: &[u32],
) -> bool {
    late.clear(layout);
    late.uses(draft.finish);
    late.finish = draft.finish;
    by_end.iter().rev().all(|&step| {
        let step = step as usize;
        let mut by = draft.finish;
        for &(j, wait) in &problem.after[step] {
            match late.start[j as usize].checked_sub(wait) {
                Some(latest) => by = by.min(latest),
                None => return false,
            }
        }
        let Some((start, taken)) = late.frame.take_late(layout, step, by) else {
            return false;
        };
        late.start[step] = start;
        late.taken[step] = taken;
        start >= problem.steps[step].release
    })
}
