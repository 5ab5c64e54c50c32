//! Comma-separated text as typed columns, every fault in one go.
//!
//! A heading carries its unit in brackets: `clearance [mm]`. A cell is a number, a bound
//! (`<0.02`, `0.05..0.06`), or `-` for no reading; it may carry a unit of its own, which then
//! wins. Lines that begin with `#` are remarks. Semicolons and tabs part cells too, if the
//! heading line uses them.

use quantity::{Bound, Quantity, ReadFault, Unit};

use crate::column::Column;
use crate::fault::CellFault;

/// A table while it is being read. Ask for columns by name, then for the faults.
#[derive(Clone, Debug)]
pub struct Csv {
    file: String,
    columns: Vec<Column>,
    heading_line: usize,
    heading: String,
    rows: Vec<Line>,
    used: Vec<bool>,
    faults: Vec<CellFault>,
}

/// One line of cells.
#[derive(Clone, Debug)]
struct Line {
    number: usize,
    text: String,
    cells: Vec<Piece>,
}

/// One cell with the character it starts at.
#[derive(Clone, Debug)]
struct Piece {
    text: String,
    at: usize,
}

impl Csv {
    /// Takes a table apart. `file` is the name a person knows it by.
    #[must_use]
    pub fn read(file: &str, text: &str) -> Self {
        let text = text.trim_start_matches('\u{feff}');
        let parting = parting(text);
        let mut table = Self {
            file: file.to_owned(),
            columns: Vec::new(),
            heading_line: 1,
            heading: String::new(),
            rows: Vec::new(),
            used: Vec::new(),
            faults: Vec::new(),
        };
        for (number, line) in (1..).zip(text.lines()) {
            let line = line.trim_end_matches('\r');
            if line.trim().is_empty() || line.trim_start().starts_with('#') {
                continue;
            }
            let cells = table.split(number, line, parting);
            if table.columns.is_empty() {
                table.columns = cells
                    .iter()
                    .map(|cell| Column::read(&cell.text, cell.at))
                    .collect();
                table.heading_line = number;
                line.clone_into(&mut table.heading);
            } else {
                table.keep(Line {
                    number,
                    text: line.to_owned(),
                    cells,
                });
            }
        }
        table.used = vec![false; table.columns.len()];
        table.look_at_headings();
        table
    }

    fn keep(&mut self, line: Line) {
        if line.cells.len() != self.columns.len() {
            let says = format!(
                "this line has {} cells, the heading has {}",
                line.cells.len(),
                self.columns.len()
            );
            let fault = self.fault_in(
                &line,
                1,
                line.text.chars().count(),
                says,
                "give every line as many cells as the heading; write `-` where there is no reading",
            );
            self.faults.push(fault);
        }
        self.rows.push(line);
    }

    fn look_at_headings(&mut self) {
        if self.columns.is_empty() {
            self.faults.push(CellFault {
                file: self.file.clone(),
                line: 1,
                column: 1,
                excerpt: String::new(),
                width: 1,
                reason: "the table is empty".to_owned(),
                hint: "the first line holds the headings, as in `x [mm],y [mm],z [mm]`".to_owned(),
            });
        }
        for at in 1..self.columns.len() {
            if self.columns[..at]
                .iter()
                .any(|earlier| earlier.is(&self.columns[at].name))
            {
                let says = format!("`{}` stands twice in the heading", self.columns[at].name);
                let fault = self.heading_fault(at, says, "give every column a name of its own");
                self.faults.push(fault);
            }
        }
    }

    /// Parts a line with the library, one line a record, and finds where each cell begins.
    fn split(&mut self, number: usize, line: &str, parting: u8) -> Vec<Piece> {
        let mut reader = ::csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(parting)
            .from_reader(line.as_bytes());
        let record = reader
            .records()
            .next()
            .and_then(Result::ok)
            .unwrap_or_default();
        let starts = starts(line, char::from(parting));
        if line.matches('"').count() % 2 == 1 {
            self.faults.push(CellFault {
                file: self.file.clone(),
                line: number,
                column: 1,
                excerpt: line.to_owned(),
                width: line.chars().count().max(1),
                reason: "a quote is opened and not closed".to_owned(),
                hint: "close it on the same line; inches are written `in`".to_owned(),
            });
        }
        record
            .iter()
            .enumerate()
            .map(|(at, cell)| {
                let lead = cell.chars().take_while(|sign| sign.is_whitespace()).count();
                Piece {
                    text: cell.trim().to_owned(),
                    at: starts.get(at).copied().unwrap_or(1) + lead,
                }
            })
            .collect()
    }

