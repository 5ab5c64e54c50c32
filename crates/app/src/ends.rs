//! The map of ends, loose ends with their candidates, and tags given out beforehand.

use planning::answer::Job;
use report::Report;

use crate::folder::Folder;

/// Every end with its port; or only the loose ones with where they could belong.
#[must_use]
pub fn ends(folder: &Folder, open: bool, now_micros: i64) -> Report {
    let job = Job::of(&folder.state);
    if open {
        let ages = planning::mixups::Ages {
            entries: &folder.entries,
            now: now_micros,
        };
        planning::mixups::open_ends(&job, &folder.state, &ages)
    } else {
        planning::mixups::ends(&job, &folder.state)
    }
}

/// Pair numbers for ends and bags for joints, worst mix-up first.
#[must_use]
pub fn tags(folder: &Folder) -> Report {
    planning::mixups::tags(&Job::of(&folder.state), &folder.state)
}
