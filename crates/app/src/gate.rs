//! Whether a gate is open, and why not.

use planning::answer::{self, Job};
use report::{Finding, Report, Verdict, Weight};

use crate::folder::Folder;

/// The gates in which the crank is turned.
const TURNING: [&str; 3] = ["turn-by-hand", "spin", "fire"];

/// Judges a gate, or all of them when none is named.
#[must_use]
pub fn gate(folder: &Folder, name: Option<&str>) -> Report {
    match name {
        Some(name) => one(folder, name),
        None => {
            let names = judge::gate::names(&folder.state);
            let each: Vec<(String, Report)> = names
                .into_iter()
                .map(|name| {
                    let answer = one(folder, &name);
                    (name, answer)
                })
                .collect();
            judge::gate::overview(&each)
        }
    }
}

/// Judges one gate with all that is asked of it: the record, the book and what may turn.
pub(crate) fn one(folder: &Folder, name: &str) -> Report {
    let mut report = judge::gate::gate(&folder.state, folder.shop.as_ref(), name);
    let wanted = name.trim().to_lowercase().replace(' ', "-");
    if !report.refused && TURNING.contains(&wanted.as_str()) {
        may_not_turn(folder, &mut report);
    }
    report
}

/// Shafts that may not be turned now keep a gate shut in which the crank turns; no reason
/// passes it, because valves and pistons know no reasons.
fn may_not_turn(folder: &Folder, report: &mut Report) {
    let job = Job::of(&folder.state);
    let stuck = answer::stuck_cranks(&job);
    let known = report
        .findings
        .iter()
        .any(|finding| finding.code == "cam-drive-off");
    if stuck.is_empty() || known {
        return;
    }
    for shaft in stuck {
        report.findings.push(
            Finding::new(
                "may-not-turn",
                shaft.shaft.to_string(),
                format!("{} may not be turned now", shaft.shaft),
            )
            .points_to(shaft.why.join("; "))
            .next("`matchmark turn` says what is missing for each shaft")
            .weight(Weight::Stop),
        );
    }
    report.verdict = Some(Verdict::Closed);
    let shut = report
        .findings
        .iter()
        .filter(|finding| finding.weight == Weight::Stop)
        .count();
    report.headline = Some(match shut {
        1 => "One thing stands against it.".to_owned(),
        shut => format!("{shut} things stand against it."),
    });
}
