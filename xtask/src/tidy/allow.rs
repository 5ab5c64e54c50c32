//! Rule `allow`: a lint is switched off by `#[expect(…, reason = "…")]`, never by `#[allow]`.
//!
//! An expectation that is no longer needed is a warning; an allowance stays for ever.

use crate::fault::Fault;
use crate::tree::Tree;

/// Finds `#[allow` at the start of a line, and `#[expect` without a reason.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for (path, text) in tree.rust() {
        let lines: Vec<&str> = text.lines().collect();
        for (index, line) in lines.iter().enumerate() {
            let line = line.trim_start();
            let attribute = |name: &str| {
                line.starts_with(&format!("#[{name}(")) || line.starts_with(&format!("#![{name}("))
            };
            if attribute("allow") {
                found.push(Fault::tidy(
                    "allow",
                    path,
                    index + 1,
                    "a lint is allowed",
                    "mend the code, or write `#[expect(…, reason = \"…\")]`",
                ));
            }
            if attribute("expect") {
                let until = lines[index..]
                    .iter()
                    .position(|line| line.trim_end().ends_with(")]"));
                let whole = lines[index..=index + until.unwrap_or(0)].concat();
                if !whole.contains("reason = ") {
                    found.push(Fault::tidy(
                        "allow",
                        path,
                        index + 1,
                        "an expectation gives no reason",
                        "add `reason = \"…\"`",
                    ));
                }
            }
        }
    }
    found
}
