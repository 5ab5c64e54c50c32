//! The turn of the bolts as a person reads it: a strip of holes, the line to type, a drawing.

use std::f64::consts::TAU;

use book::EngineEnd;
use report::{HoleMark, Holes, Picture};

use super::{Line, Sheet};
use crate::tighten_joint::order::{Layout, Shape, Whose, by_name};

/// How wide a strip may get before it goes on below.
const WIDE: usize = 76;

/// The strip of holes in their turn, whose order it is, and the line to type afterwards.
pub(super) fn text(sheet: &Sheet<'_>) -> Option<String> {
    let course = sheet.course;
    let mut blocks = Vec::new();
    if course.seats.len() > 1 {
        blocks.push(strip(sheet));
        let whose = course.order.words();
        if !whose.is_empty() {
            blocks.push(format!("  {whose}"));
        }
        if course.rounds() > 1 {
            blocks.push(format!(
                "  the book goes over them {} times at each torque",
                course.rounds()
            ));
        }
        if course.order.assumed_rows.is_some() {
            let ring = if course.order.whose == Whose::Trade {
                ", --ring if round"
            } else {
                ""
            };
            blocks.push(format!(
                "  taken to stand in one row, by name; --rows 2 if in two{ring}"
            ));
        }
    }
    if let Some(line) = to_type(sheet) {
        blocks.push(format!("  when it is done, type:\n    {line}"));
    }
    (!blocks.is_empty()).then(|| blocks.join("\n"))
}

fn strip(sheet: &Sheet<'_>) -> String {
    let course = sheet.course;
    let next = sheet.next.map(|next| next.seat);
    let cells: Vec<[String; 3]> = course
        .seats
        .iter()
        .enumerate()
        .map(|(at, seat)| {
            let name = seat.hole.name.to_string();
            let name = if next == Some(at) {
                format!("[{name}]")
            } else {
                name
            };
            let reached = seat.held.map_or(0, job::HoleState::stage);
            [
                (at + 1).to_string(),
                name,
                if reached == 0 {
                    "-".to_owned()
                } else {
                    reached.to_string()
                },
            ]
        })
        .collect();
    let wide = cells
        .iter()
        .flatten()
        .map(|cell| cell.chars().count())
        .max()
        .unwrap_or(1)
        + 1;
    let in_a_line = ((WIDE - 9) / wide).max(1);
    let heads = ["turn", "hole", "stage"];
    let strips = cells.chunks(in_a_line).map(|cells| {
        let rows = heads.iter().enumerate().map(|(row, head)| {
            let words: String = cells
                .iter()
                .map(|cell| format!("{:>wide$}", cell[row]))
                .collect();
            format!("  {head:<5}{words}")
        });
        rows.collect::<Vec<_>>().join("\n")
    });
    strips.collect::<Vec<_>>().join("\n\n")
}

/// The line that enters the next act: a whole stage, or what is left of it after a break.
pub(super) fn to_type(sheet: &Sheet<'_>) -> Option<String> {
    let line = sheet.next_line()?;
    let left: Vec<usize> = sheet
        .seats_of(line)
        .into_iter()
        .filter(|&seat| !sheet.has_had(seat, line))
        .collect();
    enters(sheet, line, &left)
}

/// The line that enters the next bolt alone.
pub(super) fn to_type_one(sheet: &Sheet<'_>) -> Option<String> {
    enters(sheet, sheet.next_line()?, &[sheet.next?.seat])
}

fn enters(sheet: &Sheet<'_>, line: &Line<'_>, left: &[usize]) -> Option<String> {
    let stage = sheet.stage_of(line);
    let mut words = vec![format!("tight {}", sheet.asked.joint)];
    if left.len() < sheet.course.seats.len() {
        let one = if left.len() == 1 { "hole" } else { "holes" };
        words.push(format!("{one} {}", sheet.course.runs(left)));
    }
    words.push(format!("stage {stage}"));
    // A line of the record takes a torque or an angle; a wait is entered by its stage alone.
    if line.pull().is_some() || line.turns().is_some() {
        words.push(line.stage.spec.typed.trim().to_owned());
    }
    if let Some(tool) = sheet.tool_word(line).filter(|tool| !tool.contains(' ')) {
        words.push(format!("wrench {tool}"));
    }
    if let Some(condition) = sheet.condition(line.group) {
        words.push(condition.word().to_owned());
    }
    Some(words.join(" "))
}

/// The joint square-on, its holes numbered in their turn.
pub(super) fn picture(sheet: &Sheet<'_>) -> Picture {
    let course = sheet.course;
    let to_scale = course.seats.iter().all(|seat| seat.hole.position.is_some());
    let stage = sheet
        .next
        .and_then(|next| course.passes.get(next.pass))
        .map(|pass| pass.stage);
    let laid = laid_out(sheet);
    let (drive, flywheel) = ("drive end", "flywheel end");
    let ends = match course.joint.from {
        Some(EngineEnd::Drive) => (drive, flywheel),
        Some(EngineEnd::Flywheel) => (flywheel, drive),
        None => ("", ""),
    };
    let holes = course
        .seats
        .iter()
        .enumerate()
        .map(|(at, seat)| {
            let (x_mm, y_mm) = match seat.hole.position {
                Some(place) if to_scale => (place.x.in_mm(), place.y.in_mm()),
                _ => laid.get(at).copied().unwrap_or_default(),
            };
            let thread = seat.hole.thread.typed().unwrap_or_default();
            let length = seat.hole.length.typed().unwrap_or_default();
            let reached = seat.held.map_or(0, job::HoleState::stage);
            HoleMark {
                name: seat.hole.name.to_string(),
                x_mm,
                y_mm,
                number: Some(at + 1),
                label: format!("{thread} {length}").trim().to_owned(),
                done: stage.map_or(reached == course.last_stage(at), |stage| seat.has(stage)),
                in_hand: sheet.next.is_some_and(|next| next.seat == at),
            }
        })
        .collect();
    Picture::Holes(Holes {
        title: course.label.clone(),
        holes,
        to_scale,
        left: ends.0.to_owned(),
        right: ends.1.to_owned(),
    })
}

/// Places for holes nobody measured, by place among the seats: rows or a ring, by name.
fn laid_out(sheet: &Sheet<'_>) -> Vec<(f64, f64)> {
    /// Far enough apart for a number and a name; rows further, for words below the holes.
    const APART: f64 = 80.0;
    const ROWS: f64 = 1.8 * APART;
    let course = sheet.course;
    let holes: Vec<&book::Hole> = course.seats.iter().map(|seat| seat.hole).collect();
    let count = holes.len();
    let float = |index: usize| u32::try_from(index).map_or(0.0, f64::from);
    let rows = match sheet.asked.layout {
        Layout::Rows(rows) => rows.max(1),
        Layout::NotSaid | Layout::Ring => count.div_ceil(10),
    };
    let columns = count.div_ceil(rows).max(1);
    let ring = course.order.shape == Shape::Ring;
    let mut places = vec![(0.0, 0.0); count];
    for (turn, at) in by_name(&holes).into_iter().enumerate() {
        if let Some(place) = places.get_mut(at) {
            *place = if ring {
                let angle = TAU * float(turn) / float(count);
                let radius = APART * float(count) / TAU;
                (radius * libm::sin(angle), radius * libm::cos(angle))
            } else {
                (APART * float(turn % columns), -ROWS * float(turn / columns))
            };
        }
    }
    places
}
