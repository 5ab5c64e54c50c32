//! Ends: the map, suspected pairs, tags, and where loose ends could belong.

use app::ends::{ends, tags};
use maud::{Markup, html};
use report::{Report, Table};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, address, key};

/// Suspected pairs that are shown at once, and tags that are given out at once; the rest is one
/// tap away.
const WORST: usize = 8;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let now = asked.now_micros;
    let day = now / 86_400_000_000;
    let map = asked.answer("ends", |folder| ends(folder, false, now));
    let open = asked.answer(&format!("ends, open, day {day}"), |folder| {
        ends(folder, true, now)
    });
    let pairs = asked.answer("mixups", |folder| app::mixups::mixups(folder, None, false));
    let given = asked.answer("tags", tags);
    Frame {
        title: "Ends".to_owned(),
        place: "/ends",
        body: html! {
            h1 { "Ends" }
            nav.jump aria-label="On this page" {
                a href="#pairs" { "Suspected pairs" }
                a href="#tags" { "Tags" }
                a href="#loose" { "Loose ends" }
            }
            (hypertext::pictures(&map.pictures, "map"))
            (suspected(&pairs))
            (to_tag(asked, &given))
            (loose(&open))
            details { summary { (map.title) ", line by line" } (without_pictures(&map)) }
        },
    }
}

/// What could be taken for something else, the worst first.
fn suspected(pairs: &Report) -> Markup {
    let open: Vec<Line<'_>> = lines(pairs)
        .filter(|line| line.text("secured").is_none())
        .collect();
    html! {
        section #pairs {
            h2 { (pairs.title) }
            (hypertext::headline(pairs))
            (hypertext::cautions(&pairs.cautions))
            ul.things { @for line in open.iter().take(WORST) { (pair(line)) } }
            @if open.len() > WORST {
                details {
                    summary { (open.len() - WORST) " more" }
                    ul.things { @for line in &open[WORST..] { (pair(line)) } }
                }
            }
            (hypertext::findings(&pairs.findings))
            details { summary { "All of them, with those made safe" } (hypertext::figures(&pairs.figures)) (hypertext::table(&pairs.rows, &pairs.title)) (hypertext::because(&pairs.because)) (hypertext::sources(&pairs.sources)) }
        }
    }
}

fn pair(line: &Line<'_>) -> Markup {
    html! {
        li {
            b { (line.text("a").unwrap_or_default()) " with " (line.text("with").unwrap_or_default()) }
            span { (line.text("grade").unwrap_or_default()) ": " (line.text("act").unwrap_or_default()) }
        }
    }
}

/// Tags in pairs that are not on yet; a tap says that one is. Bags stand in the list below.
fn to_tag(asked: &Asked<'_>, given: &Report) -> Markup {
    let is_tag = |line: &Line<'_>| {
        line.text("tagged") == Some("no")
            && line
                .text("number")
                .is_some_and(|number| number.parse::<u32>().is_ok())
    };
    let open: Vec<Line<'_>> = lines(given).filter(is_tag).collect();
    html! {
        section #tags {
            h2 { (given.title) }
            (hypertext::headline(given))
            ul.things { @for line in open.iter().take(WORST) { (tag(asked, line)) } }
            details { summary { "All tags and bags" } (hypertext::table(&given.rows, &given.title)) (hypertext::because(&given.because)) }
        }
    }
}

fn tag(asked: &Asked<'_>, line: &Line<'_>) -> Markup {
    let said = |name: &str| line.text(name).unwrap_or_default();
    let (number, on, and) = (said("number"), said("on"), said("and"));
    html! {
        li {
            b { (number) ": " (on) " and " (and) }
            span { "against " (said("against")) }
            (key(asked, &format!("{number} is on both"), &format!("tag {number}: {on} {and}")))
        }
    }
}

/// Ends that hang loose, each with where it belongs and where it could also sit.
fn loose(open: &Report) -> Markup {
    html! {
        section #loose {
            h2 { (open.title) }
            (hypertext::headline(open))
            (hypertext::cautions(&open.cautions))
            details open[open.rows.rows.len() <= WORST] {
                summary { (open.rows.rows.len()) " loose" }
                ul.things {
                    @for line in lines(open) {
                        @let end = line.text("end").unwrap_or_default();
                        li {
                            a href=(address("/show", &[("what", end)])) { (end) }
                            span {
                                "belongs on " (line.text("port").unwrap_or("?"))
                                @let others = line.list("candidates");
                                @if !others.is_empty() { "; could also sit on " (others.join(", ")) }
                                @else if let Some(others) = line.text("candidates") { "; could also sit on " (others) }
                            }
                            @if let Some(tag) = line.text("tag") { small { "tag " (tag) } }
                        }
                    }
                }
            }
            (hypertext::findings(&open.findings))
            (hypertext::asks(&open.asks))
        }
    }
}

/// The report under its own drawing, which leads the page.
fn without_pictures(map: &Report) -> Markup {
    let rows: &Table = &map.rows;
    html! {
        (hypertext::headline(map))
        (hypertext::figures(&map.figures))
        (hypertext::table(rows, &map.title))
        (hypertext::findings(&map.findings))
        (hypertext::because(&map.because))
        (hypertext::sources(&map.sources))
    }
}
