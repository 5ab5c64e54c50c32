//! A house in order passes; the same house with one thing broken is refused, rule by rule.
//!
//! The houses are written to a temporary folder and read back through git, as the real one is.

use std::process::Command;

use super::{faults, size};
use crate::fault::Fault;
use crate::tree::{File, Tree};

const LINTS: &str = "\n[lints]\nworkspace = true\n";

/// A small house without a fault.
fn sound() -> Vec<(&'static str, String)> {
    vec![
        (
            "ARCHITECTURE.md",
            "# Map\n\n| level | crate | what |\n|---|---|---|\n| 0 | `quantity` | units |\n| 1 | `calc` | formulas |\n\nSee also `crates/record` and crates/book/src/codes.\n".to_owned(),
        ),
        ("crates/quantity/Cargo.toml", manifest("quantity", "")),
        (
            "crates/quantity/src/kinds.rs",
            "//! Kinds.\nquantities! {\n    /// A distance.\n    Length { metres, in_metres => METRE; }\n}\n".to_owned(),
        ),
        (
            "crates/calc/Cargo.toml",
            manifest("calc", "[dependencies]\nquantity.workspace = true\n\n[dev-dependencies]\nserde_json = \"1\"\nbook.workspace = true\n"),
        ),
        (
            "crates/calc/src/bore.rs",
            "//! Bores.\n/// A bore.\n///\n/// # Formula\n/// d = d\n/// # Source\n/// From memory.\n/// # Errors\n/// None.\n#[must_use]\npub fn bore(d: Length) -> Length {\n    d\n}\n\n/// A count.\npub fn lobes() -> usize {\n    3\n}\n\nimpl Bore {\n    /// Its size.\n    pub fn size(&self) -> Length {\n        self.size\n    }\n}\n".to_owned(),
        ),
        ("crates/book/Cargo.toml", manifest("book", "")),
        (
            "crates/book/src/codes/unknown_part.rs",
            "//! `book/unknown-part`.\npub(crate) const CODE: &str = \"book/unknown-part\";\n".to_owned(),
        ),
        ("docs/faults/unknown-part.md", "# book/unknown-part\n".to_owned()),
        (
            "crates/record/Cargo.toml",
            manifest("record", "[dependencies]\nrusqlite = \"1\"\n"),
        ),
        (
            "crates/record/src/lib.rs",
            "//! The record.\nuse std::fs;\n#[expect(clippy::pedantic, reason = \"shown\")]\nfn f() {}\n".to_owned(),
        ),
        (
            "Cargo.lock",
            "[[package]]\nname = \"libm\"\nsource = \"registry+https://github.com/rust-lang/crates.io-index\"\n".to_owned(),
        ),
    ]
}

fn manifest(name: &str, rest: &str) -> String {
    format!("[package]\nname = \"{name}\"\n\n{rest}{LINTS}")
}

/// The sound house with one file put in the place of another, or added.
fn with(path: &'static str, text: impl Into<String>) -> Vec<Fault> {
    let mut house = sound();
    house.retain(|(other, _)| *other != path);
    house.push((path, text.into()));
    judged(&house)
}

/// The sound house with a text in one file replaced.
fn with_change(path: &'static str, from: &str, to: &str) -> Vec<Fault> {
    let house = sound();
    let (_, text) = house.iter().find(|(other, _)| *other == path).unwrap();
    assert!(text.contains(from), "nothing to change in {path}");
    with(path, text.replace(from, to))
}

/// Writes a house to disk, reads it as git sees it, and runs every rule.
fn judged(house: &[(&str, String)]) -> Vec<Fault> {
    let folder = tempfile::tempdir().unwrap();
    for (path, text) in house {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let git = Command::new("git")
        .args(["init", "-q"])
        .current_dir(folder.path())
        .status()
        .unwrap();
    assert!(git.success());
    faults(&Tree::tracked(folder.path()).unwrap())
}

/// Exactly these faults, each given as the beginning of its line.
#[track_caller]
fn expect(found: &[Fault], beginnings: &[&str]) {
    let said: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), beginnings.len(), "{said:#?}");
    for (line, beginning) in said.iter().zip(beginnings) {
        assert!(
            line.starts_with(beginning),
            "{line}\nshould start with\n{beginning}"
        );
        assert!(line.contains("; "), "no way out: {line}");
    }
}

#[test]
fn a_house_in_order_passes() {
    expect(&judged(&sound()), &[]);
}

#[test]
fn all_faults_come_in_one_go_and_in_order() {
    let mut house = sound();
    house.push((
        "crates/calc/src/cam_util.rs",
        "#[allow(dead_code)]\nfn f() {}\n".to_owned(),
    ));
    expect(
        &judged(&house),
        &[
            "crates/calc/src/cam_util.rs:1: tidy[allow]",
            "crates/calc/src/cam_util.rs:1: tidy[heading]",
            "crates/calc/src/cam_util.rs:1: tidy[name]",
        ],
    );
}

