//! Photos on pages: a strip of them, and the form that takes one with the camera.

use job::{FileHash, Photo};
use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::hidden;

/// Whether the one who looks may see a picture: whoever works on the job sees all of them,
/// whoever was only shown the job those that are marked *show*.
#[must_use]
pub fn may_see(asked: &Asked<'_>, photo: &Photo) -> bool {
    asked.visitor.may_write || photo.show
}

/// Pictures side by side; a tap shows one as large as it goes.
#[must_use]
pub fn strip(asked: &Asked<'_>, photos: &[&Photo]) -> Markup {
    html! { div.strip { @for photo in photos { (small(asked, photo)) } } }
}

/// One picture, small, leading to the larger one; nothing where there is none to be seen.
#[must_use]
pub fn small(asked: &Asked<'_>, photo: &Photo) -> Markup {
    html! {
        @if let Some(file) = photo.file.as_ref().filter(|_| may_see(asked, photo)) {
            a.photo href=(large(file)) target="_blank" rel="noopener" {
                img src=(format!("/photo/{file}")) alt=(says(photo)) loading="lazy" width="240";
            }
        }
    }
}

fn large(file: &FileHash) -> String {
    format!("/photo/{file}?size=large")
}

/// What a picture shows, in words; the entry where nobody said it yet.
#[must_use]
pub fn says(photo: &Photo) -> String {
    let of = photo.of.as_ref().map(|of| match &photo.hole {
        Some(hole) => format!("{of}, hole {hole}"),
        None => of.clone(),
    });
    let of = of.or_else(|| photo.of_entry.map(|entry| format!("of entry {entry}")));
    match (of, &photo.note) {
        (Some(of), Some(note)) => format!("{of}: {note}"),
        (Some(said), None) => said,
        (None, Some(note)) => note.clone(),
        (None, None) => format!("photo of entry {}, without words yet", photo.entry),
    }
}

/// A picture from the camera or from the phone's own, with the words that go beside it.
#[must_use]
pub fn upload(asked: &Asked<'_>, words: &str, says: &str) -> Markup {
    html! {
        @if asked.visitor.may_write {
            form.upload data-entry data-says=(format!("photo {words}")) method="post" action="/photo" enctype="multipart/form-data" {
                (hidden(asked.path))
                label { span { (says) } input type="file" name="photo" accept="image/jpeg,image/png" capture="environment" required; }
                label { span { "Words beside it (may come later)" } input name="words" value=(words) autocomplete="off"; }
                button { "Keep the photo" }
            }
        }
    }
}
