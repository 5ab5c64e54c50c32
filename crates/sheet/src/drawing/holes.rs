//! A joint seen square-on: numbered holes, the order of tightening, which way it lies.
//!
//! What is the same for most bolts is said once above the drawing; a bolt that differs says so
//! at its hole, because the longer one in the wrong place is what the drawing is there to
//! prevent.

use std::collections::BTreeMap;

use maud::{Markup, html};
use report::{HoleMark, Holes};

use super::room::{Patch, Room};
use super::{INK, Ink, PAINT, SHEET, SOFT, id, match_mark, n, sheet, width_of, words};

/// Narrow enough that a telephone, which shows it at little over half, keeps it readable.
const WIDTH: f64 = 560.0;
const MARGIN: f64 = 56.0;
/// How tall the field of holes may get.
const TALLEST: f64 = 330.0;
/// From a hole to the frame, with room for the words below it.
const BESIDE: f64 = 36.0;
const ABOVE: f64 = 34.0;
const BELOW: f64 = 42.0;
/// The widest ring a hole is drawn with, and the narrowest that still holds its number.
const RING: f64 = 19.0;
const LEAST_RING: f64 = 8.0;
/// Letters of a name, and of what its bolt has that others have not.
const NAME: f64 = 14.0;
const DETAIL: f64 = 11.0;
/// Threads are mostly figures and wide letters: broader than words are on the whole.
const BROAD: f64 = 1.1;

/// Draws the holes of a joint.
pub(super) fn draw(holes: &Holes) -> Markup {
    let same = most_common(&holes.holes);
    let top = if same.is_some() { 60.0 } else { 44.0 };
    let place = Placing::of(&holes.holes, top + ABOVE);
    let frame = Patch {
        left: MARGIN - BESIDE,
        top,
        right: WIDTH - MARGIN + BESIDE,
        bottom: top + ABOVE + place.height + BELOW + deepest(&holes.holes, same),
    };
    let foot = frame.bottom + 22.0;
    let labels = labels(&holes.holes, &place, frame, same);
    let soft = |anchor| Ink {
        colour: SOFT,
        anchor,
        ..Ink::default()
    };
    let body = html! {
        @if let Some(same) = same {
            (words(16.0, 49.0, &caption(&holes.holes, same), &soft("start")))
        }
        rect x=(n(frame.left)) y=(n(frame.top)) width=(n(frame.right - frame.left))
            height=(n(frame.bottom - frame.top)) rx="4" fill="none" stroke=(INK) stroke-width="2.5" {}
        (match_mark(frame.right, frame.bottom - 14.0))
        @for (hole, label) in holes.holes.iter().zip(&labels) { (ring(hole, &place, label.as_ref())) }
        @if !holes.left.is_empty() {
            (words(frame.left, foot, &format!("← {}", holes.left), &soft("start")))
        }
        @if !holes.right.is_empty() {
            (words(frame.right, foot, &format!("{} →", holes.right), &soft("end")))
        }
        @if !holes.to_scale {
            (words(WIDTH / 2.0, foot, "not to scale", &soft("middle")))
        }
    };
    sheet(&holes.title, WIDTH, foot + 14.0, &body)
}

/// The words most bolts share; the first of those that are equally common.
fn most_common(holes: &[HoleMark]) -> Option<&str> {
    let mut counted: BTreeMap<&str, usize> = BTreeMap::new();
    for hole in holes.iter().filter(|hole| !hole.label.is_empty()) {
        *counted.entry(&hole.label).or_default() += 1;
    }
    let most = counted.values().copied().max()?;
    holes
        .iter()
        .map(|hole| hole.label.as_str())
        .find(|label| counted.get(label) == Some(&most))
}

fn caption(holes: &[HoleMark], same: &str) -> String {
    if holes.iter().all(|hole| hole.label == same) {
        format!("all {same}")
    } else {
        format!("{same} where nothing else stands")
    }
}

/// How millimetres on the part become places on the sheet.
struct Placing {
    left: f64,
    /// The height of the topmost hole on the part.
    high: f64,
    scale: f64,
    /// Where the leftmost and the topmost hole are drawn.
    from: (f64, f64),
    height: f64,
    ring: f64,
}

impl Placing {
    fn of(holes: &[HoleMark], top: f64) -> Self {
        let spread = |of: fn(&HoleMark) -> f64| {
            let low = holes.iter().map(of).fold(f64::INFINITY, f64::min);
            let high = holes.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
            if low <= high { (low, high) } else { (0.0, 0.0) }
        };
        let (left, right) = spread(|hole| hole.x_mm);
        let (low, high) = spread(|hole| hole.y_mm);
        let room = WIDTH - 2.0 * MARGIN;
        let across = right - left;
        let scale = (room / across.max(1e-6)).min(TALLEST / (high - low).max(1e-6));
        let mut place = Self {
            left,
            high,
            scale,
            from: (MARGIN + (room - across * scale) / 2.0, top),
            height: (high - low) * scale,
            ring: RING,
        };
        let spots: Vec<(f64, f64)> = holes.iter().map(|hole| place.at(hole)).collect();
        let nearest = spots
            .iter()
            .enumerate()
            .flat_map(|(at, one)| spots[..at].iter().map(move |other| apart(*one, *other)))
            .fold(f64::INFINITY, f64::min);
        place.ring = (nearest / 2.0 - 3.0).clamp(LEAST_RING, RING);
        place
    }

    fn at(&self, hole: &HoleMark) -> (f64, f64) {
        (
            self.from.0 + (hole.x_mm - self.left) * self.scale,
            self.from.1 + (self.high - hole.y_mm) * self.scale,
        )
    }