#[test]
fn level_refuses_a_crate_of_the_same_level() {
    let text = manifest(
        "calc",
        "[dependencies]\nquantity.workspace = true\nbook.workspace = true\n",
    );
    expect(
        &with("crates/calc/Cargo.toml", text),
        &["crates/calc/Cargo.toml:6: tidy[level]: `calc` (level 1) uses `book` (level 1)"],
    );
}

#[test]
fn level_refuses_a_higher_crate_even_in_tests_and_under_another_name() {
    let text = manifest(
        "quantity",
        "[dev-dependencies]\nlist = { package = \"record\", path = \"../record\" }\n",
    );
    expect(
        &with("crates/quantity/Cargo.toml", text),
        &[
            "crates/quantity/Cargo.toml:5: tidy[level]: `quantity` (level 0) uses `record` (level 3)",
        ],
    );
}

#[test]
fn level_refuses_an_unknown_crate() {
    expect(
        &with("crates/gadget/Cargo.toml", manifest("gadget", "")),
        &[
            "ARCHITECTURE.md:1: tidy[map]: does not name `crates/gadget`",
            "crates/gadget/Cargo.toml:1: tidy[level]: crate `gadget` has no level",
        ],
    );
}

#[test]
fn level_refuses_a_package_under_a_strange_name() {
    expect(
        &with("crates/book/Cargo.toml", manifest("matchmark-book", "")),
        &["crates/book/Cargo.toml:1: tidy[level]: package `matchmark-book` lies in the folder"],
    );
}

#[test]
fn reserved_keeps_sqlite_to_record_and_json_to_wire() {
    let text = manifest(
        "book",
        "[dependencies]\nrusqlite = \"1\"\nserde_json = \"1\"\ntypst-pdf = \"1\"\n",
    );
    expect(
        &with("crates/book/Cargo.toml", text),
        &[
            "crates/book/Cargo.toml:5: tidy[reserved]: `book` uses `rusqlite`",
            "crates/book/Cargo.toml:6: tidy[reserved]: `book` uses `serde_json`",
            "crates/book/Cargo.toml:7: tidy[reserved]: `book` uses `typst-pdf`",
        ],
    );
}

#[test]
fn lints_must_be_taken_from_the_workspace() {
    expect(
        &with("bench/Cargo.toml", "[package]\nname = \"bench\"\n"),
        &["bench/Cargo.toml:1: tidy[lints]"],
    );
}

#[test]
fn a_manifest_that_is_not_toml_is_said_so() {
    expect(
        &with("xtask/Cargo.toml", "[package\n"),
        &["xtask/Cargo.toml:1: tidy[manifest]: cannot be read: "],
    );
}

#[test]
fn map_must_exist() {
    let house: Vec<_> = sound()
        .into_iter()
        .filter(|(path, _)| *path != "ARCHITECTURE.md")
        .collect();
    expect(
        &judged(&house),
        &["ARCHITECTURE.md:1: tidy[map]: there is no map"],
    );
}

#[test]
fn map_names_what_is_there_and_nothing_else() {
    expect(
        &with_change("ARCHITECTURE.md", "crates/record", "crates/recorder"),
        &[
            "ARCHITECTURE.md:1: tidy[map]: does not name `crates/record`",
            "ARCHITECTURE.md:8: tidy[map]: names `crates/recorder`, which is not there",
        ],
    );
}

#[test]
fn map_gives_the_right_level() {
    expect(
        &with_change("ARCHITECTURE.md", "| 1 | `calc`", "| 2 | `calc`"),
        &["ARCHITECTURE.md:6: tidy[map]: puts `calc` on level 2; it is on level 1"],
    );
}

#[test]
fn allow_wants_a_reason_with_an_expectation() {
    expect(
        &with_change("crates/record/src/lib.rs", ", reason = \"shown\"", ""),
        &["crates/record/src/lib.rs:3: tidy[allow]: an expectation gives no reason"],
    );
}

#[test]
fn heading_wants_words() {
    expect(
        &with_change("crates/record/src/lib.rs", "//! The record.", "//! "),
        &["crates/record/src/lib.rs:1: tidy[heading]"],
    );
}

#[test]
fn name_refuses_a_drawer_as_a_folder() {
    expect(
        &with("crates/record/src/common/row.rs", "//! Rows.\n"),
        &["crates/record/src/common/row.rs:1: tidy[name]: `common`"],
    );
}

#[test]
fn pure_refuses_the_clock_and_lets_tests_read_files() {
    let text = "//! Codes.\n// std::fs is named here only.\nfn now() { SystemTime::now(); }\n#[cfg(test)]\nmod tests {\n    use std::fs;\n}\n";
    expect(
        &with("crates/book/src/lines.rs", text),
        &["crates/book/src/lines.rs:3: tidy[pure]: `book` reaches for the clock"],
    );
}

#[test]
fn size_counts_code_and_not_tests() {
    let code = |lines: usize| format!("//! Long.\n{}", "const A: u8 = 1;\n".repeat(lines - 1));
    let tests = format!(
        "#[cfg(test)]\nmod tests {{\n{}}}\n",
        "    // line\n".repeat(900)
    );
    expect(&with("crates/record/src/row.rs", code(800) + &tests), &[]);
    expect(
        &with("crates/record/src/row.rs", code(801) + &tests),
        &["crates/record/src/row.rs:801: tidy[size]: 801 lines"],
    );
}

