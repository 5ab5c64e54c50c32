//! One field a cylinder, where the cylinder is: banks from the bulkhead forward, from the drive end.

use app::cranking::{Asked as Question, of_job};
use book::Engine;
use maud::{Markup, html};
use sheet::hypertext;

use super::{found, gauge_and_how};
use crate::asked::Asked;
use crate::page::hidden;

/// The form and what the readings say.
pub(super) fn form(asked: &Asked<'_>) -> Markup {
    let engine = asked.folder.state.known.engine.as_ref();
    let judged = asked.answer("cranking", |folder| of_job(folder, &Question::default()));
    html! {
        h1 { "Cylinders" }
        @match engine.filter(|engine| engine.cylinders().next().is_some()) {
            Some(engine) => (fields(asked, engine)),
            None => p { "The book says nothing of the cylinders. Write a line: "
                code { "read cranking dry: 175 180 178 182 psi" } },
        }
        @if !judged.finds("no-readings") { (hypertext::write(&judged, "cranking")) }
        (found(asked, |of| of.starts_with("cranking") || of.starts_with("leak")))
        p { a href="/readings" { "All readings" } " · " a href="/proof" { "Proof" } }
    }
}

fn fields(asked: &Asked<'_>, engine: &Engine) -> Markup {
    if !asked.visitor.may_write {
        return html! {};
    }
    let mut numbers: Vec<u32> = engine.cylinders().collect();
    numbers.sort_unstable();
    let list: Vec<String> = numbers.iter().map(|at| format!("{{c{at}|-}}")).collect();
    let line = format!(
        "read {{what}}: {} {{unit}}{{gauge?, gauge }}{{how?, }}",
        list.join(" ")
    );
    html! {
        form.cylinders data-entry method="post" action="/entry" {
            (hidden(asked.path))
            input type="hidden" name="line" value=(line);
            label {
                span { "What" }
                select name="what" {
                    @for what in ["cranking dry", "cranking wet", "leakdown"] { option value=(what) { (what) } }
                }
            }
            p.side { "bulkhead side, drive end to the left" }
            @for bank in &engine.banks {
                fieldset.bank {
                    legend { (bank.name) }
                    @for cylinder in &bank.cylinders {
                        label.cylinder { span { (cylinder) } input name=(format!("c{cylinder}")) inputmode="decimal" autocomplete="off"; }
                    }
                }
            }
            label {
                span { "Unit" }
                select name="unit" { @for unit in ["psi", "bar", "kPa", "%"] { option value=(unit) { (unit) } } }
            }
            (gauge_and_how(asked))
            p { "An empty field is no reading." }
            button { "Write it down" }
        }
    }
}