    /// How far a hole reaches from its middle, its outer ring counted.
    fn reach(&self, hole: &HoleMark) -> f64 {
        self.ring + if hole.in_hand { 11.0 } else { 2.0 }
    }
}

fn apart(one: (f64, f64), other: (f64, f64)) -> f64 {
    libm::hypot(one.0 - other.0, one.1 - other.1)
}

/// The words beside a hole, with where they begin.
struct Label {
    lines: Vec<String>,
    x: f64,
    top: f64,
    anchor: &'static str,
}

/// How high so many lines of words are: the name first.
fn tall(lines: usize) -> f64 {
    match lines {
        0 => 0.0,
        more => NAME + 1.0 + (DETAIL + 1.0) * super::count(more - 1),
    }
}

/// The highest words of any hole.
fn deepest(holes: &[HoleMark], same: Option<&str>) -> f64 {
    let most = holes.iter().map(|hole| lines(hole, same).len()).max();
    tall(most.unwrap_or(0))
}

/// The words beside every hole. Those that find no room on any side lose their size first, then
/// their name.
fn labels(
    holes: &[HoleMark],
    place: &Placing,
    frame: Patch,
    same: Option<&str>,
) -> Vec<Option<Label>> {
    let mut room = Room::new(Patch {
        left: frame.left + 3.0,
        top: frame.top + 3.0,
        right: frame.right - 3.0,
        bottom: frame.bottom - 3.0,
    });
    room.take(Patch::around(
        (frame.right, frame.bottom - 14.0),
        16.0,
        16.0,
    ));
    for hole in holes {
        let reach = place.reach(hole);
        room.take(Patch::around(place.at(hole), reach, reach));
    }
    holes
        .iter()
        .map(|hole| {
            let lines = lines(hole, same);
            let name: Vec<String> = lines.iter().take(1).cloned().collect();
            beside(hole, place, &mut room, lines).or_else(|| beside(hole, place, &mut room, name))
        })
        .collect()
}

/// The name of a numbered hole, and what its bolt has that the others have not.
fn lines(hole: &HoleMark, same: Option<&str>) -> Vec<String> {
    let mut lines: Vec<String> = hole.number.iter().map(|_| hole.name.clone()).collect();
    let Some(same) = same.filter(|&same| same != hole.label) else {
        return lines;
    };
    let split = |label: &str| match label.split_once(' ') {
        Some((thread, length)) => (thread.to_owned(), length.to_owned()),
        None => (label.to_owned(), String::new()),
    };
    let (thread, length) = split(&hole.label);
    if thread.is_empty() {
        lines.push("?".to_owned());
        return lines;
    }
    if length.is_empty() || thread != split(same).0 {
        lines.push(thread);
    }
    lines.extend((!length.is_empty()).then_some(length));
    lines
}

/// Words below a hole, or above, right or left of it.
fn beside(hole: &HoleMark, place: &Placing, room: &mut Room, lines: Vec<String>) -> Option<Label> {
    if lines.is_empty() {
        return None;
    }
    let (x, y) = place.at(hole);
    let reach = place.reach(hole) + 1.0;
    let wide = lines
        .iter()
        .enumerate()
        .map(|(at, line)| BROAD * width_of(line, letters(at)))
        .fold(0.0, f64::max);
    let tall = tall(lines.len());
    let sides = [
        (x, x - wide / 2.0, y + reach, "middle"),
        (x, x - wide / 2.0, y - reach - tall, "middle"),
        (x + reach, x + reach, y - tall / 2.0, "start"),
        (x - reach, x - reach - wide, y - tall / 2.0, "end"),
    ];
    let &(x, _, top, anchor) = sides.iter().find(|&&(_, left, top, _)| {
        room.try_take(Patch {
            left,
            top,
            right: left + wide,
            bottom: top + tall,
        })
    })?;
    Some(Label {
        lines,
        x,
        top,
        anchor,
    })
}

/// How large the letters of a line are.
const fn letters(line: usize) -> f64 {
    if line == 0 { NAME } else { DETAIL }
}

fn ring(hole: &HoleMark, place: &Placing, label: Option<&Label>) -> Markup {
    let (x, y) = place.at(hole);
    let (fill, number) = if hole.done {
        (INK, SHEET)
    } else {
        (SHEET, INK)
    };
    let said = hole
        .number
        .map_or_else(|| hole.name.clone(), |number| number.to_string());
    let size = place.ring * 0.95;
    html! {
        g id=(format!("hole-{}", id(&hole.name))) {
            title { "hole " (hole.name) @if let Some(number) = hole.number { ", number " (number) } @if !hole.label.is_empty() { ", " (hole.label) } }
            @if hole.in_hand {
                circle cx=(n(x)) cy=(n(y)) r=(n(place.ring + 7.0)) fill="none" stroke=(PAINT) stroke-width="4" {}
            }
            circle cx=(n(x)) cy=(n(y)) r=(n(place.ring)) fill=(fill) stroke=(INK) stroke-width="2.5" {}
            (words(x, y + size * 0.34, &said, &Ink { size, bold: true, colour: number, anchor: "middle" }))
            @if let Some(label) = label {
                @for (at, line) in label.lines.iter().enumerate() {
                    @let base = label.top + tall(at) + letters(at) * 0.85;
                    (words(label.x, base, line, &Ink { size: letters(at), colour: if at == 0 { INK } else { SOFT }, anchor: label.anchor, ..Ink::default() }))
                }
            }
        }
    }
}
