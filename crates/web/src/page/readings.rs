//! Readings: forms shaped like the thing that is measured.

mod cylinders;
mod face;
mod shims;

use std::sync::Arc;

use app::readings::measured;
use book::Limit;
use job::{EntryId, Measured, Photo};
use maud::{Markup, html};
use report::Report;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, address, hidden, photos};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let of = asked.query.get("of").unwrap_or_default().to_owned();
    Frame {
        title: "Readings".to_owned(),
        place: "/readings",
        body: match of.as_str() {
            "" => all(asked),
            "cylinders" => cylinders::form(asked),
            "shims" => shims::form(asked),
            of => face::form(asked, of),
        },
    }
}

/// What can be measured here: the engine's own, and every limit of the book with how the last
/// reading stands to it.
fn all(asked: &Asked<'_>) -> Markup {
    let state = &asked.folder.state;
    let judged = judged(asked);
    html! {
        h1 { "Readings" }
        (hypertext::headline(&judged))
        ul.ways {
            li { a href="/readings?of=cylinders" { b { "Cylinders" } span { "cranking, leak-down, in their layout" } } }
            li { a href="/readings?of=shims" { b { "Valve clearances" } span { "clearance and shim, valve by valve" } } }
            @for limit in &state.known.limits {
                li {
                    a href=(address("/readings", &[("of", limit.id.as_str())])) {
                        b { (label(limit)) }
                        @match row(&judged, limit) {
                            Some(row) => span { (verdict(&row)) " " (row.text("after").unwrap_or_default()) " (" (row.text("bound").unwrap_or_default()) ")" },
                            None => span { "no number to judge by" },
                        }
                    }
                }
            }
        }
        (hypertext::findings(&super::cells::without(&judged, &["not-measured"])))
        @if asked.visitor.may_write {
            h2 { "Something else" }
            form data-entry method="post" action="/entry" {
                (hidden(asked.path))
                input type="hidden" name="line" value="read {what}: {values}{gauge?, gauge }{how?, }";
                label { span { "What was measured" } input name="what" autocomplete="off" required; }
                label { span { "The numbers, their unit once at the end" } input name="values" placeholder="0.04 0.05 - 0.03 mm" autocomplete="off" required; }
                (gauge_and_how(asked))
                button { "Write it down" }
            }
        }
    }
}

/// Every limit of the book with what was measured of it.
fn judged(asked: &Asked<'_>) -> Arc<Report> {
    asked.answer("measured", measured)
}

fn label(limit: &Limit) -> &str {
    limit.label.as_deref().unwrap_or(limit.id.as_str())
}

/// The row of a limit; none where the book states no number.
fn row<'a>(judged: &'a Report, limit: &Limit) -> Option<Line<'a>> {
    lines(judged).find(|row| row.text("limit") == Some(label(limit)))
}

/// The verdict of a row, with its sign.
fn verdict(row: &Line<'_>) -> Markup {
    html! { @if let Some(cell) = row.cell("verdict") { (hypertext::cell(cell)) } }
}

/// How the last reading stands to a limit: verdict, reading, limit, whose it is.
fn stands(asked: &Asked<'_>, limit: &Limit) -> Markup {
    let judged = judged(asked);
    html! {
        @if let Some(row) = row(&judged, limit) {
            p.headline {
                (verdict(&row))
                @if let Some(last) = row.text("after") { " " (last) }
                small { " limit: " (row.text("bound").unwrap_or_default()) ", " (row.text("whose").unwrap_or_default()) }
            }
            @for says in judged.because.iter().filter(|says| says.starts_with(label(limit))) { p { (says) } }
        }
    }
}

/// The gauge and the conditions, which belong to every reading. The gauges of the workshop are
/// offered.
fn gauge_and_how(asked: &Asked<'_>) -> Markup {
    let gauges = asked.folder.shop.iter().flat_map(|shop| &shop.gauges);
    html! {
        label { span { "Gauge (may stay empty)" } input name="gauge" list="gauges" autocomplete="off"; }
        datalist #gauges { @for gauge in gauges { option value=(gauge.id) {} } }
        label { span { "Conditions: warm, throttle open, … (may stay empty)" } input name="how" autocomplete="off"; }
    }
}

/// What was found so far under these names, newest first, each with its photos.
fn found(asked: &Asked<'_>, is: impl Fn(&str) -> bool) -> Markup {
    let own = asked.folder.state.readings.iter().rev();
    let own: Vec<&(EntryId, Measured)> = own.filter(|(_, found)| is(&found.of)).take(12).collect();
    html! {
        @if let Some((newest, _)) = own.first() {
            h2 { "Found so far" }
            ul.entries {
                @for (entry, found) in &own {
                    li {
                        span.clock { (entry) }
                        div {
                            (found.of) ": " b { (found.values) }
                            @if let Some(gauge) = &found.instrument { ", " (gauge) }
                            @if !found.conditions.is_empty() { ", " (found.conditions.join(", ")) }
                            @for photo in of_reading(asked, *entry) { (photos::small(asked, photo)) }
                        }
                    }
                }
            }
            (photos::upload(asked, &format!("of reading {newest}"), "A photo of the gauge, with the last reading"))
        }
    }
}

fn of_reading<'a>(asked: &'a Asked<'_>, entry: EntryId) -> impl Iterator<Item = &'a Photo> {
    let photos = asked.folder.state.photos.iter();
    photos.filter(move |photo| photo.of_entry == Some(entry))
}
