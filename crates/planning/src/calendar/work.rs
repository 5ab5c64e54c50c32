//! What has to be placed in the calendar: the steps of a plan, outside work, deliveries.

use std::collections::BTreeMap;

use book::{OutcomeKind, PartId, Ref};
use job::plan::{Leg, Plan, Step, StepAct};
use quantity::{Duration, Range};

use super::Done;
use super::buy::Purchase;
use super::hours::{Seconds, whole};
use crate::graph::Graph;

/// A length of time with a low and a high one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Span {
    pub(crate) low: f64,
    pub(crate) likely: f64,
    pub(crate) high: f64,
}

impl Span {
    /// The mean of a triangle over the three: what many steps of this kind add up to.
    pub(crate) fn mean(self) -> f64 {
        (self.low + self.likely + self.high) / 3.0
    }

    /// The value below which this share of a triangle lies.
    pub(crate) fn at(self, share: f64) -> f64 {
        let width = self.high - self.low;
        if width <= 0.0 {
            return self.likely;
        }
        let rise = (self.likely - self.low) / width;
        if share < rise {
            self.low + (share * width * (self.likely - self.low)).sqrt()
        } else {
            self.high - ((1.0 - share) * width * (self.high - self.likely)).sqrt()
        }
    }

    /// Days between two ends, with nothing more likely than the middle.
    pub(crate) fn days(range: &Range<Duration>) -> Self {
        let (low, high) = (range.low.in_hours() / 24.0, range.high.in_hours() / 24.0);
        Self {
            low,
            likely: f64::midpoint(low, high),
            high,
        }
    }
}

/// What sort of thing is placed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Sort {
    /// A step of the plan, by number, done by people here.
    Hands(usize),
    /// A part is away at a shop.
    Outside(Outside),
    /// Something to buy is on its way: its number, and the day it was ordered where it was.
    Delivery(usize, Option<i64>),
    /// A mere point in time: everything that was to come off is off and was looked at.
    Inspected,
}

/// Outside work on one part with the days of each way it can end.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Outside {
    pub(crate) part: PartId,
    pub(crate) what: String,
    /// In book order; no days where the book has none.
    pub(crate) ends: Vec<(OutcomeKind, Option<Span>)>,
    /// The day it went out, where it has gone already.
    pub(crate) sent: Option<i64>,
}

impl Outside {
    /// The days of one way to end.
    pub(crate) fn days(&self, kind: OutcomeKind) -> Option<Span> {
        self.ends
            .iter()
            .find(|(of, _)| *of == kind)
            .and_then(|&(_, days)| days)
    }
}

/// One thing to be placed.
#[derive(Clone, Debug)]
pub(crate) struct Task {
    pub(crate) sort: Sort,
    /// Seconds of a practised hand, for steps.
    pub(crate) takes: Span,
    pub(crate) hands: u32,
    /// Single tools and hoists, by number in [`Work::tools`].
    pub(crate) tools: Vec<usize>,
    /// What it waits for, and how long after that ends.
    pub(crate) after: Vec<(usize, Seconds)>,
    /// Curing after it, which the finish waits for.
    pub(crate) cures: Seconds,
    /// It does not begin before.
    pub(crate) not_before: Seconds,
    /// Which draw of luck it shares with others: the steps of one part go well or badly together.
    pub(crate) luck: usize,
}

/// Everything to be placed.
#[derive(Clone, Debug)]
pub(crate) struct Work {
    pub(crate) tasks: Vec<Task>,
    /// How many there are of each single tool; the hoist comes last.
    pub(crate) tools: Vec<u32>,
    pub(crate) lucks: usize,
    /// What a reader calls each thing to buy.
    pub(crate) goods: Vec<String>,
}

fn bare(sort: Sort) -> Task {
    Task {
        sort,
        takes: Span::default(),
        hands: 0,
        tools: Vec::new(),
        after: Vec::new(),
        cures: 0,
        not_before: 0,
        luck: 0,
    }
}

/// The part a step is about.
pub(crate) fn part_of(graph: &Graph, target: &Ref) -> Option<PartId> {
    match target {
        Ref::Part(part) => Some(part.clone()),
        Ref::Joint(joint) => graph.book().joint(joint).map(|joint| joint.of.clone()),
        Ref::Hole(hole) => graph
            .book()
            .joint(&hole.joint)
            .map(|joint| joint.of.clone()),
        Ref::Port(port) => Some(port.part.clone()),
        _ => None,
    }
}

/// Gates behind which a pump turns: oil and fuel press on what was sealed.
const PRESSING: [&str; 3] = ["spin", "fire", "drive"];

