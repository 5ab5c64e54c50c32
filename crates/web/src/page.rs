//! What every page has round its own words: the head, the way to the others, the line to type.
//!
//! Pages are pure functions; one file each. What the script hangs on is marked by `data-`
//! attributes, and every page and form works without it:
//!
//! | attribute | what the script does with it |
//! |---|---|
//! | `form[data-entry]` | sends it through the queue, without leaving the page |
//! | `button[data-take="ID"]` | takes a thing in hand |
//! | `[data-unsent]` | shows how many entries are not sent yet |
//! | `[data-held]` | shows the lines that wait, and those that were refused, to be mended |
//! | `[data-said]` | shows what was answered |
//! | `[data-hands]` | shows what everybody has in hand |
//! | `[data-waiting]` | stands where a newer answer is worked out; the page is drawn again when it is there |
//! | `[data-in-hand]` | what the page was drawn with in hand; another one draws it again |
//! | `form[data-reads="/reading"]` | shows what is understood while a line is typed |
//! | `time[data-clock]` | goes on by the phone's own clock |
//! | `main[data-number]` | the entry this page was drawn after; a newer one draws it again |

pub mod day;
pub mod home;
pub mod who;

pub mod vehicle;
pub mod fights;
pub mod show;
pub mod tightening;
pub mod apart;
pub mod evening;
pub mod gallery;
pub mod places;
pub mod ledger;
pub mod ends;
pub mod readings;
pub mod days;
pub mod gates;
pub mod proof;
pub mod story;
pub mod slate;

pub mod cells;
pub mod in_hand;
pub mod photos;

use maud::{DOCTYPE, Markup, html};
use report::Report;

use crate::answers::Latest;
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
/// Short words: on a phone they share one row.
pub const PLACES: &[(&str, &str)] = &[
    ("/", "Now"),
    ("/vehicle", "Vehicle"),
    ("/apart", "Apart"),
    ("/tightening", "Tighten"),
    ("/ledger", "Ledger"),
    ("/day", "Day"),
];

/// The pages one looks for on the first one: address, word, and what stands there.
pub const SHELF: &[(&str, &str, &str)] = &[
    (
        "/vehicle",
        "At the vehicle",
        "the act in hand, its figure, what it covers",
    ),
    (
        "/apart",
        "Taking apart",
        "one line or one tap a thing, photos first",
    ),
    ("/evening", "Evening list", "photos that wait for words"),
    ("/tightening", "Tightening", "joint by joint, a tap a stage"),
    (
        "/ledger",
        "Ledger",
        "what is off, where, missing, left over",
    ),
    (
        "/ends",
        "Ends",
        "hoses, leads and plugs, suspected pairs, tags",
    ),
    (
        "/readings",
        "Readings",
        "cylinders, faces, valve clearances",
    ),
    (
        "/gates",
        "Gates",
        "what must hold before there is no way back",
    ),
    (
        "/day",
        "Day",
        "the close of the evening and the way back in, a copy",
    ),
    (
        "/days",
        "Days ahead",
        "who works when, what to buy by when, what waits",
    ),
    ("/proof", "Proof", "before and after"),
    ("/photos", "Photos", "all of them, and which others may see"),
    (
        "/places",
        "Places on photos",
        "tap holes, and the drawing follows",
    ),
    ("/story", "Story", "what happened, day by day"),
    (
        "/slate",
        "Slate",
        "step and time, to hold before the film camera",
    ),
];

/// The whole page.
#[must_use]
pub fn whole(frame: &Frame, asked: &Asked<'_>) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(&frame.title))
            body {
                a.skip href="#main" { "To the page" }
                (top(frame, asked))
                main #main tabindex="-1" data-number=(asked.number()) data-job=(asked.job())
                    data-who=[asked.visitor.who.as_deref()] {
                    (frame.body)
                }
                @if asked.visitor.may_write { (line(frame, asked)) }
            }
        }
    }
}

/// The way to the other pages, who is at work, and what is under way.
fn top(frame: &Frame, asked: &Asked<'_>) -> Markup {
    html! {
        header.top {
            nav aria-label="Pages" {
                @for (path, word) in PLACES {
                    a href=(path) aria-current=[(*path == frame.place).then_some("page")] { (word) }
                }
            }
            div.under-way {
                @if asked.visitor.may_write {
                    p.people {
                        a href="/who" { (asked.visitor.who.as_deref().unwrap_or("Who are you?")) }
                        " " span data-unsent role="status" {}
                    }
                } @else {
                    p.people { "for looking only" }
                }
                p.hands data-hands role="status" { (hands(asked)) }
            }
        }
    }
}

/// What the others have in hand, so that two do not reach for one thing.
fn hands(asked: &Asked<'_>) -> Markup {
    let own = |who: &String| Some(who) == asked.visitor.who.as_ref();
    html! { @for one in asked.hands.iter().filter(|one| !own(&one.who)) { span { (one.who) ": " b { (one.what) } } } }
}

