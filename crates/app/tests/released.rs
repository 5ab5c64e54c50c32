//! Every book, shop file, line and copy that was ever released still opens, and says what it
//! said. The files stand in `testdata/released` and are never changed.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::fs;
use std::path::{Path, PathBuf};

fn releases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../testdata/released");
    let inside = fs::read_dir(folder).unwrap();
    let mut all: Vec<PathBuf> = inside
        .map(|one| one.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    all.sort();
    assert!(!all.is_empty(), "nothing was opened");
    all
}

fn text(release: &Path, name: &str) -> String {
    fs::read_to_string(release.join(name)).unwrap()
}

#[test]
fn every_released_book_and_shop_file_opens() {
    for release in releases() {
        let book = text(&release, "book.kdl");
        let (read, faults) = book::read(&book);
        let shown = book::show_faults(&faults, "book.kdl", &book);
        assert!(faults.is_empty(), "{}: {shown}", release.display());
        assert!(!read.parts.is_empty() && !read.joints.is_empty());
        let (shop, faults) = book::read_shop(&text(&release, "shop.kdl"));
        assert!(faults.is_empty(), "{}: {faults:?}", release.display());
        // What is written back today is the same book: nothing of it was passed over.
        assert_eq!(book::read(&book::write(&read)).0, read);
        assert_eq!(book::read_shop(&book::write_shop(&shop)).0, shop);
    }
}

/// The lines as they were typed, a day or a remark being no line.
fn typed(life: &str) -> Vec<&str> {
    life.lines()
        .filter(|line| !line.starts_with('#') && !line.trim().is_empty())
        .map(|line| line.split_once('|').unwrap().1.trim())
        .collect()
}

#[test]
fn every_released_job_opens_with_its_lines_and_its_photos() {
    for release in releases() {
        let at = tempfile::tempdir().unwrap();
        let into = at.path().join("job");
        let folder = app::copy::lay_out(&release.join("job.zip"), &into).unwrap();
        let life = text(&release, "life.txt");
        let lines = typed(&life);
        let kept: Vec<&str> = folder.entries.iter().map(|one| one.line.as_str()).collect();
        assert_eq!(kept[..lines.len()], lines, "{}", release.display());
        // Behind the life, one line about one photo.
        assert_eq!(kept.len(), lines.len() + 1);
        assert_eq!(app::photo::loose(&folder), []);
        let contradicting = folder.state.findings.iter().filter(|one| one.contradicts);
        assert_eq!(contradicting.count(), 0);
    }
}
