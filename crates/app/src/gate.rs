//! Whether a gate is open, and why not.

use job::JointState;
use planning::answer::{self, Job};
use quantity::Duration;
use report::{Finding, Report, Verdict, Weight};

use crate::folder::Folder;

/// The gates in which the crank is turned.
const TURNING: [&str; 3] = ["turn-by-hand", "spin", "fire"];

/// The gates behind which oil or fuel presses on what was sealed.
const PRESSING: [&str; 3] = ["spin", "fire", "drive"];

/// Judges a gate, or all of them when none is named. `now_micros` is the moment of asking, in
/// microseconds since 1970-01-01T00:00Z: sealant cures by the clock.
#[must_use]
pub fn gate(folder: &Folder, name: Option<&str>, now_micros: i64) -> Report {
    match name {
        Some(name) => one(folder, name, now_micros),
        None => {
            let names = judge::gate::names(&folder.state);
            let each: Vec<(String, Report)> = names
                .into_iter()
                .map(|name| {
                    let answer = one(folder, &name, now_micros);
                    (name, answer)
                })
                .collect();
            judge::gate::overview(&each)
        }
    }
}

/// Judges one gate with all that is asked of it: the record, the book, what may turn and what
/// has cured.
pub(crate) fn one(folder: &Folder, name: &str, now_micros: i64) -> Report {
    let mut report = judge::gate::gate(&folder.state, folder.shop.as_ref(), name);
    let wanted = name.trim().to_lowercase().replace(' ', "-");
    if !report.refused && TURNING.contains(&wanted.as_str()) {
        may_not_turn(folder, &mut report);
    }
    if !report.refused && PRESSING.contains(&wanted.as_str()) {
        not_cured(folder, now_micros, &mut report);
    }
    report
}

/// A sealed joint that has not cured keeps a gate shut behind which there is pressure.
fn not_cured(folder: &Folder, now_micros: i64, report: &mut Report) {
    let mut wet = Vec::new();
    for (id, held) in &folder.state.joints {
        let joint = folder.state.known.joint(id);
        let sealant = joint.and_then(|joint| joint.sealant.as_ref());
        let Some(cures) = sealant.and_then(|sealant| sealant.cures.known()) else {
            continue;
        };
        let Some(waited) = closed_for(folder, held, now_micros) else {
            continue;
        };
        let left = cures.high.in_minutes() - waited.in_minutes();
        if left > 0.0 {
            let name = joint.and_then(|joint| joint.label.clone());
            let name = name.unwrap_or_else(|| id.to_string());
            wet.push(
                Finding::new(
                    "sealant-not-cured",
                    id.to_string(),
                    format!("{name} was sealed and cures {} more", lasting(left)),
                )
                .points_to("oil or fuel under pressure pushes fresh sealant out of the joint")
                .next("wait; the tin says how long at this temperature")
                .weight(Weight::Stop),
            );
        }
    }
    if !wet.is_empty() {
        report.findings.extend(wet);
        shut(report);
    }
}

/// How long a joint that was open in this job has been closed again.
fn closed_for(folder: &Folder, held: &JointState, now_micros: i64) -> Option<Duration> {
    if held.open || !held.was_open {
        return None;
    }
    let entries = folder.entries.iter();
    let closed = entries.rev().find(|entry| entry.id == held.since)?;
    // Clocks of two people may differ by a little: what lies ahead counts as this moment.
    let micros = now_micros.saturating_sub(closed.at).max(0);
    Duration::seconds(micros as f64 / 1e6).ok()
}

/// Minutes in words, rounded up.
fn lasting(minutes: f64) -> String {
    if minutes < 90.0 {
        return format!("{:.0} min", minutes.ceil());
    }
    format!("{:.0} h", (minutes / 60.0).ceil())
}

/// The gate is shut, and the headline counts what stands against it.
fn shut(report: &mut Report) {
    report.verdict = Some(Verdict::Closed);
    let against = report
        .findings
        .iter()
        .filter(|finding| finding.weight == Weight::Stop)
        .count();
    report.headline = Some(match against {
        1 => "One thing stands against it.".to_owned(),
        against => format!("{against} things stand against it."),
    });
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
    shut(report);
}
