//! What is about to be covered.

use book::PartId;
use report::{Align, Cell, Finding, Report, Table, Weight};

use super::{Job, counted, refused, time, whose_times};
use crate::graph::Graph;
use crate::last_chance::{LastChance, last_chance as look, next_parts};

const COMMAND: &str = "last-chance";

/// What putting a part on now would cover and no entry confirms; without a part, for every
/// part that can go on next.
#[must_use]
pub fn last_chance(job: &Job, part: Option<&PartId>) -> Report {
    let graph = &job.graph;
    let parts = match part {
        Some(part) if graph.at(part).is_none() => {
            let says = format!("{part} is not in the book of this vehicle");
            return refused(
                COMMAND,
                "Last chance",
                "not-a-part",
                says,
                "name a part of the book",
            );
        }
        Some(part) => vec![part.clone()],
        None => next_parts(graph, &job.standing),
    };
    let title = match part {
        Some(part) => format!("Last chance before {} goes on", graph.part_name(part)),
        None => "Last chances before the next parts go on".to_owned(),
    };
    let mut report = Report::new(COMMAND, title);
    let mut rows: Vec<LastChance> = Vec::new();
    for part in &parts {
        rows.extend(look(graph, &job.standing, part));
    }
    report.headline = Some(headline(job, part, parts.len(), rows.len()));
    report.rows = table(graph, &rows, part.is_none());
    report.findings.extend(costs_more(graph, &rows));
    if !rows.is_empty() {
        report.because.push("Listed is what costs nothing to get at now and something afterwards, and what no entry confirms.".to_owned());
        whose_times(&mut report, graph);
    }
    report
}

/// One row for each thing not confirmed; `every`: of all parts that can go on next.
fn table(graph: &Graph, rows: &[LastChance], every: bool) -> Table {
    let mut table = Table::new(&[
        ("before", if every { "before" } else { "" }, Align::Left),
        ("item", "not confirmed", Align::Left),
        ("missing", "it is", Align::Left),
        ("minutes", "to come back", Align::Right),
        ("kind", "", Align::Left),
        ("one_use", "", Align::Left),
        ("comes_off", "", Align::Left),
    ]);
    for row in rows {
        let back = row.comeback.as_ref();
        let minutes = back.map_or_else(
            || Cell::from("no way back"),
            |back| {
                let least = if back.untimed.is_empty() { "" } else { "≥ " };
                Cell::Number(
                    back.takes.likely.in_minutes(),
                    format!("{least}{}", time(back.takes.likely)),
                )
            },
        );
        let list = |words: Option<Vec<String>>| Cell::List(words.unwrap_or_default());
        table.push(vec![
            Cell::from(row.before.as_str()),
            Cell::from(graph.item_name(&row.item.item)),
            Cell::from(row.item.missing.clone()),
            minutes,
            Cell::from(row.item.item.kind()),
            list(back.map(|back| back.spend.one_use.clone())),
            list(back.map(|back| back.parts.iter().map(ToString::to_string).collect())),
        ]);
    }
    table
}

/// The dearest thing whose one-use parts would be spent a second time.
fn costs_more(graph: &Graph, rows: &[LastChance]) -> Option<Finding> {
    let (row, back) = rows.iter().find_map(|row| {
        let back = row.comeback.as_ref()?;
        (!back.spend.one_use.is_empty()).then_some((row, back))
    })?;
    let name = graph.item_name(&row.item.item);
    let says = format!(
        "coming back for {name} also costs: {}",
        back.spend.one_use.join("; ")
    );
    Some(Finding::new("one-use", name, says).weight(Weight::Note))
}

fn headline(job: &Job, part: Option<&PartId>, parts: usize, rows: usize) -> String {
    match (part, parts, rows) {
        (None, 0, _) => "No part is off, so nothing is about to be covered.".to_owned(),
        (Some(part), _, 0) if job.standing.in_place(part) => {
            format!("{} is on already.", job.graph.part_name(part))
        }
        (Some(_), _, 0) => "Everything it covers is confirmed.".to_owned(),
        (None, _, 0) => format!(
            "Nothing unconfirmed is covered by {}.",
            counted(parts, "next part")
        ),
        (Some(_), _, 1) => "One thing it covers is not confirmed.".to_owned(),
        (Some(_), _, many) => {
            format!("{many} things it covers are not confirmed, the dearest first.")
        }
        (None, _, many) => format!(
            "{} not confirmed, over {}.",
            counted(many, "thing"),
            counted(parts, "next part")
        ),
    }
}
