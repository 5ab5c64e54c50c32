//! A table copied from elsewhere: columns with units that must agree row by row.

use std::path::PathBuf;

use judge::table::{Column, Printed, check};
use quantity::{Unit, read};
use report::{Finding, Report};

use crate::readings;

const COMMAND: &str = "table";
const TITLE: &str = "Numbers copied from elsewhere";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The table: the first column names the rows, two and more others carry units.
    pub file: PathBuf,
}

/// Checks a table against itself.
#[must_use]
pub fn table(asked: &Asked) -> Report {
    let mut csv = match readings::open(COMMAND, TITLE, &asked.file) {
        Ok(csv) => csv,
        Err(refusal) => return *refusal,
    };
    let headings: Vec<(String, Option<String>)> = csv
        .columns()
        .iter()
        .map(|column| (column.name.clone(), column.unit_text.clone()))
        .collect();
    let mut names: Vec<String> = (1..=csv.len()).map(|row| format!("row {row}")).collect();
    let mut columns = Vec::new();
    for (at, (name, unit)) in headings.iter().enumerate() {
        let cells = csv.words(name);
        let Some(unit) = unit else {
            if at == 0 {
                names = cells
                    .into_iter()
                    .zip(names)
                    .map(|(cell, row)| cell.unwrap_or(row))
                    .collect();
            }
            continue;
        };
        let Ok(known) = read::read_any(&format!("1 {unit}")) else {
            csv.fault(
                0,
                name,
                format!("“{unit}” is no unit we know"),
                "write a unit such as N·m, lbf·ft, mm or in",
            );
            continue;
        };
        let unit = *known.value.unit;
        let cells = cells
            .into_iter()
            .enumerate()
            .map(|(row, cell)| printed(&mut csv, row, name, &unit, cell?))
            .collect();
        columns.push(Column {
            name: name.clone(),
            unit,
            cells,
        });
    }
    if columns.len() < 2 && csv.faults().is_empty() {
        let finding = Finding::new(
            "table",
            asked.file.display().to_string(),
            "there are not two columns with units to compare",
        )
        .next("copy both units of the book, as in `bolt,torque [N·m],torque too [lbf·ft]`");
        return Report::refusal(COMMAND, TITLE, finding);
    }
    if !csv.faults().is_empty() {
        return readings::refusal(crate::option::Options::of(COMMAND), TITLE, &csv);
    }
    check(&names, &columns)
}

fn printed(
    csv: &mut files::Csv,
    row: usize,
    column: &str,
    unit: &Unit,
    text: String,
) -> Option<Printed> {
    match read::read_as(unit.kind, &format!("{text} {}", unit.symbol)) {
        Ok(said) => Some(Printed {
            value: said.value,
            text,
        }),
        Err(fault) => {
            csv.fault(row, column, fault.reason, fault.hint);
            None
        }
    }
}
