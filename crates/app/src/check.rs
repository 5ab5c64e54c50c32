//! Reading a build book or a shop file and listing every fault; or looking over a whole job
//! folder: its texts, its record, and whether every photo and its line are there.

use std::path::Path;

use book::TextKind;
use report::{Figure, Finding, Place, Report, Verdict, Weight};

use crate::folder::{BOOK, Folder, FolderFault, RECORD, SHOP};

const COMMAND: &str = "check";

/// Reads a file and lists all its faults in one go.
#[must_use]
pub fn check(path: &Path) -> Report {
    let shown = path.display().to_string();
    let refused = |says: String| {
        let finding =
            Finding::new("file", shown.clone(), says).next("name a build book or a shop file");
        Report::refusal(COMMAND, "Check a text", finding)
    };
    match std::fs::read(path).map(String::from_utf8) {
        Ok(Ok(text)) => check_text(&shown, &text),
        Ok(Err(fault)) => refused(format!(
            "is no plain text: byte {} belongs to no letter (UTF-8)",
            fault.utf8_error().valid_up_to() + 1
        )),
        Err(why) => refused(format!("could not be read: {why}")),
    }
}

/// Looks over a whole job: both texts, the record, and the photos one by one.
#[must_use]
pub fn job(path: &Path) -> Report {
    if !path.join(RECORD).exists() {
        let path = path.to_owned();
        return FolderFault::NoJob { path }.refusal(COMMAND);
    }
    let mut findings = Vec::new();
    for name in [BOOK, SHOP] {
        let text = path.join(name);
        if text.exists() {
            findings.extend(check(&text).findings);
        }
    }
    let mut report = Report::new(COMMAND, "Check the job");
    let whole = findings.iter().all(|one| one.weight != Weight::Stop);
    // With a fault in a text the record cannot be read against it; that fault comes first.
    if whole {
        match Folder::open(path) {
            Ok(folder) => {
                report.figures = vec![
                    Figure::count("entries", "entries of the record", folder.entries.len()),
                    Figure::count("photos", "photos", folder.state.photos.len()),
                ];
                findings.extend(crate::photo::loose(&folder));
            }
            Err(fault) => return fault.refusal(COMMAND),
        }
    }
    report.headline = Some(match findings.len() {
        0 => "The texts, the record and the photos are whole.".to_owned(),
        1 => "One thing to look at.".to_owned(),
        many => format!("{many} things to look at."),
    });
    if findings.iter().any(|one| one.weight == Weight::Stop) {
        report.verdict = Some(Verdict::Outside);
    }
    report.findings = findings;
    report
}

/// Lists all faults of a text. `file` is how the reader knows it.
#[must_use]
pub fn check_text(file: &str, text: &str) -> Report {
    let kind = book::kind_of(text);
    let mut report = Report::new(COMMAND, file);
    let faults = match kind {
        TextKind::Shop => {
            let (shop, faults) = book::read_shop(text);
            report
                .figures
                .push(Figure::count("wrenches", "wrenches", shop.wrenches.len()));
            report
                .figures
                .push(Figure::count("gauges", "gauges", shop.gauges.len()));
            report
                .figures
                .push(Figure::count("people", "people", shop.people.len()));
            faults
        }
        TextKind::Book => {
            let (book, faults) = book::read(text);
            report.figures = counts(&book);
            faults
        }
    };
    let errors = faults
        .iter()
        .filter(|fault| fault.severity == book::Severity::Error)
        .count();
    report.headline = Some(match (errors, faults.len() - errors) {
        (0, 0) => "No fault found.".to_owned(),
        (0, warnings) => format!("No error, {warnings} to look at."),
        (1, _) => "One fault.".to_owned(),
        (errors, _) => format!("{errors} faults."),
    });
    if errors > 0 {
        report.verdict = Some(Verdict::Outside);
        report.figures.clear();
    }
    let lines = book::Lines::new(text);
    report.findings = faults
        .iter()
        .map(|fault| finding(file, text, &lines, fault))
        .collect();
    report
}

fn counts(book: &book::Book) -> Vec<Figure> {
    let holes = book.joints.iter().map(|joint| joint.holes.len()).sum();
    vec![
        Figure::count("parts", "parts", book.parts.len()),
        Figure::count("joints", "joints", book.joints.len()),
        Figure::count("fasteners", "fasteners, hole by hole", holes),
        Figure::count(
            "ends",
            "ends of hoses, leads and plugs",
            book.lines.len() * 2,
        ),
        Figure::count("circuits", "circuits", book.circuits.len()),
        Figure::count("rules", "rules", book.rules.len()),
    ]
}

fn finding(file: &str, text: &str, lines: &book::Lines, fault: &book::Fault) -> Finding {
    let place = lines.place(fault.span.start);
    let weight = match fault.severity {
        book::Severity::Error => Weight::Stop,
        book::Severity::Warning => Weight::Look,
    };
    let mut finding = Finding::new(fault.code.full_name(), "", fault.message.clone())
        .at(Place {
            file: file.to_owned(),
            line: place.line,
            column: place.column,
        })
        .weight(weight)
        .written(book::show_fault(fault, file, text));
    finding.next = fault.hints.first().cloned();
    finding
}
