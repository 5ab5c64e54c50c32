//! At the vehicle: where you stand, the act, the figure, why now, what is about to be covered,
//! three keys at the thumb.

use maud::{Markup, html};
use report::{Figure, Finding, Report};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{self, Line};
use crate::page::in_hand::{self, me};
use crate::page::{self, Frame, address};

/// Findings that stand in places of their own.
const ELSEWHERE: [&str; 3] = ["last-chance", "lay-out", "not-left"];

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let report = in_hand::report(asked, 3);
    Frame {
        title: "At the vehicle".to_owned(),
        place: "/vehicle",
        body: html! {
            div data-in-hand=(in_hand::drawn(asked)) {
                @match own(asked, &report) {
                    Some(act) => (at_work(asked, &report, act)),
                    None => (nothing(asked, &report)),
                }
            }
        },
    }
}

/// The act the person who looks has in hand.
#[must_use]
pub fn own<'a>(asked: &Asked<'_>, report: &'a Report) -> Option<Line<'a>> {
    cells::lines(report)
        .find(|line| line.text("turn") == Some("in hand") && line.text("who") == Some(me(asked)))
}

fn at_work(asked: &Asked<'_>, report: &Report, act: Line<'_>) -> Markup {
    let label = act.text("label").unwrap_or_default();
    html! {
        div.spread {
            div.drawn { (hypertext::pictures(&report.pictures, "now")) }
            div.told {
                h1 { (act.text("act").unwrap_or_default()) }
                @if let Some(says) = report.headline.as_deref().filter(|says| says.starts_with(label)) {
                    p.says { (says) }
                }
                p.why { (act.text("why").unwrap_or_default()) }
                (moment(report, &act))
                h2.unseen { "Before you begin" }
                (hypertext::cautions(&report.cautions))
                (covered(&report.findings))
                (laid_out(&act))
                (hypertext::findings(&cells::without(report, &ELSEWHERE)))
                (hypertext::asks(&report.asks))
                (after(asked, report))
                (hypertext::because(&report.because))
                (hypertext::sources(&report.sources))
                (laid_down(asked))
                (way(asked))
            }
        }
        (keys(asked, &act))
    }
}

/// The figure between two rules, with the tool beside it.
fn moment(report: &Report, act: &Line<'_>) -> Markup {
    let figure = report.figure("setting").or_else(|| report.figure("angle"));
    let tool = act.text("tool");
    html! {
        div.moment {
            @if let Some(figure) = figure { (large(figure)) }
            p {
                @if let Some(tool) = tool { b { (tool) } } @else { b { "by hand" } }
                @if let Some(hole) = act.text("hole") { ", next: " b { (hole) } }
                @if let Some(note) = figure.and_then(|figure| figure.note.as_ref()) { br; (note) }
                @if let Some(spec) = report.figure("spec") {
                    br; (spec.label) " " (spec.shown)
                    @if let Some(note) = &spec.note { ", " (note) }
                }
                @if let Some(done) = report.figure("done") { br; (done.label) ": " (done.shown) }
                @if let Some(minutes) = report.figure("minutes") { br; (minutes.label) " " (minutes.shown) }
                @if let Some(zone) = act.text("zone") { br; "stand: " (zone) }
            }
        }
    }
}

/// A figure as it is read at arm's length.
#[must_use]
pub fn large(figure: &Figure) -> Markup {
    let (number, unit) = figure.shown.split_once(' ').unwrap_or((&figure.shown, ""));
    html! { strong.large { (number) @if !unit.is_empty() { small { " " (unit) } } } }
}

/// The last chance, in a painted margin, part by part.
fn covered(findings: &[Finding]) -> Markup {
    let mut parts: Vec<&str> = Vec::new();
    let told = || {
        findings
            .iter()
            .filter(|finding| finding.code == "last-chance")
    };
    for finding in told() {
        if !parts.contains(&finding.concerns.as_str()) {
            parts.push(&finding.concerns);
        }
    }
    html! {
        @for part in parts {
            section.covers {
                h2 { "Last chance: " (part) }
                ul {
                    @for finding in told().filter(|finding| finding.concerns == part) {
                        li { (finding.says) @if let Some(back) = &finding.points_to { br; small { (back) } } }
                    }
                }
            }
        }
    }
}

fn laid_out(act: &Line<'_>) -> Markup {
    let things = act.list("lay_out");
    html! {
        @if !things.is_empty() {
            section.out { h2 { "Lay out" } ul { @for thing in things { li { (thing) } } } }
        }
    }
}

/// What comes after it, and what the others have in hand.
fn after(asked: &Asked<'_>, report: &Report) -> Markup {
    let own = |line: &Line<'_>| line.text("who") == Some(me(asked));
    let now = |line: &Line<'_>| line.text("turn") == Some("in hand");
    let next: Vec<Line<'_>> = cells::lines(report)
        .filter(|line| own(line) && !now(line))
        .collect();
    let others: Vec<Line<'_>> = cells::lines(report)
        .filter(|line| !own(line) && now(line))
        .collect();
    html! {
        @if !next.is_empty() {
            section { h2 { "Then" } ol.acts { @for line in &next { (then(asked, line)) } } }
        }
        @if !others.is_empty() {
            section {
                h2 { "In other hands" }
                ul.acts {
                    @for line in &others {
                        li {
                            b { (line.text("who").unwrap_or_default()) } ": " (line.text("act").unwrap_or_default())
                            @if let Some(zone) = line.text("zone") { ", " (zone) }
                            @if !line.list("beside").is_empty() { small { br; "beside " (line.list("beside").join(", ")) } }
                        }
                    }
                }
            }
        }
    }
}

