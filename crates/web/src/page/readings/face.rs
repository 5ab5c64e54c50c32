//! A face as a grid, seen as it lies before you: heights or gaps, row by row.

use maud::{Markup, html};

use super::{found, gauge_and_how, stands};
use crate::asked::Asked;
use crate::page::hidden;

/// Columns and rows of the grid, unless the address says otherwise, and the most it can have.
const COLUMNS: usize = 5;
const ROWS: usize = 3;
const MOST: usize = 12;

/// The form for one limit, or for a name of one's own.
pub(super) fn form(asked: &Asked<'_>, of: &str) -> Markup {
    let state = &asked.folder.state;
    let limit = state
        .known
        .limits
        .iter()
        .find(|limit| limit.id.as_str() == of);
    // A check names its limit; the reading bears the name of the limit.
    let by_check = state
        .known
        .checks
        .iter()
        .find(|check| check.id.as_str() == of);
    let by_check = by_check.and_then(|check| check.limit.as_ref());
    let name = by_check.map_or_else(|| of.to_owned(), |limit| limit.id.to_string());
    // A check that was asked for judges by its limit.
    let limit = limit.or_else(|| {
        let mut limits = state.known.limits.iter();
        limits.find(|limit| limit.id.as_str() == name)
    });
    let label = limit.map_or(name.as_str(), super::label);
    let size = |key: &str, usual: usize| {
        let said = asked.query.get(key).and_then(|size| size.parse().ok());
        said.unwrap_or(usual).clamp(1, MOST)
    };
    let (columns, rows) = (size("columns", COLUMNS), size("rows", ROWS));
    html! {
        h1 { (label) }
        @if let Some(limit) = limit { (stands(asked, limit)) }
        @if asked.visitor.may_write { (grid(asked, &name, columns, rows)) }
        (found(asked, |found| job::same_name(found, &name)))
        form.way method="get" action="/readings" {
            input type="hidden" name="of" value=(of);
            label { span { "Columns" } input name="columns" inputmode="numeric" value=(columns); }
            label { span { "Rows" } input name="rows" inputmode="numeric" value=(rows); }
            button { "Another grid" }
        }
        p { a href="/readings" { "All readings" } }
    }
}

fn grid(asked: &Asked<'_>, name: &str, columns: usize, rows: usize) -> Markup {
    let mut cells = Vec::new();
    for row in 1..=rows {
        for column in 1..=columns {
            cells.push(format!("{{r{row}c{column}|-}}"));
        }
    }
    let line = format!(
        "read {name}: {} {{unit}}{{gauge?, gauge }}{{how?, }}",
        cells.join(" ")
    );
    html! {
        form.face data-entry method="post" action="/entry" {
            (hidden(asked.path))
            input type="hidden" name="line" value=(line);
            p.side.ends { span { "← drive end" } span { "flywheel end →" } }
            table.grid {
                caption { "The face as it lies before you, one field a place. An empty field is no reading. One figure for the whole face goes into any field." }
                tbody {
                    @for row in 1..=rows {
                        tr {
                            @for column in 1..=columns {
                                td { input name=(format!("r{row}c{column}")) inputmode="decimal" autocomplete="off"
                                    aria-label=(format!("row {row}, place {column}")); }
                            }
                        }
                    }
                }
            }
            label {
                span { "Unit" }
                select name="unit" { @for unit in ["mm", "µm", "in", "N·m", "bar", "°C"] { option value=(unit) { (unit) } } }
            }
            (gauge_and_how(asked))
            button { "Write it down" }
        }
    }
}
