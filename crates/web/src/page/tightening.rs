//! Tightening: the joints and how far each is; of one joint the drawing, and a tap a stage.

use std::sync::Arc;

use app::tighten::{Asked as Question, tighten};
use maud::{Markup, html};
use report::{Picture, Report, Weight};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines, sorts};
use crate::page::{Frame, address, hidden, key, photos, vehicle};

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
        p.headline { (counted(&report, "under_way")) " under way, " (counted(&report, "to_begin")) " to begin." }
        @for (standing, joints) in by_standing(&report) {
            details.sort open[!is_for_later(standing)] {
                summary { (standing) " " span.count { (joints.len()) } }
                ul.ways { @for (line, joint) in &joints { (row(line, joint)) } }
            }
        }
        (hypertext::findings(&report.findings))
        @if !all { p { a href="/tightening?all=1" { "Those nobody has touched as well" } } }
    }
}

fn counted<'a>(report: &'a Report, name: &str) -> &'a str {
    report.figure(name).map_or("0", |figure| &figure.shown)
}

/// A standing and the joints that share it, each with its row.
type Standing<'a> = (&'a str, Vec<(Line<'a>, &'a str)>);

/// The joints by how they stand, in the order of the answer.
fn by_standing(report: &Report) -> Vec<Standing<'_>> {
    let joints = lines(report).filter_map(|line| Some((line, line.text("joint")?)));
    sorts(joints, |(line, _)| {
        line.text("standing").unwrap_or_default()
    })
}

/// What nobody pulls now is folded.
fn is_for_later(standing: &str) -> bool {
    matches!(
        standing,
        "done" | "bolts out" | "not undone" | "in, no figure"
    )
}

fn row(line: &Line<'_>, joint: &str) -> Markup {
    html! {
        li {
            a href=(address("/tightening", &[("joint", joint)])) {
                b { (joint) }
                span {
                    @match line.text("stages") {
                        Some("no figure") => "no figure in the book",
                        _ => { @if let Some(done) = line.text("done") { "pulls " (done) } }
                    }
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
                (exceptions(asked, &sheet, joint, next))
                (hypertext::table(&sheet.rows, &sheet.title))
                (hypertext::findings(&sheet.findings))
                (hypertext::asks(&sheet.asks))
                (hypertext::text(sheet.text.as_deref()))
                (hypertext::because(&sheet.because))
                (hypertext::sources(&sheet.sources))
                p { a href="/tightening" { "All joints" } }
            }
        }
        @if let Some(next) = next { @if !stopped && asked.visitor.may_write { (taps(asked, &next)) } }
    }
}

/// At the thumb: one tap for what is left of the stage, and one for the next bolt alone.
fn taps(asked: &Asked<'_>, next: &Line<'_>) -> Markup {
    let stage = next.text("stage").unwrap_or_default();
    let hole = next.text("next_hole").unwrap_or_default();
    html! {
        nav.keys.two aria-label="This stage" {
            @if let Some(line) = next.text("line") {
                (key(asked, &format!("stage {stage} is done, all of it"), line))
                code.its-line { (line) }
            }
            @if let Some(line) = next.text("one") {
                (key(asked, &format!("only {hole}"), line))
            }
        }
    }
}

/// Single bolts for exceptions: one out of its turn, or one of which something is to be said.
fn exceptions(asked: &Asked<'_>, sheet: &Report, joint: &str, next: Option<Line<'_>>) -> Markup {
    let holes = holes(sheet);
    if !asked.visitor.may_write || holes.is_empty() {
        return html! {};
    }
    let hole = next.and_then(|line| line.text("next_hole"));
    let one = next.and_then(|line| line.text("one"));
    let any = one.zip(hole).and_then(|(one, hole)| {
        let (before, after) = one.split_once(&format!(" hole {hole} "))?;
        Some(format!("{before} hole {{hole}} {after}"))
    });
    html! {
        details {
            summary { "A single bolt" }
            @if let Some(any) = any {
                form data-entry method="post" action="/entry" {
                    (hidden(asked.path))
                    input type="hidden" name="line" value=(any);
                    (which(&holes, hole))
                    button { "This one has had its pull" }
                }
            }
            form data-entry method="post" action="/entry" {
                (hidden(asked.path))
                input type="hidden" name="line" value=(format!("note {joint}: hole {{hole}} {{words}}"));
                (which(&holes, hole))
                label { span { "What about it?" } input name="words" placeholder="turned past, thread feels soft" autocomplete="off" required; }
                button { "Note it" }
            }
            (photos::upload(asked, &format!("of {joint} hole {}", hole.unwrap_or(holes[0])), "A photo of a bolt or its hole"))
        }
    }
}

fn which(holes: &[&str], next: Option<&str>) -> Markup {
    html! {
        label {
            span { "Which" }
            select name="hole" { @for hole in holes { option value=(hole) selected[next == Some(*hole)] { (hole) } } }
        }
    }
}

/// The holes of a sheet, as its drawing has them.
fn holes(sheet: &Report) -> Vec<&str> {
    let drawn = sheet.pictures.iter().find_map(|picture| match picture {
        Picture::Holes(drawn) => Some(drawn),
        _ => None,
    });
    drawn.map_or_else(Vec::new, |drawn| {
        drawn.holes.iter().map(|hole| hole.name.as_str()).collect()
    })
}
