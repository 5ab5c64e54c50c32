//! The rows of an answer in a file for other programs: comma-separated, or a spreadsheet.

use std::path::Path;

use report::{Finding, Report, Weight};

/// Writes the rows of an answer into a file whose ending says how: `.csv` or `.xlsx`. What
/// was written, or why not, stands in the answer afterwards.
pub fn save(report: &mut Report, file: &Path) {
    let shown = file.display().to_string();
    if report.rows.columns.is_empty() {
        let says = "this answer has no rows, and no file was written";
        report
            .findings
            .push(Finding::new("no-rows", shown, says).weight(Weight::Note));
        return;
    }
    let ending = file
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    let bytes = match ending.as_deref() {
        Some("csv") => files::csv(&report.rows)
            .map(String::into_bytes)
            .map_err(|fault| fault.to_string()),
        Some("xlsx") => files::xlsx(&report.title, &report.rows).map_err(|fault| fault.to_string()),
        _ => Err("its ending says neither `.csv` nor `.xlsx`".to_owned()),
    };
    let written = bytes.and_then(|bytes| {
        crate::document::whole(file, &bytes).map_err(|why| format!("could not be written: {why}"))
    });
    report.findings.push(match written {
        Ok(()) => Finding::new("written", "", format!("written: {shown}")).weight(Weight::Note),
        Err(says) => Finding::new("rows-not-written", shown, says)
            .next("name a .csv or .xlsx file in a folder that is there and may be written to")
            .weight(Weight::Stop),
    });
}
