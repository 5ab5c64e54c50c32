//! Conditions a set was taken under, and what they forbid: a reading is compared only with its
//! like.
//!
//! A shut throttle lowers every cylinder alike, so such a set is held against no limit. A cold
//! engine and a fresh build read lower than the warm, run-in engine a limit is made for.

use report::{Finding, Report, Weight};

use super::answer::Seen;
use super::rule::Standing;

/// A condition under which a set is not like the one a limit is made for. All of them:
/// *common practice, no source*.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// The throttle was shut.
    ThrottleShut,
    /// The engine was cold.
    Cold,
    /// Rings and bores have not bedded in yet.
    FreshBuild,
}

impl Condition {
    /// The condition plain words name; `None` for words about something else.
    #[must_use]
    pub fn find(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        let any = |words: &[&str]| words.iter().any(|word| text.contains(word));
        if any(&["throttle shut", "throttle closed"]) {
            Some(Self::ThrottleShut)
        } else if any(&["fresh build", "freshly built", "not run in", "new rings"]) {
            Some(Self::FreshBuild)
        } else if text.split_whitespace().any(|word| word == "cold") {
            Some(Self::Cold)
        } else {
            None
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::ThrottleShut => "throttle shut",
            Self::Cold => "cold",
            Self::FreshBuild => "fresh build",
        }
    }
}

/// Whether a set may be held against a limit at all.
pub(super) fn limit_holds(conditions: &[Condition]) -> bool {
    !conditions.contains(&Condition::ThrottleShut)
}

/// What the conditions of the set forbid.
pub(super) fn findings(seen: &Seen<'_>, report: &mut Report) {
    let conditions = &seen.asked.conditions;
    if !limit_holds(conditions) {
        report.findings.push(
            Finding::new(
                "throttle-shut",
                "all cylinders",
                "taken with the throttle shut, which lowers every reading alike; held against no limit",
            )
            .next("open the throttle and test again; compare this set only with another of its like"),
        );
        return;
    }
    let lower: Vec<&str> = conditions
        .iter()
        .filter(|condition| **condition != Condition::ThrottleShut)
        .map(|condition| condition.words())
        .collect();
    let by_level_alone =
        seen.cylinders(|mark| mark.by_level == Standing::Low && mark.by_spread == Standing::Sound);
    if !lower.is_empty() && !by_level_alone.is_empty() {
        report.findings.push(
            Finding::new(
                "unlike-conditions",
                crate::layout::named(&by_level_alone),
                format!(
                    "low by {} alone, on a set that is {}: such sets read lower",
                    seen.level.key,
                    lower.join(", ")
                ),
            )
            .next("repeat it warm and run in, throttle open, before anything comes off on this")
            .weight(Weight::Look),
        );
    }
}
