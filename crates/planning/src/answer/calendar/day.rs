//! One row a day: who works how long, at what, and what comes.

use std::collections::{BTreeMap, BTreeSet};

use job::plan::StepAct;
use report::{Align, Cell, Table};

use super::{Told, lasting, target_name};
use crate::calendar::{Seconds, Sort, date, day_of, part_of};

/// Names of one sort of act that a row of a day shows before it only counts.
const NAMES: usize = 4;

/// One row a day on which somebody works or something comes.
pub(super) fn rows(told: &Told<'_>) -> Table {
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
