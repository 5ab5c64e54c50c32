//! Show it: where a thing is, its photos, its bolts, what was noted of it.

use job::{Named, Photo};
use maud::{Markup, html};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::{self, Frame, address, photos};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let what = asked.query.get("what").unwrap_or_default().to_owned();
    if what.is_empty() {
        return ask(asked);
    }
    let state = &asked.folder.state;
    let place = asked.answer(&format!("where {what}"), |folder| {
        app::whereis::whereis(folder, &what)
    });
    let names: Vec<String> = joints(asked, &what);
    let shown: Vec<&Photo> = state
        .photos
        .iter()
        .filter(|photo| photo.file.is_some() && photos::may_see(asked, photo))
        .filter(|photo| {
            photo.of.as_deref().is_some_and(|of| {
                job::same_name(of, &what) || names.iter().any(|name| job::same_name(of, name))
            })
        })
        .collect();
    let notes: Vec<&str> = state
        .notes
        .iter()
        .filter(|(_, of, _)| of.as_deref().is_some_and(|of| job::same_name(of, &what)))
        .map(|(_, _, says)| says.as_str())
        .collect();
    Frame {
        title: "Show it".to_owned(),
        place: "/vehicle",
        body: html! {
            h1 { (what) }
            (hypertext::headline(&place))
            (hypertext::findings(&place.findings))
            @if shown.is_empty() { p { "No photo of it." } } @else { (photos::strip(asked, &shown)) }
            @if !notes.is_empty() { section { h2 { "Noted" } ul { @for note in notes { li { (note) } } } } }
            @for name in &names { (sheet_of(asked, name)) }
            (photos::upload(asked, &format!("of {what}"), "A photo of it"))
            p { a href="/vehicle" { "Back to the act" } }
        },
    }
}

/// Nothing was named: which thing is wanted?
fn ask(asked: &Asked<'_>) -> Frame {
    Frame {
        title: "Show it".to_owned(),
        place: "/vehicle",
        body: html! {
            h1 { "Show what?" }
            form.way method="get" action="/show" {
                label {
                    span { "A part, a joint, a hose" }
                    input name="what" list="names" autocomplete="off" autocapitalize="off" spellcheck="false" required;
                }
                button { "Show it" }
                (page::names(asked))
            }
        },
    }
}

/// The joints a name means, or those of the part it means.
fn joints(asked: &Asked<'_>, what: &str) -> Vec<String> {
    let state = &asked.folder.state;
    let mut found = Vec::new();
    for named in state.names.all(what) {
        match named {
            Named::Joint(joint) => found.push(joint.to_string()),
            Named::Part(part) => {
                found.extend(
                    state
                        .known
                        .joints_of(part)
                        .map(|joint| joint.id.to_string()),
                );
            }
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => {}
        }
    }
    found
}

fn sheet_of(asked: &Asked<'_>, joint: &str) -> Markup {
    let sheet = super::tightening::sheet(asked, joint);
    html! {
        section {
            h2 { (sheet.title) }
            (hypertext::headline(&sheet))
            (hypertext::pictures(&sheet.pictures, joint))
            p { a href=(address("/tightening", &[("joint", joint)])) { "Its tightening" } }
        }
    }
}
