//! The first pull with a torque wrench in a job: not on a bolt that matters.

use report::{Finding, Report, Weight};

use super::Sheet;

/// Words of a note or check that say the wrench was tried.
const TRIED: [&str; 4] = ["practice", "dry run", "tried", "trial pull"];

/// A practice pull: offered before the first bolt, and asked for where this is the first figure
/// of the record and the joint is critical. Never forced.
///
/// A click wrench does not slip: whoever waits for that twists the head off.
pub(super) fn offer(sheet: &Sheet<'_>, report: &mut Report) {
    let course = sheet.course;
    if course.next().is_none() || course.is_begun() || is_done(sheet) {
        return;
    }
    if course.joint.critical.is_some() && is_first(sheet) {
        report.findings.push(
            Finding::new(
                "first-pull",
                course.label.clone(),
                "the first pull with a torque wrench in this record, and on a joint that matters",
            )
            .points_to("a click wrench gives a click and goes on pulling; it does not slip, and whoever waits for that twists the head off")
            .next("pull one bolt in a vice to a low figure first, stop at the click; then `note wrench: practice pull done`")
            .weight(Weight::Look),
        );
    } else if report.findings.iter().all(|it| it.weight != Weight::Stop) {
        report.findings.push(
            Finding::new(
                "practice-pull",
                "",
                "new to this wrench? One pull on a scrap bolt in the vice shows its click",
            )
            .weight(Weight::Note),
        );
    }
}

/// Whether nobody has pulled a torque wrench in this record yet.
fn is_first(sheet: &Sheet<'_>) -> bool {
    !sheet
        .asked
        .state
        .joints
        .values()
        .flat_map(|held| held.holes.values())
        .flat_map(|hole| &hole.tightened)
        .any(|done| done.figure.is_some() || done.wrench.is_some())
}

/// Whether a note or a check says that the wrench was tried.
fn is_done(sheet: &Sheet<'_>) -> bool {
    let state = sheet.asked.state;
    let tells = |text: &str| {
        let text = text.to_lowercase().replace('-', " ");
        text.contains("wrench") && TRIED.iter().any(|word| text.contains(word))
    };
    let noted = state
        .notes
        .iter()
        .any(|(_, about, text)| tells(&format!("{} {text}", about.as_deref().unwrap_or_default())));
    noted || state.checks.keys().any(|check| tells(check.as_str()))
}
