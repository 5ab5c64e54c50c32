//! The calendar: on which evening each step can be done and by whom, when the job is finished,
//! what sets that day, and what has to be ordered by when.
//!
//! The order of the steps comes from [`crate::sequence`]. Here people with their hours and their
//! pace, single tools, cures, leads and outside work are laid over it. [`crate::crew`] is the
//! search over plain slots; it knows no pace of a person and no days of a shop. Nothing here
//! knows a time zone or a clock.

use std::collections::{BTreeMap, BTreeSet};

use book::{JointId, OutcomeKind, PartId, Shop};
use jiff::civil::Date;
use job::plan::{Plan, StepName};
use quantity::Quantity as _;

use crate::Budget;
use crate::chance::Chance;
use crate::graph::Graph;

mod hours;
pub use hours::{DAY, EVENING, MORNING, Seconds, day_of, on_day};

mod buy;
pub use buy::Purchase;
mod due;

mod work;
mod place;
mod order;
mod chain;
mod change;
pub use change::change;
mod dated;

pub(crate) use chain::Held;
pub(crate) use hours::date;
pub(crate) use work::{Sort, Work, part_of};

use buy::purchases;
use hours::of_shop;
use place::{Crew, LARGEST_TEAM, Placing, place};

/// Days a calendar covers.
const DAYS: i64 = 800;

/// Draws of luck behind *if it goes badly*.
const DRAWS: u64 = 200;

/// The share of draws that are no worse than *badly*, and no better than *early*.
const BADLY: f64 = 0.9;
const EARLY: f64 = 0.1;

/// What the record says already happened outside, in days counted from the first one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// Parts that are at a shop, and since when.
    pub sent: BTreeMap<PartId, i64>,
    /// Parts that are back from the shop.
    pub back: BTreeSet<PartId>,
    /// Parts that were renewed.
    pub renewed: BTreeSet<PartId>,
    /// New seals that are in a joint already, by what they are called.
    pub seals: BTreeMap<(JointId, String), u32>,
    /// Holes of a joint with a new fastener in them, or one that lies ready.
    pub fasteners: BTreeMap<JointId, usize>,
    /// Orders.
    pub orders: Vec<Ordered>,
}

/// One order of the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ordered {
    /// What was ordered, as typed.
    pub what: String,
    /// How many.
    pub count: u32,
    /// The day it was ordered, counted from the first.
    pub day: i64,
    /// It has come.
    pub here: bool,
}

/// Why there is no calendar.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CalendarFault {
    /// Nobody works here.
    #[error("the shop file names nobody with hours")]
    Nobody,
    /// A step takes more hands than are ever there at the same time.
    #[error("{step} takes {hands} people at the same moment, and {why}")]
    Hands {
        /// The step.
        step: String,
        /// People it takes.
        hands: u32,
        /// Why they are not there.
        why: String,
    },
    /// The calendar ends before everything is done.
    #[error("{0} finds no room in {DAYS} days")]
    Ends(String),
}

/// A step that is longer than any stretch its people have.
#[derive(Clone, Debug, PartialEq)]
pub struct TooLong {
    /// The step.
    pub step: StepName,
    /// What it takes the fastest who can do it.
    pub takes: Seconds,
    /// The longest stretch they have.
    pub longest: Seconds,
}

/// One way outside work can end, with what becomes of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// The part.
    pub part: PartId,
    /// What is done to it.
    pub what: String,
    /// How it ends.
    pub ends: OutcomeKind,
    /// When it is back and when all is finished; nothing where the book has no days.
    pub dated: Option<(Seconds, Seconds)>,
}

/// Something to buy, with its dates.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    /// What.
    pub purchase: Purchase,
    /// When the plan needs it.
    pub needed: Seconds,
    /// The last day, counted from the first, on which it can be ordered without moving the
    /// finish, its lead taken at the long end and everything before it in the list ordered as
    /// late as that says; nothing where the lead is not known.
    pub order_by: Option<i64>,
}

