//! The ledger: what is off, where it lies, what is missing, left over or put in.

use app::whereis::{loose, whereis};
use maud::html;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::Frame;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let open = asked.answer("outstanding", app::ledger::outstanding);
    let stray = asked.answer("loose", loose);
    let sought = asked.query.get("where").unwrap_or_default().to_owned();
    Frame {
        title: "Ledger".to_owned(),
        place: "/ledger",
        body: html! {
            h1 { "Ledger" }
            form.way method="get" action="/ledger" {
                label {
                    span { "Where is it? A part, a hose, a tag, a bag" }
                    input name="where" value=(sought) autocomplete="off" autocapitalize="off" spellcheck="false";
                }
                button { "Find it" }
            }
            @if !sought.is_empty() {
                (hypertext::write(&asked.answer(&format!("where {sought}"), |folder| whereis(folder, &sought)), "where"))
            }
            (hypertext::write(&open, "open"))
            (hypertext::write(&stray, "loose"))
        },
    }
}
