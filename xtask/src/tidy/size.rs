//! Rule `size`: no Rust file holds more than 800 lines that are not tests.

use crate::fault::Fault;
use crate::tree::{Tree, lines_outside_tests};

const LIMIT: usize = 800;

/// Files that are one long table, with the reason; an entry that is no longer needed is a fault.
const TABLES: &[(&str, &str)] = &[];

/// Counts lines outside tests.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    judge(tree, TABLES)
}

/// The same with a given list of tables.
pub(super) fn judge(tree: &Tree, tables: &[(&str, &str)]) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut needed = Vec::new();
    for (path, text) in tree.rust() {
        let lines = lines_outside_tests(path, text).len();
        if lines <= LIMIT {
            continue;
        }
        match tables.iter().find(|(table, _)| *table == path) {
            Some((table, _)) => needed.push(*table),
            None => found.push(Fault::tidy(
                "size",
                path,
                LIMIT + 1,
                format!("{lines} lines outside tests, more than {LIMIT}"),
                "split it at a noun; a table is named in xtask/src/tidy/size.rs with a reason",
            )),
        }
    }
    for (table, reason) in tables {
        if !needed.contains(table) {
            found.push(Fault::tidy(
                "size",
                table,
                1,
                format!("is let off (“{reason}”) and need not be"),
                "take it off the list in xtask/src/tidy/size.rs",
            ));
        }
    }
    found
}
