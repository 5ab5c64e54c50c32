//! The engine bay from above: where everybody stands and what is under the hands.
//!
//! Not a map: the zones of a book have no measures. What is drawn is which side to walk to; what
//! each of the people has in hand stands in a list under it, where it covers nothing.

use maud::{Markup, html};
use report::{Bay, Stand};

use super::{INK, Ink, PAINT, SHEET, SOFT, count, id, line, match_mark, n, sheet, width_of, words};

const WIDTH: f64 = 328.0;
/// Where the drawing ends and the list begins.
const FLOOR: f64 = 238.0;
/// One row of the list.
const ROW: f64 = 22.0;
/// The bulkhead and the radiator, as lines across the bay.
const BULKHEAD: f64 = 58.0;
const RADIATOR: f64 = 212.0;
/// The engine block: left, top, right, bottom.
const BLOCK: (f64, f64, f64, f64) = (76.0, 98.0, 252.0, 168.0);
/// How far people stand apart who share a side, and how many of them are drawn there; the list
/// has them all.
const APART: f64 = 96.0;
const MOST: usize = 2;
/// The width that a row of the list has for words.
const LINE: f64 = WIDTH - 32.0 - 26.0;

/// Draws the bay.
pub(super) fn draw(bay: &Bay) -> Markup {
    let height = FLOOR + ROW * count(bay.people.len()) + 6.0;
    let body = html! {
        (words(16.0, BULKHEAD - 8.0, "bulkhead", &soft("start")))
        (line((16.0, BULKHEAD), (WIDTH - 16.0, BULKHEAD), SOFT, 1.6, Some("12 6")))
        (line((16.0, RADIATOR), (WIDTH - 16.0, RADIATOR), SOFT, 1.6, Some("3 5")))
        (engine(bay))
        (ends(bay.across))
        @for (at, person) in bay.people.iter().enumerate() {
            g id=(format!("stands-{}", id(&person.who))) {
                title { (person.who) ", " (person.zone) @if !person.has.is_empty() { ": " (person.has) } }
                @if let Some(spot) = place(bay, at) { (stands(person, &spot)) }
                (row(person, FLOOR + ROW * count(at) + 12.0))
            }
        }
    };
    sheet(&bay.title, WIDTH, height, &body)
}

fn soft(anchor: &'static str) -> Ink {
    Ink {
        size: 14.0,
        colour: SOFT,
        anchor,
        ..Ink::default()
    }
}

fn engine(bay: &Bay) -> Markup {
    let (left, top, right, bottom) = BLOCK;
    let banks = count(bay.banks.len().max(1));
    let gap = 8.0;
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
                // In the corner, so that whoever leans in from above stands beside it.
                (words(x + 8.0, y + 20.0, name, &soft("start")))
            }
        }
        (match_mark(right, bottom))
    }
}

/// Which way the engine lies; its front is the drive end, whichever way it sits.
fn ends(across: bool) -> Markup {
    let y = RADIATOR + 18.0;
    html! {
        (words(WIDTH / 2.0, y, "radiator", &soft("middle")))
        @if across {
            (words(16.0, y, "← drive end", &soft("start")))
            (words(WIDTH - 16.0, y, "flywheel end →", &soft("end")))
        } @else {
            (words(16.0, y, "↓ drive end", &soft("start")))
            (words(WIDTH - 16.0, y, "↑ flywheel end", &soft("end")))
        }
    }
}

/// Where somebody stands, which way the arrow points, and where the name is put.
struct Spot {
    x: f64,
    y: f64,
    looks: f64,
    /// Where the name begins or ends, beside or above the arrow.
    name: (f64, f64),
    anchor: &'static str,
}

/// The spot of a person; none for the third in one zone.
fn place(bay: &Bay, at: usize) -> Option<Spot> {
    let person = &bay.people[at];
    let same = |other: &&Stand| other.zone == person.zone;
    let before = bay.people[..at].iter().filter(same).count();
    if before >= MOST {
        return None;
    }
    let alone = bay.people.iter().filter(same).count() == 1;
    Some(spot(&person.zone, bay.across, alone, count(before)))
}

