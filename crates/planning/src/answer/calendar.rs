//! The calendar as people read it: the finish, what sets it, what to buy, and day by day.

use std::collections::{BTreeMap, BTreeSet};

use book::{OutcomeKind, Shop};
use job::plan::{Leg, Plan, Step, StepAct};
use quantity::Duration;
use report::{Align, Ask, Cell, Figure, Finding, Picture, Report, Table, Weight};

use super::{Job, counted, refused, target_name, time, whose_times};
use crate::calendar::{
    Branch, Buy, Calendar, CalendarFault, Held, Seconds, Sort, date, day_of, part_of,
};

mod lanes;

const COMMAND: &str = "calendar";
const TITLE: &str = "The calendar";

/// Names of one sort of act that a row of a day shows before it only counts.
const NAMES: usize = 4;

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
    purchases(&mut report, told);
    branches(&mut report, told);
    chain(&mut report, told);
    report.rows = rows(told);
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

fn purchases(report: &mut Report, told: &Told<'_>) {
    let (later, now): (Vec<&Buy>, Vec<&Buy>) = told
        .calendar
        .buys
        .iter()
        .partition(|buy| buy.purchase.after_inspection);
    if !now.is_empty() {
        let says = format!(
            "{} surely needed whatever is found{}",
            counted(now.len(), "thing"),
            sum(&now)
        );
        let finding = Finding::new("buy-now", "", says)
            .next("order them today; the day behind each is when the plan needs it");
        report.findings.push(listed(finding, told, &now));
    }
    if !later.is_empty() {
        let when = told.day(told.calendar.inspected);
        let says = format!(
            "{} that wear, to decide on when everything is off and looked at ({when}){}",
            counted(later.len(), "thing"),
            sum(&later)
        );
        let finding = Finding::new("buy-after-looking", "", says)
            .next("look at each when it is off; ring the shops the same evening");
        report
            .findings
            .push(listed(finding, told, &later).weight(Weight::Note));
    }
    for buy in &told.calendar.buys {
        if let Some(by) = buy.order_by {
            report.findings.push(order_by(told, buy, by));
        }
    }
    let unknown = told
        .calendar
        .buys
        .iter()
        .filter(|buy| buy.order_by.is_none())
        .count();
    if unknown > 0 {
        report.asks.push(Ask::new(
            format!(
                "how long {} to buy {} to come",
                counted(unknown, "thing"),
                if unknown == 1 { "takes" } else { "take" }
            ),
            "nothing waits for them here, so ask before the day each is needed",
            "write lead=\"2..4 d\" at the part; gaskets come with one call to the supplier",
        ));
    }
}

fn order_by(told: &Told<'_>, buy: &Buy, by: i64) -> Finding {
    let purchase = &buy.purchase;
    let lead = purchase.lead.map_or(0.0, |lead| lead.high.ceil());
    let what = format!("{} ({})", purchase.what, purchase.concerns);
    let finding = |says: String| {
        let mut finding = Finding::new("order-by", purchase.concerns.clone(), says);
        finding.points_to = Some(date(told.calendar.first, by.max(0)).to_string());
        finding
    };
    if by < 0 {
        return finding(format!(
            "{what} takes up to {lead:.0} d to come and holds the finish up: order it today"
        ));
    }
    let says = format!(
        "{what} takes up to {lead:.0} d to come: order it by {}, later moves the finish",
        told.date(by)
    );
    if purchase.after_inspection && by < day_of(told.calendar.inspected) {
        return finding(says).next(format!(
            "everything is looked at only on {}: order it unseen, or let the finish move",
            told.day(told.calendar.inspected)
        ));
    }
    finding(says).weight(Weight::Note)
}

/// The prices of a list, one sum a currency.
fn sum(buys: &[&Buy]) -> String {
    let mut sums: BTreeMap<&str, (i64, i64)> = BTreeMap::new();
    let mut unpriced = 0_usize;
    for buy in buys {
        match &buy.purchase.price {
            Some(price) => {
                let sum = sums.entry(&price.low.currency).or_default();
                *sum = (
                    sum.0.saturating_add(price.low.hundredths),
                    sum.1.saturating_add(price.high.hundredths),
                );
            }
            None => unpriced += 1,
        }
    }
    let money = |currency: &str, hundredths| book::Money {
        currency: currency.to_owned(),
        hundredths,
    };
    let mut words: Vec<String> = sums
        .iter()
        .map(|(currency, &(low, high))| {
            let price = book::Price {
                low: money(currency, low),
                high: money(currency, high),
            };
            price.to_string()
        })
        .collect();
    if unpriced > 0 {
        words.push(format!("{unpriced} without a price"));
    }
    if words.is_empty() {
        String::new()
    } else {
        format!(": {}", words.join(", "))
    }
}

