//! The ledger: what is off, where it lies, what is missing, left over or put in.

use app::whereis::{loose, whereis};
use maud::{Markup, html};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines, sorts};
use crate::page::{Frame, address, names};

/// A sort with more things than this is folded: the sorts with few are what one looks for.
const MANY: usize = 12;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let open = asked.answer("outstanding", app::ledger::outstanding);
    let stray = asked.answer("loose", loose);
    let sought = asked.query.get("where").unwrap_or_default().to_owned();
    let sorts = sorts(lines(&open), |line| line.text("state").unwrap_or_default());
    Frame {
        title: "Ledger".to_owned(),
        place: "/ledger",
        body: html! {
            h1 { "Ledger" }
            (hypertext::headline(&open))
            form.way method="get" action="/ledger" {
                label {
                    span { "Where is it? A part, a hose, a tag, a bag" }
                    input name="where" value=(sought) list="names" autocomplete="off" autocapitalize="off" spellcheck="false";
                }
                button { "Find it" }
                (names(asked))
            }
            @if !sought.is_empty() {
                (hypertext::write(&asked.answer(&format!("where {sought}"), |folder| whereis(folder, &sought)), "where"))
            }
            @for (sort, held) in &sorts { (of_a_sort(sort, held)) }
            h2.unseen { "What to do" }
            (hypertext::findings(&open.findings))
            details { summary { (stray.title) } (hypertext::write(&stray, "loose")) }
        },
    }
}

/// One sort of outstanding things, each in one row: what, where, since which entry.
fn of_a_sort(sort: &str, held: &[Line<'_>]) -> Markup {
    html! {
        details.sort open[held.len() <= MANY] {
            summary { (sort) " " span.count { (held.len()) } }
            ul.things {
                @for line in held {
                    @let what = line.text("what").unwrap_or_default();
                    li {
                        a href=(address("/show", &[("what", what)])) { (what) }
                        span {
                            @match (line.text("where"), line.text("note")) {
                                (Some(place), Some(note)) => { (place) ", " (note) }
                                (Some(said), None) | (None, Some(said)) => (said),
                                (None, None) => {}
                            }
                        }
                        @if let Some(entry) = line.text("since") { small { "entry " (entry) } }
                    }
                }
            }
        }
    }
}
