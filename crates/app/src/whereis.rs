//! Where a thing is, which fasteners are loose, and maps turned end for end.

use report::Report;

use crate::folder::Folder;

/// Where one thing is.
#[must_use]
pub fn whereis(folder: &Folder, name: &str) -> Report {
    planning::whereis::whereis(&folder.state, &folder.entries, name)
}

/// Loose fasteners and empty holes, each with what could belong together.
#[must_use]
pub fn loose(folder: &Folder) -> Report {
    planning::loose::loose(&folder.state)
}

/// A map of one bank turned end for end, with how many were counted on the bench.
#[must_use]
pub fn turned(rows: &[String], counted: Option<u32>) -> Report {
    planning::end_for_end::turned(rows, counted)
}
