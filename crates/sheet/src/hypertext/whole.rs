//! A paper as one file of HTML that stands alone: style, typeface and photographs are in it,
//! and nothing is fetched from anywhere.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::verdict;
use crate::font::FACES;
use crate::paper::{Act, Block, Body, Margin, Paper, Photo, Pulls, Shown, Tick, with_boxes};
use crate::{drawing, style};

/// Writes a paper that flows. Labels and bolt cards are measured in millimetres and belong on
/// paper: for them there is nothing to write.
#[must_use]
pub fn whole(paper: &Paper) -> Option<String> {
    let Body::Pages(_, blocks) = &paper.body else {
        return None;
    };
    let headings = headings(blocks);
    let mut at = Counter::default();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (paper.title) }
                style { (PreEscaped(faces())) (PreEscaped(style::BASE)) (PreEscaped(style::WHOLE)) }
            }
            body {
                main {
                    header {
                        h1 { (paper.title) }
                        p.small { (paper.job) ", " (paper.day) }
                        @if let Some(warning) = &paper.warning { p.warning { (warning) } }
                    }
                    @if headings.len() > 1 {
                        nav aria-label="Chapters" {
                            ol { @for (id, text) in &headings { li { a href={"#" (id)} { (text) } } } }
                        }
                    }
                    @for block in blocks { (self::block(block, &mut at)) }
                }
            }
        }
    };
    Some(page.into_string())
}

/// Numbers for ids that must differ on one page.
#[derive(Debug, Default)]
struct Counter {
    headings: usize,
    drawings: usize,
}

/// The typeface inside the style: the two faces of words and the bold one of figures.
fn faces() -> String {
    FACES
        .iter()
        .filter(|face| face.family == "B612" || face.weight == 700)
        .map(|face| {
            format!(
                "@font-face{{font-family:\"{}\";font-weight:{};font-display:swap;\
                 src:url(data:font/otf;base64,{}) format(\"opentype\")}}\n",
                face.family,
                face.weight,
                STANDARD.encode(face.bytes)
            )
        })
        .collect()
}

/// The chapters with the ids they get, in the order in which [`block`] counts headings.
fn headings(blocks: &[Block]) -> Vec<(String, &str)> {
    (1..)
        .zip(all_headings(blocks))
        .filter(|(_, (level, _))| *level == 1)
        .map(|(number, (_, text))| (format!("c{number}"), text))
        .collect()
}

fn all_headings(blocks: &[Block]) -> Vec<(u8, &str)> {
    blocks
        .iter()
        .flat_map(|block| match block {
            Block::Heading(level, text) => vec![(*level, text.as_str())],
            Block::Chapter(text, within) => {
                let mut all = vec![(1, text.as_str())];
                all.extend(all_headings(within));
                all
            }
            Block::Beside(left, right) => [all_headings(left), all_headings(right)].concat(),
            _ => Vec::new(),
        })
        .collect()
}

fn block(block: &Block, at: &mut Counter) -> Markup {
    match block {
        Block::Heading(level, text) => heading(*level, text, at),
        Block::Chapter(text, within) => html! {
            (heading(1, text, at))
            @for one in within { (self::block(one, at)) }
        },
        Block::Words(text) => html! { p { (text) } },
        Block::Small(text) => html! { p.small { (text) } },
        Block::Outcome(Some(came), says) => {
            html! { p.headline { (verdict(*came)) " " span { (says) } } }
        }
        Block::Outcome(None, says) => html! { p.headline { (says) } },
        Block::Figures(figures) => shown(figures),
        Block::Rows(table) => super::table(table, "rows"),
        Block::TickRows(table) => super::table(&with_boxes(table), "rows"),
        Block::List(lines) => html! { ul { @for line in lines { li { (line) } } } },
        Block::Boxes(ticks) => boxes(ticks),
        Block::Acts(acts) => html! { ol.acts { @for one in acts { li { (act(one)) } } } },
        Block::Pulls(list) => pulls(list),
        Block::Drawing { picture, .. } => {
            at.drawings += 1;
            super::picture(picture, &format!("d{}", at.drawings))
        }
        Block::Photo(one) => photo(one),
        Block::Noticed(finding) => super::findings(std::slice::from_ref(finding)),
        Block::Care(caution) => super::cautions(std::slice::from_ref(caution)),
        Block::Margin(one) => margin(one),
        Block::Beside(left, right) => html! {
            div.beside {
                div { @for one in left { (self::block(one, at)) } }
                div { @for one in right { (self::block(one, at)) } }
            }
        },
        // The chapters stand before everything else, where the page begins.
        Block::Contents | Block::Write(..) | Block::NewPage => html! {},
    }
}

