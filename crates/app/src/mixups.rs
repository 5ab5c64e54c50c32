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
        Err(fault) => Report::refusal("mixups", "Mix-ups", fault.asked()),
    }
}

/// Lists what could be exchanged with some things, each in full sentences.
#[must_use]
pub fn of(folder: &Folder, names: &[String], all: bool) -> Report {
    let any = |what: &Named| match what {
        Named::End(..) | Named::Line(_) => Some(0),
        Named::Part(_) => Some(1),
        Named::Joint(_) => Some(2),
        Named::Circuit(_) => None,
    };
    let things: Result<Vec<Named>, _> = names
        .iter()
        .map(|name| folder.state.names.one(name, any))
        .collect();
    match things {
        Ok(things) => {
            let job = Job::of(&folder.state);
            planning::mixups::mixups_of(&job, &folder.state, &things, all)
        }
        Err(fault) => Report::refusal("mixups", "Mix-ups", fault.asked()),
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
