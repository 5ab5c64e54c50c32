//! The slots of a calendar and what is still free in each: people as bits of a word,
//! amounts of resources in lanes of words.

use super::Problem;
use super::problem::{Hours, Step};

/// Resources in one word.
const LANES: usize = 4;

/// The top bit of every lane. Amounts stay below it, so that taking more than there is
/// clears it.
const GUARD: u64 = 0x8000_8000_8000_8000;

/// What one step takes in every slot of its duration.
#[derive(Debug, Clone)]
struct Demand {
    duration: u32,
    hands: u32,
    lanes: Vec<u64>,
}

/// What does not change while lists are tried: demands, hours, jumps over closed hours.
#[derive(Debug)]
pub(super) struct Layout {
    horizon: u32,
    words: usize,
    demands: Vec<Demand>,
    /// By slot: everybody who is there, and by slot and word all amounts.
    people: Vec<u64>,
    amounts: Vec<u64>,
    /// By number of hands: the next slot, from each on, in which so many are there; and
    /// the slot after the last such slot, up to each.
    opens: Vec<Vec<u32>>,
    closes: Vec<Vec<u32>>,
    /// The person behind each bit. Those with the fewest hours come first: they are
    /// taken first, and who is there longer stays free.
    persons: Vec<usize>,
}

/// What is free in each slot of one plan in the making.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    people: Vec<u64>,
    amounts: Vec<u64>,
}

impl Layout {
    pub(super) fn new(problem: &Problem) -> Self {
        let horizon = problem.horizon;
        let words = problem.resources.len().div_ceil(LANES);
        let mut persons: Vec<usize> = (0..problem.people.len()).collect();
        persons.sort_by_key(|&p| total(&problem.people[p], horizon));
        let mut people = vec![
            0_u64;
            if persons.is_empty() {
                0
            } else {
                horizon as usize
            }
        ];
        for (bit, &p) in persons.iter().enumerate() {
            mark(&problem.people[p], horizon, |t| people[t] |= 1 << bit);
        }
        let mut amounts = vec![0_u64; horizon as usize * words];
        for (r, resource) in problem.resources.iter().enumerate() {
            let amount = u64::from(resource.amount) << (16 * (r % LANES));
            mark(&resource.hours, horizon, |t| {
                amounts[t * words + r / LANES] |= amount;
            });
        }
        let demands: Vec<Demand> = problem.steps.iter().map(|s| demand(s, words)).collect();
        let most = demands.iter().map(|d| d.hands).max().unwrap_or(0);
        let enough = |hands: u32, t: u32| {
            let there = people.get(t as usize).map_or(0, |p: &u64| p.count_ones());
            there >= hands
        };
        let mut opens = Vec::new();
        let mut closes = Vec::new();
        for hands in 0..=most {
            let mut next = vec![horizon; horizon as usize + 1];
            for t in (0..horizon).rev() {
                next[t as usize] = if enough(hands, t) {
                    t
                } else {
                    next[t as usize + 1]
                };
            }
            let mut last = vec![0; horizon as usize + 1];
            for t in 0..horizon {
                last[t as usize + 1] = if enough(hands, t) {
                    t + 1
                } else {
                    last[t as usize]
                };
            }
            opens.push(next);
            closes.push(last);
        }
        Self {
            horizon,
            words,
            demands,
            people,
            amounts,
            opens,
            closes,
            persons,
        }
    }

    /// A frame in which everything is free.
    pub(super) fn frame(&self) -> Frame {
        Frame {
            people: self.people.clone(),
            amounts: self.amounts.clone(),
        }
    }

    /// The people behind a mask of bits, in their own numbering.
    pub(super) fn persons(&self, mask: u64) -> Vec<usize> {
        let bits = (0..self.persons.len()).filter(|bit| mask >> bit & 1 == 1);
        let mut persons: Vec<usize> = bits.map(|bit| self.persons[bit]).collect();
        persons.sort_unstable();
        persons
    }
}

impl Frame {
    /// Makes everything free again, up to slot `used`.
    pub(super) fn clear(&mut self, layout: &Layout, used: u32) {
        let used = used.min(layout.horizon) as usize;
        if !self.people.is_empty() {
            self.people[..used].copy_from_slice(&layout.people[..used]);
        }
        let words = used * layout.words;
        self.amounts[..words].copy_from_slice(&layout.amounts[..words]);
    }

    /// Takes what `step` needs at its earliest place not before `from`; returns its
    /// first slot and the people taken. `None` when the calendar has no room.
    pub(super) fn take_early(
        &mut self,
        layout: &Layout,
        step: usize,
        from: u32,
    ) -> Option<(u32, u64)> {
        let demand = &layout.demands[step];
        let mut start = from;
        if demand.duration == 0 {
            return (start <= layout.horizon).then_some((start, 0));
        }
        let opens = &layout.opens[demand.hands as usize];
        loop {
            start = opens[start.min(layout.horizon) as usize];
            let end = start + demand.duration;
            if end > layout.horizon {
                return None;
            }
            // The last clash moves the start as far as any.
            match self.last_clash(layout, demand, start, end) {
                Ok(there) => return Some((start, self.take(layout, demand, start, there))),
                Err(clash) => start = clash + 1,
            }
        }
    }

