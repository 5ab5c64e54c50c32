//! Gates: what must hold before an act that cannot be taken back.

use app::gate::gate;
use maud::{Markup, html};
use report::{Cell, Report};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::lines;
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
        h1 { "Gate" }
        (hypertext::write(&report, "gate"))
        (passing(asked, &report, name))
        p { a href="/gates" { "All gates" } }
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
