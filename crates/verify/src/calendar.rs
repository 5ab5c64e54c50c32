//! Does this calendar obey its plan, the shop file and the book?
//!
//! Hours are worked out anew from the shop file and the calendar of days, curing from the book,
//! chains of waits from the plan; nothing is taken over from whoever laid the calendar but its
//! times. Whether an earlier finish exists is not judged.

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, Date, Person, PersonId, Ref, Shop};
use job::dated::{Dated, DatedStep, Stretch};
use job::plan::{Plan, Step, StepAct, StepName};
use quantity::Quantity as _;

use crate::reason::Reason;
use crate::refusal::Refusal;

const HOUR: i64 = 3_600;
const DAY: i64 = 24 * HOUR;

/// Gates behind which oil or fuel presses on what was sealed.
const PRESSING: [&str; 3] = ["spin", "fire", "drive"];

/// Every reason to refuse a calendar: the steps in plan order, then what concerns all of it.
#[must_use]
pub fn calendar(book: &Book, shop: &Shop, plan: &Plan, dated: &Dated) -> Vec<Refusal> {
    let mut looked = Looked {
        book,
        shop,
        plan,
        dated,
        by_name: BTreeMap::new(),
        refusals: Vec::new(),
    };
    looked.index();
    for (at, step) in plan.steps.iter().enumerate() {
        looked.step(at, step);
    }
    looked.together();
    looked.elsewhere();
    looked.finish();
    looked.refusals
}

struct Looked<'a> {
    book: &'a Book,
    shop: &'a Shop,
    plan: &'a Plan,
    dated: &'a Dated,
    by_name: BTreeMap<&'a StepName, &'a DatedStep>,
    refusals: Vec<Refusal>,
}

fn starts(step: &DatedStep) -> i64 {
    step.stretches.first().map_or(0, |stretch| stretch.0)
}

fn ends(step: &DatedStep) -> i64 {
    step.stretches.last().map_or(0, |stretch| stretch.1)
}

impl<'a> Looked<'a> {
    fn refuse(&mut self, at: Option<usize>, reason: Reason, concerns: String, says: String) {
        self.refusals.push(Refusal {
            reason,
            step: at,
            concerns,
            says,
        });
    }

    /// Every dated step belongs to the plan and is dated once.
    fn index(&mut self) {
        for step in &self.dated.steps {
            let place = self.plan.place(&step.name);
            let name = step.name.to_string();
            if place.is_none() {
                let says = format!("`{name}` is dated, and the plan has no such step");
                self.refuse(None, Reason::UnknownId, name.clone(), says);
            }
            if self.by_name.insert(&step.name, step).is_some() {
                let says = format!("`{name}` is dated twice");
                self.refuse(place, Reason::DoneTwice, name, says);
            }
        }
    }

    fn step(&mut self, at: usize, step: &'a Step) {
        let name = step.name.to_string();
        let Some(&dated) = self.by_name.get(&step.name) else {
            let says = format!("`{name}` has no day");
            return self.refuse(Some(at), Reason::NotDated, name, says);
        };
        let forward = dated.stretches.iter().all(|(from, to)| from < to)
            && dated
                .stretches
                .windows(2)
                .all(|pair| pair[0].1 <= pair[1].0);
        if dated.stretches.is_empty() || !forward {
            let says = format!("`{name}`: its times do not run forward");
            self.refuse(Some(at), Reason::TimesOutOfOrder, name.clone(), says);
        }
        self.people(at, step, dated);
        for wait in &step.waits {
            let Some(first) = self.by_name.get(&wait.first) else {
                continue;
            };
            if ends(first) > starts(dated) {
                let says = format!("`{name}` begins before `{}` is done", wait.first);
                self.refuse(Some(at), Reason::OutOfOrder, wait.first.to_string(), says);
            }
        }
        self.cured(at, step, dated);
    }

