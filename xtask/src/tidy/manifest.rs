//! What a `Cargo.toml` says about dependencies, with line numbers.

use toml_edit::{Document, TableLike};

/// Which of Cargo's three lists a dependency stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Use {
    /// `[dependencies]` or `[build-dependencies]`: part of what is shipped.
    Shipped,
    /// `[dev-dependencies]`: tests only.
    Tests,
}

/// One dependency of a crate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Dependency {
    /// The package it names, also where the manifest gives it another name.
    pub(crate) package: String,
    /// Which list it stands in.
    pub(crate) kind: Use,
    /// Line of the manifest, from one.
    pub(crate) line: usize,
}

/// A manifest, as far as the rules need it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Manifest {
    /// `package.name`.
    pub(crate) name: Option<String>,
    /// Whether it takes the lints of the workspace.
    pub(crate) lints: bool,
    /// Every dependency of every list and target.
    pub(crate) dependencies: Vec<Dependency>,
}

impl Manifest {
    /// Reads a manifest; the error is the TOML reader's own words.
    pub(crate) fn read(text: &str) -> Result<Self, String> {
        let document = Document::parse(text).map_err(|error| error.message().to_owned())?;
        let root = document.as_table();
        let mut dependencies = Vec::new();
        gather(root, text, &mut dependencies);
        if let Some(targets) = root.get("target").and_then(|item| item.as_table_like()) {
            for (_, target) in targets.iter() {
                if let Some(target) = target.as_table_like() {
                    gather(target, text, &mut dependencies);
                }
            }
        }
        let within = |table: &str, key: &str| root.get(table)?.as_table_like()?.get(key);
        Ok(Self {
            name: within("package", "name").and_then(|name| Some(name.as_str()?.to_owned())),
            lints: within("lints", "workspace").and_then(|on| on.as_bool()) == Some(true),
            dependencies,
        })
    }
}

/// Adds the dependencies listed in one table: the manifest itself or one `[target.…]`.
fn gather(table: &dyn TableLike, text: &str, into: &mut Vec<Dependency>) {
    let lists = [
        ("dependencies", Use::Shipped),
        ("build-dependencies", Use::Shipped),
        ("dev-dependencies", Use::Tests),
    ];
    for (list, kind) in lists {
        let Some(list) = table.get(list).and_then(|item| item.as_table_like()) else {
            continue;
        };
        for (name, item) in list.iter() {
            let renamed = item
                .as_table_like()
                .and_then(|fields| fields.get("package")?.as_str());
            let at = list
                .key(name)
                .and_then(|key| key.span())
                .map_or(0, |span| span.start);
            into.push(Dependency {
                package: renamed.unwrap_or(name).to_owned(),
                kind,
                line: text[..at].matches('\n').count() + 1,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_every_list_and_sees_through_a_rename() {
        let text = "[package]\nname = \"bore\"\n\n[dependencies]\nquantity.workspace = true\nlevel = { package = \"rusqlite\", version = \"1\" }\n\n[target.'cfg(unix)'.dependencies]\nlibm = \"0.2\"\n\n[dev-dependencies]\nproptest = \"1\"\n\n[lints]\nworkspace = true\n";
        let manifest = Manifest::read(text).unwrap();
        assert_eq!(manifest.name.as_deref(), Some("bore"));
        assert!(manifest.lints);
        let seen: Vec<(&str, Use, usize)> = manifest
            .dependencies
            .iter()
            .map(|one| (one.package.as_str(), one.kind, one.line))
            .collect();
        assert_eq!(
            seen,
            [
                ("quantity", Use::Shipped, 5),
                ("rusqlite", Use::Shipped, 6),
                ("proptest", Use::Tests, 12),
                ("libm", Use::Shipped, 9),
            ]
        );
    }
}
