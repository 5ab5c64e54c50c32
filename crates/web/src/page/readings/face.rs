//! A face as a grid, seen as it lies before you: heights or gaps, row by row.

use maud::{Markup, html};

use super::{found, gauge_and_how};
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
    let label = limit
        .and_then(|limit| limit.label.clone())
        .unwrap_or_else(|| name.clone());
    let size = |key: &str, usual: usize| {
        let said = asked.query.get(key).and_then(|size| size.parse().ok());
        said.unwrap_or(usual).clamp(1, MOST)
    };
    let (columns, rows) = (size("columns", COLUMNS), size("rows", ROWS));
    html! {
        h1 { (label) }
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
            table.grid {
                caption { "One field a place, row by row; an empty field is no reading" }
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
            (gauge_and_how())
            button { "Write it down" }
        }
    }
}
