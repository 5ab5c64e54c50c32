//! Cells of an answer by the key of their column. Reading, nothing else.

use report::{Cell, Finding, Report, Row};

/// One row of an answer.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    report: &'a Report,
    row: &'a Row,
}

/// The rows of an answer.
pub fn lines(report: &Report) -> impl Iterator<Item = Line<'_>> {
    report.rows.rows.iter().map(move |row| Line { report, row })
}

impl<'a> Line<'a> {
    /// The cell under a key.
    #[must_use]
    pub fn cell(&self, key: &str) -> Option<&'a Cell> {
        let columns = &self.report.rows.columns;
        let at = columns.iter().position(|column| column.key == key)?;
        self.row.get(at)
    }

    /// The words under a key; nothing where there are none.
    #[must_use]
    pub fn text(&self, key: &str) -> Option<&'a str> {
        match self.cell(key)? {
            Cell::Text(text) if !text.is_empty() => Some(text),
            Cell::Figure(figure) => Some(&figure.shown),
            Cell::Number(_, shown) => Some(shown),
            _ => None,
        }
    }

    /// Several words under a key.
    #[must_use]
    pub fn list(&self, key: &str) -> &'a [String] {
        match self.cell(key) {
            Some(Cell::List(words)) => words,
            _ => &[],
        }
    }

    /// Whether the flag under a key is set.
    #[must_use]
    pub fn flag(&self, key: &str) -> bool {
        matches!(self.cell(key), Some(Cell::Flag(true)))
    }
}

/// The answer without findings of some codes, which the page shows in a place of their own.
#[must_use]
pub fn without<'a>(report: &'a Report, codes: &[&str]) -> Vec<Finding> {
    let keeps = |finding: &&'a Finding| !codes.contains(&finding.code);
    report.findings.iter().filter(keeps).cloned().collect()
}
