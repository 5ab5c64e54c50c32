//! What the people have in hand, asked once for every page that shows it.

use std::sync::Arc;

use app::hand::{self, Asked as Question};
use report::Report;

use crate::asked::Asked;

/// How a page calls somebody who said no name.
pub const NOBODY: &str = "you";

/// Who looks, as the answer calls the person.
#[must_use]
pub fn me<'a>(asked: &'a Asked<'_>) -> &'a str {
    asked.visitor.who.as_deref().unwrap_or(NOBODY)
}

/// What is to be got at, from the address: `?for=head,cover`.
#[must_use]
pub fn targets(asked: &Asked<'_>) -> Vec<String> {
    let said = asked.query.get("for").unwrap_or_default();
    said.split(',')
        .map(|name| name.trim().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

/// The acts in hand and next, for the person who looks and everybody with something in hand.
#[must_use]
pub fn report(asked: &Asked<'_>, ahead: usize) -> Arc<Report> {
    let mut people = vec![me(asked).to_owned()];
    for held in &asked.hands {
        if !people.contains(&held.who) {
            people.push(held.who.clone());
        }
    }
    let holding: Vec<(String, String)> = asked
        .hands
        .iter()
        .map(|held| (held.who.clone(), held.what.clone()))
        .collect();
    let targets = targets(asked);
    let question = format!("hand {ahead} {people:?} {holding:?} {targets:?}");
    asked.answer(&question, |folder| {
        hand::hand(
            folder,
            &Question {
                targets,
                people,
                holding,
                ahead: Some(ahead),
                now_micros: asked.now_micros,
            },
        )
    })
}

/// What everybody has in hand, as the script compares it with what it hears.
#[must_use]
pub fn drawn(asked: &Asked<'_>) -> String {
    let hands = asked.hands.iter();
    let words: Vec<String> = hands
        .map(|held| format!("{}: {}", held.who, held.what))
        .collect();
    words.join("; ")
}
