//! The rows of a sheet, stage by stage, and its figures.

use book::Condition;
use quantity::{Kind, show, unit};
use report::{Align, Cell, Figure, Report, Table};

use super::{Between, Line, Sheet, reach, turns};
use crate::tightening::typed_unit;

/// One row for each stage of each group of bolts.
pub(super) fn rows(sheet: &Sheet<'_>) -> Table {
    let several = sheet.course.groups.len() > 1;
    let mut table = Table::new(&[
        ("stage", "stage", Align::Right),
        (
            "round",
            if sheet.course.rounds() > 1 {
                "round"
            } else {
                ""
            },
            Align::Right,
        ),
        ("holes", if several { "holes" } else { "" }, Align::Left),
        ("figure", "figure", Align::Left),
        ("condition", "threads", Align::Left),
        ("setting", "set", Align::Right),
        ("wrench", "wrench", Align::Left),
        ("done", "done", Align::Right),
        ("of", "", Align::Right),
        ("next_hole", "next", Align::Left),
        ("line", "", Align::Left),
        ("one", "", Align::Left),
    ]);
    for line in &sheet.lines {
        let seats = sheet.seats_of(line);
        let stage = sheet.stage_of(line);
        let done = seats
            .iter()
            .filter(|&&seat| sheet.has_had(seat, line))
            .count();
        let count = u32::try_from(done).map_or(f64::MAX, f64::from);
        let is_next = sheet
            .next
            .is_some_and(|next| next.pass == line.pass && seats.contains(&next.seat));
        let condition = sheet.condition(line.group);
        table.push(vec![
            Cell::from(usize::try_from(stage).unwrap_or(usize::MAX)),
            Cell::from(usize::try_from(sheet.round_of(line)).unwrap_or(usize::MAX)),
            Cell::from(sheet.course.runs(&seats)),
            figure_cell(line),
            Cell::from(condition.map_or("not stated", Condition::word)),
            Cell::from(sheet.setting(line)),
            Cell::from(tool_cell(sheet, line)),
            Cell::Number(count, format!("{done} of {}", seats.len())),
            Cell::from(seats.len()),
            Cell::from(sheet.next_hole().filter(|_| is_next)),
            Cell::from(turns::to_type(sheet).filter(|_| is_next)),
            Cell::from(turns::to_type_one(sheet).filter(|_| is_next)),
        ]);
    }
    table
}

/// The wrench to take, and what sits on it.
fn tool_cell(sheet: &Sheet<'_>, line: &Line<'_>) -> String {
    if let Between::Unknown(word) = line.between {
        return format!("needs {word}");
    }
    match (sheet.tool_word(line), line.between) {
        (Some(tool), Between::Adapter(adapter)) if line.pull().is_some() => {
            format!("{tool} + {}", adapter.name)
        }
        (Some(tool), _) => tool,
        (None, _) if line.pull().is_some() && !sheet.asked.rack.tools.is_empty() => {
            "none of yours".to_owned()
        }
        (None, _) => String::new(),
    }
}

/// The stage as the book writes it, with its torque or angle.
fn figure_cell(line: &Line<'_>) -> Cell {
    let typed = line.stage.spec.typed.trim().to_owned();
    match (line.pull(), line.turns()) {
        (Some(pull), _) => Cell::from(Figure::new("figure", "figure", pull.torque, typed)),
        (None, Some(angle)) => Cell::from(Figure::new("figure", "figure", angle, typed)),
        (None, None) => Cell::from(typed),
    }
}

/// What the next act puts on bolt and wrench, and how far the joint is.
pub(super) fn figures(sheet: &Sheet<'_>, report: &mut Report) {
    if let Some(line) = sheet.next_line() {
        let condition = sheet
            .condition(line.group)
            .map_or("condition not stated", Condition::word);
        if let Some(pull) = line.pull() {
            let shown =
                typed_unit(Kind::Torque, &line.stage.spec.typed).unwrap_or(&unit::NEWTON_METRE);
            report.figures.push(
                Figure::new("spec", "on the bolt", pull.torque, show(pull.torque, shown))
                    .note(format!("threads {condition}")),
            );
            if let Some(mut setting) = sheet.setting(line) {
                setting.label = "on the wrench".to_owned();
                setting.note = reach::note(sheet, line, &pull);
                report.figures.push(setting);
            }
        }
        if let Some(angle) = line.turns() {
            report.figures.push(Figure::new(
                "angle",
                "turn by",
                angle,
                show(angle, &unit::DEGREE),
            ));
        }
    }
    let whole: usize = sheet
        .lines
        .iter()
        .map(|line| sheet.seats_of(line).len())
        .sum();
    let done: usize = sheet
        .lines
        .iter()
        .map(|line| {
            let seats = sheet.seats_of(line);
            seats
                .iter()
                .filter(|&&seat| sheet.has_had(seat, line))
                .count()
        })
        .sum();
    if sheet.asked.why {
        report
            .figures
            .push(Figure::count("stages", "stages", sheet.stages()));
    }
    let mut figure = Figure::count("done", "pulls done", done);
    figure.shown = format!("{done} of {whole}");
    report.figures.push(figure);
}
