//! Rule `map`: `ARCHITECTURE.md` names every crate, and every crate it names is there.
//!
//! A crate is named by its folder (`crates/record`) anywhere in the text, or by a row of the table of levels, which
//! begins with the level and the name: "| 3 | `record` | …". A row must give the right level.

use std::collections::BTreeMap;

use super::levels;
use crate::fault::Fault;
use crate::tree::Tree;

const MAP: &str = "ARCHITECTURE.md";

/// A crate named in the map.
struct Named<'a> {
    name: &'a str,
    line: usize,
    level: Option<u8>,
}

/// Compares the map with the folders.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let folders = tree.crates();
    let Some(text) = tree.text(MAP) else {
        return vec![Fault::tidy(
            "map",
            MAP,
            1,
            "there is no map of the house",
            "write one that names every folder under crates/",
        )];
    };
    let named = named(text);
    let mut found = Vec::new();
    let mut first: BTreeMap<&str, usize> = BTreeMap::new();
    for one in &named {
        let line = *first.entry(one.name).or_insert(one.line);
        if line == one.line && !folders.contains(&one.name) {
            found.push(Fault::tidy(
                "map",
                MAP,
                one.line,
                format!("names `crates/{}`, which is not there", one.name),
                "take it out until it is born, or mend the name",
            ));
        }
        if let (Some(said), Some(level)) = (one.level, levels::level(one.name))
            && said != level
        {
            found.push(Fault::tidy(
                "map",
                MAP,
                one.line,
                format!(
                    "puts `{}` on level {said}; it is on level {level}",
                    one.name
                ),
                "mend the map, or the table in xtask/src/tidy/levels.rs",
            ));
        }
    }
    for folder in folders {
        if !first.contains_key(folder) {
            found.push(Fault::tidy(
                "map",
                MAP,
                1,
                format!("does not name `crates/{folder}`"),
                "add a line that says what it is for",
            ));
        }
    }
    found
}

/// Every mention of a crate, in reading order.
fn named(text: &str) -> Vec<Named<'_>> {
    let mut found = Vec::new();
    for (line, number) in text.lines().zip(1..) {
        found.extend(row(line, number));
        for part in line.split("crates/").skip(1) {
            let end = part
                .find(|c: char| !(c.is_ascii_lowercase() || c == '_' || c == '-'))
                .unwrap_or(part.len());
            if end > 0 {
                found.push(Named {
                    name: &part[..end],
                    line: number,
                    level: None,
                });
            }
        }
    }
    found
}

/// A row of the table of levels.
fn row(line: &str, number: usize) -> Option<Named<'_>> {
    let mut cells = line.strip_prefix('|')?.split('|').map(str::trim);
    let level = cells.next()?.parse().ok()?;
    let name = cells.next()?.strip_prefix('`')?.strip_suffix('`')?;
    Some(Named {
        name,
        line: number,
        level: Some(level),
    })
}
