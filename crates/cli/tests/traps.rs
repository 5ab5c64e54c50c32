//! The page of traps: all of them, each with tests that exist.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every function of the sources, tests among them.
fn functions(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            functions(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            let names = text.match_indices("fn ").map(|(at, _)| {
                let name = |letter: &char| letter.is_ascii_alphanumeric() || *letter == '_';
                text[at + 3..].chars().take_while(name).collect::<String>()
            });
            found.extend(names);
        }
    }
}

fn quoted(cell: &str) -> Vec<&str> {
    cell.split('`').skip(1).step_by(2).collect()
}

#[test]
fn every_trap_has_its_row_and_every_row_a_test_that_exists() {
    let page = std::fs::read_to_string(root().join("docs/traps.md")).unwrap();
    let rows: Vec<Vec<&str>> = page
        .lines()
        .filter(|line| line.starts_with("| trap "))
        .filter(|line| line[7..].starts_with(|first: char| first.is_ascii_digit()))
        .map(|line| line.trim_matches('|').split(" | ").map(str::trim).collect())
        .collect();
    let mut tests = BTreeSet::new();
    functions(&root().join("crates"), &mut tests);
    for (row, number) in rows.iter().zip(1..) {
        assert_eq!(
            (row.len(), row[0]),
            (4, format!("trap {number}").as_str()),
            "{row:?}"
        );
        let named = quoted(row[3]);
        assert!(!named.is_empty(), "trap {number} names no test");
        for test in named {
            assert!(
                tests.contains(test),
                "trap {number}: there is no test {test}"
            );
        }
    }
    assert_eq!(rows.len(), 65);
}
