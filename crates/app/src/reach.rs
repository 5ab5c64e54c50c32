//! What must come off to get at something, and what else lies open meanwhile.

use book::Ref;
use job::State;
use planning::answer::{self, Job};
use report::{Finding, Report};

use crate::folder::Folder;

/// What must come off to get at these.
#[must_use]
pub fn reach(folder: &Folder, names: &[String]) -> Report {
    match targets(&folder.state, names) {
        Ok(targets) => answer::reach(&Job::of(&folder.state), &targets),
        Err(findings) => refused("reach", "To get at something", findings),
    }
}

/// What else lies open once these are got at.
#[must_use]
pub fn while_open(folder: &Folder, names: &[String]) -> Report {
    match targets(&folder.state, names) {
        Ok(targets) => answer::while_open(&Job::of(&folder.state), &targets),
        Err(findings) => refused("while-open", "While something lies open", findings),
    }
}

/// What typed names mean; every name that means nothing as a finding.
pub(crate) fn targets(state: &State, names: &[String]) -> Result<Vec<Ref>, Vec<Finding>> {
    let mut targets = Vec::new();
    let mut faults = Vec::new();
    for name in names {
        match state.known.resolve(name) {
            Ok(target) => targets.push(target),
            Err(near) => faults.push(unknown(name, &near)),
        }
    }
    if faults.is_empty() {
        Ok(targets)
    } else {
        Err(faults)
    }
}

fn unknown(name: &str, near: &[String]) -> Finding {
    let next = if near.is_empty() {
        "write the name as the book has it, a hole as joint.hole, a port as part.port".to_owned()
    } else {
        format!("write one of: {}", near.join(", "))
    };
    let says = format!("`{name}` names no one thing here");
    Finding::new("name-unknown", name, says).next(next)
}

/// A refusal with every fault.
pub(crate) fn refused(command: &'static str, title: &str, findings: Vec<Finding>) -> Report {
    let mut report = Report::new(command, title);
    report.findings = findings;
    report.refused = true;
    report.headline = Some("Not understood, nothing was worked out.".to_owned());
    report
}
