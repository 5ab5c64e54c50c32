//! Rule `link`: a link from a page to a file of the repository leads somewhere.
//!
//! Addresses of the web are not followed, and the part of a link after `#` is not checked.

use crate::fault::Fault;
use crate::tree::Tree;

/// Looks at `[words](target)` in every page.
pub(crate) fn faults(tree: &Tree) -> Vec<Fault> {
    let mut found = Vec::new();
    for (path, text) in tree.texts().filter(|(path, _)| path.ends_with(".md")) {
        let mut in_code = false;
        for (line, number) in text.lines().zip(1..) {
            in_code ^= line.trim_start().starts_with("```");
            if in_code {
                continue;
            }
            for part in line.split("](").skip(1) {
                let Some((target, _)) = part.split_once(')') else {
                    continue;
                };
                let target = target.split('#').next().unwrap_or_default();
                if target.is_empty() || target.contains(':') {
                    continue;
                }
                let resolved = resolve(path, target);
                if !leads_somewhere(tree, &resolved) {
                    found.push(Fault::tidy(
                        "link",
                        path,
                        number,
                        format!("`{target}` leads to `{resolved}`, which is not there"),
                        "mend the link, or write the page",
                    ));
                }
            }
        }
    }
    found
}

/// The path a link means, seen from the page it stands on.
fn resolve(page: &str, target: &str) -> String {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for step in target.split('/') {
        match step {
            ".." => drop(parts.pop()),
            "" | "." => {}
            name => parts.push(name),
        }
    }
    parts.join("/")
}

/// Whether the path is a file, or a folder with files.
fn leads_somewhere(tree: &Tree, path: &str) -> bool {
    path.is_empty()
        || tree.files().any(|file| {
            file.path
                .strip_prefix(path)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
        })
}
