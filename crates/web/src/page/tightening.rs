//! Tightening: the joints and how far each is; of one joint the drawing, and a tap a stage.

use std::sync::Arc;

use app::tighten::{Asked as Question, tighten};
use maud::{Markup, html};
use report::{Report, Weight};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, address, key, vehicle};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let joint = asked.query.get("joint").map(str::to_owned);
    Frame {
        title: "Tightening".to_owned(),
        place: "/tightening",
        body: match joint {
            Some(joint) => one(asked, &joint),
            None => list(asked),
        },
    }
}

/// The sheet of one joint.
#[must_use]
pub fn sheet(asked: &Asked<'_>, joint: &str) -> Arc<Report> {
    asked.answer(&format!("tighten {joint}"), |folder| {
        let question = Question {
            joint: Some(joint.to_owned()),
            ..Question::default()
        };
        tighten(folder, &question, asked.now_micros)
    })
}

fn list(asked: &Asked<'_>) -> Markup {
    let all = asked.query.get("all").is_some();
    let report = asked.answer(&format!("tighten, all {all}"), |folder| {
        let question = Question {
            all,
            ..Question::default()
        };
        tighten(folder, &question, asked.now_micros)
    });
    html! {
        h1 { (report.title) }
        (hypertext::headline(&report))
        ul.ways {
            @for line in lines(&report) {
                @if let Some(joint) = line.text("joint") { (row(&line, joint)) }
            }
        }
        (hypertext::findings(&report.findings))
        @if !all { p { a href="/tightening?all=1" { "Those nobody has touched as well" } } }
    }
}

fn row(line: &Line<'_>, joint: &str) -> Markup {
    html! {
        li {
            a href=(address("/tightening", &[("joint", joint)])) {
                b { (joint) }
                span {
                    (line.text("standing").unwrap_or_default())
                    @if let Some(done) = line.text("done") { ", pulls " (done) }
                    @if let Some(next) = line.text("next_hole") { ", next " (next) }
                }
            }
        }
    }
}

fn one(asked: &Asked<'_>, joint: &str) -> Markup {
    let sheet = sheet(asked, joint);
    let next = lines(&sheet).find(|line| line.text("next_hole").is_some());
    let stopped = sheet
        .findings
        .iter()
        .any(|finding| finding.weight == Weight::Stop);
    html! {
        div.spread {
            div.drawn { (hypertext::pictures(&sheet.pictures, "joint")) }
            div.told {
                h1 { (sheet.title) }
                (hypertext::headline(&sheet))
                @if let (Some(figure), false) = (sheet.figure("setting").or_else(|| sheet.figure("angle")), stopped) {
                    div.moment {
                        (vehicle::large(figure))
                        p {
                            @if let Some(tool) = next.and_then(|line| line.text("wrench")) { b { (tool) } }
                            @if let Some(note) = &figure.note { br; (note) }
                            @if let Some(spec) = sheet.figure("spec") { br; (spec.label) " " (spec.shown) }
                        }
                    }
                }
                h2.unseen { "The sheet" }
                (hypertext::cautions(&sheet.cautions))
                @if let Some(next) = next { @if !stopped { (taps(asked, &next)) } }
                (hypertext::table(&sheet.rows, &sheet.title))
                (hypertext::findings(&sheet.findings))
                (hypertext::asks(&sheet.asks))
                (hypertext::text(sheet.text.as_deref()))
                (hypertext::because(&sheet.because))
                (hypertext::sources(&sheet.sources))
                p { a href="/tightening" { "All joints" } }
            }
        }
    }
}

/// One tap for what is left of the stage, and one for the next bolt alone.
fn taps(asked: &Asked<'_>, next: &Line<'_>) -> Markup {
    let stage = next.text("stage").unwrap_or_default();
    let hole = next.text("next_hole").unwrap_or_default();
    html! {
        div.taps {
            @if let Some(line) = next.text("line") {
                (key(asked, &format!("stage {stage} is done, all of it"), line))
            }
            @if let Some(line) = next.text("one") {
                (key(asked, &format!("only {hole}"), line))
            }
        }
    }
}
