//! Who is at this phone: the name under which entries are written.

use maud::{Markup, html};

use crate::asked::Asked;
use crate::bench::Bench;
use crate::page::{self, Frame};

/// Asks for the name.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let people = people(asked.bench);
    Frame {
        title: "Who are you?".to_owned(),
        place: "/who",
        body: html! {
            h1 { "Who are you?" }
            @if asked.visitor.may_write {
                @if let Some(who) = &asked.visitor.who { p { "This phone writes as " b { (who) } "." } }
                (names(&people))
            } @else {
                p { "This phone was let in for looking only, and needs no name." }
            }
        },
    }
}

/// The page of a phone that was just let in.
#[must_use]
pub fn let_in(may_write: bool, people: &[String]) -> Markup {
    page::apart(
        "You are in",
        &html! {
            h1 { "You are in" }
            @if may_write {
                p { "Every entry bears a name. Who are you?" }
                (names(people))
            } @else {
                p { "You may look at everything. Nothing can be changed from here." }
                p { a href="/" { "To the pages" } }
            }
        },
    )
}

/// Everybody the workshop file names and everybody who wrote already.
#[must_use]
pub fn people(bench: &Bench) -> Vec<String> {
    let Some(folder) = bench.folder() else {
        return Vec::new();
    };
    let shop = folder.shop.iter().flat_map(|shop| &shop.people);
    let mut people: Vec<String> = shop.map(|person| person.id.to_string()).collect();
    for entry in &folder.entries {
        if !people
            .iter()
            .any(|known| job::same_name(known, &entry.author))
        {
            people.push(entry.author.clone());
        }
    }
    people
}

fn names(people: &[String]) -> Markup {
    html! {
        form.names method="post" action="/who" {
            @for name in people { button name="name" value=(name) { (name) } }
        }
        form.names method="post" action="/who" {
            label {
                span { "Another name" }
                input name="name" maxlength="60" autocomplete="given-name" required;
            }
            button { "That is me" }
        }
    }
}