    /// As many people as it takes, all of them there, for as long as the slowest needs.
    fn people(&mut self, at: usize, step: &Step, dated: &DatedStep) {
        let name = &step.name;
        let unique: BTreeSet<&PersonId> = dated.people.iter().collect();
        if unique.len() != dated.people.len() || unique.len() != step.hands as usize {
            let says = format!("`{name}` takes {} people, not {}", step.hands, unique.len());
            self.refuse(Some(at), Reason::WrongHands, name.to_string(), says);
        }
        let mut slowest: f64 = 1.0;
        for id in unique {
            let Some(person) = self.shop.people.iter().find(|person| person.id == *id) else {
                let says = format!("`{name}` is done by {id}, whom the shop file does not know");
                self.refuse(Some(at), Reason::UnknownId, id.to_string(), says);
                continue;
            };
            let factor = person.first_time.known().map(|factor| factor.si());
            slowest = slowest.max(factor.unwrap_or(1.0));
            let away = dated
                .stretches
                .iter()
                .any(|&stretch| !is_there(person, self.dated.first, stretch));
            if away {
                let says = format!("`{name}` stands at a time when {id} is not there");
                self.refuse(Some(at), Reason::OutsideHours, id.to_string(), says);
            }
        }
        let Some(takes) = step.takes else { return };
        let mean = [takes.low, takes.likely, takes.high]
            .iter()
            .map(|time| time.in_seconds())
            .sum::<f64>()
            / 3.0;
        let given: i64 = dated.stretches.iter().map(|(from, to)| to - from).sum();
        // Whole seconds, rounded up by whoever dates it; a float may lose the last one.
        if (given as f64) < (mean * slowest).floor() {
            let says = format!(
                "`{name}` takes {:.0} min and is given {:.0} min",
                mean * slowest / 60.0,
                given as f64 / 60.0
            );
            self.refuse(Some(at), Reason::TooShort, name.to_string(), says);
        }
    }

    /// Fluid and pressure wait for what was sealed before them, by any chain of waits.
    fn cured(&mut self, at: usize, step: &'a Step, dated: &DatedStep) {
        let presses = match &step.name.target {
            Ref::Gate(gate) => PRESSING.contains(&gate.as_str()),
            _ => step.name.act == StepAct::Fill,
        };
        if !presses {
            return;
        }
        let mut before: BTreeSet<&StepName> = BTreeSet::new();
        let mut open: Vec<&StepName> = vec![&step.name];
        while let Some(name) = open.pop() {
            let waits = self
                .plan
                .place(name)
                .map(|place| &self.plan.steps[place].waits);
            for wait in waits.into_iter().flatten() {
                if before.insert(&wait.first) {
                    open.push(&wait.first);
                }
            }
        }
        for name in before {
            let Some(sealed) = self.by_name.get(name).copied() else {
                continue;
            };
            let cures = self.cures(name);
            if cures > 0 && ends(sealed) + cures > starts(dated) {
                let says = format!("`{}` comes before `{name}` has cured", step.name);
                self.refuse(Some(at), Reason::NotCured, name.to_string(), says);
            }
        }
    }

    /// Seconds a joint that is done up cures, by the book.
    fn cures(&self, name: &StepName) -> i64 {
        let Ref::Joint(id) = &name.target else {
            return 0;
        };
        let joint = self.book.joint(id).filter(|_| name.act == StepAct::DoUp);
        let sealant = joint.and_then(|joint| joint.sealant.as_ref());
        let cures = sealant.and_then(|sealant| sealant.cures.known());
        cures.map_or(0, |cures| cures.high.in_seconds().round() as i64)
    }

    /// Nobody is in two places, and no tool in two hands.
    fn together(&mut self) {
        let steps: Vec<&DatedStep> = self.by_name.values().copied().collect();
        for (one, mine) in steps.iter().enumerate() {
            for theirs in &steps[one + 1..] {
                let shared = mine.people.iter().find(|id| theirs.people.contains(id));
                if let Some(id) = shared.filter(|_| overlap(mine, theirs)) {
                    let says = format!("{id} does `{}` and `{}` at once", mine.name, theirs.name);
                    self.refuse(None, Reason::TwoPlaces, id.to_string(), says);
                }
            }
        }
        let hoists: u32 = self
            .shop
            .singles
            .iter()
            .filter(|tool| tool.hoist)
            .map(|tool| tool.count)
            .sum();
        self.tool("the hoist", hoists.max(1), |step| step.hoist);
        for tool in &self.shop.singles {
            let count = tool.count.max(1);
            self.tool(tool.id.as_str(), count, |step| {
                step.tools.contains(&tool.id)
            });
        }
    }

    /// Whether more steps are done at one moment with a tool than there are of it.
    fn tool(&mut self, name: &str, count: u32, uses: impl Fn(&Step) -> bool) {
        let users = self.plan.steps.iter().filter(|step| uses(step));
        let users: Vec<&DatedStep> = users
            .filter_map(|step| self.by_name.get(&step.name).copied())
            .collect();
        // Most are at work at a moment at which one of them begins.
        let moments = users
            .iter()
            .flat_map(|step| &step.stretches)
            .map(|stretch| stretch.0);
        let busy = |at: i64| {
            let holds = |step: &&&DatedStep| {
                step.stretches
                    .iter()
                    .any(|&(from, to)| from <= at && at < to)
            };
            users.iter().filter(holds).count()
        };
        if let Some(most) = moments
            .map(busy)
            .max()
            .filter(|&most| most > count as usize)
        {
            let says = format!("{name} is in {most} places at once, and there are {count}");
            self.refuse(None, Reason::ToolInTwoHands, name.to_owned(), says);
        }
    }

