//! Rule `pedigree`: a test that holds an outside number says whose number it is.
//!
//! Tests of the reference rows carry the row in their name (`t16_…`, `e27_…`, `o09_…`, `s_o1_…`). Their doc comment
//! names one of the five kinds of source; a library that reckoned the number is named with its version.

use crate::fault::Fault;
use crate::tree::Tree;

/// What a doc comment says, in small letters and without the stars of emphasis.
const KINDS: &[&str] = &[
    "published",
    "computed by a general library (",
    "public data",
    "common practice, no source",
    "from memory",
];

/// Looks at every test whose name begins with a row.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    tree.rust()
        .filter(|(path, _)| path.starts_with("crates/"))
        .flat_map(|(path, text)| of_file(path, text))
        .collect()
}

fn of_file(path: &str, text: &str) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut said = String::new();
    let mut is_test = false;
    for (line, number) in text.lines().zip(1..) {
        let code = line.trim_start();
        if let Some(words) = code.strip_prefix("///") {
            said.push_str(&words.replace('*', "").to_lowercase());
            continue;
        }
        if code.starts_with('#') {
            is_test |= code == "#[test]";
            continue;
        }
        if let Some(name) = row(code).filter(|_| is_test)
            && !KINDS.iter().any(|kind| said.contains(kind))
        {
            found.push(Fault::tidy(
                "pedigree",
                path,
                number,
                format!("`{name}` does not say whose number it holds"),
                "name the source and its kind: published, computed by a general library (name, version), public data, common practice, no source, or from memory",
            ));
        }
        said.clear();
        is_test = false;
    }
    found
}

/// The name of a test of a numbered row: `t`, `e` or `o` and a digit, or `s_o` and a digit.
fn row(code: &str) -> Option<&str> {
    let name = code.strip_prefix("fn ")?.split('(').next()?;
    let digits = ["s_o", "t", "e", "o"]
        .iter()
        .find_map(|series| name.strip_prefix(series))?;
    digits
        .starts_with(|c: char| c.is_ascii_digit())
        .then_some(name)
}
