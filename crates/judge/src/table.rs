//! Numbers copied from elsewhere: the same figure in two or three units, checked row by row,
//! and the odd one out named.

use quantity::{Anything, Kind, Unit, show};
use report::{Align, Cell, Finding, Report, Table, Verdict, Weight};

/// One column of figures that mean the same as their neighbours.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// Its unit.
    pub unit: Unit,
    /// Its figures as printed, one a row; nothing where the cell is empty.
    pub cells: Vec<Option<Printed>>,
}

/// A figure as it was printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Printed {
    /// What it means.
    pub value: Anything,
    /// Its digits, as they stand.
    pub text: String,
}

impl Printed {
    /// Half a unit of the last printed digit, in SI: what rounding may have taken.
    fn rounding(&self, unit: &Unit) -> f64 {
        let digits = self.text.rsplit(['.', ',']).next().unwrap_or("");
        let decimals = if self.text.contains(['.', ',']) {
            digits.chars().take_while(char::is_ascii_digit).count()
        } else {
            0
        };
        let last = (0..decimals).fold(1.0, |place, _| place / 10.0);
        0.5 * last * unit.factor
    }
}

/// Checks columns that must agree. `names` are the rows' own names.
#[must_use]
pub fn check(names: &[String], columns: &[Column]) -> Report {
    let mut report = Report::new("table", "Numbers copied from elsewhere");
    let mut rows = Table::new(&[
        ("row", "row", Align::Left),
        ("agrees", "agrees", Align::Left),
        ("odd", "odd one out", Align::Left),
        ("expected", "the others say", Align::Left),
    ]);
    let mut odd_rows = 0;
    let mut kinds: Vec<Kind> = columns.iter().map(|column| column.unit.kind).collect();
    kinds.dedup();
    for (at, name) in names.iter().enumerate() {
        for kind in &kinds {
            let cells: Vec<(&Column, &Printed)> = columns
                .iter()
                .filter(|column| column.unit.kind == *kind)
                .filter_map(|column| Some((column, column.cells.get(at)?.as_ref()?)))
                .collect();
            let Some(odd) = odd_one(&cells) else { continue };
            let (finding, row) = tell(name, &cells, odd);
            odd_rows += usize::from(row.is_some());
            report.findings.extend(finding);
            rows.push(row.unwrap_or_else(|| vec![Cell::from(name.clone()), Cell::Flag(true)]));
        }
    }
    report.rows = rows;
    report.verdict = Some(if odd_rows > 0 {
        Verdict::Outside
    } else {
        Verdict::Within
    });
    report.headline = Some(match odd_rows {
        0 => "Every row agrees with itself to its printed digits.".to_owned(),
        1 => "One row does not agree with itself.".to_owned(),
        more => format!("{more} rows do not agree with themselves."),
    });
    report.because.push(
        "two figures agree when rounding of their last printed digits can explain the difference"
            .to_owned(),
    );
    report
}

/// How a row stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Odd {
    None,
    /// This cell disagrees with all others, which agree.
    Cell(usize),
    /// They disagree and none can be named.
    Some,
}

/// Finds the odd one; nothing where there are not two to compare.
fn odd_one(cells: &[(&Column, &Printed)]) -> Option<Odd> {
    if cells.len() < 2 {
        return None;
    }
    let agrees = |a: usize, b: usize| {
        let (one, other) = (cells[a], cells[b]);
        let slack = one.1.rounding(&one.0.unit) + other.1.rounding(&other.0.unit);
        (one.1.value.si - other.1.value.si).abs() <= slack * (1.0 + 1e-9)
    };
    let all = |left_out: Option<usize>| {
        let kept: Vec<usize> = (0..cells.len())
            .filter(|at| Some(*at) != left_out)
            .collect();
        kept.iter().all(|&a| kept.iter().all(|&b| agrees(a, b)))
    };
    if all(None) {
        return Some(Odd::None);
    }
    let candidates: Vec<usize> = (0..cells.len())
        .filter(|&at| cells.len() > 2 && all(Some(at)))
        .collect();
    Some(match candidates.as_slice() {
        [one] => Odd::Cell(*one),
        _ => Odd::Some,
    })
}

