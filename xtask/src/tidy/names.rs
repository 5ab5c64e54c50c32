//! Rule `name`: a file or folder bears a noun of the trade, not the name of a drawer.

use crate::fault::Fault;
use crate::tree::Tree;

/// Words that say nothing about what a file holds. Also refused as one word of a longer name (`torque_util.rs`).
const DRAWERS: &[&str] = &[
    "common",
    "helper",
    "helpers",
    "manager",
    "misc",
    "util",
    "utils",
    "utilities",
];

/// Looks at every part of the path of every Rust file and manifest.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for file in tree.files() {
        if !(file.path.ends_with(".rs") || file.path.ends_with("Cargo.toml")) {
            continue;
        }
        let drawer = file
            .path
            .split(['/', '.', '_', '-'])
            .find(|word| DRAWERS.contains(word));
        if let Some(drawer) = drawer {
            found.push(Fault::tidy(
                "name",
                &file.path,
                1,
                format!("`{drawer}` says nothing about what is inside"),
                "name it by the noun it holds, or put its parts where they are used",
            ));
        }
    }
    found
}
