//! The manual of the house, typed: every line that begins with `$` is run, in order, in one
//! folder, and the lines under it must stand in what it answers. Words are not checked.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A line of the manual and what it promises.
struct Typed {
    words: Vec<String>,
    promised: Vec<String>,
}

/// The lines of all console blocks, in the order of the page.
fn typed(page: &str) -> Vec<Typed> {
    let mut inside = false;
    let mut all: Vec<Typed> = Vec::new();
    for line in page.lines() {
        match line.strip_prefix("$ ") {
            _ if line.starts_with("```") => inside = line == "```console",
            _ if !inside => {}
            Some(command) => all.push(Typed {
                words: words(command),
                promised: Vec::new(),
            }),
            None => all
                .last_mut()
                .expect("an answer stands below a line")
                .promised
                .push(line.to_owned()),
        }
    }
    all
}

/// The words of a shell line; double quotes hold words together.
fn words(line: &str) -> Vec<String> {
    line.split('"')
        .enumerate()
        .flat_map(|(index, piece)| match index % 2 {
            0 => piece.split_whitespace().map(str::to_owned).collect(),
            _ => vec![piece.to_owned()],
        })
        .collect()
}

/// Runs a line in `folder`; gives the exit status and all that was printed.
fn run(folder: &Path, words: &[String]) -> (i32, String) {
    match words.first().map(String::as_str) {
        Some("matchmark") => {
            let output = Command::new(env!("CARGO_BIN_EXE_matchmark"))
                .args(&words[1..])
                .current_dir(folder)
                .output()
                .expect("the program runs");
            let printed = [output.stdout, output.stderr].concat();
            let text = String::from_utf8(printed).expect("printed text");
            (output.status.code().expect("an exit status"), text)
        }
        Some("cp") => {
            fs::copy(folder.join(&words[1]), folder.join(&words[2])).expect("a file to copy");
            (0, String::new())
        }
        other => panic!("the manual runs {other:?}, which this test does not know"),
    }
}

#[test]
fn what_the_manual_says_to_type_does_what_it_says() {
    let page = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../docs/manual.md");
    let lines = typed(&fs::read_to_string(page).expect("the manual"));
    assert!(
        lines.len() > 30,
        "the page has {} lines to type",
        lines.len()
    );
    let folder = tempfile::tempdir().expect("a folder");
    for line in lines {
        let (status, printed) = run(folder.path(), &line.words);
        let shown = line.words.join(" ");
        assert!(status < 2, "{shown}: exit status {status}\n{printed}");
        for promised in &line.promised {
            assert!(
                printed.contains(promised.as_str()),
                "{shown}: no line “{promised}” in\n{printed}"
            );
        }
    }
}
