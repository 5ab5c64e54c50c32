//! The search: lists bred from lists, each turned into a plan and shifted.

use std::thread;

use super::bound::lower_bound;
use super::frame::Layout;
use super::schedule::{Draft, no_room};
use super::shift::Shifter;
use super::{Fault, Problem, Schedule};
use crate::chance::Chance;
use crate::{Budget, Stop};

/// Lists each thread keeps.
const LISTS: usize = 100;

/// Lists a thread breeds before the threads exchange their best.
const ROUND: u64 = 400;

/// Children without gain after which a thread starts afresh.
const PATIENCE: u64 = 30_000;

/// Share of children bred from two lists; the others come from one with a window blurred.
const CROSSED: f64 = 0.4;

/// The longest stretch a child takes from its second list, as a share of the list.
const STRETCH: f64 = 0.3;

/// A child whose plan, before any shift, ends later than the worst member's by more than
/// this share is given up: shifting gains a few percent and costs twice what the plan did.
const HOPELESS: f64 = 0.09;

/// Places in the widest window, and the most by which a place in it is blurred.
const WINDOW: usize = 40;

/// What a search found: a plan, and what no plan can end before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// When each step begins and who does it.
    pub schedule: Schedule,
    /// No plan ends before this slot.
    pub bound: u32,
    /// Plans built from lists, shifts counted.
    pub moves: u64,
}

impl Solution {
    /// Whether no plan ends earlier.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.bound >= self.schedule.finish
    }
}

/// What all threads share and none changes.
struct Setting<'a> {
    problem: &'a Problem,
    layout: &'a Layout,
    /// By step: slots from its beginning to the end of the longest chain behind it.
    tail: Vec<u32>,
    stop: &'a Stop,
}

/// A list and the finish of its plan, with a mark that tells plans apart.
#[derive(Debug, Clone)]
struct Member {
    list: Vec<u32>,
    finish: u32,
    mark: u64,
}

/// One thread's lists.
struct Island {
    members: Vec<Member>,
    best: Member,
    chance: Chance,
    draft: Draft,
    spare: Draft,
    shifter: Shifter,
    /// Fresh lists tried since the last start.
    fresh: usize,
    idle: u64,
    moves: u64,
}

/// Looks for the plan that ends first. `better` hears of the first plan at once and then
/// of every improvement, at the end of the round that found it.
///
/// A move is one plan built, shifts counted as plans. The search ends when the budget is
/// spent, the flag is raised, or the bound proves the plan best.
///
/// # Errors
/// [`Fault::NeverFits`] or [`Fault::CalendarEnds`] when the first list, built by the
/// longest chain still ahead, finds no room.
pub fn search(
    problem: &Problem,
    budget: &Budget,
    stop: &Stop,
    better: &mut dyn FnMut(&Schedule),
) -> Result<Solution, Fault> {
    let layout = Layout::new(problem);
    let setting = Setting {
        problem,
        layout: &layout,
        tail: tails(problem),
        stop,
    };
    let mut islands = Vec::new();
    for thread in 0..budget.threads.max(1) {
        islands.push(Island::new(&setting, budget.seed, thread as u64)?);
    }
    let mut best = islands[0].best.clone();
    let mut draft = Draft::new(problem, &layout);
    let mut plan = |best: &Member, draft: &mut Draft| -> Result<Schedule, Fault> {
        draft
            .place_early(problem, &layout, &best.list)
            .map_err(|step| no_room(problem, &layout, step))?;
        let schedule = draft.schedule(&layout);
        better(&schedule);
        Ok(schedule)
    };
    let mut schedule = plan(&best, &mut draft)?;
    let bound = lower_bound(problem)?;
    let mut moves: u64 = islands.iter().map(|i| i.moves).sum();
    while moves < budget.moves && !stop.raised() && bound < best.finish {
        let share = (budget.moves - moves).div_ceil(islands.len() as u64);
        thread::scope(|scope| {
            for island in &mut islands {
                let setting = &setting;
                scope.spawn(move || island.breed(setting, share, bound));
            }
        });
        moves = islands.iter().map(|i| i.moves).sum();
        let before = best.finish;
        for island in &islands {
            if island.best.finish < best.finish {
                best = island.best.clone();
            }
        }
        if best.finish < before {
            schedule = plan(&best, &mut draft)?;
        }
        for island in &mut islands {
            island.welcome(&best);
        }
    }
    Ok(Solution {
        schedule,
        bound,
        moves,
    })
}