/// A calendar.
#[derive(Clone, Debug)]
pub struct Calendar {
    /// The first day.
    pub first: Date,
    /// The finish when all outside work is good and every step takes its mean.
    pub likely: Seconds,
    /// One draw in ten is done by then.
    pub early: Seconds,
    /// Nine draws in ten are done by then, all outside work good.
    pub late: Seconds,
    /// Nine draws in ten are done by then, all outside work having found something to mend.
    pub badly: Seconds,
    /// How each piece of outside work can end.
    pub branches: Vec<Branch>,
    /// What to buy, first needed first.
    pub buys: Vec<Buy>,
    /// Steps that no evening holds.
    pub too_long: Vec<TooLong>,
    /// When everything that comes off is off and was looked at.
    pub inspected: Seconds,
    pub(crate) work: Work,
    pub(crate) placing: Placing,
    pub(crate) chain: Vec<chain::Link>,
}

/// Lays a plan over the hours of a shop, from a day on. A move of the budget is one order of
/// the tasks tried.
///
/// # Errors
/// [`CalendarFault`] where nobody can do a step or the calendar is too short.
pub fn calendar(
    graph: &Graph,
    plan: &Plan,
    shop: &Shop,
    first: Date,
    done: &Done,
    budget: &Budget,
) -> Result<Calendar, CalendarFault> {
    again(graph, plan, shop, first, done, &[], budget)
}

/// Lays a changed plan over the hours again. Steps keep the order `kept` gives, as far as the
/// waits allow, unless another order ends on an earlier day; new steps stand where the plan has them.
///
/// # Errors
/// As [`calendar`].
pub fn again(
    graph: &Graph,
    plan: &Plan,
    shop: &Shop,
    first: Date,
    done: &Done,
    kept: &[StepName],
    budget: &Budget,
) -> Result<Calendar, CalendarFault> {
    let buys = purchases(graph, plan, done);
    let work = Work::new(graph, plan, shop, done, &buys);
    let crew = crew(shop, first)?;
    can_be_done(plan, &work, &crew)?;
    let good = work.lengths(&buys, OutcomeKind::Good, None, |span, _| span.mean());
    let full = |task: usize| CalendarFault::Ends(work.name(plan, task));
    let (list, placing) =
        order::best(&work, &crew, &good, &order::ranks(plan, kept), budget).map_err(full)?;
    let laid = Laid {
        work: &work,
        crew: &crew,
        buys: &buys,
        list: &list,
    };
    let lucky = laid.drawn(OutcomeKind::Good, budget.seed).map_err(full)?;
    let unlucky = laid
        .drawn(OutcomeKind::NeedsWork, budget.seed)
        .map_err(full)?;
    let share = |finishes: &[Seconds], share: f64| {
        let at = ((finishes.len().saturating_sub(1)) as f64 * share).round() as usize;
        finishes.get(at).copied().unwrap_or(placing.finish)
    };
    let branches = laid.branches().map_err(full)?;
    let inspected = work
        .tasks
        .iter()
        .position(|task| task.sort == Sort::Inspected);
    Ok(Calendar {
        first,
        likely: placing.finish,
        early: share(&lucky, EARLY).min(placing.finish),
        late: share(&lucky, BADLY).max(placing.finish),
        badly: share(&unlucky, BADLY).max(placing.finish),
        branches,
        buys: due::dated(&laid, &good, &placing, &buys),
        too_long: too_long(plan, &work, &crew),
        inspected: inspected.map_or(0, |task| placing.tasks[task].end()),
        chain: chain::chain(&work, &placing),
        work,
        placing,
    })
}

/// What the looks at other luck and other outcomes share: the order of the tasks stays.
struct Laid<'a> {
    work: &'a Work,
    crew: &'a Crew,
    buys: &'a [Purchase],
    list: &'a [usize],
}

