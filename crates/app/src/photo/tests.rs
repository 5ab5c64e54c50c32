//! Pictures in and out of a job folder, and what is loose between folder and record.

use std::fs;
use std::path::{Path, PathBuf};

use job::FileHash;
use report::{Cell, Report, Weight};

use super::{Sent, Size, keep, keep_files, list, loose, original, parted, smaller};
use crate::folder::{Folder, Hand, PHOTOS};

/// A picture that decodes; the byte behind its end only makes two of them different.
pub(crate) fn png(tail: u8) -> Vec<u8> {
    let mut bytes = picture();
    bytes.push(tail);
    bytes
}

fn hand(client: &str) -> Hand {
    Hand {
        author: "me".to_owned(),
        micros: 1_772_452_800_000_000,
        client: client.to_owned(),
    }
}

fn job(at: &Path) -> Folder {
    Folder::begin(at, Some(crate::demo::BOOK), None).unwrap()
}

fn cell(report: &Report, row: usize, key: &str) -> Cell {
    let at = report.rows.columns.iter().position(|it| it.key == key);
    report.rows.rows[row][at.unwrap()].clone()
}

fn send(folder: &mut Folder, client: &str, bytes: &[u8], words: &str) -> Report {
    let sent = Sent {
        name: "IMG_1.png",
        bytes,
    };
    keep(folder, &hand(client), &[sent], words)
}

/// The name of the only photo.
fn only(folder: &Folder) -> FileHash {
    folder.state.photos[0].file.clone().unwrap()
}

fn photos(folder: &Folder) -> Vec<PathBuf> {
    let inside = fs::read_dir(folder.path().join(PHOTOS)).unwrap();
    inside.map(|one| one.unwrap().path()).collect()
}

#[test]
fn a_picture_becomes_a_file_and_a_line() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path());
    let bytes = png(1);
    let report = send(
        &mut folder,
        "one",
        &bytes,
        "of runners hole F: the long one",
    );
    assert!(!report.refused, "{:?}", report.findings);
    assert_eq!(cell(&report, 0, "entry"), Cell::from(1_usize));
    let photo = &folder.state.photos[0];
    assert_eq!(photo.of.as_deref(), Some("runners"));
    assert_eq!(photo.hole.as_deref(), Some("F"));
    assert_eq!(photo.note.as_deref(), Some("the long one"));
    let (kind, kept) = original(at.path(), &only(&folder)).unwrap();
    assert_eq!((kind.ending(), kept), ("png", bytes));
    assert_eq!(photos(&folder).len(), 1, "no work in progress is left");
    assert!(loose(&folder).is_empty());
    assert_eq!(list(&folder).rows.rows.len(), 1);
}

/// Source: FIPS 180-4 test vector `abc`, published by NIST.
#[test]
fn the_name_is_the_sha_256() {
    let name = super::store::name_of(b"abc").unwrap();
    let published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(name.as_str(), published);
}

#[test]
fn sending_again_adds_nothing() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path());
    assert!(!send(&mut folder, "one", &png(1), "").refused);
    for client in ["one", "two"] {
        let report = send(&mut folder, client, &png(1), "");
        assert!(!report.refused);
        assert_eq!(report.figure("photos").map(|it| it.value), Some(0.0));
        assert_eq!(cell(&report, 0, "entry"), Cell::from(1_usize));
    }
    // Other words about the same picture are another line about the same file.
    assert!(!send(&mut folder, "three", &png(1), "of runners").refused);
    assert_eq!((folder.entries.len(), photos(&folder).len()), (2, 1));
}

#[test]
fn all_or_none() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path());
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic";
    let pair = [
        Sent {
            name: "a.png",
            bytes: &png(1),
        },
        Sent {
            name: "b.heic",
            bytes: heic,
        },
    ];
    let report = keep(&mut folder, &hand("one"), &pair, "of no-such-thing");
    assert!(report.refused);
    assert!(report.findings[0].says.contains("HEIC"));
    for words in ["of runners, hole", "hole", "file 0a"] {
        assert!(send(&mut folder, "two", &png(1), words).refused, "{words}");
    }
    let other = format!("of runners file {}", "0a".repeat(32));
    let report = send(&mut folder, "two", &png(1), &other);
    assert!(report.finds("photo-words"), "{:?}", report.findings);
    assert!(keep(&mut folder, &hand("two"), &[], "").refused);
    assert!(folder.entries.is_empty() && photos(&folder).is_empty());
}

