//! Rule `origin`: every locked dependency comes from crates.io, with its checksum.
//!
//! A lock file written behind a mirror, or with a crate from somebody's branch, builds on one machine only.

use crate::fault::Fault;
use crate::tree::Tree;

const LOCK: &str = "Cargo.lock";
const CRATES_IO: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Reads the lines `source = "…"` of the lock file.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let text = tree.text(LOCK).unwrap_or_default();
    text.lines()
        .zip(1..)
        .filter_map(|(line, number)| {
            let source = line.strip_prefix("source = ")?.trim_matches('"');
            (source != CRATES_IO).then(|| {
                Fault::tidy(
                    "origin",
                    LOCK,
                    number,
                    format!("a package comes from `{source}`"),
                    "depend on a release from crates.io and lock again",
                )
            })
        })
        .collect()
}
