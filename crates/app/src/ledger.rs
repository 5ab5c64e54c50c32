//! What is still off, missing, left over, lost or put in.

use report::Report;

use crate::folder::Folder;

/// Lists everything outstanding, the gravest first.
#[must_use]
pub fn outstanding(folder: &Folder) -> Report {
    job::outstanding::report(&folder.state)
}