#[test]
fn what_is_loose_is_found() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path());
    for tail in [1, 2, 3] {
        assert!(!send(&mut folder, &tail.to_string(), &png(tail), "").refused);
    }
    let path = |at: usize| {
        let file = folder.state.photos[at].file.as_ref().unwrap();
        folder.path().join(PHOTOS).join(format!("{file}.png"))
    };
    fs::remove_file(path(0)).unwrap();
    fs::write(path(1), png(9)).unwrap();
    fs::write(folder.path().join(PHOTOS).join("IMG_7.png"), png(7)).unwrap();
    let orphan = super::store::name_of(&png(8)).unwrap();
    let name = format!("{orphan}.png");
    fs::write(folder.path().join(PHOTOS).join(name), png(8)).unwrap();
    let mut found: Vec<_> = loose(&folder)
        .into_iter()
        .map(|one| (one.code, one.weight))
        .collect();
    found.sort();
    let expected = [
        ("photo-changed", Weight::Stop),
        ("photo-missing", Weight::Stop),
        ("photo-unnamed", Weight::Look),
        ("photo-without-line", Weight::Look),
    ];
    assert_eq!(found, expected);
    assert_eq!(crate::check::job(at.path()).exit_status(), 1);
}

/// A line that was taken back misses no file, and its file is no orphan.
#[test]
fn an_undone_photo_is_neither() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path());
    assert!(!send(&mut folder, "one", &png(1), "").refused);
    let file = only(&folder);
    assert!(!crate::lines::undo(&mut folder, &hand("two"), None, false).refused);
    assert!(loose(&folder).is_empty());
    fs::remove_file(folder.path().join(PHOTOS).join(format!("{file}.png"))).unwrap();
    assert!(loose(&folder).is_empty());
}

#[test]
fn a_smaller_one_is_drawn_once_and_again_when_it_is_gone() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(&at.path().join("van"));
    let sent = at.path().join("IMG_4.png");
    fs::write(&sent, picture()).unwrap();
    assert!(!keep_files(&mut folder, &hand("one"), &[&sent], "").refused);
    let file = only(&folder);
    let drawn = smaller(folder.path(), &file, Size::Small).unwrap();
    assert!(drawn.starts_with(&[0xFF, 0xD8, 0xFF]));
    fs::remove_dir_all(folder.path().join("smaller")).unwrap();
    assert_eq!(smaller(folder.path(), &file, Size::Small).unwrap(), drawn);
    let missing = FileHash::read(&"0a".repeat(32)).unwrap();
    assert!(smaller(folder.path(), &missing, Size::Large).is_err());
}

/// A grey PNG of 1 by 1 pixel that decodes; checksums and stream made by hand after the PNG
/// specification (third edition) and RFC 1950: one stored block of two bytes.
fn picture() -> Vec<u8> {
    let mut bytes = Vec::from(*b"\x89PNG\r\n\x1a\n");
    for (kind, data) in [
        (*b"IHDR", vec![0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]),
        (
            *b"IDAT",
            vec![0x78, 0x01, 1, 2, 0, 0xFD, 0xFF, 0, 0x80, 0, 0x82, 0, 0x81],
        ),
        (*b"IEND", vec![]),
    ] {
        bytes.extend(u32::try_from(data.len()).unwrap().to_be_bytes());
        let chunk = [kind.to_vec(), data].concat();
        bytes.extend(&chunk);
        bytes.extend(crc(&chunk).to_be_bytes());
    }
    bytes
}

/// The check sum of a PNG chunk, after the PNG specification (third edition), annex D.
fn crc(bytes: &[u8]) -> u32 {
    let step = |sum: u32| {
        if sum & 1 == 1 {
            0xEDB8_8320 ^ (sum >> 1)
        } else {
            sum >> 1
        }
    };
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| step(sum))
    })
}

#[test]
fn files_come_first_and_words_behind_them() {
    let typed = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
    let all = typed("a.jpg b.jpg of runners hole F: the long bolt");
    let (files, words) = parted(&all);
    assert_eq!(files, ["a.jpg", "b.jpg"]);
    assert_eq!(words.join(" "), "of runners hole F: the long bolt");
    let one = ["a.jpg".to_owned(), "bag 14: nuts".to_owned()];
    assert_eq!(parted(&one).1, ["bag 14: nuts"]);
    assert_eq!(parted(&typed("a.jpg ./bag : seen")).0.len(), 2);
}