/// The longest chain of durations and waits from the beginning of each step to the end.
fn tails(problem: &Problem) -> Vec<u32> {
    let mut tail = vec![0; problem.steps.len()];
    for &s in problem.order.iter().rev() {
        let s = s as usize;
        let behind = problem.after[s].iter();
        let longest = behind.map(|&(j, wait)| wait + tail[j as usize]).max();
        tail[s] = problem.steps[s].duration + longest.unwrap_or(0);
    }
    tail
}

impl Island {
    /// An island whose one list takes the steps with the longest chain behind them first.
    fn new(setting: &Setting, seed: u64, thread: u64) -> Result<Self, Fault> {
        let draft = Draft::new(setting.problem, setting.layout);
        let mut island = Self {
            members: Vec::new(),
            best: Member {
                list: by_keys(setting, |s| -f64::from(setting.tail[s])),
                finish: u32::MAX,
                mark: 0,
            },
            chance: Chance::new(seed, thread),
            spare: draft.clone(),
            shifter: Shifter::default(),
            draft,
            fresh: 0,
            idle: 0,
            moves: 0,
        };
        let Setting {
            problem, layout, ..
        } = setting;
        let first = island.draft.place_early(problem, layout, &island.best.list);
        first.map_err(|step| no_room(problem, layout, step))?;
        island.best.finish = island.draft.finish;
        island.best.mark = mark(&island.draft.start);
        island.moves += 1;
        island.members.push(island.best.clone());
        Ok(island)
    }

    /// Breeds one round of lists, or as many as `share` moves allow.
    fn breed(&mut self, setting: &Setting, share: u64, goal: u32) {
        let end = self.moves.saturating_add(share);
        for _ in 0..ROUND {
            if setting.stop.raised() || self.moves >= end || self.best.finish <= goal {
                return;
            }
            if self.idle > PATIENCE {
                self.members.clear();
                self.fresh = 0;
                self.idle = 0;
            }
            // A small problem may not have so many different plans.
            let list = if self.fresh < LISTS || self.members.is_empty() {
                self.fresh += 1;
                self.fresh(setting)
            } else {
                self.child(setting)
            };
            self.try_list(setting, list);
        }
    }

    /// A list by the longest chain behind each step, blurred.
    fn fresh(&mut self, setting: &Setting) -> Vec<u32> {
        let longest = setting.tail.iter().max().map_or(1.0, |&t| f64::from(t));
        let blur = longest * 0.4 * self.chance.share();
        let noise: Vec<f64> = setting
            .tail
            .iter()
            .map(|_| self.chance.share() * blur)
            .collect();
        by_keys(setting, |s| noise[s] - f64::from(setting.tail[s]))
    }

    /// A list from two lists, or from one with a window shuffled.
    fn child(&mut self, setting: &Setting) -> Vec<u32> {
        let father = self.pick();
        let n = self.members[father].list.len();
        if self.chance.share() < CROSSED {
            let mother = self.pick();
            let longest = 2 + (n as f64 * STRETCH) as usize;
            let p = self.chance.below(n + 1);
            let q = (p + 1 + self.chance.below(longest)).min(n);
            cross(&self.members[father].list, &self.members[mother].list, p, q)
        } else {
            self.shuffle(setting, father)
        }
    }

    /// The better of two random members.
    fn pick(&mut self) -> usize {
        let a = self.chance.below(self.members.len());
        let b = self.chance.below(self.members.len());
        if self.members[a].finish <= self.members[b].finish {
            a
        } else {
            b
        }
    }

    /// A member's list with the places in a window blurred.
    fn shuffle(&mut self, setting: &Setting, member: usize) -> Vec<u32> {
        let list = self.members[member].list.clone();
        let n = list.len();
        let width = (2 + self.chance.below(WINDOW)).min(n);
        let from = self.chance.below(n - width + 1);
        let blur = 1.0 + self.chance.share() * WINDOW as f64;
        let mut key = vec![0.0; n];
        for (i, &s) in list.iter().enumerate() {
            let inside = (from..from + width).contains(&i);
            let noise = if inside {
                blur * self.chance.share()
            } else {
                0.0
            };
            key[s as usize] = i as f64 + noise;
        }
        by_keys(setting, |s| key[s])
    }

