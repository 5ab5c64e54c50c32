//! `cargo xtask tidy`: the rules of the house that a program can check, all faults in one go.
//!
//! One module a rule; each reads the [`Tree`] and returns its faults. What the compiler, the formatter or clippy can
//! check is left to them.

mod levels;
mod manifest;
mod map;

mod allow;
mod heading;
mod names;
mod pure;
mod size;

mod source;

mod codes;
mod link;
mod origin;
mod pedigree;
mod words;

#[cfg(test)]
mod tests;

use crate::fault::Fault;
use crate::tree::Tree;

/// Runs every rule and returns what it found, ordered by place.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let rules: [fn(&Tree) -> Vec<Fault>; 13] = [
        levels::faults,
        map::faults,
        allow::faults,
        heading::faults,
        names::faults,
        pure::faults,
        size::faults,
        source::faults,
        codes::faults,
        link::faults,
        origin::faults,
        pedigree::faults,
        words::faults,
    ];
    let mut found: Vec<Fault> = rules.iter().flat_map(|rule| rule(tree)).collect();
    found.sort();
    found
}
