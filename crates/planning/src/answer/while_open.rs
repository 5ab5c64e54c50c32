//! What else lies open meanwhile, and what coming back for it later would cost.

use book::Ref;
use report::{Align, Cell, Report, Table};

use super::{Job, counted, refused, target_name, time, whose_times};
use crate::while_open::{Open, while_open as look};

const COMMAND: &str = "while-open";

/// What else lies open once these are got at.
#[must_use]
pub fn while_open(job: &Job, targets: &[Ref]) -> Report {
    let graph = &job.graph;
    let names: Vec<String> = targets
        .iter()
        .map(|target| target_name(graph, target))
        .collect();
    let title = format!("While {} lies open", names.join(" and "));
    let rows = match look(graph, &job.standing, targets) {
        Ok(rows) => rows,
        Err(fault) => {
            let next = "name a part, joint, hole, port, line, check or temporary item of the book";
            return refused(COMMAND, &title, "not-a-target", fault.to_string(), next);
        }
    };
    let mut report = Report::new(COMMAND, title);
    let wearing = rows.iter().filter(|row| row.wears).count();
    report.headline = Some(match (rows.len(), wearing) {
        (0, _) => "Nothing else lies open that would be dearer later.".to_owned(),
        (all, 0) => format!("{} would be dearer later.", counted(all, "thing")),
        (all, wearing) => format!(
            "{} would be dearer later, {wearing} of them wearing parts.",
            counted(all, "thing")
        ),
    });
    let mut table = Table::new(&[
        ("item", "what", Align::Left),
        ("kind", "", Align::Left),
        ("state", "now it is", Align::Left),
        ("minutes_now", "now", Align::Right),
        ("minutes", "later", Align::Right),
        ("saved", "saved", Align::Right),
        ("wears", "", Align::Left),
    ]);
    for row in &rows {
        let saved = row.saved_seconds() / 60.0;
        let number =
            |time_of: quantity::Duration| Cell::Number(time_of.in_minutes(), time(time_of));
        table.push(vec![
            Cell::from(graph.item_name(&row.item)),
            Cell::from(row.item.kind()),
            Cell::from(state(row)),
            number(row.now.likely),
            number(row.later.takes.likely),
            Cell::Number(
                saved,
                time(quantity::Duration::minutes(saved).unwrap_or_default()),
            ),
            Cell::Flag(row.wears),
        ]);
    }
    report.rows = table;
    if !rows.is_empty() {
        whose_times(&mut report, graph);
        report
            .because
            .push("Later: from the finished engine, there and back again.".to_owned());
    }
    report
}

fn state(row: &Open) -> &'static str {
    match (row.wears, row.off) {
        (true, true) => "off, wears",
        (true, false) => "free, wears",
        (false, _) => "within reach",
    }
}