/// The head of every page.
fn head(title: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width,initial-scale=1";
            meta name="color-scheme" content="light dark";
            title { (title) " · matchmark" }
            link rel="stylesheet" href=(asset::address("base.css"));
            link rel="stylesheet" href=(asset::address("bench.css"));
            link rel="stylesheet" href=(asset::address("pages.css"));
            script type="module" src=(asset::address("bench.js")) {}
            script type="module" src=(asset::address("reading.js")) {}
        }
    }
}

/// The one line to type, at the thumb. What is understood of it stands over it while it is typed.
fn line(frame: &Frame, asked: &Asked<'_>) -> Markup {
    let (asks, example) = match frame.place {
        "/apart" => (
            "What came off?",
            format!("off cover: 4 bolts M6x20, {}", apart::next_bag(asked)),
        ),
        _ => (
            "What did you do?",
            "off cover: 4 bolts M6x20, bag 1".to_owned(),
        ),
    };
    html! {
        footer.line {
            ul.held data-held aria-label="Not in the record yet" {}
            p.said data-said role="status" {}
            form data-entry data-reads="/reading" method="post" action="/entry" {
                (hidden(asked.path))
                output.understood #understood data-understood {}
                label {
                    span { (asks) }
                    input name="line" autocomplete="off" autocapitalize="off" spellcheck="false"
                        enterkeyhint="send" placeholder=(example) aria-describedby="understood" required;
                }
                button { "Write" span.more { " it down" } }
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
                (hidden(asked.path))
                input type="hidden" name="line" value=(line);
                button title=(line) { (words) }
            }
        }
    }
}

/// The names a field may take, so that a thumb need not type them. A field asks for them with
/// `list="names"`.
#[must_use]
pub fn names(asked: &Asked<'_>) -> Markup {
    let known = &asked.folder.state.known;
    let parts = known.parts.iter().map(|part| part.id.to_string());
    let lines = known.lines.iter().map(|line| line.id.to_string());
    html! { datalist #names { @for name in parts.chain(lines) { option value=(name) {} } } }
}

/// A slow answer, drawn by `draw` as far as it is known.
#[must_use]
pub fn latest(latest: &Latest, draw: impl FnOnce(&Report) -> Markup) -> Markup {
    html! {
        @if latest.behind {
            p.waiting data-waiting {
                @if latest.report.is_some() {
                    "Worked out before the last entry; a newer one is on its way. "
                } @else {
                    "Being worked out. "
                }
                a href="" { "Look again" }
            }
        }
        @if let Some(report) = &latest.report { (draw(report)) }
    }
}

/// The fields of every form that writes an entry: a number no other page has, for a browser
/// without script, and the way back.
#[must_use]
pub fn hidden(back: &str) -> Markup {
    html! {
        // Without a random source the line itself still tells two entries apart.
        input type="hidden" name="form" value=(random::digits(8).unwrap_or_default());
        input type="hidden" name="back" value=(back);
    }
}

/// An address with what stands behind its question mark.
#[must_use]
pub fn address(path: &str, pairs: &[(&str, &str)]) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    query.extend_pairs(pairs);
    format!("{path}?{}", query.finish())
}

/// A page of a few words.
#[must_use]
pub fn bare(title: &str, says: &str) -> Markup {
    apart(
        title,
        &html! {
            h1 { (title) }
            p { (says) }
            p { a href="/" { "To the pages" } }
        },
    )
}

/// A page without the ways to the others: a visitor who is not in yet, or a line to mend.
#[must_use]
pub fn apart(title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title))
            body { main #main { (body) } }
        }
    }
}

/// A line that was not understood, to be mended and sent again.
#[must_use]
pub fn refused_line(report: &Report, typed: &str, back: &str) -> Markup {
    let title = report.headline.as_deref().unwrap_or("Not written down");
    let body = html! {
        h1 { (title) }
        (sheet::hypertext::findings(&report.findings))
        form method="post" action="/entry" {
            (hidden(back))
            label {
                span { "What did you do?" }
                input name="line" value=(typed) autocomplete="off" required;
            }
            button { "Write it down" }
        }
        p { a href=(back) { "Leave it" } }
    };
    apart(title, &body)
}

/// A line of somebody who did not say a name: it is kept on the page until one is said.
#[must_use]
pub fn nameless_line(typed: &str, back: &str) -> Markup {
    let body = html! {
        h1 { "Who are you?" }
        p { "An entry bears a name. Not written down yet: " b { (typed) } }
        form method="post" action="/entry" {
            (hidden(back))
            input type="hidden" name="line" value=(typed);
            label {
                span { "Your name" }
                input name="who" maxlength="60" autocomplete="given-name" required;
            }
            button { "Write it down" }
        }
        p { a href=(back) { "Leave it" } }
    };
    apart("Who are you?", &body)
}

#[cfg(test)]
mod tests;
