//! Rule `heading`: every Rust file starts with `//!`, saying what it holds and what it leaves to others.

use crate::fault::Fault;
use crate::tree::Tree;

/// Looks at the first line of every Rust file.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    tree.rust()
        .filter(|(_, text)| {
            let first = text.lines().next().unwrap_or_default();
            first
                .strip_prefix("//! ")
                .is_none_or(|words| words.trim().is_empty())
        })
        .map(|(path, _)| {
            Fault::tidy(
                "heading",
                path,
                1,
                "does not start with a `//!` header",
                "say in a sentence what the file holds",
            )
        })
        .collect()
}
