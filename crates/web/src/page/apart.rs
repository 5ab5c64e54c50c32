//! Taking apart: one line or one tap a thing, photo first and words later, bags and tags proposed.

use std::sync::Arc;

use app::sequence::{Asked as Question, Legs, sequence};
use maud::{Markup, html};
use report::Report;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, in_hand, key, names, photos, vehicle};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let wanted = in_hand::targets(asked);
    let bag = next_bag(asked);
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
                    (in_the_way(asked))
                    (taps(asked, &wanted))
                    (last(asked))
                }
                div {
                    (photo_first(asked, &bag, wordless))
                    (tags(asked))
                }
            }
        },
    }
}

/// The next free bag, as it is written: `bag 14`.
#[must_use]
pub fn next_bag(asked: &Asked<'_>) -> String {
    let bag = asked.answer("next bag", app::bag::next);
    bag.figure("bag")
        .map_or_else(|| "bag 1".to_owned(), |figure| figure.shown.clone())
}

fn photo_first(asked: &Asked<'_>, bag: &str, wordless: usize) -> Markup {
    html! {
        section {
            h2 { "Photo first, words later" }
            (photos::upload(asked, bag, "A photo of what comes off"))
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
                p { "Say what is to be got at, and the acts on the way to it stand here.
                    What the plan does not know goes into the line at the bottom: one line a thing." }
            } @else {
                (on_the_way(asked))
            }
            form.way method="get" action="/apart" {
                label {
                    span { "What is to be got at" }
                    input name="for" value=(wanted.join(", ")) list="names" autocomplete="off" autocapitalize="off" spellcheck="false";
                }
                button { "Show the way" }
                (names(asked))
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
