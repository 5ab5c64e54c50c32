//! `cargo xtask licences`: may every dependency be shipped with a program under MIT or Apache-2.0?
//!
//! The list of dependencies and their licence expressions comes from `cargo tree`; what an expression allows comes
//! from `spdx`. Crates used by tests alone are not shipped and not looked at.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};
use spdx::{Expression, ParseMode};

use crate::fault::Fault;

/// Licences that ask for no more than a notice, or for nothing.
///
/// `MPL-2.0` asks for changes to its own files only, which we do not make. A new licence needs a decision page before
/// it is added here.
const ACCEPTED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Asks Cargo for the dependencies and judges each.
pub(crate) fn faults(root: &Path) -> Result<Vec<Fault>> {
    let listed = Command::new("cargo")
        .args(["tree", "--workspace", "--locked", "--edges", "normal,build"])
        .args(["--prefix", "none", "--format", "{p}\t{l}"])
        .current_dir(root)
        .output()
        .context("running cargo tree")?;
    if !listed.status.success() {
        bail!(
            "cargo tree: {}",
            String::from_utf8_lossy(&listed.stderr).trim()
        );
    }
    let listed = String::from_utf8(listed.stdout)
        .context("cargo tree printed something other than UTF-8")?;
    let mut faults = judge(&listed);
    faults.sort();
    faults.dedup();
    Ok(faults)
}

/// Judges lines of `name version<TAB>licence expression`.
fn judge(listed: &str) -> Vec<Fault> {
    // Cargo marks a package it has already shown with ` (*)` at the end of the line.
    listed
        .lines()
        .filter(|line| !line.is_empty() && !line.ends_with(" (*)"))
        .filter_map(|line| {
            let (package, licence) = line.split_once('\t').unwrap_or((line, ""));
            let what = refusal(licence.trim())?;
            Some(Fault {
                path: "Cargo.lock".to_owned(),
                line: 1,
                chore: "licences",
                rule: "licence",
                what: format!("{}: {what}", package.trim()),
                way_out: "use another crate, or accept the licence by a page in docs/decisions/ and in xtask/src/licences.rs"
                    .to_owned(),
            })
        })
        .collect()
}

/// Why a licence expression cannot be accepted; nothing when it can.
fn refusal(licence: &str) -> Option<String> {
    if licence.is_empty() {
        return Some("states no licence".to_owned());
    }
    match Expression::parse_mode(licence, ParseMode::LAX) {
        Err(error) => Some(format!(
            "licence `{licence}` cannot be read: {}",
            error.reason
        )),
        Ok(expression) => {
            let accepted = expression.evaluate(|asked| {
                asked
                    .license
                    .id()
                    .is_some_and(|id| ACCEPTED.contains(&id.name))
            });
            (!accepted).then(|| format!("licence `{licence}` is not one we accept"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_needs_one_and_a_sum_needs_all() {
        for good in [
            "MIT",
            "MIT OR Apache-2.0",
            "MIT/Apache-2.0",
            "GPL-3.0-only OR MIT",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception",
        ] {
            assert_eq!(refusal(good), None, "{good}");
        }
        for bad in [
            "GPL-3.0-only",
            "MIT AND GPL-3.0-only",
            "",
            "no such licence",
        ] {
            assert!(refusal(bad).is_some(), "{bad}");
        }
    }

    #[test]
    fn a_refused_package_is_named() {
        let found = judge(
            "quantity v0.1.0 (crates/quantity)\tMIT OR Apache-2.0\nodd v2.0.0\tAGPL-3.0-only\nodd v2.0.0\tAGPL-3.0-only (*)\n",
        );
        assert_eq!(found.len(), 1);
        assert!(
            found[0].to_string().starts_with(
                "Cargo.lock:1: licences[licence]: odd v2.0.0: licence `AGPL-3.0-only`"
            )
        );
    }
}
