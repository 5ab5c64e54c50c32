//! Things in columns and what joins them: what blocks what, which end goes where.

use std::collections::BTreeMap;

use maud::{Markup, html};
use report::{Join, Net, Stroke, Thing};

use super::{INK, Ink, PAINT, SHEET, SOFT, count, id, n, sheet, width_of, words};

const COLUMN: f64 = 250.0;
const BOX_WIDE: f64 = 168.0;
const BOX_TALL: f64 = 44.0;
const STEP: f64 = 56.0;
const TOP: f64 = 84.0;
const LETTERS: f64 = 13.5;

/// Draws a net. Inside a column, things stand near what they are joined to.
pub(super) fn draw(net: &Net) -> Markup {
    let places = place(net);
    let most = (0..net.columns.len())
        .map(|column| {
            net.things
                .iter()
                .filter(|thing| thing.column == column)
                .count()
        })
        .max()
        .unwrap_or(0);
    let width = 32.0 + COLUMN * count(net.columns.len().max(1)) - (COLUMN - BOX_WIDE);
    let height = TOP + STEP * count(most) + 24.0;
    let body = html! {
        @for (at, name) in net.columns.iter().enumerate() {
            (words(16.0 + COLUMN * count(at), 60.0, name, &Ink { colour: SOFT, ..Ink::default() }))
        }
        @for join in &net.joins { (draw_join(join, &places)) }
        @for thing in &net.things {
            @if let Some(&(x, y)) = places.get(&thing.id) { (draw_thing(thing, x, y)) }
        }
    };
    sheet(&net.title, width.max(420.0), height, &body)
}

type Places = BTreeMap<String, (f64, f64)>;

/// Left upper corners. Each column is ordered by the mean place of what its things are joined
/// to, a few sweeps there and back, which removes most crossings.
fn place(net: &Net) -> Places {
    let mut columns: Vec<Vec<&Thing>> = vec![Vec::new(); net.columns.len()];
    for thing in &net.things {
        if let Some(column) = columns.get_mut(thing.column) {
            column.push(thing);
        }
    }
    let mut row: BTreeMap<&str, f64> = BTreeMap::new();
    for column in &columns {
        for (at, thing) in column.iter().enumerate() {
            row.insert(&thing.id, count(at));
        }
    }
    for _ in 0..6 {
        for column in &mut columns {
            let mut keyed: Vec<(f64, &Thing)> = column
                .iter()
                .map(|&thing| (mean_row(net, thing, &row), thing))
                .collect();
            keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
            *column = keyed.into_iter().map(|(_, thing)| thing).collect();
            for (at, thing) in column.iter().enumerate() {
                row.insert(&thing.id, count(at));
            }
        }
    }
    let corners = columns.iter().enumerate().flat_map(|(at, column)| {
        column.iter().enumerate().map(move |(down, thing)| {
            (
                thing.id.clone(),
                (16.0 + COLUMN * count(at), TOP + STEP * count(down)),
            )
        })
    });
    corners.collect()
}

fn mean_row(net: &Net, thing: &Thing, row: &BTreeMap<&str, f64>) -> f64 {
    let near: Vec<f64> = net
        .joins
        .iter()
        .filter_map(|join| match (join.from == thing.id, join.to == thing.id) {
            (true, false) => row.get(join.to.as_str()).copied(),
            (false, true) => row.get(join.from.as_str()).copied(),
            _ => None,
        })
        .collect();
    let own = row.get(thing.id.as_str()).copied().unwrap_or(0.0);
    if near.is_empty() {
        own
    } else {
        near.iter().sum::<f64>() / count(near.len())
    }
}

fn draw_thing(thing: &Thing, x: f64, y: f64) -> Markup {
    let colour = if thing.in_hand { PAINT } else { INK };
    let label = in_two_lines(&thing.label, BOX_WIDE - 14.0);
    let first = if label.len() == 1 { 27.0 } else { 19.0 };
    html! {
        g id=(format!("thing-{}", id(&thing.id))) {
            title { (thing.label) }
            rect x=(n(x)) y=(n(y)) width=(n(BOX_WIDE)) height=(n(BOX_TALL)) rx="4" fill=(SHEET) stroke=(colour)
                stroke-width=(if thing.in_hand { "4" } else { "2" }) stroke-dasharray=[thing.off.then_some("6 4")] {}
            @for (at, part) in label.iter().enumerate() {
                (words(x + 8.0, y + first + 17.0 * count(at), part, &Ink { size: LETTERS, ..Ink::default() }))
            }
        }
    }
}