#[test]
fn size_lets_a_named_table_off_and_refuses_a_needless_exception() {
    let file = |lines: usize| {
        Tree::of(vec![File {
            path: "crates/calc/src/table.rs".to_owned(),
            text: Some("const A: u8 = 1;\n".repeat(lines)),
        }])
    };
    let tables = [("crates/calc/src/table.rs", "one row a thread")];
    expect(&size::judge(&file(900), &tables), &[]);
    expect(
        &size::judge(&file(100), &tables),
        &["crates/calc/src/table.rs:1: tidy[size]: is let off (“one row a thread”)"],
    );
}

#[test]
fn source_is_asked_of_a_formula() {
    let text = "//! Counts.\n/// Turns.\n///\n/// # Formula\n/// n = v / q\npub const fn turns(v: u32) -> u32 {\n    v\n}\n";
    expect(
        &with("crates/calc/src/prime.rs", text),
        &["crates/calc/src/prime.rs:6: tidy[source]: `turns` has a formula and no `# Source`"],
    );
}

#[test]
fn source_is_asked_of_a_function_that_gives_a_quantity() {
    let text = "//! Gaps.\n/// A gap.\n///\n/// ```\n/// # Source\n/// ```\npub fn gap(\n    a: usize,\n) -> Result<Length, GapError> {\n    todo()\n}\n";
    expect(
        &with("crates/calc/src/gap.rs", text),
        &["crates/calc/src/gap.rs:7: tidy[source]: `gap` gives a quantity and no `# Source`"],
    );
}

#[test]
fn source_headings_stand_in_one_order() {
    expect(
        &with_change(
            "crates/calc/src/bore.rs",
            "/// # Formula\n/// d = d\n/// # Source",
            "/// # Source\n/// # Formula",
        ),
        &["crates/calc/src/bore.rs:10: tidy[source]: the headings of `bore` are out of order"],
    );
}

#[test]
fn code_and_page_go_together() {
    expect(
        &with("docs/faults/lost-hole.md", "# book/lost-hole\n"),
        &["docs/faults/lost-hole.md:1: tidy[code]: there is no fault `book/lost-hole`"],
    );
    expect(
        &with(
            "crates/book/src/codes/loop.rs",
            "//! Loops.\nconst CODE: &str = \"book/loop\";\n",
        ),
        &["crates/book/src/codes/loop.rs:2: tidy[code]: `book/loop` has no page"],
    );
}

#[test]
fn pedigree_is_asked_of_a_numbered_row() {
    let bare =
        "//! Rings.\n/// Source: a handbook.\n#[test]\nfn e35_ring_gap() {}\n\nfn e36() {}\n";
    expect(
        &with("crates/calc/src/ring/tests.rs", bare),
        &["crates/calc/src/ring/tests.rs:4: tidy[pedigree]: `e35_ring_gap`"],
    );
    for kind in [
        "*Published.*",
        "*Computed by a general\n/// library (numpy 2.4.6).*",
        "*Common\n/// practice, no source.*",
    ] {
        let said = bare.replace("a handbook.", kind);
        expect(&with("crates/calc/src/ring/tests.rs", said), &[]);
    }
}

#[test]
fn origin_is_crates_io() {
    expect(
        &with_change(
            "Cargo.lock",
            "registry+https://github.com/rust-lang/crates.io-index",
            "git+https://example.org/libm#1",
        ),
        &["Cargo.lock:3: tidy[origin]: a package comes from `git+https://example.org/libm#1`"],
    );
}

#[test]
fn word_refuses_a_path_of_one_machine() {
    expect(
        &with(
            "docs/notes.md",
            "See /work/shared/notes for more.\nUnshared/with is fine.\n",
        ),
        &[
            "docs/notes.md:1: tidy[word]: `/work/` is a path of one machine",
            "docs/notes.md:1: tidy[word]: `shared/` is a folder outside the repository",
        ],
    );
}

#[test]
fn word_lets_a_page_of_the_repository_be_cited() {
    let mut house = sound();
    house.push(("docs/notes.md", "See torque.md.\n".to_owned()));
    expect(
        &judged(&house),
        &["docs/notes.md:1: tidy[word]: `torque.md`"],
    );
    house.push(("docs/torque.md", "# Torque\n".to_owned()));
    expect(&judged(&house), &[]);
}

#[test]
fn link_leads_to_a_file_or_a_folder() {
    let text = "[a](faults/unknown-part.md#top) [b](../crates) [c](https://example.org/x) [d](#here)\n```\n[e](nowhere.md)\n```\n[f](../faults/lost.md)\n";
    expect(
        &with("docs/notes.md", text),
        &["docs/notes.md:5: tidy[link]: `../faults/lost.md` leads to `faults/lost.md`"],
    );
}
