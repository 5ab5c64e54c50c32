//! Taking apart: one line or one tap a thing, photo first and words later, bags and tags proposed.

use std::sync::Arc;

use app::sequence::{Asked as Question, Legs, sequence};
use maud::{Markup, html};
use report::Report;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, hidden, in_hand, key, photos, vehicle};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let wanted = in_hand::targets(asked);
    let bag = asked.answer("next bag", app::bag::next);
    let bag = bag.figure("bag").map(|figure| figure.shown.clone());
    let wordless = asked
        .folder
        .state
        .photos
        .iter()
        .filter(|photo| photo.is_wordless())
        .count();
    Frame {
        title: "Taking apart".to_owned(),
        place: "/apart",
        body: html! {
            h1 { "Taking apart" }
            div.spread {
                div {
                    @if asked.visitor.may_write { (line(asked, bag.as_deref())) }
                    (photo_first(asked, bag.as_deref(), wordless))
                    (in_the_way(asked))
                }
                div {
                    (taps(asked, &wanted))
                    (last(asked))
                    (tags(asked))
                }
            }
        },
    }
}

/// One line, read while it is typed. The answer stands under it before anything is sent.
fn line(asked: &Asked<'_>, bag: Option<&str>) -> Markup {
    let example = format!("off cover: 4 bolts M6x20, {}", bag.unwrap_or("bag 1"));
    html! {
        section {
            h2 { "One line a thing" }
            form.typed data-entry data-reads="/reading" method="post" action="/entry" {
                (hidden(asked.path))
                label {
                    span { "What came off, with what, into which bag" }
                    input name="line" autocomplete="off" autocapitalize="off" spellcheck="false"
                        placeholder=(example) aria-describedby="understood" required;
                }
                output.understood #understood data-understood role="status" {}
                button { "Keep this line" }
            }
            @if let Some(bag) = bag { p { "The next free bag is " b { (bag) } "." } }
        }
    }
}

fn photo_first(asked: &Asked<'_>, bag: Option<&str>, wordless: usize) -> Markup {
    html! {
        section {
            h2 { "Photo first, words later" }
            (photos::upload(asked, bag.unwrap_or_default(), "A photo of what comes off"))
            p {
                a href="/evening" { "The evening list" } ": "
                @match wordless {
                    0 => "no photo waits for words.",
                    1 => "1 photo waits for words.",
                    many => { (many) " photos wait for words." }
                }
            }
        }
    }
}

/// One tap for each thing the plan has next on the way to the targets.
fn taps(asked: &Asked<'_>, wanted: &[String]) -> Markup {
    html! {
        section {
            h2 { "One tap a thing" }
            @if wanted.is_empty() {
                p { "Say what is to be got at, and the acts on the way to it stand here." }
            } @else {
                (on_the_way(asked))
            }
            form.way method="get" action="/apart" {
                label {
                    span { "What is to be got at" }
                    input name="for" value=(wanted.join(", ")) autocomplete="off" autocapitalize="off" spellcheck="false";
                }
                button { "Show the way" }
            }
        }
    }
}

fn on_the_way(asked: &Asked<'_>) -> Markup {
    let report = in_hand::report(asked, 7);
    let own = |line: &Line<'_>| line.text("who") == Some(in_hand::me(asked));
    html! {
        (hypertext::headline(&report))
        (hypertext::findings(&super::cells::without(&report, &["not-left", "lay-out"])))
        ol.acts {
            @for act in lines(&report).filter(own) {
                li {
                    p { b { (act.text("act").unwrap_or_default()) }
                        @if let Some(zone) = act.text("zone") { ", " (zone) }
                        @if let Some(tool) = act.text("tool") { ", with " (tool) } }
                    p.why { (act.text("why").unwrap_or_default()) }
                    @if let Some(line) = act.text("line") { (key(asked, "it's off", line)) }
                    @else { (vehicle::take(asked, &act, "take it in hand")) }
                }
            }
        }
    }
}

/// The one question that changes the way back, asked only where it does.
fn in_the_way(asked: &Asked<'_>) -> Markup {
    let state = &asked.folder.state;
    let report: Arc<Report> = asked.answer("the way back, questions", |folder| {
        if folder.state.has_book {
            return Report::new("sequence", "");
        }
        let question = Question {
            targets: Vec::new(),
            legs: Legs::Together,
            why: None,
            moves: Some(1),
            seed: None,
        };
        sequence(folder, &question)
    });
    html! {
        @if !state.has_book { @for ask in &report.asks { @if let Some(line) = answer(&ask.how) {
            section.asks {
                h2 { "Was it in the way?" }
                p { b { (ask.what) } }
                p { (ask.why) }
                div.answer {
                    (key(asked, "yes", line))
                    (key(asked, "no", &line.replace(": yes", ": no")))
                }
            }
        } } }
    }
}

/// The line that answers yes, out of the words that say how to answer; none for a question of
/// another kind.
fn answer(how: &str) -> Option<&str> {
    let line = how.split('"').nth(1)?;
    (line.starts_with("note ") && line.ends_with(": yes")).then_some(line)
}

/// What was written last, to see that it is right.
fn last(asked: &Asked<'_>) -> Markup {
    let entries = asked.folder.entries.iter().rev().take(6);
    html! {
        section {
            h2 { "Written last" }
            ol.entries {
                @for entry in entries { li { (entry.line) small { " " (entry.author) } } }
            }
            @if asked.visitor.may_write && asked.visitor.who.is_some() {
                (key(asked, "take back my last one", "undo"))
            }
        }
    }
}

/// Tags in pairs and bags, given out before anything comes off.
fn tags(asked: &Asked<'_>) -> Markup {
    let report = asked.answer("tags", app::ends::tags);
    html! {
        details {
            summary { "Tags and bags to give out" }
            (hypertext::headline(&report))
            (hypertext::table(&report.rows, &report.title))
            (hypertext::because(&report.because))
        }
    }
}