/// A label in one line or two, broken between words; what two lines do not hold ends in dots,
/// and the title says it.
fn in_two_lines(label: &str, room: f64) -> Vec<String> {
    let fits = |text: &str| width_of(text, LETTERS) <= room;
    if fits(label) {
        return vec![label.to_owned()];
    }
    let mut breaks = label.match_indices(' ').map(|(at, _)| label.split_at(at));
    let broken = breaks.rfind(|(first, _)| fits(first));
    let (first, rest) = broken.unwrap_or(("", label));
    let mut rest = rest.trim_start().to_owned();
    if !fits(&rest) {
        while !rest.is_empty() && !fits(&format!("{rest}…")) {
            rest.pop();
        }
        rest.truncate(rest.trim_end().len());
        rest.push('…');
    }
    let lines = [first.to_owned(), rest].into_iter();
    lines.filter(|line| !line.is_empty()).collect()
}

fn draw_join(join: &Join, places: &Places) -> Markup {
    let (Some(&from), Some(&to)) = (places.get(&join.from), places.get(&join.to)) else {
        return html! {};
    };
    let middle = BOX_TALL / 2.0;
    let same = (from.0 - to.0).abs() < 1.0;
    let rightward = to.0 >= from.0 && !same;
    let start = (
        if rightward || same {
            from.0 + BOX_WIDE
        } else {
            from.0
        },
        from.1 + middle,
    );
    let end = (
        if rightward { to.0 } else { to.0 + BOX_WIDE },
        to.1 + middle,
    );
    let pull = if same {
        46.0
    } else {
        (end.0 - start.0).abs() * 0.4
    };
    let (lean_out, lean_in) = if same {
        (pull, pull)
    } else if rightward {
        (pull, -pull)
    } else {
        (-pull, pull)
    };
    let path = format!(
        "M {} {} C {} {} {} {} {} {}",
        n(start.0),
        n(start.1),
        n(start.0 + lean_out),
        n(start.1),
        n(end.0 + lean_in),
        n(end.1),
        n(end.0),
        n(end.1)
    );
    let colour = if join.suspect { PAINT } else { INK };
    let (width, dashes) = pattern(join.stroke);
    let half = (
        f64::midpoint(start.0, end.0) + (lean_out + lean_in) * 0.375,
        f64::midpoint(start.1, end.1),
    );
    html! {
        g id=(format!("join-{}", id(&join.id))) fill="none" {
            title { (join.label) @if join.suspect { ", suspected" } }
            @if join.stroke == Stroke::Double {
                path d=(path) stroke=(colour) stroke-width="5" {}
                path d=(path) stroke=(SHEET) stroke-width="2" {}
            } @else {
                path d=(path) stroke=(colour) stroke-width=(n(width)) stroke-dasharray=[dashes] stroke-linecap="round" {}
            }
            @if join.arrow {
                @let back = if rightward { -1.0 } else { 1.0 };
                path d=(format!("M {} {} L {} {} L {} {} Z", n(end.0), n(end.1), n(end.0 + back * 9.0), n(end.1 - 4.5), n(end.0 + back * 9.0), n(end.1 + 4.5))) fill=(colour) {}
            }
            @if !join.label.is_empty() {
                rect x=(n(half.0 - 4.0 - width_of(&join.label, 12.0) / 2.0)) y=(n(half.1 - 9.0)) width=(n(width_of(&join.label, 12.0) + 8.0)) height="17" fill=(SHEET) {}
                (words(half.0, half.1 + 4.0, &join.label, &Ink { size: 12.0, colour, anchor: "middle", ..Ink::default() }))
            }
        }
    }
}

/// Width and dashes of a stroke, so that a grey print still tells the media apart.
pub(super) const fn pattern(stroke: Stroke) -> (f64, Option<&'static str>) {
    match stroke {
        Stroke::Plain | Stroke::Double => (1.6, None),
        Stroke::LongDash => (2.2, Some("16 7")),
        Stroke::Dots => (2.6, Some("0.1 6")),
        Stroke::DashDot => (2.2, Some("12 6 0.1 6")),
        Stroke::Thin => (0.9, None),
        Stroke::Thick => (4.5, None),
        Stroke::DashDotDot => (2.2, Some("12 6 0.1 5 0.1 6")),
        Stroke::ShortDash => (2.2, Some("5 5")),
        Stroke::Zigzag => (2.2, Some("2 3 9 3")),
    }
}
