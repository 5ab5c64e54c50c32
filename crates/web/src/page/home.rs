//! Where the job stands, in a few lines, and the way to everything else.

use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::cells::lines;
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
            (sorts(&open))
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
fn sorts(open: &report::Report) -> Markup {
    let mut sorts: Vec<(&str, usize)> = Vec::new();
    for line in lines(open) {
        let sort = line.text("state").unwrap_or_default();
        match sorts.iter_mut().find(|(known, _)| *known == sort) {
            Some((_, count)) => *count += 1,
            None => sorts.push((sort, 1)),
        }
    }
    html! {
        @if !sorts.is_empty() {
            ul.sorts { @for (sort, count) in &sorts { li { b { (count) } " " (sort) } } }
        }
    }
}
