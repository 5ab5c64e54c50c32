//! Where the job stands, in a few lines.

use maud::html;

use crate::asked::Asked;
use crate::page::{Frame, SHELF};

/// The first page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let open = asked.answer("outstanding", app::ledger::outstanding);
    Frame {
        title: "Now".to_owned(),
        place: "/",
        body: html! {
            h1 { (open.title) }
            (sheet::hypertext::headline(&open))
            @if let Some(last) = asked.folder.entries.last() {
                p.last { "Last: " (last.line) ", " (last.author) }
            }
            ul.ways {
                @for (path, word, says) in SHELF { li { a href=(path) { b { (word) } span { (says) } } } }
            }
        },
    }
}
