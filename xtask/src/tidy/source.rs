//! Rule `source`: a formula in `calc` says where it comes from.
//!
//! Every public function with `# Formula` has `# Source`; every public free function that returns a quantity has
//! `# Source`, whether or not it calls itself a formula; and the headings of a formula stand in one order, so that a
//! reader finds the range where the range always is.

use std::collections::BTreeSet;

use crate::fault::Fault;
use crate::tree::{Tree, crate_of, lines_outside_tests};

/// The order of the headings.
const ORDER: &[&str] = &["Formula", "Units", "Range", "Source", "Errors", "Example"];

/// Where the quantity types are listed.
const KINDS: &str = "crates/quantity/src/kinds.rs";

/// A public function with its documentation.
struct Function<'a> {
    name: &'a str,
    line: usize,
    headings: Vec<&'a str>,
    /// Not inside an `impl`.
    free: bool,
    returns: String,
}

/// Looks at every public function of `calc`.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let quantities = quantities(tree.text(KINDS).unwrap_or_default());
    let mut found = Vec::new();
    for (path, text) in tree
        .rust()
        .filter(|(path, _)| crate_of(path) == Some("calc"))
    {
        for function in functions(&lines_outside_tests(path, text)) {
            found.extend(unsourced(path, &function, &quantities));
            found.extend(disordered(path, &function));
        }
    }
    found
}

/// A formula, or a function that gives a quantity, without a source.
fn unsourced(path: &str, function: &Function<'_>, quantities: &BTreeSet<&str>) -> Option<Fault> {
    if function.headings.contains(&"Source") {
        return None;
    }
    let gives_quantity = function
        .returns
        .split(|c: char| !(c.is_alphanumeric() || c == '_'))
        .any(|word| quantities.contains(word));
    let what = if function.headings.contains(&"Formula") {
        format!("`{}` has a formula and no `# Source`", function.name)
    } else if function.free && gives_quantity {
        format!("`{}` gives a quantity and no `# Source`", function.name)
    } else {
        return None;
    };
    Some(Fault::tidy(
        "source",
        path,
        function.line,
        what,
        "name the standard, book or paper with its clause, or say `common practice, no source` or `from memory`",
    ))
}

/// Headings out of order.
fn disordered(path: &str, function: &Function<'_>) -> Option<Fault> {
    let places: Vec<usize> = function
        .headings
        .iter()
        .filter_map(|heading| ORDER.iter().position(|known| known == heading))
        .collect();
    (!places.is_sorted()).then(|| {
        Fault::tidy(
            "source",
            path,
            function.line,
            format!("the headings of `{}` are out of order", function.name),
            format!("write them as {}", ORDER.join(", ")),
        )
    })
}

/// The quantity types: lines `Name { unit, in_unit => …` of the table.
fn quantities(kinds: &str) -> BTreeSet<&str> {
    kinds
        .lines()
        .filter(|line| line.contains("=>") && !line.trim_start().starts_with("//"))
        .filter_map(|line| Some(line.trim_start().split_once(" {")?.0))
        .filter(|name| {
            name.starts_with(char::is_uppercase) && name.chars().all(char::is_alphanumeric)
        })
        .collect()
}

/// Finds the public functions in lines of code.
///
/// Reads lines, not syntax: the formatter puts `pub fn` and the attributes at the start of their lines, and a full
/// parser would be compiled before every other check.
fn functions<'a>(lines: &[(usize, &'a str)]) -> Vec<Function<'a>> {
    let mut found = Vec::new();
    let mut headings = Vec::new();
    let mut in_code = false;
    for (index, (number, line)) in lines.iter().enumerate() {
        let code = line.trim_start();
        if let Some(words) = code.strip_prefix("///") {
            let words = words.trim();
            if words.starts_with("```") {
                in_code = !in_code;
            } else if !in_code && let Some(heading) = words.strip_prefix("# ") {
                headings.push(heading);
            }
            continue;
        }
        in_code = false;
        if let Some(name) = public_name(code) {
            let signature: String = lines[index..]
                .iter()
                .map(|(_, line)| *line)
                .scan(false, |done, line| {
                    let more = !*done;
                    *done |= line.trim_end().ends_with('{');
                    more.then(|| format!("{line} "))
                })
                .collect();
            found.push(Function {
                name,
                line: *number,
                headings: std::mem::take(&mut headings),
                free: code.len() == line.len(),
                returns: signature
                    .split_once("->")
                    .map(|(_, returns)| returns.to_owned())
                    .unwrap_or_default(),
            });
        } else if !code.starts_with('#') {
            headings.clear();
        }
    }
    found
}

/// The name in `pub fn name(` or `pub const fn name(`.
fn public_name(code: &str) -> Option<&str> {
    let rest = code.strip_prefix("pub ")?;
    let rest = rest
        .strip_prefix("const ")
        .unwrap_or(rest)
        .strip_prefix("fn ")?;
    let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_'))?;
    Some(&rest[..end])
}
