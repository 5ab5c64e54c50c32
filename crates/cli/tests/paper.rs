//! Papers of the demo job through the program itself, in a build with its press.

#![cfg(feature = "paper")]
#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

mod program;

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use program::ask;

/// The bytes of every file in a folder, by name.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let there = std::fs::read_dir(folder).unwrap();
    there
        .map(|file| {
            let file = file.unwrap();
            let name = file.file_name().into_string().unwrap();
            (name, std::fs::read(file.path()).unwrap())
        })
        .collect()
}

/// `demo` names the papers, `print --all` writes every one of them, on either sheet, as PDF
/// that says it keeps PDF/UA-1; and the same job on the same day gives the same bytes.
#[test]
fn the_demo_names_its_papers_and_all_of_them_are_written() {
    let place = tempfile::tempdir().unwrap();
    let van = place.path().join("van").to_str().unwrap().to_owned();
    let told = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(["demo", "--dir", &van])
        .output()
        .unwrap();
    let told = String::from_utf8(told.stdout).unwrap();
    assert!(told.contains("matchmark print --all"), "{told}");
    assert!(!told.contains("--features paper"), "{told}");
    let (status, list) = ask(&["print", "--job", &van]);
    assert_eq!(status, 0);
    let words: Vec<&str> = list["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["paper"].as_str().unwrap())
        .collect();
    let print = |out: &str, sheet: &str| {
        let out = place.path().join(out);
        let folder = out.to_str().unwrap();
        let (status, answer) = ask(&[
            "print", "--all", "--job", &van, "--out", folder, "--paper", sheet,
        ]);
        assert_eq!(status, 0, "{answer}");
        (files(&out), answer)
    };
    let (first, answer) = print("first", "a4");
    for word in words {
        assert!(
            told.contains(word),
            "the demo does not name {word}:\n{told}"
        );
        // The whole van stands again; what there is nothing left for is printed as it last was.
        let written = first.keys().any(|file| file.starts_with(word));
        assert!(written, "{word}: {answer}");
    }
    for row in answer["rows"].as_array().unwrap() {
        let pages = row["pages"].as_f64();
        assert!(pages.is_some_and(|pages| pages >= 1.0), "{row}");
    }
    for (name, bytes) in &first {
        let text = String::from_utf8_lossy(bytes);
        assert!(text.starts_with("%PDF-1.7"), "{name}");
        assert!(text.contains("<pdfuaid:part>1</pdfuaid:part>"), "{name}");
        assert!(text.contains("/FontFile"), "{name} has no face in it");
        // Labels and cards have no chapters, so there is nothing to be marked.
        let flows = !name.starts_with("tags") && !name.starts_with("bolt-card");
        assert!(!flows || text.contains("/Outlines"), "{name}");
    }
    // Midnight between two runs may change the day on the papers; once more then settles it.
    let (second, _) = print("second", "a4");
    if first != second {
        let (third, _) = print("third", "a4");
        assert!(second == third, "not the same bytes");
    }
    let (letter, _) = print("letter", "letter");
    assert_eq!(
        letter.keys().collect::<Vec<_>>(),
        first.keys().collect::<Vec<_>>()
    );
}
