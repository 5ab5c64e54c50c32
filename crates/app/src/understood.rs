//! What a line would say, told while it is typed. Nothing is stored.

use job::{Act, ClientId, Details, Entry, Item};
use report::{Align, Cell, Report, Table};

use crate::folder::Folder;
use crate::lines::gave_rise_to;

const COMMAND: &str = "understood";

/// What was understood of a line, and what it would give rise to; or where reading stopped.
#[must_use]
pub fn understood(folder: &Folder, line: &str) -> Report {
    let mut report = Report::new(COMMAND, "");
    let act = match job::line::read_line(line) {
        Ok(act) => act,
        Err(fault) => {
            report.findings.push(fault.finding());
            report.refused = true;
            report.headline = Some("Not understood yet.".to_owned());
            return report;
        }
    };
    let entry = Entry {
        id: folder.next_number(),
        client: ClientId(String::new()),
        author: String::new(),
        at: 0,
        line: line.to_owned(),
        act,
    };
    if let Some(finding) = folder.state.refusal(&entry) {
        report.findings.push(finding);
        report.refused = true;
        report.headline = Some("It would be refused.".to_owned());
        return report;
    }
    let mut trial = folder.state.clone();
    trial.apply(&entry);
    let mut table = Table::new(&[
        ("what", "", Align::Left),
        ("said", "understood", Align::Left),
    ]);
    for (what, said) in words(&entry.act) {
        table.push(vec![Cell::from(what), Cell::from(said)]);
    }
    report.rows = table;
    let said: Vec<String> = words(&entry.act)
        .into_iter()
        .map(|(what, said)| {
            if what.is_empty() {
                said
            } else {
                format!("{what} {said}")
            }
        })
        .collect();
    report.headline = Some(format!("{}: {}", entry.act.kind(), said.join(" · ")));
    report.findings = gave_rise_to(&trial, &[entry]);
    report
}

/// The parts of a line, each with what it is: `bag 14`, `2 nuts 13 mm`.
fn words(act: &Act) -> Vec<(&'static str, String)> {
    let plain = |said: &str| ("", said.to_owned());
    let mut said = Vec::new();
    match act {
        Act::Off { what, details, .. } | Act::On { what, details, .. } => {
            said.push(plain(&what.join(", ")));
            said.extend(told(details));
        }
        Act::Loosened { what, holes, .. } => {
            said.push(plain(what));
            if !holes.is_empty() {
                said.push(("holes", holes.join(", ")));
            }
        }
        Act::Tightened(tight) => {
            said.push(plain(&tight.joint));
            if !tight.holes.is_empty() {
                said.push(("holes", tight.holes.join(", ")));
            }
            said.extend(tight.stage.map(|stage| ("stage", stage.to_string())));
            said.extend(tight.figure.clone().map(|figure| ("to", figure)));
            said.extend(tight.wrench.clone().map(|wrench| ("with", wrench)));
            said.extend(
                tight
                    .condition
                    .clone()
                    .map(|condition| ("threads", condition)),
            );
        }
        Act::Measured(found) => {
            said.push(plain(&found.of));
            said.push(("=", found.values.clone()));
            said.extend(found.instrument.clone().map(|gauge| ("gauge", gauge)));
            said.extend(found.conditions.iter().map(|how| ("", how.clone())));
        }
        Act::Found { items, place } | Act::Lost { items, place } => {
            said.extend(items.iter().map(|item| ("", item.shown())));
            said.extend(place.clone().map(|place| ("in", place)));
        }
        Act::PutIn { place, items } | Act::TakenOut { place, items } => {
            said.extend(items.iter().map(|item: &Item| ("", item.shown())));
            said.push(("in", place.clone()));
        }
        Act::Drained(flow) | Act::Filled(flow) => {
            said.push(plain(&flow.circuit));
            said.extend(flow.amount.clone().map(|amount| ("", amount)));
        }
        Act::Aside { what, .. } | Act::Lifted { what, .. } => said.push(plain(&what.join(", "))),
        Act::Stowed { what, place } => {
            said.push(plain(what));
            said.push(("in", place.clone()));
        }
        Act::Checked { check, result } => {
            said.push(plain(check));
            said.extend(result.clone().map(|result| ("", result)));
        }
        Act::Noted { about, text } => {
            said.extend(about.clone().map(|about| ("of", about)));
            said.push(plain(text));
        }
        _ => {}
    }
    said
}

/// What was said beside the names of what came off or went on.
fn told(details: &Details) -> Vec<(&'static str, String)> {
    let items = details.items.iter().map(|item| ("", item.shown()));
    let more = [
        ("in", &details.place),
        ("photo", &details.photo),
        ("from", &details.from),
        ("to", &details.to),
        ("note", &details.note),
    ];
    let more = more
        .into_iter()
        .filter_map(|(word, text)| Some((word, text.clone()?)));
    items.chain(more).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> (tempfile::TempDir, Folder) {
        let dir = tempfile::tempdir().unwrap();
        let folder = Folder::begin(&dir.path().join("job"), None, None).unwrap();
        (dir, folder)
    }

    #[test]
    fn a_line_is_told_back_and_nothing_is_stored() {
        let (_dir, folder) = folder();
        let report = understood(&folder, "off cover: 4 bolts M6x20, bag 3");
        assert_eq!(
            report.headline.as_deref(),
            Some("off: cover · 4 bolts M6x20 · in bag 3")
        );
        assert!(report.finds("first-met") && folder.entries.is_empty());
    }

    #[test]
    fn half_a_line_says_what_is_expected() {
        let (_dir, folder) = folder();
        for half in ["", "of", "off cover: 2,5 bolts"] {
            let report = understood(&folder, half);
            assert!(report.refused && !report.findings.is_empty(), "{half}");
        }
    }
}
