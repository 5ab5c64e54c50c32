//! Readings: forms shaped like the thing that is measured.

mod cylinders;
mod face;
mod shims;

use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::{Frame, address, hidden};

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

/// What can be measured here: the engine's own, and every limit of the book.
fn all(asked: &Asked<'_>) -> Markup {
    let state = &asked.folder.state;
    html! {
        h1 { "Readings" }
        ul.ways {
            li { a href="/readings?of=cylinders" { b { "Cylinders" } span { "cranking, leak-down, in their layout" } } }
            li { a href="/readings?of=shims" { b { "Valve clearances" } span { "clearance and shim, valve by valve" } } }
            @for limit in &state.known.limits {
                @let taken = state.readings.iter().filter(|(_, found)| job::same_name(&found.of, limit.id.as_str())).count();
                li {
                    a href=(address("/readings", &[("of", limit.id.as_str())])) {
                        b { (limit.label.as_deref().unwrap_or(limit.id.as_str())) }
                        span { @match taken { 0 => "not measured", 1 => "1 reading", many => { (many) " readings" } } }
                    }
                }
            }
        }
        @if asked.visitor.may_write {
            h2 { "Something else" }
            form data-entry method="post" action="/entry" {
                (hidden(asked.path))
                input type="hidden" name="line" value="read {what}: {values}{gauge?, gauge }{how?, }";
                label { span { "What was measured" } input name="what" autocomplete="off" required; }
                label { span { "The numbers, their unit once at the end" } input name="values" placeholder="0.04 0.05 - 0.03 mm" autocomplete="off" required; }
                (gauge_and_how())
                button { "Write it down" }
            }
        }
    }
}

/// The gauge and the conditions, which belong to every reading.
fn gauge_and_how() -> Markup {
    html! {
        label { span { "Gauge (may stay empty)" } input name="gauge" autocomplete="off"; }
        label { span { "Conditions: warm, throttle open, … (may stay empty)" } input name="how" autocomplete="off"; }
    }
}

/// What was found so far under these names, newest first.
fn found(asked: &Asked<'_>, is: impl Fn(&str) -> bool) -> Markup {
    let own = asked.folder.state.readings.iter().rev();
    let own: Vec<_> = own.filter(|(_, found)| is(&found.of)).take(12).collect();
    html! {
        @if !own.is_empty() {
            h2 { "Found so far" }
            ul.entries {
                @for (entry, found) in own {
                    li {
                        span.clock { (entry) }
                        div {
                            (found.of) ": " b { (found.values) }
                            @if let Some(gauge) = &found.instrument { ", " (gauge) }
                            @if !found.conditions.is_empty() { ", " (found.conditions.join(", ")) }
                        }
                    }
                }
            }
        }
    }
}
