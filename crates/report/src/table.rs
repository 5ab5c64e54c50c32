//! Rows of an answer, with columns a reader can line up.

use crate::figure::Figure;
use crate::verdict::Verdict;

/// Which side of its column a cell leans on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// One column: the key in JSON, the heading on screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The key in JSON: `share_of_best`.
    pub key: &'static str,
    /// The heading: `of best`. An empty heading keeps the column out of the terminal and
    /// paper, not out of the JSON.
    pub heading: &'static str,
    /// Which side it leans on.
    pub align: Align,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing known or nothing to say.
    None,
    /// Words.
    Text(String),
    /// A figure with its unit.
    Figure(Figure),
    /// A plain number (minutes, counts) and how it is shown.
    Number(f64, String),
    /// A verdict.
    Verdict(Verdict),
    /// Several words, joined by commas on screen and a list in JSON.
    List(Vec<String>),
    /// Yes or no.
    Flag(bool),
}

/// One row: as many cells as the table has columns.
pub type Row = Vec<Cell>;

/// Rows under columns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The columns, in order.
    pub columns: Vec<Column>,
    /// The rows, in the order the answer wants them read.
    pub rows: Vec<Row>,
}

impl Table {
    /// An empty table with columns given as key, heading and side.
    #[must_use]
    pub fn new(columns: &[(&'static str, &'static str, Align)]) -> Self {
        Self {
            columns: columns
                .iter()
                .map(|&(key, heading, align)| Column {
                    key,
                    heading,
                    align,
                })
                .collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row. Short rows are filled with [`Cell::None`].
    pub fn push(&mut self, mut row: Row) {
        row.resize(self.columns.len(), Cell::None);
        self.rows.push(row);
    }

    /// The cell of a row under the column with this key.
    #[must_use]
    pub fn cell<'row>(&self, row: &'row [Cell], key: &str) -> Option<&'row Cell> {
        let at = self.columns.iter().position(|column| column.key == key)?;
        row.get(at)
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Figure> for Cell {
    fn from(figure: Figure) -> Self {
        Self::Figure(figure)
    }
}

impl From<Verdict> for Cell {
    fn from(verdict: Verdict) -> Self {
        Self::Verdict(verdict)
    }
}

impl From<usize> for Cell {
    fn from(count: usize) -> Self {
        Self::Number(
            u32::try_from(count).map_or(f64::MAX, f64::from),
            count.to_string(),
        )
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(cell: Option<T>) -> Self {
        cell.map_or(Self::None, Into::into)
    }
}
