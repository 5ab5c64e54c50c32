//! Rows of an answer as a table that can also be read on a narrow screen.
//!
//! With few columns it stays a table. With more, a narrow screen reads each row from top to
//! bottom, every cell behind its heading: the style sheet takes the heading from the cell.

use maud::{Markup, html};
use report::{Align, Cell, Column, Table};

/// Columns up to which a row fits beside itself on a telephone.
const FEW: usize = 3;

/// Writes the rows; `caption` tells a screen reader what the table is.
#[must_use]
pub fn table(table: &Table, caption: &str) -> Markup {
    let shown: Vec<(usize, &Column)> = table
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| !column.heading.is_empty())
        .collect();
    if table.rows.is_empty() || shown.is_empty() {
        return html! {};
    }
    let class = if shown.len() > FEW {
        "rows many"
    } else {
        "rows"
    };
    // The roles are said because a style sheet that lays rows out as blocks takes them away.
    html! {
        table class=(class) role="table" {
            caption.unseen { (caption) }
            thead role="rowgroup" {
                tr role="row" {
                    @for (_, column) in &shown { th scope="col" role="columnheader" class=[side(column)] { (column.heading) } }
                }
            }
            tbody role="rowgroup" {
                @for row in &table.rows {
                    tr role="row" {
                        @for (at, column) in &shown {
                            @let held = row.get(*at).unwrap_or(&Cell::None);
                            td role="cell" class=[side(column)] data-heading=(column.heading) data-empty[is_empty(held)] { (cell(held)) }
                        }
                    }
                }
            }
        }
    }
}

fn side(column: &Column) -> Option<&'static str> {
    match column.align {
        Align::Right => Some("right"),
        Align::Left => None,
    }
}

fn is_empty(cell: &Cell) -> bool {
    match cell {
        Cell::None => true,
        Cell::Text(text) => text.is_empty(),
        Cell::List(words) => words.is_empty(),
        Cell::Figure(_) | Cell::Number(..) | Cell::Verdict(_) | Cell::Flag(_) => false,
    }
}

/// Writes one cell.
#[must_use]
pub fn cell(cell: &Cell) -> Markup {
    html! {
        @match cell {
            Cell::None => {}
            Cell::Text(text) => (text),
            Cell::Figure(figure) => (figure.shown),
            Cell::Number(_, shown) => (shown),
            Cell::Verdict(verdict) => (super::verdict(*verdict)),
            Cell::List(words) => (words.join(", ")),
            Cell::Flag(true) => "yes",
            Cell::Flag(false) => "no",
        }
    }
}
