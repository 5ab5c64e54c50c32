//! The next test: what was seen, as words, into a question for the judge.

use judge::next_test::{Found, NextTest, Seen, judge};
use report::Report;

use crate::option::Options;

/// Names the test that parts what remains.
#[must_use]
pub fn next_test(seen: &[String], overheat_cause: Option<&str>, two_stroke: bool) -> Report {
    let mut options = Options::of("next-test");
    let mut found = Vec::new();
    for word in seen
        .iter()
        .flat_map(|text| text.split(','))
        .map(str::trim)
        .filter(|word| !word.is_empty())
    {
        match Seen::find(word) {
            Some(seen) if found.contains(&seen) => {}
            Some(seen) => found.push(seen),
            None => {
                let names: Vec<&str> = Seen::ALL.into_iter().map(Seen::key).collect();
                options.fault(
                    "--seen",
                    format!("{word:?} is no observation kept here"),
                    names.join(", "),
                );
            }
        }
    }
    if !options.clean() {
        return options.refusal("What remains, and the test that parts it");
    }
    judge(&NextTest {
        seen: found,
        overheat_cause: overheat_cause.map(|text| match text.trim().to_lowercase().as_str() {
            "not found" | "not-found" => Found::NotFound,
            _ => Found::Named(text.trim().to_owned()),
        }),
        two_stroke,
    })
}