/// Whether a step brings fluid or pressure to what was sealed before it.
fn presses(step: &Step) -> bool {
    match &step.name.target {
        Ref::Gate(gate) => step.name.act == StepAct::Pass && PRESSING.contains(&gate.as_str()),
        _ => step.name.act == StepAct::Fill,
    }
}

/// Whether a step looks at a part that has to be here for it: a check of the part, or the gate
/// before a head goes on where the part is a head.
fn looks_at(graph: &Graph, step: &Step, part: &book::Part) -> bool {
    match &step.name.target {
        Ref::Check(id) => {
            let check = graph.book().check(id);
            let of = check.and_then(|check| check.of.as_ref());
            of.is_some_and(|of| of.id == Ref::Part(part.id.clone()))
        }
        Ref::Gate(gate) => {
            let mut joints = graph.book().joints_of(&part.id);
            gate.as_str() == "before-head-on"
                && joints.any(|joint| joint.critical == Some(book::Critical::Head))
        }
        _ => false,
    }
}

/// Whether a step puts this part on, alone or with others.
fn puts_on(step: &Step, part: &PartId) -> bool {
    step.name.act == StepAct::On
        && (step.name.target == Ref::Part(part.clone()) || step.with.contains(part))
}

fn takes_off(step: &Step, part: &PartId) -> bool {
    step.name.act == StepAct::Off
        && (step.name.target == Ref::Part(part.clone()) || step.with.contains(part))
}

impl Work {
    /// The tasks of a plan with what it has to wait for outside.
    pub(crate) fn new(
        graph: &Graph,
        plan: &Plan,
        shop: &book::Shop,
        done: &Done,
        buys: &[Purchase],
    ) -> Self {
        let mut work = Self {
            tasks: Vec::new(),
            tools: shop.singles.iter().map(|tool| tool.count).collect(),
            lucks: 1,
            goods: buys.iter().map(|buy| buy.what.clone()).collect(),
        };
        let hoists: u32 = shop
            .singles
            .iter()
            .filter(|tool| tool.hoist)
            .map(|tool| tool.count)
            .sum();
        // A load that hangs needs a hoist; where the shop file names none, one is borrowed.
        work.tools.push(hoists.max(1));
        work.steps(graph, plan, shop);
        work.cures(plan);
        work.outside(graph, plan, done);
        work.deliveries(plan, buys);
        work
    }

    fn steps(&mut self, graph: &Graph, plan: &Plan, shop: &book::Shop) {
        let between = plan.between.in_seconds() / plan.steps.len().max(1) as f64;
        let mut lucks: BTreeMap<(Leg, Option<PartId>), usize> = BTreeMap::new();
        for (number, step) in plan.steps.iter().enumerate() {
            let mut task = bare(Sort::Hands(number));
            task.takes = step.takes.map_or_else(Span::default, |takes| Span {
                low: takes.low.in_seconds(),
                likely: takes.likely.in_seconds(),
                high: takes.high.in_seconds(),
            });
            task.takes.low += between;
            task.takes.likely += between;
            task.takes.high += between;
            task.hands = step.hands.max(1);
            let single =
                |tool: &book::ToolId| shop.singles.iter().position(|single| single.id == *tool);
            task.tools = step.tools.iter().filter_map(single).collect();
            if step.hoist {
                task.tools.push(self.tools.len() - 1);
            }
            let before = step.waits.iter().filter_map(|wait| plan.place(&wait.first));
            task.after = before.map(|before| (before, 0)).collect();
            task.after.sort_unstable();
            task.after.dedup();
            task.cures = step.cures.map_or(0, whole);
            let next = lucks.len();
            task.luck = *lucks
                .entry((step.leg, part_of(graph, &step.name.target)))
                .or_insert(next);
            self.tasks.push(task);
        }
        self.lucks = lucks.len().max(1);
    }

    /// What sealant seals waits until it has cured: the fill, and every gate behind which there
    /// is fluid under pressure.
    fn cures(&mut self, plan: &Plan) {
        for (sealed, step) in plan.steps.iter().enumerate() {
            let Some(cures) = step.cures.map(whole) else {
                continue;
            };
            for then in (0..plan.steps.len()).filter(|&then| presses(&plan.steps[then])) {
                if self.waits_for(then, sealed) {
                    self.tasks[then].after.push((sealed, cures));
                }
            }
        }
    }

