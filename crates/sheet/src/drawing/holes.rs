//! A joint seen square-on: numbered holes, the order of tightening, which way it lies.

use maud::{Markup, html};
use report::{HoleMark, Holes};

use super::{INK, Ink, PAINT, SHEET, SOFT, id, match_mark, n, sheet, words};

const WIDTH: f64 = 720.0;
const MARGIN: f64 = 70.0;
const RING: f64 = 19.0;

/// Draws the holes of a joint.
pub(super) fn draw(holes: &Holes) -> Markup {
    let place = Placing::of(&holes.holes);
    let bottom = place.height + 2.0 * MARGIN + 62.0;
    let body = html! {
        rect x=(n(MARGIN - 38.0)) y=(n(MARGIN + 2.0)) width=(n(WIDTH - 2.0 * MARGIN + 76.0))
            height=(n(place.height + 92.0)) rx="4" fill="none" stroke=(INK) stroke-width="2.5" {}
        (match_mark(WIDTH - MARGIN + 38.0, MARGIN + place.height + 78.0))
        @for hole in &holes.holes { (ring(hole, place.at(hole))) }
        @if !holes.left.is_empty() {
            (words(MARGIN - 38.0, bottom - 22.0, &format!("← {}", holes.left), &Ink { colour: SOFT, ..Ink::default() }))
        }
        @if !holes.right.is_empty() {
            (words(WIDTH - MARGIN + 38.0, bottom - 22.0, &format!("{} →", holes.right), &Ink { colour: SOFT, anchor: "end", ..Ink::default() }))
        }
        @if !holes.to_scale {
            (words(WIDTH / 2.0, bottom - 22.0, "not to scale", &Ink { colour: SOFT, anchor: "middle", ..Ink::default() }))
        }
    };
    sheet(&holes.title, WIDTH, bottom, &body)
}

/// How millimetres on the part become places on the sheet.
struct Placing {
    left: f64,
    top: f64,
    scale: f64,
    height: f64,
}

impl Placing {
    fn of(holes: &[HoleMark]) -> Self {
        let spread = |of: fn(&HoleMark) -> f64| {
            let low = holes.iter().map(of).fold(f64::INFINITY, f64::min);
            let high = holes.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
            if low <= high { (low, high) } else { (0.0, 0.0) }
        };
        let (left, right) = spread(|hole| hole.x_mm);
        let (bottom, top) = spread(|hole| hole.y_mm);
        let across = (right - left).max(1e-6);
        let scale = ((WIDTH - 2.0 * MARGIN) / across).min(360.0 / (top - bottom).max(1e-6));
        Self {
            left,
            top,
            scale,
            height: (top - bottom) * scale,
        }
    }

    fn at(&self, hole: &HoleMark) -> (f64, f64) {
        (
            MARGIN + (hole.x_mm - self.left) * self.scale,
            MARGIN + 40.0 + (self.top - hole.y_mm) * self.scale,
        )
    }
}

fn ring(hole: &HoleMark, (x, y): (f64, f64)) -> Markup {
    let (fill, letters) = if hole.done {
        (INK, SHEET)
    } else {
        (SHEET, INK)
    };
    let said = hole
        .number
        .map_or_else(|| hole.name.clone(), |number| number.to_string());
    html! {
        g id=(format!("hole-{}", id(&hole.name))) {
            title { "hole " (hole.name) @if let Some(number) = hole.number { ", number " (number) } ", " (hole.label) }
            @if hole.in_hand {
                circle cx=(n(x)) cy=(n(y)) r=(n(RING + 9.0)) fill="none" stroke=(PAINT) stroke-width="4" {}
            }
            circle cx=(n(x)) cy=(n(y)) r=(n(RING)) fill=(fill) stroke=(INK) stroke-width="2.5" {}
            (words(x, y + 6.0, &said, &Ink { size: 18.0, bold: true, colour: letters, anchor: "middle" }))
            @if hole.number.is_some() {
                (words(x, y + RING + 15.0, &format!("{} {}", hole.name, hole.label), &Ink { size: 12.0, colour: SOFT, anchor: "middle", ..Ink::default() }))
            }
        }
    }
}
