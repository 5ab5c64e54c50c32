//! Rule `code`: every fault of the build book has a page, and every page a fault.
//!
//! Codes are the words `"book/…"` in `crates/book/src/codes`; the page of `book/unknown-part` is
//! `docs/faults/unknown-part.md`. Without the one folder or the other there is nothing to compare.

use std::collections::BTreeMap;

use crate::fault::Fault;
use crate::tree::{Tree, lines_outside_tests};

const CODES: &str = "crates/book/src/codes";
const PAGES: &str = "docs/faults/";

/// Compares codes and pages both ways.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let codes = codes(tree);
    let pages: Vec<&str> = tree
        .files()
        .filter_map(|file| file.path.strip_prefix(PAGES)?.strip_suffix(".md"))
        .filter(|page| *page != "README")
        .collect();
    if codes.is_empty() || pages.is_empty() {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (code, (path, line)) in &codes {
        if !pages.contains(code) {
            found.push(Fault::tidy(
                "code",
                path,
                *line,
                format!("`book/{code}` has no page"),
                format!("write {PAGES}{code}.md"),
            ));
        }
    }
    for page in pages {
        if !codes.contains_key(page) {
            found.push(Fault::tidy(
                "code",
                &format!("{PAGES}{page}.md"),
                1,
                format!("there is no fault `book/{page}`"),
                "take the page out, or mend its name",
            ));
        }
    }
    found
}

/// Each code with the place it is first written.
fn codes(tree: &Tree) -> BTreeMap<&str, (&str, usize)> {
    let mut found = BTreeMap::new();
    let here = |path: &str| {
        path.strip_prefix(CODES)
            .is_some_and(|rest| rest == ".rs" || rest.starts_with('/'))
    };
    for (path, text) in tree.rust().filter(|(path, _)| here(path)) {
        for (number, line) in lines_outside_tests(path, text) {
            if line.trim_start().starts_with("//") {
                continue;
            }
            for part in line.split("\"book/").skip(1) {
                if let Some((code, _)) = part.split_once('"') {
                    found.entry(code).or_insert((path, number));
                }
            }
        }
    }
    found
}
