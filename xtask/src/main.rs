//! Chores of the house: `cargo xtask tidy` and `cargo xtask licences`.
//!
//! Everything here reads the repository and says what is wrong with it. Nothing here changes a file, and
//! nothing the product does depends on it.
#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a chore talks to the person at the terminal"
)]

mod fault;
mod tree;

mod licences;
mod tidy;

use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result};

use fault::Fault;
use tree::Tree;

const USAGE: &str = "usage: cargo xtask tidy | cargo xtask licences
  tidy      the rules of the house: levels, names, headers, sizes, sources, the map
  licences  every dependency may be shipped under the licences we accept";

fn main() -> ExitCode {
    let chore = std::env::args().nth(1);
    let found = match chore.as_deref() {
        Some("tidy") => Tree::tracked(root()).map(|tree| tidy::faults(&tree)),
        Some("licences") => licences::faults(root()),
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match found.and_then(|faults| say(chore.as_deref().unwrap_or_default(), &faults)) {
        Ok(code) => code,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::from(2)
        }
    }
}

/// The top folder of the repository.
fn root() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here)
}

/// Prints every fault, then one line that counts them.
fn say(chore: &str, faults: &[Fault]) -> Result<ExitCode> {
    use std::io::Write;

    let mut out = std::io::stdout().lock();
    for fault in faults {
        writeln!(out, "{fault}").context("writing to standard output")?;
    }
    match faults.len() {
        0 => println!("{chore}: no faults"),
        1 => println!("{chore}: 1 fault"),
        many => println!("{chore}: {many} faults"),
    }
    Ok(if faults.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}