    /// How many lines of readings there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there are no readings at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The headings.
    #[must_use]
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// Whether there is a column of this name.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.columns.iter().any(|column| column.is(name))
    }

    /// The unit in a heading, where it is one of the kind; what an answer is written in.
    #[must_use]
    pub fn unit<Q: Quantity>(&self, name: &str) -> Option<Unit> {
        let column = self.columns.iter().find(|column| column.is(name))?;
        column.unit(Q::KIND)?.ok().copied()
    }

    /// Words of a column that must be there, one a line; `None` where the cell is empty.
    pub fn words(&mut self, name: &str) -> Vec<Option<String>> {
        let Some(at) = self.find(name, "words") else {
            return vec![None; self.rows.len()];
        };
        self.rows
            .iter()
            .map(|line| {
                line.cells
                    .get(at)
                    .map(|cell| cell.text.clone())
                    .filter(|text| !no_reading(text))
            })
            .collect()
    }

    /// Plain quantities of a column that must be there; `None` where there is no reading or
    /// a fault was kept.
    pub fn quantities<Q: Quantity>(&mut self, name: &str) -> Vec<Option<Q>> {
        self.cells(
            name,
            |text, unit| match unit {
                Some(unit) => quantity::read_in::<Q>(text, unit).map(|said| said.value),
                None => quantity::read::<Q>(text).map(|said| said.value),
            },
            Q::KIND,
        )
    }

    /// Quantities that may be bounds, of a column that must be there.
    pub fn bounds<Q: Quantity>(&mut self, name: &str) -> Vec<Option<Bound<Q>>> {
        self.cells(
            name,
            |text, unit| match unit {
                Some(unit) => quantity::read_bound_in::<Q>(text, unit).map(|said| said.value),
                None => quantity::read_bound::<Q>(text).map(|said| said.value),
            },
            Q::KIND,
        )
    }

    /// Several quantities in one cell, parted by spaces, of a column that must be there.
    pub fn lists<Q: Quantity>(&mut self, name: &str) -> Vec<Option<Vec<Option<Q>>>> {
        self.cells(
            name,
            |text, unit| match unit {
                Some(unit) => quantity::read_list_in::<Q>(text, unit).map(|said| said.value),
                None => quantity::read_list::<Q>(text).map(|said| said.value),
            },
            Q::KIND,
        )
    }

    fn cells<T>(
        &mut self,
        name: &str,
        read: impl Fn(&str, Option<&Unit>) -> Result<T, ReadFault>,
        kind: quantity::Kind,
    ) -> Vec<Option<T>> {
        let none = |rows: &[Line]| rows.iter().map(|_| None).collect();
        let Some(at) = self.find(name, "a quantity") else {
            return none(&self.rows);
        };
        let unit = match self.columns[at].unit(kind) {
            None => None,
            Some(Ok(unit)) => Some(unit),
            Some(Err(fault)) => {
                let hint = fault.hint.clone();
                let fault = self.heading_fault(at, fault.reason, hint);
                self.faults.push(fault);
                return none(&self.rows);
            }
        };
        if unit.is_none() && self.all_bare(at) && kind != quantity::Kind::Ratio {
            let says = format!("`{}` says no unit", self.columns[at].name);
            let hint = format!(
                "write it in brackets in the heading, as in `{} [mm]`",
                self.columns[at].name
            );
            let fault = self.heading_fault(at, says, hint);
            self.faults.push(fault);
            return none(&self.rows);
        }
        let mut values = Vec::with_capacity(self.rows.len());
        let mut faults = Vec::new();
        for line in &self.rows {
            let Some(cell) = line.cells.get(at).filter(|cell| !no_reading(&cell.text)) else {
                values.push(None);
                continue;
            };
            values.push(match read(&cell.text, unit) {
                Ok(value) => Some(value),
                Err(fault) => {
                    faults.push(
                        self.fault_in(line, cell.at, 1, String::new(), "")
                            .narrowed(&fault),
                    );
                    None
                }
            });
        }
        self.faults.extend(faults);
        values
    }

    /// Keeps a fault that the caller found in a cell: a word that is none of its words.
    pub fn fault(
        &mut self,
        row: usize,
        name: &str,
        says: impl Into<String>,
        hint: impl Into<String>,
    ) {
        let at = self
            .columns
            .iter()
            .position(|column| column.is(name))
            .unwrap_or(0);
        let Some(line) = self.rows.get(row) else {
            return;
        };
        let (start, width) = line
            .cells
            .get(at)
            .map_or((1, 1), |cell| (cell.at, cell.text.chars().count()));
        let fault = self.fault_in(line, start, width, says.into(), hint);
        self.faults.push(fault);
    }

    /// Every fault so far, in the order of lines.
    #[must_use]
    pub fn faults(&self) -> Vec<CellFault> {
        let mut faults = self.faults.clone();
        faults.sort_by_key(|fault| (fault.line, fault.column));
        faults
    }

    /// Columns nobody asked for, so that an answer can say they were not used.
    #[must_use]
    pub fn unused(&self) -> Vec<&str> {
        self.columns
            .iter()
            .zip(&self.used)
            .filter(|&(_, &used)| !used)
            .map(|(column, _)| column.name.as_str())
            .collect()
    }

    fn find(&mut self, name: &str, what: &str) -> Option<usize> {
        let found = self.columns.iter().position(|column| column.is(name));
        match found {
            Some(at) => self.used[at] = true,
            None if self.columns.is_empty() => {}
            None => {
                let named: Vec<&str> = self
                    .columns
                    .iter()
                    .map(|column| column.name.as_str())
                    .collect();
                let says = format!(
                    "there is no column `{name}`; there are {}",
                    named.join(", ")
                );
                let fault = self.heading_fault(
                    0,
                    says,
                    format!("name one column `{name}`; it holds {what}"),
                );
                self.faults.push(fault);
            }
        }
        found
    }

    fn all_bare(&self, at: usize) -> bool {
        let mut cells = self
            .rows
            .iter()
            .filter_map(|line| line.cells.get(at))
            .filter(|cell| !no_reading(&cell.text));
        cells.all(|cell| {
            !cell
                .text
                .contains(|sign: char| sign.is_alphabetic() || matches!(sign, '"' | '°' | '%'))
        })
    }

    fn heading_fault(
        &self,
        at: usize,
        says: impl Into<String>,
        hint: impl Into<String>,
    ) -> CellFault {
        let column = self.columns.get(at).map_or(1, |column| column.at);
        let width = self
            .columns
            .get(at)
            .map_or(1, |column| column.name.chars().count());
        CellFault {
            file: self.file.clone(),
            line: self.heading_line,
            column,
            excerpt: self.heading.clone(),
            width: width.max(1),
            reason: says.into(),
            hint: hint.into(),
        }
    }

    fn fault_in(
        &self,
        line: &Line,
        at: usize,
        width: usize,
        says: String,
        hint: impl Into<String>,
    ) -> CellFault {
        CellFault {
            file: self.file.clone(),
            line: line.number,
            column: at,
            excerpt: line.text.clone(),
            width: width.max(1),
            reason: says,
            hint: hint.into(),
        }
    }
}

/// What parts the cells: the one of `;`, tab and `,` that stands in the first line of cells.
/// A semicolon wins, because such tables write numbers with decimal commas.
fn parting(text: &str) -> u8 {
    let first = text
        .lines()
        .find(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#'))
        .unwrap_or_default();
    [b';', b'\t']
        .into_iter()
        .find(|&sign| first.contains(char::from(sign)))
        .unwrap_or(b',')
}

/// The 1-based character each cell of a line starts at, minding quotes.
fn starts(line: &str, parting: char) -> Vec<usize> {
    let mut starts = vec![1];
    let mut quoted = false;
    for (at, sign) in line.chars().enumerate() {
        match sign {
            '"' => quoted = !quoted,
            sign if sign == parting && !quoted => starts.push(at + 2),
            _ => {}
        }
    }
    starts
}

fn no_reading(text: &str) -> bool {
    matches!(text, "" | "-" | "–" | "—" | "?")
}