    /// What is away leaves after it came off, and is here before it is needed.
    fn elsewhere(&mut self) {
        for away in &self.dated.elsewhere {
            if let Some(part) = &away.part {
                let off = self.dated.steps.iter().find(|step| {
                    step.name.act == StepAct::Off && step.name.target == Ref::Part(part.clone())
                });
                if off.is_some_and(|off| ends(off) > away.lasts.0) {
                    let says = format!("{part} is away before it is off");
                    self.refuse(None, Reason::AwayWhileOn, part.to_string(), says);
                }
            }
            for name in &away.wanted_by {
                let early = self
                    .by_name
                    .get(name)
                    .is_some_and(|step| starts(step) < away.lasts.1);
                if early {
                    let says = format!("`{name}` begins before what it needs is here");
                    self.refuse(
                        self.plan.place(name),
                        Reason::NotHere,
                        name.to_string(),
                        says,
                    );
                }
            }
        }
    }

    fn finish(&mut self) {
        let done = self
            .dated
            .steps
            .iter()
            .map(|step| ends(step) + self.cures(&step.name));
        if done.max().is_some_and(|done| done > self.dated.finish) {
            let says = "it says it is finished before the last step is done and cured".to_owned();
            self.refuse(None, Reason::FinishEarly, "calendar".to_owned(), says);
        }
    }
}

fn overlap(one: &DatedStep, other: &DatedStep) -> bool {
    let meets = |mine: &Stretch| {
        let mut theirs = other.stretches.iter();
        theirs.any(|their| mine.0 < their.1 && their.0 < mine.1)
    };
    one.stretches.iter().any(meets)
}

/// Whether a person is there for a whole stretch. An evening, up to five hours on Monday to
/// Friday, begins at 18:00, any other day at 9:00, both earlier where the hours would not end
/// before midnight: the conventions of the manual.
fn is_there(person: &Person, first: Date, (from, to): Stretch) -> bool {
    if from < 0 {
        return false;
    }
    let day = from / DAY;
    let date = day_number(first) + day;
    // 1970-01-01 was a Thursday.
    let weekday = (date + 3).rem_euclid(7) as usize;
    let length = (person.hours[weekday].in_seconds().round() as i64).min(DAY);
    let away = person
        .away
        .iter()
        .any(|(start, end)| day_number(*start) <= date && date <= day_number(*end));
    let usual = if weekday < 5 && length <= 5 * HOUR {
        18
    } else {
        9
    };
    let opens = day * DAY + (usual * HOUR).min(DAY - length);
    !away && opens <= from && to <= opens + length
}

/// Days since 1970-01-01 of a day of the Gregorian calendar: whole years with their leap days,
/// then the days of the months before.
fn day_number(date: Date) -> i64 {
    let before = i64::from(date.year) - 1;
    let leap_days = |years: i64| years / 4 - years / 100 + years / 400;
    let year = i64::from(date.year);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let lengths = [
        31,
        if leap { 29 } else { 28 },
        31,
        30,
        31,
        30,
        31,
        31,
        30,
        31,
        30,
        31,
    ];
    let months: i64 = lengths.iter().take(usize::from(date.month) - 1).sum();
    let years = (year - 1970) * 365 + leap_days(before) - leap_days(1969);
    years + months + i64::from(date.day) - 1
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the Gregorian calendar (ISO 8601). Kind: common knowledge of days: 2000-02-29 was a
    /// Tuesday, 2026-03-02 is a Monday; 10 957 days lie between 1970 and 2000 (30 years, 7 leap days).
    #[test]
    fn days_are_counted_across_leap_years() {
        let day = |text: &str| day_number(Date::read(text).unwrap());
        assert_eq!(day("1970-01-01"), 0);
        assert_eq!(day("2000-01-01"), 10_957);
        assert_eq!(day("2000-03-01") - day("2000-02-28"), 2);
        assert_eq!(day("2100-03-01") - day("2100-02-28"), 1);
        assert_eq!((day("2000-02-29") + 3).rem_euclid(7), 1);
        assert_eq!((day("2026-03-02") + 3).rem_euclid(7), 0);
    }
}