fn tell(
    name: &str,
    cells: &[(&Column, &Printed)],
    odd: Odd,
) -> (Option<Finding>, Option<report::Row>) {
    let as_printed = |&(column, printed): &(&Column, &Printed)| {
        format!("{} {}", printed.text, column.unit.symbol)
    };
    match odd {
        Odd::None => (None, None),
        Odd::Cell(at) => {
            let (column, _) = cells[at];
            let other = cells[usize::from(at == 0)].1;
            let expected = show::show_si(other.value.si, &column.unit);
            let finding = Finding::new(
                "odd-one-out",
                name,
                format!(
                    "{} does not agree with the others, which say {expected}",
                    as_printed(&cells[at])
                ),
            )
            .next("look at the page it was copied from; until then use none of the row")
            .weight(Weight::Stop);
            (
                Some(finding),
                Some(vec![
                    Cell::from(name),
                    Cell::Flag(false),
                    Cell::from(as_printed(&cells[at])),
                    Cell::from(expected),
                ]),
            )
        }
        Odd::Some => {
            let all: Vec<String> = cells.iter().map(as_printed).collect();
            let mut finding = Finding::new(
                "row-disagrees",
                name,
                format!("{} are not the same", all.join(" and ")),
            )
            .next("look at the page it was copied from; until then use none of the row")
            .weight(Weight::Stop);
            if let Some(slip) = slip(cells) {
                finding = finding.points_to(slip);
            }
            (
                Some(finding),
                Some(vec![
                    Cell::from(name),
                    Cell::Flag(false),
                    Cell::from(format!("one of {}", all.join(", "))),
                    Cell::None,
                ]),
            )
        }
    }
}

/// A factor between two figures that has a common cause.
fn slip(cells: &[(&Column, &Printed)]) -> Option<&'static str> {
    let (one, other) = (cells.first()?.1.value.si, cells.get(1)?.1.value.si);
    if one == 0.0 || other == 0.0 {
        return None;
    }
    let ratio = (one / other).abs().max((other / one).abs());
    let near = |factor: f64| (ratio / factor - 1.0).abs() < 0.03;
    [
        (10.0, "a point in the wrong place, or a digit lost"),
        (100.0, "a point two places out"),
        (
            1000.0,
            "a slip of a thousand: mm and m, µm and mm, or thou and in",
        ),
        (12.0, "inches and feet exchanged"),
        (
            1.3558,
            "a figure in lbf·ft written down as N·m, or the reverse",
        ),
        (25.4, "inches and millimetres exchanged"),
    ]
    .into_iter()
    .find(|&(factor, _)| near(factor))
    .map(|(_, words)| words)
}

#[cfg(test)]
mod tests {
    use quantity::{read, unit};

    use super::*;

    fn column(unit: Unit, cells: &[&str]) -> Column {
        Column {
            name: unit.symbol.to_owned(),
            unit,
            cells: cells
                .iter()
                .map(|text| {
                    let value =
                        read::read_as(unit.kind, &format!("{text} {}", unit.symbol)).ok()?;
                    Some(Printed {
                        value: value.value,
                        text: (*text).to_owned(),
                    })
                })
                .collect(),
        }
    }

    fn names(count: usize) -> Vec<String> {
        (1..=count).map(|at| format!("row {at}")).collect()
    }

    /// Source: 13 lbf·ft = 17.6 N·m = 1.8 kgf·m; 45 lbf·ft = 61 N·m. *Published: exact factors.*
    #[test]
    fn rounding_is_no_fault_and_a_slip_is_named() {
        let columns = [
            column(unit::NEWTON_METRE, &["17.6", "61", "45"]),
            column(unit::POUND_FORCE_FOOT, &["13", "45", "45"]),
        ];
        let report = check(&names(3), &columns);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        let finding = report
            .findings
            .iter()
            .find(|finding| finding.code == "row-disagrees")
            .unwrap();
        assert_eq!(finding.concerns, "row 3");
        assert!(finding.points_to.as_deref().unwrap().contains("lbf·ft"));
        assert_eq!(report.findings.len(), 1);
    }

    #[test]
    fn of_three_the_odd_one_is_named() {
        let columns = [
            column(unit::MILLIMETRE, &["0.152"]),
            column(unit::INCH_UNIT, &["0.06"]),
            column(unit::MICROMETRE, &["152"]),
        ];
        let report = check(&names(1), &columns);
        let finding = &report.findings[0];
        assert_eq!(finding.code, "odd-one-out");
        assert!(finding.says.starts_with("0.06 in"));
        assert!(finding.says.contains("0.005984 in"));
    }

    #[test]
    fn rows_that_agree_and_cells_that_are_empty_are_within() {
        let columns = [
            column(unit::MILLIMETRE, &["1.0", "x"]),
            column(unit::INCH_UNIT, &["0.039", "2"]),
        ];
        let report = check(&names(2), &columns);
        assert_eq!(report.verdict, Some(Verdict::Within));
        assert_eq!(report.rows.rows.len(), 1);
    }
}
