//! The manual page of the line grammar says what the grammar does.

use std::path::Path;

use job::line::{VERBS, read_line};

const BEGIN: &str =
    "<!-- verbs: written by `cargo test -p job --test manual`, do not edit by hand -->\n";
const END: &str = "<!-- end of verbs -->\n";

fn page() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/line.md");
    std::fs::read_to_string(path).unwrap_or_default()
}

/// The part of the page that comes from the table of verbs.
fn verbs() -> String {
    VERBS
        .iter()
        .map(|verb| {
            let also = match verb.also {
                [] => String::new(),
                also => format!(
                    " Also: {}.",
                    also.iter()
                        .map(|word| format!("`{word}`"))
                        .collect::<Vec<_>>()
                        .join(", ")
                ),
            };
            let examples = verb.examples.join("\n");
            format!(
                "### {}\n\n{}.{also}\n\nForm: `{}`\n\n```line\n{examples}\n```\n\n",
                verb.word,
                sentence(verb.says),
                verb.form
            )
        })
        .collect()
}

fn sentence(says: &str) -> String {
    let mut letters = says.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

#[test]
fn the_page_has_every_verb_as_the_grammar_has_it() {
    let page = page();
    let held = page
        .split_once(BEGIN)
        .and_then(|(_, rest)| rest.split_once(END))
        .map(|(held, _)| held);
    if held != Some(verbs().as_str()) {
        let fresh = Path::new(env!("CARGO_TARGET_TMPDIR")).join("line-verbs.md");
        std::fs::write(&fresh, verbs()).unwrap();
        panic!(
            "docs/line.md is behind the grammar; what belongs between its two marks is in {}",
            fresh.display()
        );
    }
}

#[test]
fn every_example_on_the_page_is_read() {
    let page = page();
    let blocks = page
        .split("```line\n")
        .skip(1)
        .filter_map(|block| block.split_once("```"));
    let lines: Vec<&str> = blocks
        .flat_map(|(block, _)| block.lines())
        .filter(|line| !line.is_empty())
        .collect();
    assert!(lines.len() > VERBS.len(), "the page has lost its examples");
    for line in lines {
        if let Err(fault) = read_line(line) {
            panic!("{line}: {fault}");
        }
    }
}

#[test]
fn every_refused_line_on_the_page_is_refused() {
    let page = page();
    let blocks = page
        .split("```refused\n")
        .skip(1)
        .filter_map(|block| block.split_once("```"));
    let lines: Vec<&str> = blocks
        .flat_map(|(block, _)| block.lines())
        .filter(|line| !line.is_empty())
        .collect();
    assert!(!lines.is_empty());
    for line in lines {
        assert!(read_line(line).is_err(), "{line} is read after all");
    }
}
