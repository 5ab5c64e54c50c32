//! A table of valves: a row a cylinder, a field a valve, inlet and exhaust apart; clearances and
//! the shims that lie in. What was found last stands in the fields, so that one valve can be
//! measured again.

use job::Measured;
use maud::{Markup, html};

use super::{found, gauge_and_how, stands};
use crate::asked::Asked;
use crate::page::hidden;

/// The valves of a kind in a cylinder, where the book does not say.
const VALVES: u32 = 1;

/// The tables.
pub(super) fn form(asked: &Asked<'_>) -> Markup {
    let known = &asked.folder.state.known;
    let engine = known.engine.as_ref();
    let mut cylinders: Vec<u32> =
        engine.map_or_else(Vec::new, |engine| engine.cylinders().collect());
    cylinders.sort_unstable();
    let valves = engine.and_then(|engine| engine.valves.known().copied());
    let valves = valves.map_or(VALVES, |valves| (valves / 2).max(1));
    html! {
        h1 { "Valve clearances" }
        @if cylinders.is_empty() {
            p { "The book says nothing of the cylinders. Write a line: " code { "read lash inlet 2: 0.30 mm" } }
        }
        @for kind in ["inlet", "exhaust"] {
            @let limit = known.limits.iter().find(|limit| {
                let id = limit.id.as_str();
                id.contains("lash") && id.contains(kind)
            });
            @let lash = limit.map_or_else(|| format!("lash {kind}"), |limit| limit.id.to_string());
            section.valves {
                h2 { (kind) }
                @if let Some(limit) = limit { (stands(asked, limit)) }
                @if asked.visitor.may_write && !cylinders.is_empty() {
                    (table(asked, &Sheet { kind, what: "clearance", of: &lash, cylinders: &cylinders, valves }))
                    details {
                        summary { "Shims that lie in, " (kind) }
                        (table(asked, &Sheet { kind, what: "shim", of: &format!("shim {kind}"), cylinders: &cylinders, valves }))
                    }
                }
            }
        }
        (found(asked, |of| of.starts_with("lash") || of.starts_with("shim")))
        p { a href="/readings" { "All readings" } }
    }
}

/// One table to be filled in.
struct Sheet<'a> {
    kind: &'a str,
    what: &'a str,
    /// The name under which it is read.
    of: &'a str,
    cylinders: &'a [u32],
    valves: u32,
}

fn table(asked: &Asked<'_>, sheet: &Sheet<'_>) -> Markup {
    let Sheet { kind, what, of, .. } = sheet;
    let last = last(asked, of, sheet.cylinders.len() * sheet.valves as usize);
    let places = sheet.cylinders.iter().flat_map(|cylinder| {
        (1..=sheet.valves).map(move |valve| format!("{{c{cylinder}v{valve}|-}}"))
    });
    let places: Vec<String> = places.collect();
    let is_clearance = *what == "clearance";
    let with = if is_clearance {
        "{gauge?, gauge }{how?, }"
    } else {
        ""
    };
    let line = format!("read {of}: {} mm{with}", places.join(" "));
    html! {
        form.face data-entry method="post" action="/entry" {
            (hidden(asked.path))
            input type="hidden" name="line" value=(line);
            table.grid {
                caption { (what) " in mm, cylinder by cylinder; an empty field is no reading" }
                thead {
                    tr { th scope="col" { "cyl." } @for valve in 1..=sheet.valves { th scope="col" { "valve " (valve) } } }
                }
                tbody {
                    @for (row, cylinder) in sheet.cylinders.iter().enumerate() {
                        tr {
                            th scope="row" { (cylinder) }
                            @for valve in 1..=sheet.valves {
                                @let at = row * sheet.valves as usize + valve as usize - 1;
                                td { input name=(format!("c{cylinder}v{valve}")) inputmode="decimal" autocomplete="off"
                                    value=[last.get(at)]
                                    aria-label=(format!("{kind} {cylinder}, valve {valve}, {what} in mm")); }
                            }
                        }
                    }
                }
            }
            @if is_clearance { (gauge_and_how(asked)) }
            button { "Write the " (what) "s down" }
        }
    }
}

/// The numbers found last under a name, if there are as many as places; a place without a reading
/// is empty.
fn last(asked: &Asked<'_>, of: &str, places: usize) -> Vec<String> {
    let mut readings = asked.folder.state.readings.iter().rev();
    let is = |found: &Measured| job::same_name(&found.of, of);
    let Some((_, found)) = readings.find(|(_, found)| is(found)) else {
        return Vec::new();
    };
    let Some(numbers) = found.values.trim().strip_suffix("mm") else {
        return Vec::new();
    };
    let numbers: Vec<String> = numbers
        .split_whitespace()
        .map(|number| {
            if number == "-" {
                String::new()
            } else {
                number.to_owned()
            }
        })
        .collect();
    if numbers.len() == places {
        numbers
    } else {
        Vec::new()
    }
}
