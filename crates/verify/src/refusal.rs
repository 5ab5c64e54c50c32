//! One refusal, and the answer made of all of them.

use report::{Finding, Report, Verdict, Weight};

use crate::reason::Reason;

/// Why a plan may not be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The reason, with its stable name.
    pub reason: Reason,
    /// The step, from 0; none where the plan as a whole is refused.
    pub step: Option<usize>,
    /// What it is about: a part, a joint, a gate.
    pub concerns: String,
    /// What is wrong, one plain sentence.
    pub says: String,
}

/// The answer: every refusal as a finding that stops, or the word that the plan holds.
#[must_use]
pub fn report(refusals: &[Refusal]) -> Report {
    let mut report = Report::new("verify", "Plan against book");
    let headline = match refusals {
        [] => "The plan obeys the book.".to_owned(),
        [one] => format!("The plan is refused: {}", one.says),
        [first, rest @ ..] => format!(
            "The plan is refused for {} reasons; the first: {}",
            rest.len() + 1,
            first.says
        ),
    };
    report.verdict = Some(if refusals.is_empty() {
        Verdict::Within
    } else {
        Verdict::Outside
    });
    report.headline = Some(headline);
    report.findings = refusals.iter().map(finding).collect();
    report
}

fn finding(refusal: &Refusal) -> Finding {
    let says = match refusal.step {
        Some(step) => format!("Step {}: {}", step + 1, refusal.says),
        None => refusal.says.clone(),
    };
    Finding::new(refusal.reason.name(), refusal.concerns.clone(), says)
        .next("do not work from this plan; it contradicts the build book")
        .weight(Weight::Stop)
}