    /// Turns a list into a plan, shifts it and lets it in in place of a worse one.
    fn try_list(&mut self, setting: &Setting, mut list: Vec<u32>) {
        self.moves += 1;
        self.idle += 1;
        let Setting {
            problem, layout, ..
        } = setting;
        if self.draft.place_early(problem, layout, &list).is_err() {
            return;
        }
        let worst = self.members.iter().map(|m| m.finish).max();
        let hopeless = |worst| f64::from(self.draft.finish) > f64::from(worst) * (1.0 + HOPELESS);
        if self.members.len() == LISTS && worst.is_some_and(hopeless) {
            return;
        }
        let drafts = (&mut self.draft, &mut self.spare);
        self.moves += self.shifter.shift(problem, layout, drafts, &mut list);
        let member = Member {
            list,
            finish: self.draft.finish,
            mark: mark(&self.draft.start),
        };
        if member.finish < self.best.finish {
            self.best = member.clone();
            self.idle = 0;
        }
        self.admit(member);
    }

    /// Puts a member in place of a worse one. The same plan is never kept twice: without
    /// that, one good plan soon fills all places and breeds only itself.
    fn admit(&mut self, member: Member) {
        let same = |m: &Member| (m.finish, m.mark) == (member.finish, member.mark);
        if self.members.iter().any(same) {
            return;
        }
        if self.members.len() < LISTS {
            self.members.push(member);
            return;
        }
        let a = self.chance.below(self.members.len());
        let b = self.chance.below(self.members.len());
        let worse = if self.members[a].finish >= self.members[b].finish {
            a
        } else {
            b
        };
        if member.finish <= self.members[worse].finish {
            self.members[worse] = member;
        }
    }

    /// Takes in the best list of all islands if it beats the own one.
    fn welcome(&mut self, best: &Member) {
        if best.finish < self.best.finish {
            self.best = best.clone();
            self.idle = 0;
            self.admit(best.clone());
        }
    }
}

/// The steps by rising key, as far as the links allow.
fn by_keys(setting: &Setting, key: impl Fn(usize) -> f64) -> Vec<u32> {
    let problem = setting.problem;
    let n = problem.steps.len();
    let mut waiting: Vec<usize> = problem.before.iter().map(Vec::len).collect();
    let mut open: Vec<u32> = (0..n as u32)
        .filter(|&s| waiting[s as usize] == 0)
        .collect();
    let mut list = Vec::with_capacity(n);
    while !open.is_empty() {
        let mut least = 0;
        for i in 1..open.len() {
            if key(open[i] as usize) < key(open[least] as usize) {
                least = i;
            }
        }
        let step = open.swap_remove(least);
        list.push(step);
        for &(j, _) in &problem.after[step as usize] {
            waiting[j as usize] -= 1;
            if waiting[j as usize] == 0 {
                open.push(j);
            }
        }
    }
    list
}

/// The father's list with its stretch `p..q` filled in the mother's order.
fn cross(father: &[u32], mother: &[u32], p: usize, q: usize) -> Vec<u32> {
    let n = father.len();
    let mut taken = vec![false; n];
    let mut list = Vec::with_capacity(n);
    let mut take = |list: &mut Vec<u32>, from: &[u32], upto: usize| {
        for &s in from {
            if list.len() == upto {
                return;
            }
            if !taken[s as usize] {
                taken[s as usize] = true;
                list.push(s);
            }
        }
    };
    take(&mut list, father, p);
    take(&mut list, mother, q);
    take(&mut list, father, n);
    list
}

/// A number that differs between plans, as good as always (after Fowler, Noll and Vo
/// 1991, on words).
fn mark(start: &[u32]) -> u64 {
    start.iter().fold(0xCBF2_9CE4_8422_2325, |mark, &slot| {
        (mark ^ u64::from(slot))
            .wrapping_mul(0x0000_0100_0000_01B3)
            .rotate_left(23)
    })
}
