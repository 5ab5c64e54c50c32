//! Whether a gate is open, and why not.

use report::{Cell, Report, Verdict};

use crate::folder::Folder;

/// Judges a gate, or all of them when none is named.
#[must_use]
pub fn gate(folder: &Folder, name: Option<&str>) -> Report {
    match name {
        Some(name) => judge::gate::gate(&folder.state, folder.shop.as_ref(), name),
        None => all(folder),
    }
}

/// All gates. The answer as a whole is closed when one of them is.
fn all(folder: &Folder) -> Report {
    let mut report = judge::gate::gates(&folder.state, folder.shop.as_ref());
    let shut = |row: &report::Row| row.contains(&Cell::Verdict(Verdict::Closed));
    report.verdict = Some(if report.rows.rows.iter().any(shut) {
        Verdict::Closed
    } else {
        Verdict::Open
    });
    report
}
