//! The engine bay from above: where everybody stands and what is under the hands.
//!
//! Not a map: the zones of a book have no measures. What is drawn is which side to walk to.

use maud::{Markup, html};
use report::{Bay, Stand};

use super::{INK, Ink, PAINT, SHEET, SOFT, count, id, line, match_mark, n, sheet, words};

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 322.0;
/// The engine block: left, top, right, bottom.
const BLOCK: (f64, f64, f64, f64) = (76.0, 118.0, 252.0, 206.0);
/// How many letters of a thing fit beside a person.
const LETTERS: usize = 26;

/// Draws the bay.
pub(super) fn draw(bay: &Bay) -> Markup {
    let body = html! {
        (words(16.0, 60.0, "bulkhead", &Ink { size: 14.0, colour: SOFT, ..Ink::default() }))
        (line((16.0, 68.0), (WIDTH - 16.0, 68.0), SOFT, 1.6, Some("12 6")))
        (line((16.0, 266.0), (WIDTH - 16.0, 266.0), SOFT, 1.6, Some("3 5")))
        (words(16.0, 284.0, "radiator", &Ink { size: 14.0, colour: SOFT, ..Ink::default() }))
        (engine(bay))
        (ends(bay.across))
        @for (at, person) in bay.people.iter().enumerate() { (stands(person, place(bay, at))) }
    };
    sheet(&bay.title, WIDTH, HEIGHT, &body)
}

fn engine(bay: &Bay) -> Markup {
    let (left, top, right, bottom) = BLOCK;
    let banks = count(bay.banks.len().max(1));
    let gap = 12.0;
    let (width, height) = if bay.across {
        (right - left, (bottom - top - gap * (banks - 1.0)) / banks)
    } else {
        ((right - left - gap * (banks - 1.0)) / banks, bottom - top)
    };
    let spot = |at: usize| {
        let along = count(at);
        if bay.across {
            (left, top + along * (height + gap))
        } else {
            (left + along * (width + gap), top)
        }
    };
    let names: Vec<&str> = if bay.banks.is_empty() {
        vec!["engine"]
    } else {
        bay.banks.iter().map(String::as_str).collect()
    };
    html! {
        @for (at, name) in names.iter().enumerate() {
            @let (x, y) = spot(at);
            g id=(format!("bank-{}", id(name))) {
                title { (name) }
                rect x=(n(x)) y=(n(y)) width=(n(width)) height=(n(height)) rx="4" fill=(SHEET) stroke=(INK) stroke-width="2.5" {}
                (words(x + width / 2.0, y + height / 2.0 + 5.0, name, &Ink { size: 14.0, colour: SOFT, anchor: "middle", ..Ink::default() }))
            }
        }
        (match_mark(right, bottom))
    }
}

/// Which way the engine lies; its front is the drive end, whichever way it sits.
fn ends(across: bool) -> Markup {
    let soft = |anchor| Ink {
        size: 14.0,
        colour: SOFT,
        anchor,
        ..Ink::default()
    };
    html! {
        @if across {
            (words(16.0, 306.0, "← drive end", &soft("start")))
            (words(WIDTH - 16.0, 306.0, "flywheel end →", &soft("end")))
        } @else {
            (words(16.0, 306.0, "↓ drive end", &soft("start")))
            (words(WIDTH - 16.0, 306.0, "↑ flywheel end", &soft("end")))
        }
    }
}

/// Where a zone lies, and which way whoever stands there looks.
fn spot(zone: &str, across: bool) -> (f64, f64, f64) {
    let (left, top, right, bottom) = BLOCK;
    let (middle, centre) = (f64::midpoint(left, right), f64::midpoint(top, bottom));
    let (before, behind, at_left, at_right) = (
        (middle, bottom + 34.0, 0.0),
        (middle, top - 30.0, 180.0),
        (left - 34.0, centre, 90.0),
        (right + 34.0, centre, -90.0),
    );
    match (zone, across) {
        ("bulkhead-side", _) | ("flywheel-end", false) => behind,
        ("drive-end", true) => at_left,
        ("flywheel-end", true) => at_right,
        // Over the engine one leans in from the front.
        ("above", _) => (middle, bottom - 10.0, 0.0),
        ("cabin", _) => (middle, 48.0, 180.0),
        ("under", _) => (left - 20.0, bottom + 30.0, 0.0),
        ("bench", _) => (WIDTH - 40.0, 250.0, -90.0),
        _ => before,
    }
}

/// The place of a person; two in one zone stand side by side.
fn place(bay: &Bay, at: usize) -> (f64, f64, f64) {
    let person = &bay.people[at];
    let (x, y, looks) = spot(&person.zone, bay.across);
    let same = bay.people[..at]
        .iter()
        .filter(|other| other.zone == person.zone)
        .count();
    if looks.abs() > 45.0 && looks.abs() < 135.0 {
        (x, y + 34.0 * count(same), looks)
    } else {
        (x + 70.0 * count(same), y, looks)
    }
}

/// One person as an arrow towards the engine, with name and what is under the hands.
fn stands(person: &Stand, (x, y, looks): (f64, f64, f64)) -> Markup {
    let colour = if person.asks { PAINT } else { INK };
    let has: String = if person.has.chars().count() > LETTERS {
        let cut: String = person.has.chars().take(LETTERS - 1).collect();
        format!("{}…", cut.trim_end())
    } else {
        person.has.clone()
    };
    // Words stay on the sheet, whichever side somebody stands at.
    let (anchor, to) = if x < WIDTH / 3.0 {
        ("start", (x - 14.0).max(16.0))
    } else if x > WIDTH * 2.0 / 3.0 {
        ("end", (x + 14.0).min(WIDTH - 16.0))
    } else {
        ("middle", x)
    };
    let under = if looks.abs() > 135.0 { -22.0 } else { 30.0 };
    html! {
        g id=(format!("stands-{}", id(&person.who))) {
            title { (person.who) ", " (person.zone) @if !person.has.is_empty() { ": " (person.has) } }
            g transform=(format!("translate({} {}) rotate({})", n(x), n(y), n(looks))) {
                path d="M0 -16 L13 0 H5 V12 H-5 V0 H-13 Z" fill=(if person.asks { PAINT } else { SHEET })
                    stroke=(colour) stroke-width="2.5" stroke-linejoin="round" {}
                @if person.zone == "under" {
                    circle r="22" fill="none" stroke=(colour) stroke-width="2" stroke-dasharray="5 4" {}
                }
            }
            (words(to, y + under, &person.who, &Ink { size: 14.0, bold: true, colour, anchor }))
            @if !has.is_empty() {
                (words(to, y + under + 17.0, &has, &Ink { size: 14.0, anchor, ..Ink::default() }))
            }
        }
    }
}
