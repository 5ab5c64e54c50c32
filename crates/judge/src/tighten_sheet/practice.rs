//! The first pull with a torque wrench in a job: not on a bolt that matters.

use report::{Finding, Report, Weight};

use super::Sheet;

/// Words of a note or check that say the wrench was tried.
const TRIED: [&str; 4] = ["practice", "dry run", "tried", "trial pull"];

/// Asks for a pull on a bolt that does not matter, where this is the first figure of the
/// record and the joint is critical. A click wrench does not slip: whoever waits for that
/// twists the head off.
pub(super) fn first_pull(sheet: &Sheet<'_>, report: &mut Report) {
    let state = sheet.asked.state;
    if sheet.course.joint.critical.is_none() || sheet.course.next().is_none() {
        return;
    }
    let pulled = state
        .joints
        .values()
        .flat_map(|held| held.holes.values())
        .flat_map(|hole| &hole.tightened)
        .any(|done| done.figure.is_some() || done.wrench.is_some());
    let tells = |text: &str| {
        let text = text.to_lowercase().replace('-', " ");
        text.contains("wrench") && TRIED.iter().any(|word| text.contains(word))
    };
    let noted = state
        .notes
        .iter()
        .any(|(_, about, text)| tells(&format!("{} {text}", about.as_deref().unwrap_or_default())));
    let checked = state.checks.keys().any(|check| tells(check.as_str()));
    if pulled || noted || checked {
        return;
    }
    report.findings.push(
        Finding::new(
            "first-pull",
            sheet.course.label.clone(),
            "the first pull with a torque wrench in this record, and on a joint that matters",
        )
        .points_to("a click wrench gives a click and goes on pulling; it does not slip, and whoever waits for that twists the head off")
        .next("pull one bolt in a vice to a low figure first, stop at the click; then `note wrench: practice pull done`")
        .weight(Weight::Look),
    );
}
