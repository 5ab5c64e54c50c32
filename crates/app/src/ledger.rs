//! What is still off, missing, left over, lost or put in.

use report::{Align, Cell, Figure, Report, Table, Verdict};

use crate::folder::Folder;

/// Lists everything outstanding, the gravest first.
#[must_use]
pub fn outstanding(folder: &Folder) -> Report {
    let mut report = Report::new("outstanding", "Outstanding");
    let mut table = Table::new(&[
        ("state", "state", Align::Left),
        ("what", "what", Align::Left),
        ("where", "where", Align::Left),
        ("since", "entry", Align::Right),
        ("code", "", Align::Left),
    ]);
    let rows = job::outstanding::outstanding(&folder.state);
    for row in &rows {
        let what = row.note.as_ref().map_or_else(|| row.what.clone(), |note| format!("{} ({note})", row.what));
        let since = u32::try_from(row.since.0).map_or(f64::MAX, f64::from);
        table.push(vec![
            Cell::from(row.kind.word()),
            Cell::from(what),
            Cell::from(row.place.clone()),
            Cell::Number(since, row.since.to_string()),
            Cell::from(row.kind.code()),
        ]);
    }
    report.rows = table;
    report.figures.push(Figure::count("outstanding", "outstanding", rows.len()));
    report.headline = Some(match rows.len() {
        0 => "Nothing is outstanding.".to_owned(),
        1 => "One thing is outstanding.".to_owned(),
        many => format!("{many} things are outstanding."),
    });
    let open = rows.iter().any(|row| row.kind != job::outstanding::Kind::OnOrder);
    report.verdict = open.then_some(Verdict::Outside);
    report
}
