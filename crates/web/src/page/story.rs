//! The story: the record day by day, with its photos.

use job::Photo;
use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, photos};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let record = asked.answer("record", |folder| app::lines::record(folder, None));
    let mut days: Vec<(&str, Vec<Line<'_>>)> = Vec::new();
    let all: Vec<Line<'_>> = lines(&record).collect();
    for line in all.into_iter().rev() {
        let day = line.text("when").unwrap_or_default();
        let day = day.split(' ').next().unwrap_or_default();
        match days.last_mut() {
            Some((last, held)) if *last == day => held.push(line),
            _ => days.push((day, vec![line])),
        }
    }
    Frame {
        title: "Story".to_owned(),
        place: "/story",
        body: html! {
            h1 { "The story, newest first" }
            @if days.is_empty() { p.headline { "Nothing has happened yet." } }
            @for (day, held) in &days {
                section.day {
                    h2 { (day) }
                    ol.entries { @for line in held { (entry(asked, line)) } }
                }
            }
        },
    }
}

fn entry(asked: &Asked<'_>, line: &Line<'_>) -> Markup {
    let number = line.text("entry").unwrap_or_default();
    let clock = line.text("when").unwrap_or_default();
    let clock = clock.split_once(' ').map_or(clock, |(_, clock)| clock);
    let shown = |photo: &&Photo| {
        photo.entry.to_string() == number
            || photo.of_entry.is_some_and(|of| of.to_string() == number)
    };
    html! {
        li #(format!("entry-{number}")) {
            span.clock { (clock) }
            div {
                @if let Some(now) = line.text("now") { s { (line.text("line").unwrap_or_default()) } " " small { (now) } }
                @else { (line.text("line").unwrap_or_default()) }
                small { " " (line.text("who").unwrap_or_default()) " · " (number) }
                @for photo in asked.folder.state.photos.iter().filter(shown) {
                    @if let Some(file) = &photo.file {
                        (photos::small(file, photo.note.as_deref().or(photo.of.as_deref()).unwrap_or("photo without words")))
                    }
                }
            }
        }
    }
}