fn listed(mut finding: Finding, told: &Told<'_>, buys: &[&Buy]) -> Finding {
    for buy in buys {
        let price = buy
            .purchase
            .price
            .as_ref()
            .map_or_else(String::new, |price| format!(", {price}"));
        finding = finding.detail(format!(
            "{}: {}{price}",
            told.day(buy.needed),
            buy.purchase.what
        ));
    }
    finding
}

fn branches(report: &mut Report, told: &Told<'_>) {
    let mut works: Vec<(&Branch, Vec<&Branch>)> = Vec::new();
    for branch in &told.calendar.branches {
        match works.last_mut() {
            Some((first, all)) if first.part == branch.part && first.what == branch.what => {
                all.push(branch)
            }
            Some(_) | None => works.push((branch, vec![branch])),
        }
    }
    for (work, ends) in works {
        let says = format!(
            "{}: {}, and what becomes of the finish",
            told.job.graph.part_name(&work.part),
            work.what
        );
        let mut finding =
            Finding::new("outside-work", work.part.to_string(), says).weight(Weight::Note);
        for branch in ends {
            let line = match branch.dated {
                Some((back, finish)) => format!(
                    "{}: back {}, finish {}",
                    end_word(branch.ends),
                    told.day(back),
                    told.day(finish)
                ),
                None => format!("{}: nobody wrote how long it takes", end_word(branch.ends)),
            };
            finding = finding.detail(line);
            if branch.dated.is_none() {
                report.asks.push(Ask::new(
                    format!(
                        "days of {} of {}, {}",
                        work.what,
                        work.part,
                        end_word(branch.ends)
                    ),
                    "without them it counts as back at once",
                    "write takes=\"4..6 d\" at the outcome in the book",
                ));
            }
        }
        report.findings.push(finding);
    }
}

const fn end_word(end: OutcomeKind) -> &'static str {
    match end {
        OutcomeKind::Good => "good",
        OutcomeKind::NeedsWork => "needs work",
        OutcomeKind::Scrap => "scrapped",
    }
}

fn chain(report: &mut Report, told: &Told<'_>) {
    let calendar = told.calendar;
    let mut finding = Finding::new(
        "sets-the-finish",
        "",
        "what sets the day, one after another",
    )
    .weight(Weight::Note);
    for link in &calendar.chain {
        let (from, to) = (told.day(link.from), told.day(link.to));
        let when = if from == to {
            from
        } else {
            format!("{from} to {to}")
        };
        let what = match &link.kind {
            Held::Steps(tasks) => work_in_words(told, tasks),
            Held::Elsewhere(task) => elsewhere(told, *task),
            Held::Curing(task) => {
                let step = told
                    .step(*task)
                    .map(|step| step.name.target.to_string())
                    .unwrap_or_default();
                format!("{step} cures, {}", lasting(link.to - link.from))
            }
        };
        finding = finding.detail(format!("{when}: {what}"));
    }
    report.findings.push(finding);
}

fn work_in_words(told: &Told<'_>, tasks: &[usize]) -> String {
    let people: BTreeSet<usize> = tasks
        .iter()
        .flat_map(|&task| told.calendar.placing.tasks[task].people.clone())
        .collect();
    let names: Vec<String> = people.iter().map(|&person| told.person(person)).collect();
    let ends = [tasks.first(), tasks.last()].map(|task| {
        task.and_then(|&task| told.step(task))
            .map(|step| step.name.to_string())
    });
    match ends {
        [Some(first), Some(last)] if tasks.len() > 1 => {
            format!(
                "hours of {}, {} ({first} … {last})",
                names.join(" and "),
                counted(tasks.len(), "step")
            )
        }
        [Some(only), _] => format!("hours of {}, {only}", names.join(" and ")),
        _ => String::new(),
    }
}

fn elsewhere(told: &Told<'_>, task: usize) -> String {
    let calendar = told.calendar;
    match &calendar.work.tasks[task].sort {
        Sort::Outside(outside) => format!("{} away: {}", outside.part, outside.what),
        Sort::Delivery(number, _) => format!("{} on its way", calendar.work.goods[*number]),
        Sort::Hands(_) | Sort::Inspected => String::new(),
    }
}

