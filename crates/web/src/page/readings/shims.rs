//! Valve by valve: clearance and shim, one row a valve, each written down as it is measured.

use maud::{Markup, html};

use super::found;
use crate::asked::Asked;
use crate::page::hidden;

/// The table.
pub(super) fn form(asked: &Asked<'_>) -> Markup {
    let engine = asked.folder.state.known.engine.as_ref();
    let mut cylinders: Vec<u32> =
        engine.map_or_else(Vec::new, |engine| engine.cylinders().collect());
    cylinders.sort_unstable();
    let valves = engine.and_then(|engine| engine.valves.known().copied());
    html! {
        h1 { "Valve clearances" }
        @if cylinders.is_empty() {
            p { "The book says nothing of the cylinders. Write a line: " code { "read lash inlet 2: 0.30 mm" } }
        }
        @if asked.visitor.may_write {
            div.shims {
                @for cylinder in &cylinders {
                    @for kind in ["inlet", "exhaust"] { (row(asked, kind, *cylinder, valves)) }
                }
            }
        }
        (found(asked, |of| of.starts_with("lash") || of.starts_with("shim")))
        p { a href="/readings" { "All readings" } }
    }
}

/// Two valves of a kind in a cylinder share a row: a list with the unit once at the end.
fn row(asked: &Asked<'_>, kind: &str, cylinder: u32, valves: Option<u32>) -> Markup {
    let many = valves.map_or(1, |valves| (valves / 2).max(1));
    let names: Vec<String> = (1..=many).map(|at| format!("{{v{at}|-}}")).collect();
    let line = format!("read lash {kind} {cylinder}: {} mm", names.join(" "));
    let shims: Vec<String> = (1..=many).map(|at| format!("{{s{at}|-}}")).collect();
    let shim = format!("read shim {kind} {cylinder}: {} mm", shims.join(" "));
    html! {
        fieldset.valve {
            legend { (cylinder) " " (kind) }
            form data-entry method="post" action="/entry" {
                (hidden(asked.path))
                input type="hidden" name="line" value=(line);
                @for at in 1..=many {
                    label { span { "clearance, mm" } input name=(format!("v{at}")) inputmode="decimal" autocomplete="off"
                        aria-label=(format!("{kind} {cylinder}, valve {at}, clearance in mm")); }
                }
                button { "clearance" }
            }
            form data-entry method="post" action="/entry" {
                (hidden(asked.path))
                input type="hidden" name="line" value=(shim);
                @for at in 1..=many {
                    label { span { "shim, mm" } input name=(format!("s{at}")) inputmode="decimal" autocomplete="off"
                        aria-label=(format!("{kind} {cylinder}, valve {at}, shim in mm")); }
                }
                button { "shim" }
            }
        }
    }
}
