//! What sets the day: steps, waits and curing, one after another.

use std::collections::BTreeSet;

use report::{Finding, Report, Weight};

use super::{Told, counted, lasting};
use crate::calendar::{Held, Sort};

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
