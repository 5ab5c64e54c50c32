//! Whose hands do what now: the steps that are ready, shared out so that hands do not collide.
//!
//! Steps are taken from a plan in its order. Two people never get the same part, the same
//! single tool or an act that needs every hand, and they get different zones while there is
//! one to be had. It decides nothing about the order: that is the plan's.

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, PartId, Ref, ToolId};
use job::plan::{Plan, Step, StepAct, StepName};

/// One of the people at work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worker {
    /// The person.
    pub name: String,
    /// What the person said to have in hand; it stays theirs while it can be done.
    pub holds: Option<StepName>,
}

/// One act in one pair of hands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Whose, by place among the workers.
    pub who: usize,
    /// 0 for what is in hand now, 1 for what comes after it, …
    pub round: usize,
    /// The step, by place in the plan.
    pub step: usize,
    /// Who works in the same zone at the same time, by place among the workers.
    pub beside: Vec<usize>,
    /// Lends a hand at the step of somebody else.
    pub helps: bool,
}

/// What the sharing out is made from.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// The book, for the parts a step touches.
    pub book: &'a Book,
    /// The steps that are left, in order.
    pub plan: &'a Plan,
    /// Tools of which there are only so many.
    pub singles: &'a BTreeMap<ToolId, u32>,
    /// Further tools a step takes, such as the wrench its figure is set on.
    pub wrenches: &'a BTreeMap<StepName, ToolId>,
    /// Steps somebody has begun; they come before others that are ready.
    pub begun: &'a BTreeSet<StepName>,
}

/// Shares out the steps for so many rounds. A round ends before the next one begins, so what
/// stands in a later round may wait for anything in an earlier one.
#[must_use]
pub fn turns(bench: &Bench<'_>, workers: &[Worker], rounds: usize) -> Vec<Turn> {
    let mut done: BTreeSet<usize> = BTreeSet::new();
    let mut all = Vec::new();
    for round in 0..rounds {
        let mut taken: Vec<Turn> = Vec::new();
        for (who, worker) in workers.iter().enumerate() {
            let held = worker.holds.as_ref().filter(|_| round == 0);
            let step = held
                .and_then(|name| bench.plan.place(name))
                .filter(|&step| bench.ready(step, &done) && bench.clear(step, &taken));
            bench.take(who, round, step, workers.len(), &mut taken);
        }
        for who in 0..workers.len() {
            if taken.iter().any(|turn| turn.who == who) {
                continue;
            }
            let step = bench.best(&done, &taken);
            bench.take(who, round, step, workers.len(), &mut taken);
        }
        done.extend(taken.iter().map(|turn| turn.step));
        taken.sort_by_key(|turn| turn.who);
        all.extend(taken);
    }
    all
}

impl Bench<'_> {
    /// Enters a step for a person, and lends it the hands it needs.
    fn take(
        &self,
        who: usize,
        round: usize,
        step: Option<usize>,
        people: usize,
        taken: &mut Vec<Turn>,
    ) {
        let Some(step) = step else {
            return;
        };
        let beside = taken
            .iter()
            .filter(|turn| self.same_zone(turn.step, step))
            .map(|turn| turn.who)
            .collect();
        taken.push(Turn {
            who,
            round,
            step,
            beside,
            helps: false,
        });
        let more = usize::try_from(self.plan.steps[step].hands.saturating_sub(1));
        let free: Vec<usize> = (0..people)
            .filter(|other| taken.iter().all(|turn| turn.who != *other))
            .take(more.unwrap_or(0))
            .collect();
        taken.extend(free.into_iter().map(|who| Turn {
            who,
            round,
            step,
            beside: Vec::new(),
            helps: true,
        }));
    }

    /// The step for the next free hands: begun before fresh, another zone before the same one,
    /// then the order of the plan.
    fn best(&self, done: &BTreeSet<usize>, taken: &[Turn]) -> Option<usize> {
        let crowded = |step: usize| {
            taken
                .iter()
                .filter(|turn| self.same_zone(turn.step, step))
                .count()
        };
        (0..self.plan.steps.len())
            .filter(|step| !done.contains(step))
            .filter(|&step| self.ready(step, done) && self.clear(step, taken))
            .min_by_key(|&step| {
                let begun = self.begun.contains(&self.plan.steps[step].name);
                (crowded(step), !begun, step)
            })
    }

    /// Whether everything a step waits for is done or is no longer in the plan.
    fn ready(&self, step: usize, done: &BTreeSet<usize>) -> bool {
        self.plan.steps[step].waits.iter().all(|wait| {
            self.plan
                .place(&wait.first)
                .is_none_or(|place| done.contains(&place))
        })
    }

    /// Whether a step keeps clear of what others have in hand.
    fn clear(&self, step: usize, taken: &[Turn]) -> bool {
        let own = &self.plan.steps[step];
        let parts = touched(self.book, own);
        let tools = self.tools(own);
        let used = |tool: &ToolId| {
            let others = taken.iter().filter(|turn| !turn.helps);
            let steps = others.map(|turn| &self.plan.steps[turn.step]);
            u32::try_from(steps.filter(|step| self.tools(step).contains(tool)).count())
        };
        let alone = taken.is_empty() || (own.hands < 2 && !wants_all(own));
        alone
            && taken.iter().all(|turn| {
                let other = &self.plan.steps[turn.step];
                turn.step != step
                    && !wants_all(other)
                    && !(own.hoist && other.hoist)
                    && touched(self.book, other).is_disjoint(&parts)
            })
            && tools.iter().all(|tool| {
                let there = self.singles.get(tool).copied();
                there.is_none_or(|there| used(tool).is_ok_and(|used| used < there))
            })
    }

    fn tools<'a>(&'a self, step: &'a Step) -> BTreeSet<&'a ToolId> {
        let wrench = self.wrenches.get(&step.name);
        step.tools.iter().chain(wrench).collect()
    }

    fn same_zone(&self, one: usize, other: usize) -> bool {
        let zone = |step: usize| self.plan.steps[step].zone.as_ref();
        zone(one).is_some_and(|here| here.as_str() != "bench" && zone(other) == Some(here))
    }
}

/// Whether nobody else may have a hand in the engine during a step.
fn wants_all(step: &Step) -> bool {
    step.name.act == StepAct::Pass
}

/// The parts a step has hands on.
fn touched(book: &Book, step: &Step) -> BTreeSet<PartId> {
    let mut parts: BTreeSet<PartId> = step.with.iter().cloned().collect();
    parts.extend(of(book, &step.name.target));
    parts
}

fn of(book: &Book, target: &Ref) -> Vec<PartId> {
    match target {
        Ref::Part(part) => vec![part.clone()],
        Ref::Joint(joint) => book
            .joint(joint)
            .map(|joint| joint.of.clone())
            .into_iter()
            .collect(),
        Ref::Hole(hole) => of(book, &Ref::Joint(hole.joint.clone())),
        Ref::Port(port) => vec![port.part.clone()],
        Ref::Line(line) => book
            .line(line)
            .into_iter()
            .flat_map(|line| line.ends.iter().map(|end| end.port.id.part.clone()))
            .collect(),
        Ref::Check(check) => book
            .check(check)
            .and_then(|check| check.of.as_ref())
            .map_or_else(Vec::new, |target| of(book, &target.id)),
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests;
