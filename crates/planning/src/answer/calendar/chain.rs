//! What sets the day: steps, waits and curing, one after another.

use std::collections::BTreeSet;

use jiff::civil;
use report::{Finding, Report, Weight};

use super::{Told, counted, lasting};
use crate::calendar::{Held, Seconds, Sort, date, day_of};

/// The chain of steps and waits that sets the finish.
pub(super) fn chain(report: &mut Report, told: &Told<'_>) {
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
            Held::Steps(tasks) => {
                work_in_words(told, tasks) + &away(told, tasks, (link.from, link.to))
            }
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
    let people = people_at(told, tasks);
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

/// Who of them is away meanwhile, and when: why the work stands still.
fn away(told: &Told<'_>, tasks: &[usize], (from, to): (Seconds, Seconds)) -> String {
    let date = |at| date(told.calendar.first, day_of(at));
    let spans = people_at(told, tasks).into_iter().flat_map(|person| {
        let gone = told.shop.people[person].away.iter();
        let gone = gone.filter_map(|&(first, last)| Some((civil(first)?, civil(last)?)));
        gone.filter(|&(first, last)| last >= date(from) && first <= date(to))
            .map(move |span| (person, span))
    });
    let words = spans.map(|(person, (first, last))| {
        let day = |date: civil::Date| date.strftime("%a %-d %b").to_string();
        let until = (last > first).then(|| format!(" to {}", day(last)));
        let until = until.unwrap_or_default();
        format!("; {} away {}{until}", told.person(person), day(first))
    });
    words.collect()
}

fn civil(date: book::Date) -> Option<civil::Date> {
    date.to_string().parse().ok()
}

fn people_at(told: &Told<'_>, tasks: &[usize]) -> BTreeSet<usize> {
    tasks
        .iter()
        .flat_map(|&task| told.calendar.placing.tasks[task].people.clone())
        .collect()
}

fn elsewhere(told: &Told<'_>, task: usize) -> String {
    let calendar = told.calendar;
    match &calendar.work.tasks[task].sort {
        Sort::Outside(outside) => format!("{} away: {}", outside.part, outside.what),
        Sort::Delivery(number, _) => format!("{} on its way", calendar.work.goods[*number]),
        Sort::Hands(_) | Sort::Inspected => String::new(),
    }
}
