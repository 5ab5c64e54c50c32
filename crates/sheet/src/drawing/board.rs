//! Ends and their ports, a row a line: what runs in it, where both ends belong, what hangs
//! loose, and which ends can change places.
//!
//! A row needs no crossing strokes, so sixty of them read on a phone and in grey on A4. The
//! medium stands as a pattern and as a letter; a pair under suspicion as one ring letter at
//! both of its ends.
//!
//! On paper the ports stand beside the stroke; on a phone held upright they stand under it, so
//! that the letters keep their size.

use maud::{Markup, html};
use report::{Board, BoardEnd, BoardRow, Stroke};

use super::net::pattern;
use super::{INK, Ink, PAINT, RULE, SHEET, SOFT, count, id, line, n, sheet, width_of, words};

/// As wide as paper wants it.
const WIDTH: f64 = 600.0;
/// As wide as a phone held upright shows without making letters too small to read.
const UPRIGHT: f64 = 400.0;
/// A row whose ports stand under the stroke.
const UPRIGHT_ROW: f64 = 56.0;
/// Letters of a port; smaller where two ports of one row would meet.
const PORT: f64 = 13.5;
const TOP: f64 = 52.0;
const HEAD: f64 = 30.0;
const ROW: f64 = 36.0;
/// Where the stroke of a row begins and ends.
const LEFT: f64 = 226.0;
const RIGHT: f64 = WIDTH - 226.0;
const RING: f64 = 8.5;
/// Letters of a note.
const NOTE: f64 = 12.5;
/// How far short of its port a loose end stops.
const GAP: f64 = 22.0;

/// Draws a board for paper.
pub(super) fn draw(board: &Board) -> Markup {
    laid_out(board, WIDTH, ROW, draw_row)
}

/// Draws a board for a phone held upright.
pub(super) fn draw_upright(board: &Board) -> Markup {
    laid_out(board, UPRIGHT, UPRIGHT_ROW, draw_row_upright)
}

/// Heads, rows and notes from the top down; `draw` draws one row at its height.
fn laid_out(board: &Board, width: f64, row: f64, draw: fn(&BoardRow, f64) -> Markup) -> Markup {
    let rows: usize = board.groups.iter().map(|group| group.rows.len()).sum();
    let tall = TOP + HEAD * count(board.groups.len()) + row * count(rows);
    let notes: Vec<String> = board
        .notes
        .iter()
        .flat_map(|note| filled(note, width - 32.0))
        .collect();
    let mut y = TOP;
    let mut groups = Vec::new();
    for group in &board.groups {
        groups.push((y, group));
        y += HEAD + row * count(group.rows.len());
    }
    let body = html! {
        @for (top, group) in &groups {
            (line((16.0, top + 22.0), (width - 16.0, top + 22.0), RULE, 1.0, None))
            (words(16.0, top + 16.0, &group.name, &Ink { size: 14.0, bold: true, ..Ink::default() }))
            @for (at, one) in group.rows.iter().enumerate() {
                (draw(one, top + HEAD + row * count(at) + 12.0))
            }
        }
        @for (at, note) in notes.iter().enumerate() {
            (words(16.0, tall + 18.0 + 18.0 * count(at), note, &Ink { size: NOTE, colour: SOFT, ..Ink::default() }))
        }
    };
    sheet(
        &board.title,
        width,
        tall + count(notes.len()) * 18.0 + 24.0,
        &body,
    )
}

