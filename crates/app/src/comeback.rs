//! What is about to be covered, and where a second look pays.

use book::Ref;
use planning::answer::{self, Job};
use report::{Finding, Report};

use crate::folder::Folder;
use crate::reach::{refused, targets};

/// What putting a part on would cover and nobody confirmed; without a name, for all that can
/// go on next.
#[must_use]
pub fn last_chance(folder: &Folder, name: Option<&str>) -> Report {
    const COMMAND: &str = "last-chance";
    const TITLE: &str = "Last chance";
    let job = Job::of(&folder.state);
    let Some(name) = name else {
        return answer::last_chance(&job, None);
    };
    match targets(&folder.state, &[name.to_owned()]).as_deref() {
        Ok([Ref::Part(part)]) => answer::last_chance(&job, Some(part)),
        Ok([other, ..]) => {
            let says = format!(
                "{other} is {}; only a part that goes back on covers something",
                other.noun()
            );
            let finding =
                Finding::new("not-a-part", name, says).next("name the part that goes on next");
            refused(COMMAND, TITLE, vec![finding])
        }
        Ok([]) => answer::last_chance(&job, None),
        Err(findings) => refused(COMMAND, TITLE, findings.to_vec()),
    }
}

/// What coming back for each thing costs, worst first; with `rates`, what an omission costs on
/// average; at most `first` rows.
#[must_use]
pub fn comeback(folder: &Folder, rates: bool, first: Option<usize>) -> Report {
    let mut report = answer::comeback(&Job::of(&folder.state), rates);
    if let Some(first) = first {
        report.rows.rows.truncate(first);
    }
    report
}
