//! What every page has round its own words: the head, the way to the others, the line to type.
//!
//! Pages are pure functions; one file each. What the script hangs on is marked by `data-`
//! attributes, and every form works without it:
//!
//! | attribute | what the script does with it |
//! |---|---|
//! | `form[data-entry]` | sends the line through the queue, without leaving the page |
//! | `input[data-typed]` | asks while typing what of the line is understood |
//! | `[data-understood]` | shows the answer to that |
//! | `[data-unsent]` | shows how many entries are not sent yet |
//! | `[data-take="ID"]` on a button | takes a thing in hand |
//! | `[data-hands]` | shows what the others have in hand |
//! | `main[data-number="N"]` | the entry this page was drawn after; a newer one draws it again |

pub mod home;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use report::Report;

use crate::asked::Asked;
use crate::asset;
use crate::random;

/// A page without what is round it.
#[derive(Clone, Debug)]
pub struct Frame {
    /// The name of the page, for the tab and the screen reader.
    pub title: String,
    /// The address of the page among [`PLACES`].
    pub place: &'static str,
    /// What stands in it.
    pub body: Markup,
}

/// The pages one can go to from everywhere: address and word.
pub const PLACES: &[(&str, &str)] = &[("/", "Now")];

/// The whole page.
#[must_use]
pub fn whole(frame: &Frame, asked: &Asked<'_>) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(&frame.title))
            body {
                a.skip href="#main" { "To the page" }
                header.top {
                    nav aria-label="Pages" {
                        @for (path, word) in PLACES {
                            a href=(path) aria-current=[(*path == frame.place).then_some("page")] { (word) }
                        }
                    }
                    p.people {
                        span { (asked.visitor.who.as_deref().unwrap_or("nobody yet")) }
                        " · "
                        span data-unsent role="status" { "all sent" }
                    }
                    p.hands data-hands role="status" {
                        @for held in &asked.hands { span { (held.who) " has " b { (held.what) } " in hand" } " " }
                    }
                }
                main #main data-number=(asked.number()) { (frame.body) }
                @if asked.visitor.may_write { (line(asked)) }
            }
        }
    }
}

/// The head of every page.
fn head(title: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width,initial-scale=1";
            title { (title) " · matchmark" }
            style { (PreEscaped(asset::faces())) }
            link rel="stylesheet" href=(asset::address("style.css"));
            script type="module" src=(asset::address("bench.js")) {}
        }
    }
}

/// The one line to type, at the thumb.
fn line(asked: &Asked<'_>) -> Markup {
    html! {
        footer.line {
            form data-entry method="post" action="/entry" {
                (hidden(asked))
                label {
                    span { "What did you do?" }
                    input data-typed name="line" autocomplete="off" autocapitalize="off" spellcheck="false"
                        enterkeyhint="send" placeholder="off cover: 4 bolts M6x20, bag 1" required;
                }
                button { "Write it down" }
                output data-understood {}
            }
        }
    }
}

/// One tap that writes a whole line into the record: `words` on the key, `line` in the record.
#[must_use]
pub fn key(asked: &Asked<'_>, words: &str, line: &str) -> Markup {
    html! {
        @if asked.visitor.may_write {
            form.key data-entry method="post" action="/entry" {
                (hidden(asked))
                input type="hidden" name="line" value=(line);
                button title=(line) { (words) }
            }
        }
    }
}

/// The fields of every form that writes an entry: an id nobody else has, and the way back.
#[must_use]
pub fn hidden(asked: &Asked<'_>) -> Markup {
    html! {
        input type="hidden" name="id" value=(random::digits(8).unwrap_or_default());
        input type="hidden" name="back" value=(asked.path);
    }
}

/// A page of a few words.
#[must_use]
pub fn bare(title: &str, says: &str) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title))
            body {
                main #main {
                    h1 { (title) }
                    p { (says) }
                    p { a href="/" { "To the pages" } }
                }
            }
        }
    }
}

/// A line that was not understood, to be mended and sent again.
#[must_use]
pub fn refused_line(report: &Report, typed: &str, back: &str) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head("Not written down"))
            body {
                main #main {
                    h1 { (report.headline.as_deref().unwrap_or("Not written down")) }
                    ul {
                        @for finding in &report.findings {
                            li {
                                (finding.says)
                                @if let Some(next) = &finding.next { " – " (next) }
                            }
                        }
                    }
                    form method="post" action="/entry" {
                        input type="hidden" name="id" value=(random::digits(8).unwrap_or_default());
                        input type="hidden" name="back" value=(back);
                        label {
                            span { "What did you do?" }
                            input name="line" value=(typed) autocomplete="off" required;
                        }
                        button { "Write it down" }
                    }
                    p { a href=(back) { "Leave it" } }
                }
            }
        }
    }
}
