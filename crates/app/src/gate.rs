//! Whether a gate is open, and why not.

use report::Report;

use crate::folder::Folder;

/// Judges a gate, or all of them when none is named.
#[must_use]
pub fn gate(folder: &Folder, name: Option<&str>) -> Report {
    match name {
        Some(name) => judge::gate::gate(&folder.state, folder.shop.as_ref(), name),
        None => judge::gate::gates(&folder.state, folder.shop.as_ref()),
    }
}
