//! Opening a file of readings, limits as options give them, and what a job measured so far.

use std::path::Path;

use files::Csv;
use judge::limit::Limit;
use quantity::{Length, plausible};
use report::{Finding, Report, Weight};

use crate::folder::Folder;
use crate::option::Options;
use crate::typed;

/// Every limit of the book with what was measured of it so far, its verdict and whose limit it
/// is.
#[must_use]
pub fn measured(folder: &Folder) -> Report {
    judge::found::found(&folder.state, folder.shop.as_ref())
}

/// Opens a table. A file that cannot be read becomes a refusal.
///
/// # Errors
/// The refusal, with the reason of the system and a way out.
pub fn open(command: &'static str, title: &str, path: &Path) -> Result<Csv, Box<Report>> {
    let name = path.display().to_string();
    match std::fs::read_to_string(path) {
        Ok(text) => Ok(Csv::read(&name, &text)),
        Err(fault) => {
            let finding = Finding::new("file", name, format!("the file cannot be read: {fault}"))
                .next(
                    "name a table of readings with a heading line, saved as comma-separated text",
                );
            Err(Box::new(Report::refusal(command, title, finding)))
        }
    }
}

/// The refusal that names every fault of the options and of the table.
#[must_use]
pub fn refusal(options: Options, title: &str, csv: &Csv) -> Report {
    let mut report = options.refusal(title);
    report
        .findings
        .extend(csv.faults().iter().map(Finding::from));
    report
}

/// Says which columns of a table were not used.
pub fn mention_unused(report: &mut Report, csv: &Csv) {
    let unused = csv.unused();
    if !unused.is_empty() {
        report.findings.push(
            Finding::new(
                "column-not-used",
                "",
                format!("not used: {}", unused.join(", ")),
            )
            .weight(Weight::Note),
        );
    }
}

/// Reads an upper limit of an error of form, and whose it is.
pub fn limit(
    options: &mut Options,
    name: &str,
    text: Option<&str>,
    source: Option<&str>,
) -> Option<Limit<Length>> {
    let limit = options.maybe_likely::<Length>(name, text, &plausible::OUT_OF_FLAT)?;
    let limit = Limit::most(limit.value).stated_in(typed::unit_of::<Length>(&limit.typed));
    Some(match source {
        Some(source) => limit.sourced(source),
        None => limit,
    })
}
