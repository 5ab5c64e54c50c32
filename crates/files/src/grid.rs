//! The rows of an answer for other programs: comma-separated text and spreadsheets.
//!
//! Figures go out unrounded in SI with the unit in the heading (`preload [N]`), so that what
//! is written here is read here again. Words that a spreadsheet would take for a formula are
//! kept words.

use report::{Cell, Table, Verdict};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, XlsxError};

/// What a cell holds, for a program.
enum Held {
    Nothing,
    Number(f64),
    Words(String),
}

/// One column: its heading, and its cells from top to bottom.
struct Column {
    heading: String,
    cells: Vec<Held>,
}

fn columns(table: &Table) -> Vec<Column> {
    let all = table.columns.iter().enumerate();
    all.map(|(at, column)| {
        let cells: Vec<&Cell> = table
            .rows
            .iter()
            .map(|row| row.get(at).unwrap_or(&Cell::None))
            .collect();
        let unit = one_unit(&cells);
        Column {
            heading: match unit {
                Some(unit) if !unit.is_empty() => format!("{} [{unit}]", column.key),
                Some(_) | None => column.key.to_owned(),
            },
            cells: cells
                .into_iter()
                .map(|cell| held(cell, unit.is_some()))
                .collect(),
        }
    })
    .collect()
}

/// The unit of a column in which every cell that holds something holds a figure in it.
fn one_unit(cells: &[&Cell]) -> Option<&'static str> {
    let mut unit = None;
    for cell in cells {
        match cell {
            Cell::Figure(figure) if unit.is_none_or(|unit| unit == figure.unit) => {
                unit = Some(figure.unit);
            }
            Cell::None => {}
            _ => return None,
        }
    }
    unit
}

fn held(cell: &Cell, numbers: bool) -> Held {
    match cell {
        Cell::None => Held::Nothing,
        Cell::Text(text) => Held::Words(text.clone()),
        Cell::Figure(figure) if numbers => Held::Number(figure.value),
        Cell::Figure(figure) => Held::Words(figure.shown.clone()),
        Cell::Number(number, _) => Held::Number(*number),
        Cell::Verdict(verdict) => Held::Words(Verdict::word(*verdict).to_owned()),
        Cell::List(words) => Held::Words(words.join("; ")),
        Cell::Flag(yes) => Held::Words(if *yes { "yes" } else { "no" }.to_owned()),
    }
}

/// Comma-separated text (RFC 4180) with a heading line.
///
/// # Errors
/// What the writer said.
pub fn csv(table: &Table) -> Result<String, ::csv::Error> {
    let columns = columns(table);
    let mut writer = ::csv::WriterBuilder::new()
        .terminator(::csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(columns.iter().map(|column| column.heading.as_str()))?;
    for row in 0..table.rows.len() {
        writer.write_record(columns.iter().map(|column| match &column.cells[row] {
            Held::Nothing => String::new(),
            Held::Number(number) => number.to_string(),
            Held::Words(words) => guarded(words),
        }))?;
    }
    let bytes = writer.into_inner().map_err(|fault| fault.into_error())?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// Words that begin like a formula get an apostrophe before them, which a spreadsheet takes
/// for the sign of words. A lone `-` is no reading and stays one.
fn guarded(words: &str) -> String {
    if words != "-" && words.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{words}")
    } else {
        words.to_owned()
    }
}

/// A spreadsheet (Office Open XML) with one sheet. The same rows give the same bytes.
///
/// # Errors
/// What the writer said: more rows or longer words than such a sheet holds.
pub fn xlsx(title: &str, table: &Table) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // The day it was made would make every file another one.
    let made = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(
        &DocProperties::new()
            .set_title(title)
            .set_creation_datetime(&made),
    );
    let heading = Format::new().set_bold();
    let sheet = book.add_worksheet();
    for (at, column) in (0_u16..).zip(columns(table)) {
        sheet.write_string_with_format(0, at, &column.heading, &heading)?;
        for (row, cell) in (1_u32..).zip(column.cells) {
            match cell {
                Held::Nothing => {}
                Held::Number(number) => {
                    sheet.write_number(row, at, number)?;
                }
                Held::Words(words) => {
                    sheet.write_string(row, at, words)?;
                }
            }
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.autofit();
    book.save_to_buffer()
}

#[cfg(test)]
mod tests {
    use calamine::{Data, Reader, Xlsx};
    use quantity::{Force, Length};
    use report::{Align, Figure};

    use super::*;
    use crate::Csv;

    fn table() -> Table {
        let mut table = Table::new(&[
            ("hole", "hole", Align::Left),
            ("preload", "preload", Align::Right),
            ("length", "", Align::Right),
            ("turn", "turn", Align::Right),
            ("verdict", "verdict", Align::Left),
        ]);
        let force = Figure::new("preload", "", Force::newtons(18_600.5).unwrap(), "18.6 kN");
        let length = Figure::new("length", "", Length::mm(40.0).unwrap(), "40 mm");
        table.push(vec![
            Cell::from("=cmd|' /C calc'!A0"),
            Cell::from(force),
            Cell::from(length),
            Cell::from(3_usize),
            Cell::from(Verdict::Within),
        ]);
        table.push(vec![
            Cell::from("B, inner \"row\""),
            Cell::None,
            Cell::None,
            Cell::from(4_usize),
        ]);
        table
    }

    #[test]
    fn what_is_written_is_read_here_again() {
        let text = csv(&table()).unwrap();
        let mut read = Csv::read("out.csv", &text);
        let preload = read.quantities::<Force>("preload");
        assert_eq!(preload, [Some(Force::newtons(18_600.5).unwrap()), None]);
        assert_eq!(
            read.quantities::<Length>("length")[0],
            Some(Length::mm(40.0).unwrap())
        );
        assert!(read.faults().is_empty(), "{:?}", read.faults());
        let holes = read.words("hole");
        assert_eq!(
            holes[0].as_deref(),
            Some("'=cmd|' /C calc'!A0"),
            "no formula"
        );
        assert_eq!(holes[1].as_deref(), Some("B, inner \"row\""));
    }

    /// Source: a general library reads the file back (`calamine` 0.38).
    #[test]
    fn another_reader_finds_the_numbers() {
        let bytes = xlsx("Tightening", &table()).unwrap();
        let mut book: Xlsx<_> = Xlsx::new(std::io::Cursor::new(&bytes)).unwrap();
        let name = book.sheet_names()[0].clone();
        let range = book.worksheet_range(&name).unwrap();
        assert_eq!(
            range.get_value((0, 1)),
            Some(&Data::String("preload [N]".into()))
        );
        assert_eq!(range.get_value((1, 1)), Some(&Data::Float(18_600.5)));
        assert_eq!(
            range.get_value((1, 0)),
            Some(&Data::String("=cmd|' /C calc'!A0".into()))
        );
        assert_eq!(range.get_value((2, 3)), Some(&Data::Float(4.0)));
        assert_eq!(
            xlsx("Tightening", &table()).unwrap(),
            bytes,
            "the same bytes"
        );
    }
}