fn heading(level: u8, text: &str, at: &mut Counter) -> Markup {
    at.headings += 1;
    let id = format!("c{}", at.headings);
    match level {
        1 => html! { h2 id=(id) { (text) } },
        2 => html! { h3 id=(id) { (text) } },
        _ => html! { h4 id=(id) { (text) } },
    }
}

fn shown(figures: &[Shown]) -> Markup {
    html! {
        dl.figures {
            @for one in figures {
                div {
                    dt { (one.label) }
                    dd { b { (one.shown) } @if let Some(note) = &one.note { " " span { (note) } } }
                }
            }
        }
    }
}

fn boxes(ticks: &[Tick]) -> Markup {
    html! {
        ul.boxes {
            @for tick in ticks {
                li {
                    span aria-hidden="true" { @if tick.done { "☑ " } @else { "☐ " } }
                    (tick.says)
                    @if let Some(end) = &tick.end { " " b { (end) } }
                }
            }
        }
    }
}

fn act(act: &Act) -> Markup {
    html! {
        p { b { (act.number) } " " (act.says) @if let Some(place) = &act.place { " " small { (place) } } }
        @if !act.with.is_empty() { p.small { (act.with.join(", ")) } }
        @if let Some(why) = &act.why { p.small { (why) } }
        @if !act.figures.is_empty() { (shown(&act.figures)) }
        (super::findings(&act.noticed))
        (super::cautions(&act.cautions))
        @if !act.last_chance.is_empty() {
            (margin(&Margin { heading: "Last chance".to_owned(), lines: act.last_chance.clone() }))
        }
    }
}

fn pulls(pulls: &Pulls) -> Markup {
    html! {
        table.rows {
            thead { tr {
                th { "turn" } th { "hole" } th { "bolt" }
                @for stage in &pulls.stages { th { (stage.name) ", " (stage.setting) } }
            } }
            tbody {
                @for bolt in &pulls.bolts {
                    tr {
                        td { (bolt.number) } td { (bolt.hole) } td { (bolt.label) }
                        @for had in &bolt.had {
                            td { @match had { None => {} Some(true) => "done" Some(false) => "☐" } }
                        }
                    }
                }
            }
        }
    }
}

/// Lines in paint beside the text, or between it where the screen is narrow.
fn margin(margin: &Margin) -> Markup {
    html! {
        aside.margin {
            h4 { (margin.heading) }
            ul { @for line in &margin.lines { li { (line) } } }
        }
    }
}

/// A photograph with its numbered places, drawn over it so that they stay in place at any
/// size, and the words of each below.
fn photo(photo: &Photo) -> Markup {
    let kind = if photo.bytes.starts_with(b"\x89PNG") {
        "image/png"
    } else {
        "image/jpeg"
    };
    let source = format!("data:{kind};base64,{}", STANDARD.encode(&photo.bytes));
    html! {
        figure.photo {
            div.marked {
                img src=(source) alt=(photo.told) loading="lazy";
                (drawing::over(photo))
            }
            figcaption { (photo.caption) }
            @if !photo.marks.is_empty() {
                ol.small { @for mark in &photo.marks { li { (mark.says) } } }
            }
        }
    }
}
