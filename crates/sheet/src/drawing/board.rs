//! Ends and their ports, a row a line: what runs in it, where both ends belong, what hangs
//! loose, and which ends can change places.
//!
//! A row needs no crossing strokes, so sixty of them read on a phone and in grey on A4. The
//! medium stands as a pattern and as a letter; a pair under suspicion as one ring letter at
//! both of its ends.

use maud::{Markup, html};
use report::{Board, BoardEnd, BoardRow, Stroke};

use super::net::pattern;
use super::{INK, Ink, PAINT, RULE, SHEET, SOFT, count, id, line, n, sheet, words};

/// As wide as a phone held upright shows without making letters too small to read.
const WIDTH: f64 = 600.0;
const TOP: f64 = 52.0;
const HEAD: f64 = 30.0;
const ROW: f64 = 36.0;
/// Where the stroke of a row begins and ends.
const LEFT: f64 = 226.0;
const RIGHT: f64 = WIDTH - 226.0;
const RING: f64 = 8.5;
/// How far short of its port a loose end stops.
const GAP: f64 = 22.0;

/// Draws a board.
pub(super) fn draw(board: &Board) -> Markup {
    let rows: usize = board.groups.iter().map(|group| group.rows.len()).sum();
    let tall = TOP + HEAD * count(board.groups.len()) + ROW * count(rows);
    let notes = count(board.notes.len()) * 18.0;
    let mut y = TOP;
    let mut groups = Vec::new();
    for group in &board.groups {
        groups.push((y, group));
        y += HEAD + ROW * count(group.rows.len());
    }
    let body = html! {
        @for (top, group) in &groups {
            (line((16.0, top + 22.0), (WIDTH - 16.0, top + 22.0), RULE, 1.0, None))
            (words(16.0, top + 16.0, &group.name, &Ink { size: 14.0, bold: true, ..Ink::default() }))
            @for (at, row) in group.rows.iter().enumerate() {
                (draw_row(row, top + HEAD + ROW * count(at) + 12.0))
            }
        }
        @for (at, note) in board.notes.iter().enumerate() {
            (words(16.0, tall + 18.0 + 18.0 * count(at), note, &Ink { size: 12.5, colour: SOFT, ..Ink::default() }))
        }
    };
    sheet(&board.title, WIDTH, tall + notes + 24.0, &body)
}

fn draw_row(row: &BoardRow, y: f64) -> Markup {
    let [from, to] = &row.ends;
    let suspect = row.ends.iter().any(|end| !end.rings.is_empty());
    let colour = if suspect { PAINT } else { INK };
    let start = LEFT + if from.loose { GAP } else { 0.0 };
    let end = RIGHT - if to.loose { GAP } else { 0.0 };
    html! {
        g id=(format!("row-{}", id(&row.id))) {
            title {
                (row.label) ": " (from.port) " to " (to.port)
                @if suspect { ", can change places" }
            }
            (stroke((start, end), y, row.stroke, colour))
            (words(f64::midpoint(LEFT, RIGHT), y - 6.0, &row.label, &Ink { size: 12.5, colour, anchor: "middle", ..Ink::default() }))
            (draw_end(from, LEFT, start, y, -1.0))
            (draw_end(to, RIGHT, end, y, 1.0))
        }
    }
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
    let ring = end.rings.join(" ");
    // Room for a ring between the port and its words.
    let shift = if ring.is_empty() {
        0.0
    } else {
        side * (4.0 + 2.0 * RING * count(end.rings.len()))
    };
    let second: Vec<&str> = [
        Some(end.zone.as_str()).filter(|zone| !zone.is_empty()),
        end.loose.then_some("loose"),
        end.tag.as_deref(),
    ]
    .into_iter()
    .flatten()
    .collect();
    html! {
        @if end.loose {
            circle cx=(n(tip)) cy=(n(y)) r="4" fill=(SHEET) stroke=(PAINT) stroke-width="2" {}
            rect x=(n(port - 4.0)) y=(n(y - 4.0)) width="8" height="8" fill=(SHEET) stroke=(INK) stroke-width="1.4" stroke-dasharray="2 2" {}
        } @else {
            rect x=(n(port - 4.0)) y=(n(y - 4.0)) width="8" height="8" fill=(INK) {}
        }
        @for (at, letter) in end.rings.iter().enumerate() {
            @let x = beside + side * (RING + 2.0 * RING * count(at));
            circle cx=(n(x)) cy=(n(y)) r=(n(RING)) fill=(SHEET) stroke=(PAINT) stroke-width="2" {}
            (words(x, y + 4.0, letter, &Ink { size: 11.5, bold: true, colour: PAINT, anchor: "middle" }))
        }
        (words(beside + shift, y + 1.0, &end.port, &Ink { size: 13.5, anchor, ..Ink::default() }))
        (words(beside + shift, y + 14.0, &second.join(", "), &Ink { size: 11.0, colour: SOFT, anchor, ..Ink::default() }))
    }
}
