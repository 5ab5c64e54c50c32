//! Rule `pure`: the middle of the house reads no file, clock or environment, and starts nothing.
//!
//! Time, names and bytes arrive as values; so the same input gives the same answer everywhere. Clippy bans single
//! methods; this bans the modules, crate by crate.

use crate::fault::Fault;
use crate::tree::{Tree, crate_of, lines_outside_tests};

const PURE: &[&str] = &[
    "quantity", "calc", "book", "report", "job", "planning", "verify", "judge", "sheet", "files",
    "wire", "press",
];

const OUTSIDE: &[(&str, &str)] = &[
    ("std::fs", "files"),
    ("std::env", "the environment"),
    ("std::net", "the network"),
    ("std::process", "other programs"),
    ("std::time::SystemTime", "the clock"),
    ("SystemTime::now", "the clock"),
    ("Instant::now", "the clock"),
    ("Zoned::now", "the clock"),
    ("Timestamp::now", "the clock"),
];

/// Finds the outside world in the code of the pure crates, tests apart.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for (path, text) in tree.rust() {
        let Some(name) = crate_of(path).filter(|name| PURE.contains(name)) else {
            continue;
        };
        for (number, line) in lines_outside_tests(path, text) {
            if line.trim_start().starts_with("//") {
                continue;
            }
            if let Some((_, what)) = OUTSIDE.iter().find(|(path, _)| line.contains(path)) {
                found.push(Fault::tidy(
                    "pure",
                    path,
                    number,
                    format!("`{name}` reaches for {what}"),
                    "take it as a value; app, cli, web or record fetch it",
                ));
            }
        }
    }
    found
}
