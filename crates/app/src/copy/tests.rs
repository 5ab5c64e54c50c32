//! A copy and back: nothing lost, nothing taken that is no job, nothing half done.

use std::fs;
use std::io::{Cursor, Write};
use std::path::Path;

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::{CopyFault, copy, is_copy, lay_out, write};
use crate::folder::{Folder, Hand, PHOTOS};

const NOON: i64 = 1_772_452_800_000_000; // 2026-03-02 12:00 UTC

fn job(at: &Path) -> Folder {
    let mut folder = Folder::begin(
        at,
        Some(crate::demo::BOOK),
        Some("shop \"Barn\"\nperson me\n"),
    )
    .unwrap();
    let hand = Hand {
        author: "me".to_owned(),
        micros: NOON,
        client: "one".to_owned(),
    };
    let lines = [
        "off wiper-tray: bag 1".to_owned(),
        "photo 1 bag 1".to_owned(),
    ];
    assert!(!crate::lines::log(&mut folder, &hand, &lines).refused);
    let photos = at.join(PHOTOS);
    fs::create_dir_all(photos.join("2026")).unwrap();
    fs::write(photos.join("2026/b.jpg"), b"second").unwrap();
    fs::write(photos.join("a.jpg"), b"first").unwrap();
    fs::write(photos.join(".half"), b"being written").unwrap();
    folder
}

#[test]
fn a_job_comes_back_as_it_was() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(&at.path().join("van"));
    let file = at.path().join("van.zip");
    let report = copy(&folder, &file, NOON);
    assert!(!report.refused, "{:?}", report.findings);
    assert!(is_copy(&file));
    assert_eq!(
        report.figure("entries").map(|it| it.shown.as_str()),
        Some("2")
    );
    assert_eq!(
        report.figure("photos").map(|it| it.shown.as_str()),
        Some("2")
    );

    let back = lay_out(&file, &at.path().join("again")).unwrap();
    assert_eq!(back.entries, folder.entries);
    assert_eq!(back.state, folder.state);
    assert_eq!(back.book, folder.book);
    assert_eq!(back.shop, folder.shop);
    let photos = back.path().join(PHOTOS);
    assert_eq!(fs::read(photos.join("2026/b.jpg")).unwrap(), b"second");
    assert_eq!(fs::read(photos.join("a.jpg")).unwrap(), b"first");
    assert!(!photos.join(".half").exists());
    // Nothing but the job is left in the folder.
    let mut names: Vec<_> = fs::read_dir(back.path())
        .unwrap()
        .map(|one| one.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.ends_with("-wal") && !name.ends_with("-shm"))
        .collect();
    names.sort();
    assert_eq!(names, ["book.kdl", "photos", "record.sqlite", "shop.kdl"]);
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(&at.path().join("van"));
    let (mut one, mut two) = (Vec::new(), Vec::new());
    let first = write(&folder, &mut one).unwrap();
    assert_eq!(write(&folder, &mut two).unwrap(), first);
    assert_eq!(one, two);
}

#[test]
fn a_folder_gets_a_copy_named_for_the_job_and_the_day() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(&at.path().join("van"));
    let stick = at.path().join("stick");
    fs::create_dir(&stick).unwrap();
    assert!(!copy(&folder, &stick, NOON).refused);
    assert!(stick.join("van-2026-03-02.zip").exists());
    let again = copy(&folder, &stick, NOON);
    assert!(
        again.refused && again.finds("file"),
        "a copy is never overwritten"
    );
}

#[test]
fn a_job_is_never_laid_over_another() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(&at.path().join("van"));
    let file = at.path().join("van.zip");
    assert!(!copy(&folder, &file, NOON).refused);
    assert!(matches!(
        lay_out(&file, folder.path()),
        Err(CopyFault::Folder(_))
    ));
}

fn packed(names: &[&str]) -> Vec<u8> {
    let mut pack = ZipWriter::new(Cursor::new(Vec::new()));
    for name in names {
        pack.start_file(*name, SimpleFileOptions::default())
            .unwrap();
        pack.write_all(b"not what it says").unwrap();
    }
    pack.finish().unwrap().into_inner()
}

#[test]
fn what_is_no_copy_leaves_nothing_behind() {
    let at = tempfile::tempdir().unwrap();
    let file = at.path().join("odd.zip");
    let into = at.path().join("in/here");
    for (names, why) in [
        (&["letter.txt"][..], "no record.sqlite"),
        (&["record.sqlite", "../../escaped"][..], "no file of a job"),
        (
            &["record.sqlite", "photos/../../escaped"][..],
            "no file of a job",
        ),
        (&["record.sqlite", "Makefile"][..], "no file of a job"),
        (&["record.sqlite"][..], "not a record"),
    ] {
        fs::write(&file, packed(names)).unwrap();
        let fault = lay_out(&file, &into).unwrap_err();
        assert!(fault.to_string().contains(why), "{names:?}: {fault}");
        assert!(!into.exists(), "{names:?}");
        assert_eq!(fs::read_dir(at.path().join("in")).unwrap().count(), 0);
        assert!(!at.path().join("escaped").exists());
        assert!(!at.path().join("in/escaped").exists());
    }
}

#[test]
fn a_damaged_copy_is_refused() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(&at.path().join("van"));
    let mut bytes = Vec::new();
    write(&folder, &mut bytes).unwrap();
    let photo = bytes.windows(6).position(|six| six == b"second").unwrap();
    bytes[photo] ^= 1;
    let file = at.path().join("van.zip");
    fs::write(&file, &bytes).unwrap();
    assert!(lay_out(&file, &at.path().join("one")).is_err());
    fs::write(&file, &bytes[..bytes.len() / 2]).unwrap();
    assert!(lay_out(&file, &at.path().join("two")).is_err());
    assert!(!at.path().join("one/record.sqlite").exists());
}
