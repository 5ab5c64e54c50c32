//! Where the job stands, in a few lines, and the way to everything else.

use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::cells::{lines, sorts};
use crate::page::{Frame, SHELF};

/// The first page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let open = asked.answer("outstanding", app::ledger::outstanding);
    let book = asked.folder.book.as_ref();
    let title = book.and_then(|book| book.title.as_deref());
    Frame {
        title: "Now".to_owned(),
        place: "/",
        body: html! {
            h1 { (title.unwrap_or("The job")) }
            (sheet::hypertext::headline(&open))
            (outstanding(&open))
            @if let Some(last) = asked.folder.entries.last() {
                p.last { "Last: " (last.line) ", " (last.author) }
            }
            ul.ways {
                @for (path, word, says) in SHELF { li { a href=(path) { b { (word) } span { (says) } } } }
            }
        },
    }
}

/// How many of each sort are outstanding, in the order of the answer: the gravest first.
fn outstanding(open: &report::Report) -> Markup {
    let sorts = sorts(lines(open), |line| line.text("state").unwrap_or_default());
    html! {
        @if !sorts.is_empty() {
            ul.sorts { @for (sort, held) in &sorts { li { b { (held.len()) } " " (sort) } } }
        }
    }
}
