//! Gates: what must hold before an act that cannot be taken back.

use app::gate::gate;
use maud::{Markup, html};
use report::{Cell, Finding, Report};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{lines, sorts};
use crate::page::{Frame, address, hidden};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let name = asked.query.get("name").map(str::to_owned);
    Frame {
        title: "Gates".to_owned(),
        place: "/gates",
        body: match name {
            Some(name) => one(asked, &name),
            None => all(asked),
        },
    }
}

/// So many things of a sort are read one by one.
const FEW: usize = 4;

/// Sealant cures by the clock, so a gate is asked anew after a minute.
const MINUTE: i64 = 60_000_000;

fn all(asked: &Asked<'_>) -> Markup {
    let now = asked.now_micros;
    let question = format!("gates {}", now.div_euclid(MINUTE));
    let report = asked.answer(&question, |folder| gate(folder, None, now));
    html! {
        h1 { (report.title) }
        ul.ways {
            @for line in lines(&report) {
                @if let Some(name) = line.text("gate") {
                    li {
                        a href=(address("/gates", &[("name", name)])) {
                            b { (name) }
                            span {
                                @match line.cell("verdict") {
                                    Some(verdict @ Cell::Verdict(_)) => (hypertext::cell(verdict)),
                                    _ => (line.text("stands").unwrap_or_default()),
                                }
                                @if let Some(shut) = line.text("closed_by").filter(|shut| *shut != "0") { " " (shut) " against it" }
                            }
                        }
                    }
                }
            }
        }
        (hypertext::findings(&report.findings))
    }
}

fn one(asked: &Asked<'_>, name: &str) -> Markup {
    let now = asked.now_micros;
    let question = format!("gate {} {name}", now.div_euclid(MINUTE));
    let report = asked.answer(&question, |folder| gate(folder, Some(name), now));
    html! {
        h1 { (report.title) }
        (hypertext::headline(&report))
        h2.unseen { "What stands against it" }
        (hypertext::cautions(&report.cautions))
        (hypertext::pictures(&report.pictures, "gate"))
        (hypertext::text(report.text.as_deref()))
        (against(&report.findings))
        (passing(asked, &report, name))
        (hypertext::figures(&report.figures))
        (hypertext::table(&report.rows, &report.title))
        (hypertext::asks(&report.asks))
        (hypertext::because(&report.because))
        (hypertext::sources(&report.sources))
        p { a href="/gates" { "All gates" } }
    }
}

/// What stands against it: a few of a sort one by one, many of a sort folded under what to do.
fn against(findings: &[Finding]) -> Markup {
    let sorts = sorts(findings.iter(), |finding| finding.code);
    html! {
        @for (code, held) in &sorts {
            @if held.len() > FEW {
                details.sort {
                    summary { (code.replace('-', " ")) " " span.count { (held.len()) } }
                    @if let Some(next) = &held[0].next { p.next { span { "next" } " " (next) } }
                    ul.things { @for finding in held { li { b { (finding.concerns) } span { (finding.says) } } } }
                }
            } @else {
                (hypertext::findings(&held.iter().copied().cloned().collect::<Vec<_>>()))
            }
        }
    }
}

/// A closed gate is passed with a reason, which stays in the record. What no reason opens the
/// record refuses by itself.
fn passing(asked: &Asked<'_>, report: &Report, name: &str) -> Markup {
    let closed = report.verdict == Some(report::Verdict::Closed);
    html! {
        @if closed && asked.visitor.may_write {
            details {
                summary { "Go through all the same" }
                form data-entry method="post" action="/entry" {
                    (hidden(asked.path))
                    input type="hidden" name="line" value=(format!("gate {name}: {{reason}}"));
                    label { span { "The reason, which stays in the record" } input name="reason" autocomplete="off" required; }
                    button { "Pass it with this reason" }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_of_a_sort_are_folded_and_none_is_left_out() {
        let off = (1..=9)
            .map(|at| Finding::new("still-off", format!("part {at}"), "off").next("put it back"));
        let mut all: Vec<Finding> = off.collect();
        all.push(Finding::new("lost", "1 bolt", "lost"));
        let page = against(&all).into_string();
        assert_eq!(page.matches("<details").count(), 1, "{page}");
        assert_eq!(page.matches("put it back").count(), 1, "{page}");
        assert!(
            (1..=9).all(|at| page.contains(&format!("part {at}"))),
            "{page}"
        );
        let (before, lost) = page.split_once("</details>").expect("folded");
        assert!(
            lost.contains("1 bolt") && !before.contains("1 bolt"),
            "{page}"
        );
    }
}
