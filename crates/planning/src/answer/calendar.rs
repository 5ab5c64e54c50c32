//! The calendar as people read it: the finish, what sets it, what to buy, and day by day.

use book::Shop;
use job::plan::{Leg, Plan, Step};
use quantity::Duration;
use report::{Ask, Figure, Finding, Picture, Report};

use super::{Job, counted, refused, target_name, time, whose_times};
use crate::calendar::{Calendar, CalendarFault, Seconds, Sort, date, day_of, part_of};

mod buy;
mod outside;
mod chain;
mod day;
mod lanes;

const COMMAND: &str = "calendar";
const TITLE: &str = "The calendar";

/// The answer for a plan laid over the hours of a shop, or the reason why it cannot be.
#[must_use]
pub fn calendar(
    job: &Job,
    plan: &Plan,
    shop: &Shop,
    found: &Result<Calendar, CalendarFault>,
) -> Report {
    match found {
        Ok(calendar) => answer(&Told {
            job,
            plan,
            shop,
            calendar,
        }),
        Err(fault) => no_calendar(fault),
    }
}

fn no_calendar(fault: &CalendarFault) -> Report {
    let (code, next) = match fault {
        CalendarFault::Nobody => (
            "nobody-here",
            "write people with hours in shop.kdl: person me { hours sat=\"6 h\" }",
        ),
        CalendarFault::Hands { .. } => (
            "too-few-hands",
            "add a helper with hours in shop.kdl, on a day when both are here",
        ),
        CalendarFault::Ends(_) => (
            "calendar-ends",
            "give longer hours in shop.kdl, or ask for fewer parts",
        ),
    };
    refused(COMMAND, TITLE, code, fault.to_string(), next)
}

/// What is told.
struct Told<'a> {
    job: &'a Job,
    plan: &'a Plan,
    shop: &'a Shop,
    calendar: &'a Calendar,
}

impl Told<'_> {
    fn day(&self, at: Seconds) -> String {
        self.date(day_of(at))
    }

    fn date(&self, day: i64) -> String {
        date(self.calendar.first, day)
            .strftime("%a %-d %b")
            .to_string()
    }

    fn with_year(&self, at: Seconds) -> String {
        date(self.calendar.first, day_of(at))
            .strftime("%a %-d %b %Y")
            .to_string()
    }

    fn person(&self, number: usize) -> String {
        let person = &self.shop.people[number];
        person
            .label
            .clone()
            .unwrap_or_else(|| person.id.to_string())
    }

    fn step(&self, task: usize) -> Option<&Step> {
        match self.calendar.work.tasks[task].sort {
            Sort::Hands(step) => self.plan.steps.get(step),
            Sort::Outside(_) | Sort::Delivery(..) | Sort::Inspected => None,
        }
    }
}

fn answer(told: &Told<'_>) -> Report {
    let calendar = told.calendar;
    let mut report = Report::new(COMMAND, format!("{TITLE} from {}", told.with_year(0)));
    if told.plan.steps.is_empty() {
        report.headline = Some("Nothing is to be done.".to_owned());
        return report;
    }
    report.headline = Some(format!(
        "Likely finished {}; if it goes badly {}.",
        told.with_year(calendar.likely),
        told.with_year(calendar.badly)
    ));
    let mut likely = days("finish_likely", "likely finished", told, calendar.likely);
    likely.low = Some(in_days(calendar.early));
    likely.high = Some(in_days(calendar.late));
    report.figures.push(likely);
    report.figures.push(days(
        "finish_badly",
        "if it goes badly",
        told,
        calendar.badly,
    ));
    if told.plan.steps.iter().any(|step| step.leg == Leg::Apart) {
        report.figures.push(days(
            "inspected",
            "all off and looked at",
            told,
            calendar.inspected,
        ));
    }
    too_long(&mut report, told);
    buy::purchases(&mut report, told);
    outside::branches(&mut report, told);
    chain::chain(&mut report, told);
    report.rows = day::rows(told);
    report.pictures.push(Picture::Days(lanes::picture(told)));
    because(&mut report, told);
    report
}

/// Whole days from the first midnight.
fn in_days(at: Seconds) -> f64 {
    day_of(at) as f64
}

fn days(name: &'static str, label: &str, told: &Told<'_>, at: Seconds) -> Figure {
    let mut figure = Figure::number(name, label, in_days(at), told.with_year(at));
    figure.unit = "d";
    figure
}

fn lasting(seconds: Seconds) -> String {
    // Seconds of some days are exact in a float.
    time(Duration::seconds(seconds as f64).unwrap_or_default())
}

fn too_long(report: &mut Report, told: &Told<'_>) {
    for step in &told.calendar.too_long {
        let says = format!(
            "{} takes {} and nobody who can do it is here longer than {} at a stretch; here it is put down and taken up again",
            step.step,
            lasting(step.takes),
            lasting(step.longest)
        );
        let finding = Finding::new("step-too-long", step.step.to_string(), says);
        report
            .findings
            .push(finding.next("say where it can be left half done"));
        report.asks.push(Ask::new(
            format!("where {} can be split", step.step),
            "no evening is long enough for it",
            "write its parts or joints apart in the book, each with its own minutes, or give one longer day in shop.kdl",
        ));
    }
}

fn because(report: &mut Report, told: &Told<'_>) {
    whose_times(report, &told.job.graph);
    let slow = told.shop.people.iter().filter_map(|person| {
        use quantity::Quantity as _;
        let factor = person.first_time.known()?.si();
        (factor > 1.0).then(|| {
            format!(
                "{} takes {factor} times as long, the first time",
                person
                    .label
                    .clone()
                    .unwrap_or_else(|| person.id.to_string())
            )
        })
    });
    report.because.extend(slow.map(|says| format!("{says}.")));
    report.because.push("Likely: every step at the mean of its low, likely and high time, all outside work good. Badly: nine of ten draws of luck end by then, all outside work having found something to mend; scrap is dated on its own.".to_owned());
    let ranged = |step: &&Step| step.takes.is_some_and(|takes| takes.low != takes.high);
    let with = told.plan.steps.iter().filter(ranged).count();
    report.because.push(format!(
        "{with} of {} have a low and a high time in the book; the others count as certain.",
        counted(told.plan.steps.len(), "step")
    ));
    report.because.push("The shop file says how long, not from when: an evening (up to 5 h on Monday to Friday) begins at 18:00, any other day at 9:00. Shops and carriers take in and hand out on Monday to Friday, days in between all count. Conventions of this program.".to_owned());
    if told
        .calendar
        .buys
        .iter()
        .filter(|buy| buy.order_by.is_some())
        .count()
        > 1
    {
        report.because.push("The days to order by hold together: with everything ordered on its last day the plan still ends on the same day.".to_owned());
    }
    if told.plan.steps.iter().any(|step| step.hoist)
        && !told.shop.singles.iter().any(|tool| tool.hoist)
    {
        report
            .because
            .push("The shop file names no hoist; one is taken to be borrowed.".to_owned());
    }
}