fn spot(zone: &str, across: bool, alone: bool, before: f64) -> Spot {
    let (left, top, right, bottom) = BLOCK;
    let (middle, centre) = (f64::midpoint(left, right), f64::midpoint(top, bottom));
    let first = if alone { middle } else { 112.0 };
    let beside = |x: f64, y: f64, looks| Spot {
        x,
        y,
        looks,
        name: (x + 20.0, y + 5.0),
        anchor: "start",
    };
    let along = first + APART * before;
    let down = 40.0 * before;
    match (zone, across) {
        ("bulkhead-side", _) | ("flywheel-end", false) => beside(along, top - 20.0, 180.0),
        ("drive-end", true) => Spot {
            name: (16.0, centre - 24.0 + down),
            ..beside(left - 30.0, centre + down, 90.0)
        },
        ("flywheel-end", true) => Spot {
            name: (WIDTH - 16.0, centre - 24.0 + down),
            anchor: "end",
            ..beside(right + 34.0, centre + down, -90.0)
        },
        // Over the engine one leans in from the front.
        ("above", _) => beside(along, bottom - 16.0, 0.0),
        ("cabin", _) => beside(along, BULKHEAD - 18.0, 180.0),
        ("under", _) => beside(42.0 + APART * before, bottom + 22.0, 0.0),
        ("bench", _) => Spot {
            name: (WIDTH - 56.0, RADIATOR - 16.0 - down),
            anchor: "end",
            ..beside(WIDTH - 34.0, RADIATOR - 20.0 - down, -90.0)
        },
        _ => beside(along, bottom + 22.0, 0.0),
    }
}

/// One person as an arrow towards the engine, with the name.
fn stands(person: &Stand, spot: &Spot) -> Markup {
    let ink = Ink {
        size: 14.0,
        bold: true,
        colour: paint(person),
        anchor: spot.anchor,
    };
    html! {
        g transform=(format!("translate({} {}) rotate({})", n(spot.x), n(spot.y), n(spot.looks))) {
            (arrow(person))
            @if person.zone == "under" {
                circle r="20" fill="none" stroke=(paint(person)) stroke-width="2" stroke-dasharray="5 4" {}
            }
        }
        (words(spot.name.0, spot.name.1, &cut(&person.who, 62.0, 14.0), &ink))
    }
}

/// One row of the list: the arrow again, the name, what is under the hands.
fn row(person: &Stand, y: f64) -> Markup {
    let name = cut(&person.who, 90.0, 14.0);
    let from = 42.0 + width_of(&name, 15.5) + 8.0;
    let has = cut(&person.has, 42.0 + LINE - from, 14.0);
    let bold = Ink {
        size: 14.0,
        bold: true,
        colour: paint(person),
        ..Ink::default()
    };
    html! {
        g transform=(format!("translate(26 {}) scale(0.5)", n(y))) { (arrow(person)) }
        (words(42.0, y + 5.0, &name, &bold))
        (words(from, y + 5.0, &has, &Ink { size: 14.0, ..Ink::default() }))
    }
}

fn arrow(person: &Stand) -> Markup {
    html! {
        path d="M0 -16 L13 0 H5 V12 H-5 V0 H-13 Z" fill=(if person.asks { PAINT } else { SHEET })
            stroke=(paint(person)) stroke-width="2.5" stroke-linejoin="round" {}
    }
}

/// The one who asks is in paint.
fn paint(person: &Stand) -> &'static str {
    if person.asks { PAINT } else { INK }
}

/// Words as long as they fit.
fn cut(text: &str, width: f64, size: f64) -> String {
    if width_of(text, size) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for letter in text.chars() {
        kept.push(letter);
        if width_of(&kept, size) + size > width {
            break;
        }
    }
    format!("{}…", kept.trim_end())
}