    /// Whether one step comes after another by any chain of waits.
    fn waits_for(&self, then: usize, first: usize) -> bool {
        let mut seen = vec![false; self.tasks.len()];
        let mut open = vec![then];
        while let Some(at) = open.pop() {
            for &(before, _) in &self.tasks[at].after {
                if before == first {
                    return true;
                }
                if !seen[before] {
                    seen[before] = true;
                    open.push(before);
                }
            }
        }
        false
    }

    fn outside(&mut self, graph: &Graph, plan: &Plan, done: &Done) {
        for part in &graph.book().parts {
            let goes_on: Vec<usize> = (0..plan.steps.len())
                .filter(|&step| puts_on(&plan.steps[step], &part.id))
                .collect();
            if goes_on.is_empty() || done.back.contains(&part.id) {
                continue;
            }
            let comes_off = plan.steps.iter().position(|step| takes_off(step, &part.id));
            // What is looked at on the part, and the gate before it goes on, wait for it too.
            let away = comes_off.map_or(0, |off| off + 1)..goes_on[0];
            let looked_at: Vec<usize> = away
                .filter(|&step| looks_at(graph, &plan.steps[step], part))
                .collect();
            for outside in &part.outside {
                let ends = outside.outcomes.iter();
                let ends = ends
                    .map(|end| (end.kind, end.takes.known().map(Span::days)))
                    .collect();
                let mut task = bare(Sort::Outside(Outside {
                    part: part.id.clone(),
                    what: outside.what.clone(),
                    ends,
                    sent: done.sent.get(&part.id).copied(),
                }));
                task.after = comes_off.map(|off| (off, 0)).into_iter().collect();
                let number = self.add(task);
                for &on in goes_on.iter().chain(&looked_at) {
                    self.tasks[on].after.push((number, 0));
                }
            }
        }
    }

    fn deliveries(&mut self, plan: &Plan, buys: &[Purchase]) {
        let apart: Vec<usize> = (0..plan.steps.len())
            .filter(|&step| plan.steps[step].leg == Leg::Apart)
            .collect();
        let mut inspected = bare(Sort::Inspected);
        inspected.after = apart.iter().map(|&step| (step, 0)).collect();
        let inspected = self.add(inspected);
        for (number, buy) in buys.iter().enumerate() {
            if buy.lead.is_none() || buy.here {
                continue;
            }
            let mut task = bare(Sort::Delivery(number, buy.ordered));
            if buy.after_inspection && buy.ordered.is_none() {
                task.after.push((inspected, 0));
            }
            let delivery = self.add(task);
            for &step in &buy.wanted_by {
                self.tasks[step].after.push((delivery, 0));
            }
        }
    }

    /// A task of the world outside has its own luck.
    fn add(&mut self, mut task: Task) -> usize {
        task.luck = self.lucks;
        self.lucks += 1;
        self.tasks.push(task);
        self.tasks.len() - 1
    }

    /// The outside work among the tasks.
    pub(crate) fn outsides(&self) -> impl Iterator<Item = (usize, &Outside)> {
        self.tasks
            .iter()
            .enumerate()
            .filter_map(|(number, task)| match &task.sort {
                Sort::Outside(outside) => Some((number, outside)),
                Sort::Hands(_) | Sort::Delivery(..) | Sort::Inspected => None,
            })
    }

    /// How long everything takes: all outside work ends this way where it can, one piece of it
    /// perhaps another way.
    pub(crate) fn lengths(
        &self,
        buys: &[Purchase],
        ends: OutcomeKind,
        but: Option<(usize, OutcomeKind)>,
        pick: impl Fn(Span, &Task) -> f64,
    ) -> Vec<f64> {
        let length = |(number, task): (usize, &Task)| {
            let span = match &task.sort {
                Sort::Hands(_) => Some(task.takes),
                Sort::Outside(outside) => {
                    let ends = but
                        .filter(|&(other, _)| other == number)
                        .map_or(ends, |(_, ends)| ends);
                    let good = || outside.days(OutcomeKind::Good);
                    outside.days(ends).or_else(good)
                }
                Sort::Delivery(buy, _) => buys[*buy].lead,
                Sort::Inspected => None,
            };
            span.map_or(0.0, |span| pick(span, task))
        };
        self.tasks.iter().enumerate().map(length).collect()
    }

    /// What a reader calls a task.
    pub(crate) fn name(&self, plan: &Plan, task: usize) -> String {
        match &self.tasks[task].sort {
            Sort::Hands(step) => plan.steps[*step].name.to_string(),
            Sort::Outside(outside) => format!("{} of {}", outside.what, outside.part),
            Sort::Delivery(..) => "a delivery".to_owned(),
            Sort::Inspected => "looking at everything".to_owned(),
        }
    }
}
