//! Mix-ups of the job: option text into a question for planning.

use book::PartId;
use job::Named;
use planning::answer::Job;
use report::Report;

use crate::folder::Folder;

/// Lists what could go back wrong, worst first.
#[must_use]
pub fn mixups(folder: &Folder, before: Option<&str>, all: bool) -> Report {
    let job = Job::of(&folder.state);
    match before.map(|name| part(folder, name)).transpose() {
        Ok(before) => planning::mixups::mixups(&job, &folder.state, before.as_ref(), all),
        Err(fault) => Report::refusal("mixups", "Mix-ups", fault.finding()),
    }
}

/// The part a person means.
fn part(folder: &Folder, name: &str) -> Result<PartId, job::NameFault> {
    let only_parts = |what: &Named| matches!(what, Named::Part(_)).then_some(0);
    match folder.state.names.one(name, only_parts)? {
        Named::Part(part) => Ok(part),
        _ => Ok(PartId::from(name)),
    }
}