/// One row a day on which somebody works or something comes.
fn rows(told: &Told<'_>) -> Table {
    let mut table = Table::new(&[
        ("day", "day", Align::Left),
        ("who", "who", Align::Left),
        ("hours", "work", Align::Right),
        ("what", "what", Align::Left),
        ("date", "", Align::Left),
        ("steps", "", Align::Left),
    ]);
    let placing = &told.calendar.placing;
    let mut by_day: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for (task, placed) in placing.tasks.iter().enumerate() {
        let hands = matches!(told.calendar.work.tasks[task].sort, Sort::Hands(_));
        let on: BTreeSet<i64> = if hands {
            placed
                .stretches
                .iter()
                .map(|&(from, _)| day_of(from))
                .collect()
        } else {
            BTreeSet::from([day_of(placed.end())])
        };
        for day in on {
            by_day.entry(day).or_default().push(task);
        }
    }
    for (day, mut tasks) in by_day {
        tasks.sort_by_key(|&task| (placing.tasks[task].start(), task));
        let mut each: BTreeMap<usize, Seconds> = BTreeMap::new();
        for &task in &tasks {
            let stretches = placing.tasks[task]
                .stretches
                .iter()
                .filter(|(from, _)| day_of(*from) == day);
            let sum: Seconds = stretches.map(|(from, to)| to - from).sum();
            for &person in &placing.tasks[task].people {
                *each.entry(person).or_default() += sum;
            }
        }
        let what = what_in_words(told, &tasks);
        if each.is_empty() && what.is_empty() {
            continue;
        }
        let who: Vec<String> = each.keys().map(|&person| told.person(person)).collect();
        let seconds: Seconds = each.values().sum();
        let steps = tasks
            .iter()
            .filter_map(|&task| told.step(task))
            .map(|step| step.name.to_string());
        table.push(vec![
            Cell::from(told.date(day)),
            Cell::from(who.join(", ")),
            if seconds > 0 {
                Cell::Number(seconds as f64 / 3_600.0, lasting(seconds))
            } else {
                Cell::None
            },
            Cell::from(what),
            Cell::from(date(told.calendar.first, day).to_string()),
            Cell::List(steps.collect()),
        ]);
    }
    table
}

/// What a day is about, in few words: `off plenum, runners; back: bulkhead-head`.
fn what_in_words(told: &Told<'_>, tasks: &[usize]) -> String {
    let mut groups: Vec<(&str, Vec<String>)> = Vec::new();
    let mut add = |word: &'static str, name: String| match groups
        .iter_mut()
        .find(|(other, _)| *other == word)
    {
        Some((_, names)) if names.contains(&name) => {}
        Some((_, names)) => names.push(name),
        None => groups.push((word, vec![name])),
    };
    for &task in tasks {
        match &told.calendar.work.tasks[task].sort {
            Sort::Hands(_) => {
                let Some(step) = told.step(task) else {
                    continue;
                };
                let name = part_of(&told.job.graph, &step.name.target).map(|part| part.to_string());
                let (word, name) = match (step.name.act, name) {
                    (StepAct::Off | StepAct::Undo, Some(part)) => ("off", part),
                    (StepAct::On | StepAct::DoUp, Some(part)) => ("on", part),
                    (act, _) => (act.word(), target_name(&told.job.graph, &step.name.target)),
                };
                add(word, name);
            }
            Sort::Outside(outside) => add("back:", outside.part.to_string()),
            Sort::Delivery(number, _) => add("comes:", told.calendar.work.goods[*number].clone()),
            Sort::Inspected => {}
        }
    }
    let words = groups.iter().map(|(word, names)| {
        let more = names.len().saturating_sub(NAMES);
        let shown = names
            .iter()
            .take(NAMES)
            .cloned()
            .collect::<Vec<_>>()
            .join(", ");
        if more > 0 {
            format!("{word} {shown}, {more} more")
        } else {
            format!("{word} {shown}")
        }
    });
    words.collect::<Vec<_>>().join("; ")
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
    if told.plan.steps.iter().any(|step| step.hoist)
        && !told.shop.singles.iter().any(|tool| tool.hoist)
    {
        report
            .because
            .push("The shop file names no hoist; one is taken to be borrowed.".to_owned());
    }
}
