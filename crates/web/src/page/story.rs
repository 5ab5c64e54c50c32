//! The story: the record as a line of days, and one day of it with its photos. `?day=` names the
//! day, `?all` is the whole of it on one page, for reading through and for printing.

use job::Photo;
use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::cells::{Line, lines};
use crate::page::{Frame, address, photos};

/// One day and its entries, oldest first.
struct Day<'a> {
    day: &'a str,
    held: Vec<Line<'a>>,
}

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let record = asked.answer("record", |folder| app::lines::record(folder, None));
    let mut days: Vec<Day<'_>> = Vec::new();
    for line in lines(&record) {
        let day = line.text("when").unwrap_or_default();
        let day = day.split(' ').next().unwrap_or_default();
        match days.iter_mut().find(|held| held.day == day) {
            Some(held) => held.held.push(line),
            None => days.push(Day {
                day,
                held: vec![line],
            }),
        }
    }
    days.sort_by(|a, b| a.day.cmp(b.day));
    let whole = asked.query.given("all").is_some();
    let said = asked.query.get("day");
    let told: Vec<&Day<'_>> = match said {
        _ if whole => days.iter().collect(),
        Some(said) => days.iter().filter(|day| day.day == said).collect(),
        None => days.last().into_iter().collect(),
    };
    Frame {
        title: "Story".to_owned(),
        place: "/story",
        body: html! {
            h1 { "The story" }
            @if days.is_empty() { p.headline { "Nothing has happened yet." } }
            @else { (line_of_days(asked, &days, &told, whole)) }
            @if told.is_empty() && !days.is_empty() { p { "Nothing was written on that day." } }
            @for day in &told {
                section.day {
                    h2 { (day.day) }
                    ol.entries { @for line in &day.held { (entry(asked, line)) } }
                }
            }
            @if !days.is_empty() { p { small { "Times are UTC, as the record has them." } } }
        },
    }
}

/// The days as a line, each as long as it was busy, with its photos as dots.
fn line_of_days(asked: &Asked<'_>, days: &[Day<'_>], told: &[&Day<'_>], whole: bool) -> Markup {
    let most = days.iter().map(|day| day.held.len()).max().unwrap_or(1);
    html! {
        nav.days aria-label="Days" {
            @for day in days {
                @let here = !whole && told.iter().any(|told| told.day == day.day);
                @let pictures = day.held.iter().map(|line| of_entry(asked, line).count()).sum::<usize>();
                a href=(address("/story", &[("day", day.day)])) aria-current=[here.then_some("date")] {
                    span { (day.day) }
                    svg aria-hidden="true" viewBox="0 0 100 10" preserveAspectRatio="none" {
                        rect width=(100 * day.held.len() / most) height="10" {}
                    }
                    small { (day.held.len()) @if day.held.len() == 1 { " entry" } @else { " entries" }
                        @match pictures { 0 => {}, 1 => ", 1 photo", many => { ", " (many) " photos" } } }
                }
            }
        }
        @if !whole && days.len() > 1 { p { a href="/story?all=1" { "All of it on one page" } } }
    }
}

/// The photos that belong to an entry and that the one who looks may see.
fn of_entry<'a>(asked: &'a Asked<'_>, line: &Line<'_>) -> impl Iterator<Item = &'a Photo> {
    let number: Option<u64> = line.text("entry").and_then(|number| number.parse().ok());
    asked.folder.state.photos.iter().filter(move |photo| {
        let is_of =
            Some(photo.entry.0) == number || photo.of_entry.is_some_and(|of| Some(of.0) == number);
        is_of && photo.file.is_some() && photos::may_see(asked, photo)
    })
}

fn entry(asked: &Asked<'_>, line: &Line<'_>) -> Markup {
    let number = line.text("entry").unwrap_or_default();
    let clock = line.text("when").unwrap_or_default();
    let clock = clock.split_once(' ').map_or(clock, |(_, clock)| clock);
    html! {
        li #(format!("entry-{number}")) {
            span.clock { (clock) }
            div {
                @if let Some(now) = line.text("now") { s { (line.text("line").unwrap_or_default()) } " " small { (now) } }
                @else { (line.text("line").unwrap_or_default()) }
                small { " " (line.text("who").unwrap_or_default()) " · " (number) }
                @for photo in of_entry(asked, line) { (photos::small(asked, photo)) }
            }
        }
    }
}