    /// Takes what `step` needs at its latest place that ends by `end`; returns its first
    /// slot and the people taken.
    pub(super) fn take_late(
        &mut self,
        layout: &Layout,
        step: usize,
        end: u32,
    ) -> Option<(u32, u64)> {
        let demand = &layout.demands[step];
        if demand.duration == 0 {
            return Some((end, 0));
        }
        let closes = &layout.closes[demand.hands as usize];
        let mut end = end.min(layout.horizon);
        loop {
            end = closes[end as usize];
            let start = end.checked_sub(demand.duration)?;
            match self.first_clash(layout, demand, start, end) {
                Ok(there) => return Some((start, self.take(layout, demand, start, there))),
                Err(clash) => end = clash,
            }
        }
    }

    /// Who is free in all slots from `start` to `end`, or the last slot in which
    /// something is missing.
    fn last_clash(
        &self,
        layout: &Layout,
        demand: &Demand,
        start: u32,
        end: u32,
    ) -> Result<u64, u32> {
        if demand.hands == 0 && layout.words == 1 {
            let need = demand.lanes[0];
            let slots = &self.amounts[start as usize..end as usize];
            let clash = slots.iter().rposition(|&free| short(free, need));
            return clash.map_or(Ok(0), |t| Err(start + t as u32));
        }
        let mut there = u64::MAX;
        let clash = (start..end)
            .rev()
            .find(|&t| self.clashes(layout, demand, t, &mut there));
        clash.map_or(Ok(there), Err)
    }

    /// Who is free in all slots from `start` to `end`, or the first slot in which
    /// something is missing.
    fn first_clash(
        &self,
        layout: &Layout,
        demand: &Demand,
        start: u32,
        end: u32,
    ) -> Result<u64, u32> {
        if demand.hands == 0 && layout.words == 1 {
            let need = demand.lanes[0];
            let slots = &self.amounts[start as usize..end as usize];
            let clash = slots.iter().position(|&free| short(free, need));
            return clash.map_or(Ok(0), |t| Err(start + t as u32));
        }
        let mut there = u64::MAX;
        let clash = (start..end).find(|&t| self.clashes(layout, demand, t, &mut there));
        clash.map_or(Ok(there), Err)
    }

    /// Whether slot `t` lacks something, or too few people are left who are free in it
    /// and in all slots looked at before; `there` keeps who is.
    fn clashes(&self, layout: &Layout, demand: &Demand, t: u32, there: &mut u64) -> bool {
        let t = t as usize;
        if demand.hands > 0 {
            *there &= self.people[t];
            if there.count_ones() < demand.hands {
                return true;
            }
        }
        let free = &self.amounts[t * layout.words..(t + 1) * layout.words];
        free.iter()
            .zip(&demand.lanes)
            .any(|(&free, &need)| short(free, need))
    }

    fn take(&mut self, layout: &Layout, demand: &Demand, start: u32, there: u64) -> u64 {
        let slots = start as usize..(start + demand.duration) as usize;
        let mut taken = 0;
        if demand.hands > 0 {
            let mut left = there;
            for _ in 0..demand.hands {
                taken |= left & left.wrapping_neg();
                left &= left - 1;
            }
            for free in &mut self.people[slots.clone()] {
                *free &= !taken;
            }
        }
        if layout.words == 1 {
            let need = demand.lanes[0];
            for free in &mut self.amounts[slots] {
                *free -= need;
            }
        } else if layout.words > 1 {
            let cells = &mut self.amounts[slots.start * layout.words..slots.end * layout.words];
            for free in cells.chunks_exact_mut(layout.words) {
                for (free, need) in free.iter_mut().zip(&demand.lanes) {
                    *free -= need;
                }
            }
        }
        taken
    }
}

/// What a step takes in every slot.
fn demand(step: &Step, words: usize) -> Demand {
    let mut lanes = vec![0; words];
    for &(r, amount) in &step.needs {
        // A resource named twice takes the larger of the two.
        let shift = 16 * (r % LANES);
        let here = lanes[r / LANES] >> shift & 0x7FFF;
        lanes[r / LANES] &= !(0x7FFF << shift);
        lanes[r / LANES] |= here.max(amount.into()) << shift;
    }
    Demand {
        duration: step.duration,
        hands: step.hands,
        lanes,
    }
}

/// Whether some lane of `need` is more than the lane of `free`.
fn short(free: u64, need: u64) -> bool {
    ((free | GUARD) - need) & GUARD != GUARD
}

/// Slots inside the hours.
fn total(hours: &Hours, horizon: u32) -> u32 {
    let mut sum = 0;
    mark(hours, horizon, |_| sum += 1);
    sum
}

/// Calls `each` for every slot inside the hours.
fn mark(hours: &Hours, horizon: u32, mut each: impl FnMut(usize)) {
    match hours {
        Hours::Always => (0..horizon as usize).for_each(each),
        Hours::Windows(windows) => {
            for &(from, to) in windows {
                (from.min(horizon) as usize..to.min(horizon) as usize).for_each(&mut each);
            }
        }
    }
}
