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
        self.report.rows.cell(self.row, key)
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

/// Things of one sort together, in the order in which the sorts are met.
#[must_use]
pub fn sorts<'a, T>(
    things: impl Iterator<Item = T>,
    sort: impl Fn(&T) -> &'a str,
) -> Vec<(&'a str, Vec<T>)> {
    let mut sorts: Vec<(&str, Vec<T>)> = Vec::new();
    for thing in things {
        let word = sort(&thing);
        match sorts.iter_mut().find(|(known, _)| *known == word) {
            Some((_, held)) => held.push(thing),
            None => sorts.push((word, vec![thing])),
        }
    }
    sorts
}
