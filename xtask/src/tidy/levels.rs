//! Rules `level`, `reserved`, `lints` and `manifest`: who may use whom, read from the manifests.
//!
//! A crate uses only crates of lower levels, so that nothing in the middle can reach for the edge. Tests may also use
//! a crate of their own level: a plan is proved by the checker that stands beside the planner.

use super::manifest::{Dependency, Manifest, Use};
use crate::fault::Fault;
use crate::tree::{Tree, crate_of};

/// The level of every crate; `docs/decisions/0005-levels.md` says why.
pub(crate) const LEVELS: &[(&str, u8)] = &[
    ("quantity", 0),
    ("calc", 1),
    ("book", 1),
    ("report", 1),
    ("job", 2),
    ("planning", 3),
    ("verify", 3),
    ("judge", 3),
    ("record", 3),
    ("sheet", 4),
    ("files", 4),
    ("wire", 5),
    ("press", 6),
    ("app", 7),
    ("web", 8),
    ("cli", 9),
];

/// An outside package that only some crates may use.
struct Reserved {
    /// Package name; a trailing `*` stands for any ending.
    package: &'static str,
    /// The crates that may ship it.
    owners: &'static [&'static str],
    /// Whether every crate may use it in its tests.
    free_in_tests: bool,
    /// What the owner keeps to itself.
    because: &'static str,
}

const RESERVED: &[Reserved] = &[
    Reserved {
        package: "rusqlite",
        owners: &["record"],
        free_in_tests: false,
        because: "only record knows SQLite",
    },
    Reserved {
        package: "serde*",
        owners: &["wire", "press", "bench"],
        free_in_tests: true,
        because: "only wire writes JSON, and press the data of its templates; the nouns do not know how they are written down",
    },
    Reserved {
        package: "axum*",
        owners: &["web"],
        free_in_tests: false,
        because: "only web knows HTTP",
    },
    Reserved {
        package: "tokio*",
        owners: &["web"],
        free_in_tests: false,
        because: "only web runs asynchronous work",
    },
    Reserved {
        package: "maud",
        owners: &["sheet", "web"],
        free_in_tests: false,
        because: "only web writes HTML and only sheet draws SVG",
    },
    Reserved {
        package: "typst*",
        owners: &["press"],
        free_in_tests: false,
        because: "only press knows how a PDF is made, and nothing else waits for it to compile",
    },
    Reserved {
        package: "kdl",
        owners: &["book"],
        free_in_tests: true,
        because: "only book reads and writes the build book",
    },
    Reserved {
        package: "clap*",
        owners: &["cli", "bench"],
        free_in_tests: false,
        because: "only the programs read a command line",
    },
    Reserved {
        package: "anyhow",
        owners: &["cli", "bench", "xtask"],
        free_in_tests: false,
        because: "a library says what failed by a type of its own",
    },
];

impl Reserved {
    fn covers(&self, package: &str) -> bool {
        match self.package.strip_suffix('*') {
            Some(stem) => package.starts_with(stem),
            None => package == self.package,
        }
    }
}

/// Checks every manifest under `crates/`, and those of `bench` and `xtask`.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for (path, text) in tree.texts() {
        let (owner, inside) = match path {
            "bench/Cargo.toml" => ("bench", false),
            "xtask/Cargo.toml" => ("xtask", false),
            _ => match crate_of(path) {
                Some(name) if path == format!("crates/{name}/Cargo.toml") => (name, true),
                _ => continue,
            },
        };
        match Manifest::read(text) {
            Ok(manifest) => {
                if inside {
                    found.extend(own_place(path, owner, &manifest));
                    found.extend(
                        manifest
                            .dependencies
                            .iter()
                            .filter_map(|one| upward(path, owner, one)),
                    );
                }
                found.extend(
                    manifest
                        .dependencies
                        .iter()
                        .filter_map(|one| reserved(path, owner, one)),
                );
                if !manifest.lints {
                    found.push(Fault::tidy(
                        "lints",
                        path,
                        1,
                        "does not take the lints of the workspace",
                        "add `[lints]` with `workspace = true`",
                    ));
                }
            }
            Err(error) => found.push(Fault::tidy(
                "manifest",
                path,
                1,
                format!("cannot be read: {error}"),
                "write it as TOML",
            )),
        }
    }
    found
}

/// The level of a crate, if it is one of ours.
pub(crate) fn level(name: &str) -> Option<u8> {
    LEVELS
        .iter()
        .find_map(|(known, level)| (*known == name).then_some(*level))
}

/// The folder has a level and the package bears the name of its folder.
fn own_place(path: &str, folder: &str, manifest: &Manifest) -> Vec<Fault> {
    let mut found = Vec::new();
    if level(folder).is_none() {
        found.push(Fault::tidy(
            "level",
            path,
            1,
            format!("crate `{folder}` has no level"),
            "give it one in xtask/src/tidy/levels.rs and a line in ARCHITECTURE.md",
        ));
    }
    if manifest.name.as_deref() != Some(folder) {
        let name = manifest.name.as_deref().unwrap_or("");
        found.push(Fault::tidy(
            "level",
            path,
            1,
            format!("package `{name}` lies in the folder `crates/{folder}`"),
            "give both the same name",
        ));
    }
    found
}

/// A dependency on a crate of ours that is not lower.
fn upward(path: &str, owner: &str, dependency: &Dependency) -> Option<Fault> {
    let (own, other) = (level(owner)?, level(&dependency.package)?);
    let allowed = match dependency.kind {
        Use::Shipped => other < own,
        Use::Tests => other <= own,
    };
    (!allowed).then(|| {
        Fault::tidy(
            "level",
            path,
            dependency.line,
            format!(
                "`{owner}` (level {own}) uses `{}` (level {other})",
                dependency.package
            ),
            "a crate uses only lower levels: pass a plain value down, or move the code",
        )
    })
}

/// An outside package used by a crate it is not kept for.
fn reserved(path: &str, owner: &str, dependency: &Dependency) -> Option<Fault> {
    let rule = RESERVED
        .iter()
        .find(|rule| rule.covers(&dependency.package))?;
    let allowed =
        rule.owners.contains(&owner) || (rule.free_in_tests && dependency.kind == Use::Tests);
    (!allowed).then(|| {
        Fault::tidy(
            "reserved",
            path,
            dependency.line,
            format!(
                "`{owner}` uses `{}`, but {}",
                dependency.package, rule.because
            ),
            format!("ask {} for it instead", rule.owners.join(" or ")),
        )
    })
}
