//! The state as a build book the next person can start from.

use report::Report;

use crate::folder::Folder;

/// Writes the book back. The text is the answer; what nobody said is asked for beside it.
#[must_use]
pub fn write_back(folder: &Folder) -> Report {
    let written = job::write_back(&folder.state);
    let mut report = Report::new("write-back", "");
    report.text = Some(book::write(&written.book));
    report.asks = written.asks;
    report
}
