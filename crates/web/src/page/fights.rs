//! It fights me: what may still hold it, why it stands where it stands, and what to do meanwhile.

use app::sequence::{Asked as Question, Legs, sequence};
use maud::html;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::lines;
use crate::page::{Frame, address, hidden, in_hand, key, vehicle};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let what = asked.query.get("what").unwrap_or_default().to_owned();
    let step = asked.query.get("step").unwrap_or_default().to_owned();
    let legs = if step.starts_with("off") || step.starts_with("undo") {
        Legs::Apart
    } else {
        Legs::Together
    };
    let why = asked.answer(&format!("why {step}"), |folder| {
        let question = Question {
            targets: Vec::new(),
            legs,
            why: Some(step.clone()),
            moves: Some(20_000),
            seed: None,
        };
        sequence(folder, &question)
    });
    let near = asked.answer(&format!("reach {what}"), |folder| {
        app::reach::reach(folder, std::slice::from_ref(&what))
    });
    let hand = in_hand::report(asked, 3);
    let meanwhile = lines(&hand).filter(|line| {
        line.text("who") == Some(in_hand::me(asked)) && line.text("target") != Some(what.as_str())
    });
    let note = |words: &str| format!("note {what}: {words}");
    Frame {
        title: "It fights me".to_owned(),
        place: "/vehicle",
        body: html! {
            h1 { @if what.is_empty() { "Something" } @else { (what) } " fights" }
            p.says { "Stop before force does harm. What still holds it, and is it the right way round?" }
            ul {
                li { "A bolt that is left, under grease or behind a bracket: count them against the book." }
                li { "A bolt that turns and does not come: say so, and take the next act meanwhile." }
                li { "Something that should not need force going on: the wrong one, or turned, or one beneath it is not home." }
            }
            @if asked.visitor.may_write && !what.is_empty() {
                section.said {
                    h2 { "Say it, so that it is known tomorrow" }
                    (key(asked, "stuck, soaking", &note("stuck, penetrating oil on it")))
                    (key(asked, "turns and does not come", &note("turns and does not come out")))
                    (key(asked, "does not go home", &note("does not go home, not forced")))
                    form data-entry method="post" action="/entry" {
                        (hidden(asked.path))
                        input type="hidden" name="line" value=(format!("note {what}: {{words}}"));
                        label { span { "In your words" } input name="words" autocomplete="off" required; }
                        button { "Note it" }
                    }
                }
            }
            section.meanwhile {
                h2 { "Meanwhile" }
                p { "Take one of these, and what fights is free for somebody else or for tomorrow." }
                ol.acts {
                    @for line in meanwhile {
                        li {
                            p { (line.text("act").unwrap_or_default()) @if let Some(zone) = line.text("zone") { ", " (zone) } }
                            (vehicle::take(asked, &line, "take this one"))
                        }
                    }
                }
            }
            @if !why.refused { (hypertext::write(&why, "why")) }
            @if !near.refused { (hypertext::write(&near, "reach")) }
            p { a href=(address("/show", &[("what", &what)])) { "Show it" } " · "
                a href=(address("/vehicle", &[("for", in_hand::wanted(asked))])) { "Back to the act" } }
        },
    }
}
