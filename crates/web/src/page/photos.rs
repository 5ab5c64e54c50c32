//! Photos on pages: a strip of them, and the form that takes one with the camera.

use job::FileHash;
use maud::{Markup, html};

use crate::asked::Asked;
use crate::page::hidden;

/// Pictures side by side; a tap shows one as large as it goes.
#[must_use]
pub fn strip(files: &[&FileHash], of: &str) -> Markup {
    html! {
        div.strip {
            @for (at, file) in files.iter().enumerate() {
                (small(file, &format!("photo {} of {of}", at + 1)))
            }
        }
    }
}

/// One picture, small, leading to the larger one.
#[must_use]
pub fn small(file: &FileHash, says: &str) -> Markup {
    html! {
        a.photo href=(format!("/photo/{file}?size=large")) target="_blank" rel="noopener" {
            img src=(format!("/photo/{file}")) alt=(says) loading="lazy" width="240";
        }
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
