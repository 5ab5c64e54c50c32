//! Every code has an example that shows it and nothing else, and a page that is up to date.

use std::collections::BTreeSet;
use std::path::Path;

use book::codes::{CODES, Code, Example};
use book::{Fault, read, read_shop, show_faults};

fn faults_of(code: &Code) -> (&'static str, Vec<Fault>) {
    match code.example {
        Example::Book(text) => (text, read(text).1),
        Example::Shop(text) => (text, read_shop(text).1),
    }
}

#[test]
fn there_are_enough_codes_and_each_has_its_own_name() {
    let names: BTreeSet<&str> = CODES.iter().map(|code| code.name).collect();
    assert_eq!(names.len(), CODES.len());
    assert!(names.len() >= 20);
    for code in CODES {
        assert_eq!(code.full_name(), format!("book/{}", code.name));
    }
}

#[test]
fn every_example_shows_its_code_and_no_other() {
    for code in CODES {
        let (text, faults) = faults_of(code);
        let found: BTreeSet<&str> = faults.iter().map(|fault| fault.code.name).collect();
        let shown = show_faults(&faults, "example.kdl", text);
        assert_eq!(
            found,
            BTreeSet::from([code.name]),
            "{}:
{shown}",
            code.name
        );
        for fault in &faults {
            assert!(
                !fault.hints.is_empty(),
                "{}: no way out\n{shown}",
                code.name
            );
            assert!(fault.span.end <= text.len(), "{}", code.name);
        }
    }
}

#[test]
fn every_example_file_belongs_to_a_code() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("faulty");
    let files: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    let wanted: BTreeSet<String> = CODES
        .iter()
        .map(|code| format!("{}.kdl", code.name))
        .collect();
    assert_eq!(files, wanted);
}

/// Pages are made by running the example. `UPDATE_FAULT_PAGES=1 cargo test -p book --test codes`
/// writes them anew.
#[test]
fn every_page_says_what_the_program_says() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/faults");
    let update = std::env::var_os("UPDATE_FAULT_PAGES").is_some();
    let mut wanted = BTreeSet::from(["README.md".to_owned()]);
    let pages = CODES
        .iter()
        .map(|code| (format!("{}.md", code.name), code.page()));
    let index = std::iter::once(("README.md".to_owned(), book::codes::index()));
    for (name, page) in pages.chain(index) {
        let path = folder.join(&name);
        if update {
            std::fs::write(&path, &page).unwrap();
        }
        let written = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            written == page,
            "{name} is stale; run with UPDATE_FAULT_PAGES=1"
        );
        wanted.insert(name);
    }
    let found: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(found, wanted);
}
