//! May it be turned now?

use planning::answer::{self, Job};
use report::Report;

use crate::folder::Folder;

/// What may be turned now. `parked` says that somebody looked and the crank stands where the
/// book parks it.
#[must_use]
pub fn turn(folder: &Folder, parked: bool) -> Report {
    let job = Job::of(&folder.state);
    answer::turn(&if parked { job.parked() } else { job })
}