/// A note in as many lines as it takes.
fn filled(note: &str, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in note.split(' ') {
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line} {word}"), NOTE) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) => lines.push(format!("\u{a0}\u{a0}\u{a0}{word}")),
            None => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A row across the whole width, its ports under it.
fn draw_row_upright(row: &BoardRow, y: f64) -> Markup {
    let [from, to] = &row.ends;
    let (left, right) = (22.0, UPRIGHT - 22.0);
    let start = left + if from.loose { GAP } else { 0.0 };
    let end = right - if to.loose { GAP } else { 0.0 };
    let rings = |end: &BoardEnd| 2.0 * RING * count(end.rings.len());
    let room = UPRIGHT - 48.0 - rings(from) - rings(to);
    let long = width_of(&from.port, PORT) + width_of(&to.port, PORT);
    let size = PORT * (room / long.max(1.0)).min(1.0);
    let ends = html! {
        (draw_tip(from, left, start, y))
        (draw_tip(to, right, end, y))
        (draw_end_under(from, left - 6.0, y, 1.0, size))
        (draw_end_under(to, right + 6.0, y, -1.0, size))
    };
    row_with(row, (left, right), (start, end), y, &ends)
}

/// A row: its line from start to end, its name in the middle of its sides, its ends as drawn.
fn row_with(
    row: &BoardRow,
    (left, right): (f64, f64),
    (start, end): (f64, f64),
    y: f64,
    ends: &Markup,
) -> Markup {
    let [from, to] = &row.ends;
    let suspect = row.ends.iter().any(|end| !end.rings.is_empty());
    let colour = if suspect { PAINT } else { INK };
    html! {
        g id=(format!("row-{}", id(&row.id))) {
            title {
                (row.label) ": " (from.port) " to " (to.port)
                @if suspect { ", can change places" }
            }
            (stroke((start, end), y, row.stroke, colour))
            (words(f64::midpoint(left, right), y - 6.0, &row.label, &Ink { size: 12.5, colour, anchor: "middle", ..Ink::default() }))
            (ends)
        }
    }
}

/// What stands under one end: rings, port, and where it is. `inward` is 1 on the left.
fn draw_end_under(end: &BoardEnd, edge: f64, y: f64, inward: f64, size: f64) -> Markup {
    let anchor = if inward < 0.0 { "end" } else { "start" };
    let shift = match end.rings.len() {
        0 => 0.0,
        some => inward * (4.0 + 2.0 * RING * count(some)),
    };
    html! {
        @for (at, letter) in end.rings.iter().enumerate() {
            @let x = edge + inward * (RING + 2.0 * RING * count(at));
            (draw_ring(letter, x, y + 17.0))
        }
        (words(edge + shift, y + 19.0, &end.port, &Ink { size, anchor, ..Ink::default() }))
        (words(edge + shift, y + 31.0, &second(end), &Ink { size: 11.0, colour: SOFT, anchor, ..Ink::default() }))
    }
}

fn draw_ring(letter: &str, x: f64, y: f64) -> Markup {
    html! {
        circle cx=(n(x)) cy=(n(y)) r=(n(RING)) fill=(SHEET) stroke=(PAINT) stroke-width="2" {}
        (words(x, y + 4.0, letter, &Ink { size: 11.5, bold: true, colour: PAINT, anchor: "middle" }))
    }
}

/// The square of a port, and the open end that hangs beside it where it is loose.
fn draw_tip(end: &BoardEnd, port: f64, tip: f64, y: f64) -> Markup {
    html! {
        @if end.loose {
            circle cx=(n(tip)) cy=(n(y)) r="4" fill=(SHEET) stroke=(PAINT) stroke-width="2" {}
            rect x=(n(port - 4.0)) y=(n(y - 4.0)) width="8" height="8" fill=(SHEET) stroke=(INK) stroke-width="1.4" stroke-dasharray="2 2" {}
        } @else {
            rect x=(n(port - 4.0)) y=(n(y - 4.0)) width="8" height="8" fill=(INK) {}
        }
    }
}

/// Where an end is, whether it hangs loose, and its tag.
fn second(end: &BoardEnd) -> String {
    let said: Vec<&str> = [
        Some(end.zone.as_str()).filter(|zone| !zone.is_empty()),
        end.loose.then_some("loose"),
        end.tag.as_deref(),
    ]
    .into_iter()
    .flatten()
    .collect();
    said.join(", ")
}

fn draw_row(row: &BoardRow, y: f64) -> Markup {
    let [from, to] = &row.ends;
    let start = LEFT + if from.loose { GAP } else { 0.0 };
    let end = RIGHT - if to.loose { GAP } else { 0.0 };
    let ends = html! {
        (draw_end(from, LEFT, start, y, -1.0))
        (draw_end(to, RIGHT, end, y, 1.0))
    };
    row_with(row, (LEFT, RIGHT), (start, end), y, &ends)
}

/// The stroke of a line between two places of one height.
fn stroke((start, end): (f64, f64), y: f64, stroke: Stroke, colour: &'static str) -> Markup {
    let (width, dashes) = pattern(stroke);
    html! {
        @if stroke == Stroke::Double {
            (line((start, y - 2.0), (end, y - 2.0), colour, 1.4, None))
            (line((start, y + 2.0), (end, y + 2.0), colour, 1.4, None))
        } @else {
            (line((start, y), (end, y), colour, width, dashes))
        }
    }
}

/// One end: its port, where that is, its tag, and whether it hangs loose. `side` is -1 on the
/// left and 1 on the right.
fn draw_end(end: &BoardEnd, port: f64, tip: f64, y: f64, side: f64) -> Markup {
    let anchor = if side < 0.0 { "end" } else { "start" };
    let beside = port + side * 10.0;
    // Room for the rings between the port and its words.
    let shift = match end.rings.len() {
        0 => 0.0,
        some => side * (4.0 + 2.0 * RING * count(some)),
    };
    html! {
        (draw_tip(end, port, tip, y))
        @for (at, letter) in end.rings.iter().enumerate() {
            (draw_ring(letter, beside + side * (RING + 2.0 * RING * count(at)), y))
        }
        (words(beside + shift, y + 1.0, &end.port, &Ink { size: PORT, anchor, ..Ink::default() }))
        (words(beside + shift, y + 14.0, &second(end), &Ink { size: 11.0, colour: SOFT, anchor, ..Ink::default() }))
    }
}
