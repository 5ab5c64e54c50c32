//! Beginning a job.

mod five;

use std::path::Path;

use report::{Align, Cell, Finding, Report, Table, Weight};

use crate::folder::{BOOK, Folder, RECORD, SHOP};

pub use five::{Answers, five};

/// The layout of an engine across, without any figure.
const SKELETON: &str = include_str!("../../book/skeleton/across.kdl");

/// Begins a job: empty, from the skeleton, from a build book, or from a copy of a whole job.
#[must_use]
pub fn begin(path: &Path, from: Option<&str>) -> Report {
    if let Some(copy) = from.map(Path::new)
        && crate::copy::is_copy(copy)
    {
        return match crate::copy::lay_out(copy, path) {
            Ok(folder) => begun(&folder),
            Err(fault) => fault.refusal("new"),
        };
    }
    let text = match from {
        None => None,
        Some("skeleton") => Some(SKELETON.to_owned()),
        Some(file) => match std::fs::read_to_string(file) {
            Ok(text) => Some(text),
            Err(why) => {
                let finding = Finding::new("file", file, format!("could not be read: {why}")).next(
                    "write `--from skeleton`, name a build book or a copy, or leave --from out",
                );
                return Report::refusal("new", "A new job", finding);
            }
        },
    };
    if let Some(text) = &text {
        let checked = crate::check::check_text(from.unwrap_or(BOOK), text);
        if checked.exit_status() != 0 {
            return Report {
                command: "new",
                refused: true,
                ..checked
            };
        }
    }
    match Folder::begin(path, text.as_deref(), None) {
        Err(fault) => fault.refusal("new"),
        Ok(folder) => begun(&folder),
    }
}

fn begun(folder: &Folder) -> Report {
    let mut report = Report::new("new", "A new job");
    let mut table = Table::new(&[
        ("file", "file", Align::Left),
        ("what", "what it is", Align::Left),
    ]);
    let shown = |name: &str| folder.path().join(name).display().to_string();
    if folder.book.is_some() {
        table.push(vec![
            Cell::from(shown(BOOK)),
            Cell::from("the build book: what the engine is"),
        ]);
    }
    table.push(vec![
        Cell::from(shown(RECORD)),
        Cell::from("the record: what happens, line by line"),
    ]);
    report.rows = table;
    if let Some(last) = folder.entries.last() {
        report.headline = Some(format!(
            "The job is in {}, with its {} entries.",
            folder.path().display(),
            last.id
        ));
        return report;
    }
    report.headline = Some(format!("Begun in {}.", folder.path().display()));
    let job = folder.path().display();
    report.findings.push(
        Finding::new("begun", "", "what came off goes in line by line")
            .next(format!(
                "matchmark log --job {job} \"off cover from block: 4 bolts M6x20, bag 1\""
            ))
            .weight(Weight::Note),
    );
    report.findings.push(
        Finding::new(
            "shop",
            "",
            format!(
                "a {SHOP} in the folder tells what wrenches, gauges, people and hours there are"
            ),
        )
        .weight(Weight::Note),
    );
    report
}