impl Laid<'_> {
    /// The finishes of all draws, earliest first, when all outside work ends this way.
    fn drawn(&self, ends: OutcomeKind, seed: u64) -> Result<Vec<Seconds>, usize> {
        let mut finishes = Vec::new();
        for draw in 1..=DRAWS {
            let mut chance = Chance::new(seed, draw);
            let luck: Vec<f64> = (0..self.work.lucks).map(|_| chance.share()).collect();
            let pick = |span: work::Span, task: &work::Task| span.at(luck[task.luck]);
            let lengths = self.work.lengths(self.buys, ends, None, pick);
            finishes.push(place(self.work, self.crew, &lengths, self.list)?.finish);
        }
        finishes.sort_unstable();
        Ok(finishes)
    }

    /// Every way each piece of outside work can end, all others good.
    fn branches(&self) -> Result<Vec<Branch>, usize> {
        let mut branches = Vec::new();
        for (task, outside) in self.work.outsides() {
            for &(ends, days) in &outside.ends {
                let one = Some((task, ends));
                let mean = |span: work::Span, _: &work::Task| span.mean();
                let lengths = self.work.lengths(self.buys, OutcomeKind::Good, one, mean);
                let placed = place(self.work, self.crew, &lengths, self.list)?;
                branches.push(Branch {
                    part: outside.part.clone(),
                    what: outside.what.clone(),
                    ends,
                    dated: days.map(|_| (placed.tasks[task].end(), placed.finish)),
                });
            }
        }
        Ok(branches)
    }
}

fn crew(shop: &Shop, first: Date) -> Result<Crew, CalendarFault> {
    let hours = of_shop(shop, first, DAYS);
    if hours.iter().all(Vec::is_empty) {
        return Err(CalendarFault::Nobody);
    }
    let factors = shop
        .people
        .iter()
        .map(|person| person.first_time.known().map_or(1.0, |factor| factor.si()));
    Ok(Crew::new(
        first,
        hours,
        factors.map(|factor| factor.max(1.0)).collect(),
    ))
}

/// Refuses a step that takes more hands than ever meet.
fn can_be_done(plan: &Plan, work: &Work, crew: &Crew) -> Result<(), CalendarFault> {
    for (number, task) in work.tasks.iter().enumerate() {
        if !matches!(task.sort, Sort::Hands(_))
            || crew.teams(task.hands).iter().any(|team| team.longest > 0)
        {
            continue;
        }
        let people = crew.hours.iter().filter(|hours| !hours.is_empty()).count();
        let why = if task.hands as usize > LARGEST_TEAM {
            format!("no more than {LARGEST_TEAM} can be planned")
        } else if (task.hands as usize) > people {
            format!(
                "only {people} {} here",
                if people == 1 {
                    "person works"
                } else {
                    "people work"
                }
            )
        } else {
            "no so many of them are ever here together".to_owned()
        };
        return Err(CalendarFault::Hands {
            step: work.name(plan, number),
            hands: task.hands,
            why,
        });
    }
    Ok(())
}

/// Steps that nobody can do at one go.
fn too_long(plan: &Plan, work: &Work, crew: &Crew) -> Vec<TooLong> {
    let mut found = Vec::new();
    for task in &work.tasks {
        let Sort::Hands(step) = task.sort else {
            continue;
        };
        let takes = |team: &place::Team| (task.takes.mean() * team.factor).ceil() as Seconds;
        let teams = crew.teams(task.hands);
        if teams.iter().any(|team| takes(team) <= team.longest) {
            continue;
        }
        if let Some(team) = teams
            .iter()
            .max_by_key(|team| (team.longest, std::cmp::Reverse(takes(team))))
        {
            found.push(TooLong {
                step: plan.steps[step].name.clone(),
                takes: takes(team),
                longest: team.longest,
            });
        }
    }
    found
}

#[cfg(test)]
mod tests;
