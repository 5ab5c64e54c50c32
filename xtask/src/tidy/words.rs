//! Rule `word`: the repository speaks of itself and the trade, not of the desk it was written at.
//!
//! The list is short on purpose. “Helper”, “session” or “agent” are good words in a workshop (a second pair of hands,
//! an evening's work, a wetting agent) and are not on it.

use crate::fault::Fault;
use crate::tree::Tree;

/// This file, which must spell the words it refuses, and the tests that prove it.
const SPELLS_THEM: &[&str] = &["xtask/src/tidy/words.rs", "xtask/src/tidy/tests.rs"];

/// A word, whole or as part of a path, and why it has no place here.
const REFUSED: &[(&str, &str)] = &[
    ("/work/", "a path of one machine"),
    ("/tmp/target", "a path of one machine"),
    ("/root/", "a path of one machine"),
    ("shared/", "a folder outside the repository"),
    ("design.md", "a page outside the repository"),
    ("style.md", "a page outside the repository"),
    ("stack.md", "a page outside the repository"),
    ("solvers.md", "a page outside the repository"),
    ("look.md", "a page outside the repository"),
    ("brief.md", "a page outside the repository"),
    ("engine.md", "a page outside the repository"),
    ("torque.md", "a page outside the repository"),
    ("trade.md", "a page outside the repository"),
    ("open.md", "a page outside the repository"),
    ("artifactory", "the address of a mirror"),
    ("language model", "a remark about how the text was written"),
    ("as instructed", "a remark about how the text was written"),
    ("the brief says", "a remark about how the text was written"),
];

/// Looks for the words in every text file.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for (path, text) in tree.texts().filter(|(path, _)| !SPELLS_THEM.contains(path)) {
        for (line, number) in text.lines().zip(1..) {
            for (word, because) in REFUSED.iter().filter(|(word, _)| stands_in(word, line)) {
                // A page of that name inside the repository may be cited.
                if word.ends_with(".md") && tree.files().any(|file| names_page(&file.path, word)) {
                    continue;
                }
                found.push(Fault::tidy(
                    "word",
                    path,
                    number,
                    format!("`{word}` is {because}"),
                    "say it without, or cite the original source",
                ));
            }
        }
    }
    found
}

/// Whether a path ends in a page of this name.
fn names_page(path: &str, page: &str) -> bool {
    path.rsplit('/').next() == Some(page)
}

/// Whether the word stands in the line and is not the tail of a longer word.
fn stands_in(word: &str, line: &str) -> bool {
    line.match_indices(word).any(|(at, _)| {
        line[..at].chars().next_back().is_none_or(|before| {
            !(before.is_alphanumeric() || matches!(before, '-' | '_')) || word.starts_with('/')
        })
    })
}
