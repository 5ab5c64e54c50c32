//! A report as a fragment of HTML, for a page of the bench server or a file of its own.
//!
//! The fragment brings words, tables and drawings; colours and type come from
//! [`crate::style`]. Nothing needs a script. It computes nothing: what it shows is what the
//! terminal shows.

mod rows;
mod sign;
mod whole;
#[cfg(test)]
mod tests;

use maud::{Markup, PreEscaped, html};
use report::{Ask, Caution, Figure, Finding, Picture, Report, Source, Verdict, Weight};

pub use rows::{cell, table};
pub use sign::sign;
pub use whole::whole;

/// Writes a whole report. `prefix` is put before the ids of its drawings, so that several
/// reports can stand on one page.
#[must_use]
pub fn write(report: &Report, prefix: &str) -> Markup {
    html! {
        section.report {
            @if !report.title.is_empty() { h2 { (report.title) } }
            (headline(report))
            (cautions(&report.cautions))
            (pictures(&report.pictures, prefix))
            (text(report.text.as_deref()))
            (figures(&report.figures))
            (table(&report.rows, &report.title))
            (findings(&report.findings))
            (asks(&report.asks))
            (because(&report.because))
            (sources(&report.sources))
        }
    }
}

/// The answer in one sentence, with the sign of its verdict before it.
#[must_use]
pub fn headline(report: &Report) -> Markup {
    match (report.verdict, &report.headline) {
        (Some(verdict), says) => html! {
            p.headline { (self::verdict(verdict)) @if let Some(says) = says { " " span { (says) } } }
        },
        (None, Some(says)) => html! { p.headline { (says) } },
        (None, None) => html! {},
    }
}

/// A verdict: its sign and its word.
#[must_use]
pub fn verdict(verdict: Verdict) -> Markup {
    html! { span.verdict data-verdict=(verdict.word()) { (sign(verdict)) b { (verdict.word()) } } }
}

/// Figures, each with its label and the line beside it.
#[must_use]
pub fn figures(figures: &[Figure]) -> Markup {
    html! {
        @if !figures.is_empty() {
            dl.figures {
                @for figure in figures {
                    div {
                        dt { (figure.label) }
                        dd { b { (figure.shown) } @if let Some(note) = &figure.note { " " span { (note) } } }
                    }
                }
            }
        }
    }
}

/// What was noticed, what it points to and what to do next.
#[must_use]
pub fn findings(findings: &[Finding]) -> Markup {
    html! {
        @if !findings.is_empty() {
            ul.findings { @for one in findings { (finding(one)) } }
        }
    }
}

fn finding(finding: &Finding) -> Markup {
    let (class, mark, said) = match finding.weight {
        Weight::Stop => ("stop", "//", "stop: "),
        Weight::Look => ("look", ">", "look: "),
        Weight::Note => ("note", "–", ""),
    };
    let named = finding
        .says
        .to_lowercase()
        .starts_with(&finding.concerns.to_lowercase());
    html! {
        li class=(class) {
            span.mark aria-hidden="true" { (mark) }
            @if !said.is_empty() { span.unseen { (said) } }
            div {
                @if let Some(written) = &finding.written {
                    (lines(written, "where it stands in the text"))
                } @else {
                    p { @if !named { b { (finding.concerns) } ": " } (finding.says) }
                    @if !finding.detail.is_empty() { (lines(&finding.detail.join("\n"), "more about it")) }
                    @if let Some(what) = &finding.points_to { p.points { span { "points to" } " " (what) } }
                    @if let Some(act) = &finding.next { p.next { span { "next" } " " (act) } }
                }
            }
        }
    }
}

/// What is missing, why it is asked now, and how to answer.
#[must_use]
pub fn asks(asks: &[Ask]) -> Markup {
    html! {
        @if !asks.is_empty() {
            section.asks {
                h3 { "Still to know" }
                ul { @for ask in asks { li { b { (ask.what) } p { (ask.why) } p.next { span { "how" } " " (ask.how) } } } }
            }
        }
    }
}

/// Care to take, each at its act.
#[must_use]
pub fn cautions(cautions: &[Caution]) -> Markup {
    html! {
        @if !cautions.is_empty() {
            section.cautions {
                h3 { "Take care" }
                ul { @for caution in cautions { li { b { (caution.act) } ": " (caution.says) } } }
            }
        }
    }
}

/// The rules that decided.
#[must_use]
pub fn because(rules: &[String]) -> Markup {
    html! {
        @if !rules.is_empty() {
            section.because { h3 { "Because" } ul { @for rule in rules { li { (rule) } } } }
        }
    }
}

/// Where the numbers come from, each with its kind.
#[must_use]
pub fn sources(sources: &[Source]) -> Markup {
    html! {
        @if !sources.is_empty() {
            section.sources {
                h3 { "Sources" }
                ul { @for source in sources { li { (source.title) " (" (source.kind.word()) ")" } } }
            }
        }
    }
}

/// All drawings of a report, one figure each.
#[must_use]
pub fn pictures(pictures: &[Picture], prefix: &str) -> Markup {
    html! {
        @for (at, one) in pictures.iter().enumerate() {
            (picture(one, &format!("{prefix}-{}", at + 1)))
        }
    }
}

/// One drawing in the page, its ids behind a prefix of their own. A wide one can be moved
/// sideways, with the finger or the arrow keys.
#[must_use]
pub fn picture(picture: &Picture, prefix: &str) -> Markup {
    let drawn = crate::drawing::upright(picture)
        .replace(" id=\"", &format!(" id=\"{prefix}-"))
        .replace("url(#", &format!("url(#{prefix}-"));
    html! {
        figure.drawing tabindex="0" role="group" aria-label=(title(picture)) { (PreEscaped(drawn)) }
    }
}

fn title(picture: &Picture) -> &str {
    match picture {
        Picture::Holes(holes) => &holes.title,
        Picture::Bars(bars) => &bars.title,
        Picture::Contour(contour) => &contour.title,
        Picture::Days(days) => &days.title,
        Picture::Net(net) => &net.title,
        Picture::Board(board) => &board.title,
        Picture::Bay(bay) => &bay.title,
    }
}

/// Text that is itself the answer, with its own line ends.
#[must_use]
pub fn text(text: Option<&str>) -> Markup {
    html! { @if let Some(text) = text { (lines(text, "the answer as text")) } }
}

/// Lines whose places matter: a caret may point into the line above it.
fn lines(text: &str, label: &str) -> Markup {
    html! { pre tabindex="0" role="group" aria-label=(label) { (text.trim_end()) } }
}
