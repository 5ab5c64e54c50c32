//! What the people have in hand, asked once for every page that shows it.

use std::sync::Arc;

use app::hand::{self, Asked as Question};
use report::{Finding, Report};

use crate::asked::Asked;
use crate::hands::InHand;

/// How a page calls somebody who said no name.
pub const NOBODY: &str = "you";

/// Who looks, as the answer calls the person.
#[must_use]
pub fn me<'a>(asked: &'a Asked<'_>) -> &'a str {
    asked.visitor.who.as_deref().unwrap_or(NOBODY)
}

/// What is to be got at, as it was said: in the address (`?for=head,cover`), else when the person
/// who looks took the act in hand.
#[must_use]
pub fn wanted<'a>(asked: &'a Asked<'_>) -> &'a str {
    match asked.query.given("for") {
        Some(said) => said,
        None => own(asked).map_or("", |held| held.wanted.as_str()),
    }
}

/// What is to be got at, thing by thing.
#[must_use]
pub fn targets(asked: &Asked<'_>) -> Vec<String> {
    let said = wanted(asked).split(',');
    said.map(|name| name.trim().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

/// What the person who looks took in hand.
#[must_use]
pub fn own<'a>(asked: &'a Asked<'_>) -> Option<&'a InHand> {
    let me = asked.visitor.who.as_deref()?;
    asked.hands.iter().find(|held| held.who == me)
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
    let report = asked.answer(&question, |folder| {
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
    });
    lay_down_what_is_done(asked, &report);
    report
}

/// What the person who looks had in hand and is no act any more is laid down for her, so that
/// the others are not told of it.
fn lay_down_what_is_done(asked: &Asked<'_>, report: &Report) {
    let Some(held) = own(asked).filter(|held| held.wanted == wanted(asked)) else {
        return;
    };
    let is_done = |finding: &Finding| finding.code == "not-left" && finding.concerns == held.who;
    if report.findings.iter().any(is_done) {
        asked.bench.hands.lay_down(&held.who, Some(&held.what));
    }
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
