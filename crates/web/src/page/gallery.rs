//! All photos, newest first, and which of them others may see.

use job::Photo;
use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::{Frame, address, hidden, key, photos};

/// How many stand on a page: a phone fetches them over the workshop's Wi-Fi.
const SHOWN: usize = 24;

/// The page. `?before=N` goes on with those before entry N.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let before = asked.query.get("before").and_then(|at| at.parse().ok());
    let all = &asked.folder.state.photos;
    let seen: Vec<&Photo> = all
        .iter()
        .rev()
        .filter(|photo| photos::may_see(asked, photo))
        .filter(|photo| before.is_none_or(|before: u64| photo.entry.0 < before))
        .collect();
    let (seen, elsewhere): (Vec<&Photo>, Vec<&Photo>) =
        seen.into_iter().partition(|photo| photo.file.is_some());
    let older = seen.get(SHOWN - 1).filter(|_| seen.len() > SHOWN);
    Frame {
        title: "Photos".to_owned(),
        place: "/photos",
        body: html! {
            h1 { "Photos" }
            (counted(asked, all))
            ol.gallery { @for photo in seen.iter().take(SHOWN) { (one(asked, photo)) } }
            @if let Some(last) = older {
                p { a.go href=(address("/photos", &[("before", &last.entry.to_string())])) { "Older ones" } }
            }
            @if before.is_some() { p { a href="/photos" { "The newest" } } }
            (photos::upload(asked, "", "Another photo"))
            @if asked.visitor.may_write && !elsewhere.is_empty() { (not_here(&elsewhere)) }
        },
    }
}

fn counted(asked: &Asked<'_>, all: &[Photo]) -> Markup {
    let count = |is: fn(&Photo) -> bool| all.iter().filter(|photo| is(photo)).count();
    let (shown, wordless) = (count(|photo| photo.show), count(Photo::is_wordless));
    html! {
        @if asked.visitor.may_write {
            p.headline { (all.len()) " in the record; others may see " (shown) "." }
            @if wordless > 0 { p { a href="/evening" { (wordless) " without words" } } }
            p { "Only pictures that are marked here leave the house: into how-tos, papers for others and the link for looking.
                What leaves is a smaller one without place, time and camera." }
        } @else {
            p.headline { (shown) " for showing." }
        }
    }
}

/// Photos that the record speaks of by the camera's number, and whose bytes nobody brought.
fn not_here(photos: &[&Photo]) -> Markup {
    html! {
        details {
            summary { (photos.len()) " still in the camera" }
            ul.things {
                @for photo in photos {
                    li {
                        b { (photos::says(photo)) }
                        span { @if let Some(number) = &photo.photo { "camera number " (number) } @else { "without a number" } }
                        small { "entry " (photo.entry) }
                    }
                }
            }
        }
    }
}

fn one(asked: &Asked<'_>, photo: &Photo) -> Markup {
    html! {
        li id=(format!("photo-{}", photo.entry)) {
            (photos::small(asked, photo))
            div {
                p { b { (photos::says(photo)) } }
                p { small { "entry " (photo.entry) @if let Some(place) = &photo.place { ", " (place) } } }
                (shown(asked, photo))
            }
        }
    }
}

/// Whether others may see it, and the way to change that. Before it is shown, somebody says
/// what it was looked through for.
fn shown(asked: &Asked<'_>, photo: &Photo) -> Markup {
    let entry = photo.entry;
    html! {
        @if photo.show {
            p { "Others may see it" @if let Some(looked) = &photo.looked { ": " (looked) } "." }
            (key(asked, "keep it in the house", &format!("hide {entry}")))
        } @else if asked.visitor.may_write {
            details {
                summary { "Others may see it" }
                form data-entry method="post" action="/entry" {
                    (hidden(asked.path))
                    input type="hidden" name="line" value=(format!("show {entry}{{looked?: }}"));
                    label {
                        span { "Look it through: plate, faces, papers, house number. What did you see?" }
                        input name="looked" placeholder="no plate, no face" autocomplete="off" required;
                    }
                    button { "Show it" }
                }
            }
        }
    }
}
