//! The evening list: photos that nothing says a word about yet.

use maud::html;

use crate::asked::Asked;
use crate::page::{Frame, hidden, photos};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let wordless: Vec<&job::Photo> = asked
        .folder
        .state
        .photos
        .iter()
        .filter(|photo| photo.is_wordless())
        .collect();
    Frame {
        title: "The evening list".to_owned(),
        place: "/apart",
        body: html! {
            h1 { "Photos without words" }
            @if wordless.is_empty() { p.headline { "Every photo says what it shows." } }
            ol.evening {
                @for photo in wordless {
                    li {
                        @match &photo.file {
                            Some(_) => (photos::small(asked, photo)),
                            None => p { "The picture itself is not with the job: "
                                (photo.photo.as_deref().unwrap_or("no number")) },
                        }
                        div {
                            p { "entry " (photo.entry) @if let Some(place) = &photo.place { ", " (place) } }
                            @if asked.visitor.may_write {
                                form data-entry method="post" action="/entry" {
                                    (hidden(asked.path))
                                    input type="hidden" name="line" value=(format!("caption {}{{of? of }}: {{words}}", photo.entry));
                                    label { span { "What it shows, by name (may stay empty)" } input name="of" autocomplete="off" autocapitalize="off"; }
                                    label { span { "Words" } input name="words" autocomplete="off" required; }
                                    button { "Say it" }
                                }
                            }
                        }
                    }
                }
            }
            p { a href="/apart" { "Back to taking apart" } }
        },
    }
}