fn then(asked: &Asked<'_>, line: &Line<'_>) -> Markup {
    html! {
        li {
            p { (line.text("act").unwrap_or_default()) @if let Some(zone) = line.text("zone") { ", " (zone) } }
            p.why { (line.text("why").unwrap_or_default()) }
            (take(asked, line, "take this one"))
        }
    }
}

/// Takes an act in hand, for the others to see. It is not kept in the record.
#[must_use]
pub fn take(asked: &Asked<'_>, line: &Line<'_>, words: &str) -> Markup {
    html! {
        @if asked.visitor.may_write && asked.visitor.who.is_some() {
            form.key method="post" action="/hand" {
                (page::hidden(asked.path))
                input type="hidden" name="for" value=(in_hand::wanted(asked));
                button type="submit" name="what" value=[line.text("step")] data-take=[line.text("step")] { (words) }
            }
        }
    }
}

/// Lays down what was taken in hand, so that somebody else can take it.
fn laid_down(asked: &Asked<'_>) -> Markup {
    html! {
        @if let Some(held) = in_hand::own(asked).filter(|_| asked.visitor.may_write) {
            form.key method="post" action="/hand" {
                (page::hidden(asked.path))
                button type="submit" name="what" value="" data-take="" { "lay it down: " (held.what) }
            }
        }
    }
}

/// Three keys at the thumb.
fn keys(asked: &Asked<'_>, act: &Line<'_>) -> Markup {
    let target = act.text("target").unwrap_or_default();
    let step = act.text("step").unwrap_or_default();
    html! {
        nav.keys aria-label="The act in hand" {
            @match act.text("line") {
                Some(line) => (done(asked, said(step), line)),
                None => a.go href=(elsewhere(step, target)) { (said(step)) },
            }
            a href=(address("/fights", &[("what", target), ("step", step), ("for", in_hand::wanted(asked))])) { "it fights me" }
            a href=(address("/show", &[("what", target)])) { "show it" }
        }
    }
}

fn done(asked: &Asked<'_>, words: &str, line: &str) -> Markup {
    html! {
        @if asked.visitor.may_write {
            form data-entry method="post" action="/entry" {
                (page::hidden(asked.path))
                input type="hidden" name="line" value=(line);
                button.go aria-describedby="its-line" { (words) }
            }
            code.its-line #its-line { (line) }
        } @else {
            span.go { (words) }
        }
    }
}

/// What a person says when the act is done.
fn said(step: &str) -> &'static str {
    match step.split(' ').next() {
        Some("off" | "undo") => "it's off",
        Some("drain") => "it's out",
        Some("out") => "they're out",
        Some("in") => "they're in",
        Some("fill") => "it's full",
        Some("check") => "I looked",
        Some("gate") => "ask the gate",
        _ => "it's on",
    }
}

/// Where an act is answered that no single line ends: a gate, a check with a reading.
fn elsewhere(step: &str, target: &str) -> String {
    if step.starts_with("gate") {
        address("/gates", &[("name", target)])
    } else if step.starts_with("do-up") {
        address("/tightening", &[("joint", target)])
    } else {
        address("/readings", &[("of", target)])
    }
}

fn nothing(asked: &Asked<'_>, report: &Report) -> Markup {
    html! {
        h1 { "At the vehicle" }
        (hypertext::headline(report))
        h2.unseen { "What is to know" }
        (hypertext::findings(&cells::without(report, &ELSEWHERE)))
        (hypertext::asks(&report.asks))
        (after(asked, report))
        (way(asked))
    }
}

/// Which way: to something, or back.
fn way(asked: &Asked<'_>) -> Markup {
    let said = in_hand::wanted(asked);
    html! {
        form.way method="get" action="/vehicle" {
            label {
                span { "What is to be got at (parts, with a comma between); empty: the way back" }
                input name="for" value=(said) list="names" autocomplete="off" autocapitalize="off" spellcheck="false";
            }
            button { "Show that way" }
            (page::names(asked))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is about to be covered stands under the part that covers it, with the way back to it.
    #[test]
    fn the_last_chance_is_told_part_by_part() {
        let told = |part: &str, says: &str| Finding::new("last-chance", part, says);
        let findings = [
            told("Plenum", "6 rags in the inlet ports: still in").points_to("2 h to come back for"),
            told("Loom tray", "knock sensor plug: not on"),
            told("Plenum", "runners: stage 2 not pulled"),
            Finding::new("not-tightened", "runners", "not tightened"),
        ];
        let page = covered(&findings).into_string();
        assert_eq!(page.matches("<h2>Last chance: ").count(), 2, "{page}");
        let (plenum, tray) = page.split_once("Last chance: Loom tray").expect("both");
        assert!(plenum.contains("6 rags") && plenum.contains("2 h to come back for"));
        assert!(plenum.contains("stage 2") && !tray.contains("stage 2"));
        assert!(!page.contains("not tightened"), "{page}");
    }

    #[test]
    fn a_figure_is_parted_from_its_unit() {
        let figure = Figure::number("setting", "on the wrench", 186.0, "186 lbf·in");
        let page = large(&figure).into_string();
        assert!(page.contains("186<small> lbf·in</small>"), "{page}");
    }
}
