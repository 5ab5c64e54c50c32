//! The files of the repository as text in memory, so that a rule is a function and its test needs no disk.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};

/// One file of the repository.
#[derive(Clone, Debug)]
pub(crate) struct File {
    /// Path from the top of the repository, with `/` on every system.
    pub(crate) path: String,
    /// Its text; nothing when the file is not UTF-8 (photographs, fonts).
    pub(crate) text: Option<String>,
}

/// All files that are in the repository or about to be.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tree {
    files: Vec<File>,
}

impl Tree {
    /// Reads what git tracks, and what it would track if it were added now.
    ///
    /// New files count, so that a fault is met before the commit and not after it. A tracked file that has been
    /// deleted from the disk is left out.
    pub(crate) fn tracked(root: &Path) -> Result<Self> {
        let listed = Command::new("git")
            .args([
                "ls-files",
                "-z",
                "--cached",
                "--others",
                "--exclude-standard",
            ])
            .current_dir(root)
            .output()
            .context("running git; is it installed?")?;
        if !listed.status.success() {
            bail!(
                "git cannot list the files of {}: {}",
                root.display(),
                String::from_utf8_lossy(&listed.stderr).trim()
            );
        }
        let listed = String::from_utf8(listed.stdout).context("a file name is not UTF-8")?;
        let mut files = Vec::new();
        for path in listed.split('\0').filter(|path| !path.is_empty()) {
            let on_disk = root.join(path);
            if on_disk.is_file() {
                let bytes = std::fs::read(&on_disk).with_context(|| format!("reading {path}"))?;
                files.push(File {
                    path: path.to_owned(),
                    text: String::from_utf8(bytes).ok(),
                });
            }
        }
        Ok(Self::of(files))
    }

    /// A tree of given files, in the order of their paths, each once.
    pub(crate) fn of(mut files: Vec<File>) -> Self {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        files.dedup_by(|a, b| a.path == b.path);
        Self { files }
    }

    /// Every file with its path and, if it is text, the text.
    pub(crate) fn files(&self) -> impl Iterator<Item = &File> {
        self.files.iter()
    }

    /// Every text file: path and text.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files
            .iter()
            .filter_map(|file| Some((file.path.as_str(), file.text.as_deref()?)))
    }

    /// Every Rust source file: path and text.
    pub(crate) fn rust(&self) -> impl Iterator<Item = (&str, &str)> {
        self.texts().filter(|(path, _)| path.ends_with(".rs"))
    }

    /// The text of one file, if it is there.
    pub(crate) fn text(&self, path: &str) -> Option<&str> {
        self.texts()
            .find_map(|(candidate, text)| (candidate == path).then_some(text))
    }

    /// Names of the folders under `crates/`, each once, sorted.
    pub(crate) fn crates(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self
            .files
            .iter()
            .filter_map(|file| file.path.strip_prefix("crates/")?.split_once('/'))
            .map(|(name, _)| name)
            .collect();
        names.dedup();
        names
    }
}

/// The name of the crate folder a path lies in, if it lies in one.
pub(crate) fn crate_of(path: &str) -> Option<&str> {
    Some(path.strip_prefix("crates/")?.split_once('/')?.0)
}

/// Whether a file holds tests only, by the names Cargo and this house give such files.
pub(crate) fn is_test_file(path: &str) -> bool {
    path.ends_with("/tests.rs") || path.contains("/tests/") || path.contains("/benches/")
}

/// The lines of a Rust file that are not tests, each with its number from one.
///
/// A test module starts at `#[cfg(test)]` in the first column followed by `mod name {`, and ends at the next `}` in
/// the first column: the formatter sees to that shape.
pub(crate) fn lines_outside_tests<'a>(path: &str, text: &'a str) -> Vec<(usize, &'a str)> {
    if is_test_file(path) {
        return Vec::new();
    }
    let mut kept = Vec::new();
    let mut lines = text.lines().zip(1..).peekable();
    while let Some((line, number)) = lines.next() {
        let opens = |next: &str| next.starts_with("mod ") && next.ends_with('{');
        if line == "#[cfg(test)]" && lines.peek().is_some_and(|(next, _)| opens(next)) {
            lines.by_ref().find(|(inner, _)| *inner == "}");
        } else {
            kept.push((number, line));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Git lists tracked and new files, leaves out ignored ones, and a picture has no text.
    #[test]
    fn tracked_reads_what_git_would_take() {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, bytes: &[u8]| {
            let path = folder.path().join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        };
        write(".gitignore", b"/target\n");
        write("target/out.rs", b"fn made() {}\n");
        write("crates/calc/src/lib.rs", b"//! Formulas.\n");
        write("photo.png", &[0x89, 0x50, 0xff]);
        let git = Command::new("git")
            .args(["init", "-q"])
            .current_dir(folder.path())
            .status()
            .unwrap();
        assert!(git.success());

        let tree = Tree::tracked(folder.path()).unwrap();

        let paths: Vec<&str> = tree.files().map(|file| file.path.as_str()).collect();
        assert_eq!(paths, [".gitignore", "crates/calc/src/lib.rs", "photo.png"]);
        assert_eq!(tree.text("photo.png"), None);
        assert_eq!(tree.text("crates/calc/src/lib.rs"), Some("//! Formulas.\n"));
        assert_eq!(tree.crates(), ["calc"]);
    }

    #[test]
    fn tracked_says_so_when_there_is_no_repository() {
        let folder = tempfile::tempdir().unwrap();
        let error = Tree::tracked(&folder.path().join("nowhere")).unwrap_err();
        assert!(error.to_string().contains("git"), "{error}");
    }

    #[test]
    fn test_modules_are_not_counted() {
        let text = "fn a() {}\n#[cfg(test)]\nmod tests {\n    fn b() {}\n}\nfn c() {}\n#[cfg(test)]\nmod elsewhere;\n";
        let kept: Vec<usize> = lines_outside_tests("crates/calc/src/bore.rs", text)
            .into_iter()
            .map(|(number, _)| number)
            .collect();
        assert_eq!(kept, [1, 6, 7, 8]);
        assert!(lines_outside_tests("crates/calc/src/bore/tests.rs", text).is_empty());
    }
}
