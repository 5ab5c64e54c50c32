//! Which papers are written, where, and what is refused.

use std::collections::BTreeSet;

use super::{Asked, Pressed, print};
use crate::demo::{BOOK, LIFE, SHOP};
use crate::folder::Folder;
use crate::paper::What;
use report::Report;
use sheet::paper::{Paper, Size};

/// 2026-04-07, in microseconds.
const NOW: i64 = 1_775_520_000_000_000;

/// Stands for a press: what it writes is known as ours and tells the paper and the sheet.
fn press(paper: &Paper, size: Size) -> Result<Pressed, String> {
    let text = format!(
        "%PDF <xmp:CreatorTool>matchmark {} {}",
        paper.name,
        size.word()
    );
    Ok(Pressed {
        pdf: text.into_bytes(),
        pages: 2,
    })
}

/// The van after so many chapters of its life.
fn van(chapters: usize) -> (tempfile::TempDir, Folder) {
    let place = tempfile::tempdir().unwrap();
    let mut folder = Folder::begin(&place.path().join("van"), Some(BOOK), Some(SHOP)).unwrap();
    for chapter in &LIFE[..chapters] {
        folder.append(&chapter.entries().unwrap()).unwrap();
    }
    (place, folder)
}

fn asked(what: &[&str]) -> Asked {
    Asked {
        what: what.iter().map(|&word| word.to_owned()).collect(),
        now_micros: NOW,
        ..Asked::default()
    }
}

fn files(folder: &Folder) -> BTreeSet<String> {
    let papers = folder.path().join("papers");
    let Ok(there) = std::fs::read_dir(papers) else {
        return BTreeSet::new();
    };
    there
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect()
}

fn options(report: &Report) -> Vec<&str> {
    report
        .findings
        .iter()
        .map(|finding| finding.concerns.as_str())
        .collect()
}

/// Every paper of the list becomes at least one file whose name begins with its word.
#[test]
fn all_writes_every_paper_of_a_job_under_way() {
    let (_place, mut folder) = van(2);
    let wish = Asked {
        all: true,
        ..asked(&[])
    };
    let report = print(&mut folder, &wish, Some(press));
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    assert_eq!(report.exit_status(), 0);
    let files = files(&folder);
    for what in What::ALL {
        assert!(
            files.iter().any(|file| file.starts_with(what.word())),
            "{} is not among {files:?}",
            what.word()
        );
    }
    let papers = report.figure("papers").unwrap();
    assert_eq!(papers.shown, files.len().to_string());
    let pages = report.figure("pages").unwrap();
    assert_eq!(pages.shown, (2 * files.len()).to_string());
}

#[test]
fn without_a_press_it_says_how_to_come_by_one() {
    let (_place, mut folder) = van(1);
    let report = print(&mut folder, &asked(&["tags"]), None);
    assert_eq!(report.exit_status(), 2);
    assert!(report.finds("no-press"));
    let next = report.findings[0].next.clone().unwrap();
    assert!(next.contains("--features paper"), "{next}");
    assert!(files(&folder).is_empty());
}

#[test]
fn asked_for_nothing_it_lists_what_there_is() {
    let (_place, mut folder) = van(1);
    for press in [None, Some(press as super::Press)] {
        let report = print(&mut folder, &asked(&[]), press);
        assert_eq!(report.exit_status(), 0);
        assert_eq!(report.rows.rows.len(), What::ALL.len());
        assert_eq!(report.finds("no-press"), press.is_none());
    }
}

#[test]
fn every_slip_is_named_in_one_go() {
    let (_place, mut folder) = van(1);
    let wish = Asked {
        paper: Some("a3".to_owned()),
        of: vec!["no-such-joint".to_owned()],
        labels: Some("1x1".to_owned()),
        scale: Some("0:1".to_owned()),
        at: Some(100_000),
        ..asked(&["tightning"])
    };
    let report = print(&mut folder, &wish, Some(press));
    assert_eq!(report.exit_status(), 2);
    assert_eq!(
        options(&report),
        ["WHAT", "--of", "--paper", "--labels", "--scale", "--at"]
    );
    assert!(files(&folder).is_empty());
}

#[test]
fn a_file_of_someone_else_is_left_alone_and_our_own_is_printed_anew() {
    let (_place, mut folder) = van(1);
    let papers = folder.path().join("papers");
    std::fs::create_dir_all(&papers).unwrap();
    let file = papers.join("tags.pdf");
    std::fs::write(&file, "a drawing of mine").unwrap();
    let report = print(&mut folder, &asked(&["tags"]), Some(press));
    assert!(report.finds("file-there"));
    assert_eq!(std::fs::read(&file).unwrap(), b"a drawing of mine");
    std::fs::remove_file(&file).unwrap();
    for _ in 0..2 {
        let report = print(&mut folder, &asked(&["tags"]), Some(press));
        assert_eq!(report.exit_status(), 0, "{:?}", report.findings);
    }
}

#[test]
fn what_is_not_there_to_print_is_said_with_a_way_on() {
    let (_place, mut folder) = van(0);
    for word in ["tightening", "bolt-card", "machine-shop", "proof", "buying"] {
        let report = print(&mut folder, &asked(&[word]), Some(press));
        assert_eq!(report.exit_status(), 2, "{word}");
        assert!(report.finds("nothing-to-print"), "{word}");
        assert!(report.findings[0].next.is_some(), "{word}");
    }
}

/// The record is looked at as it stood; nothing is taken out of it.
#[test]
fn the_job_is_looked_at_as_it_stood_after_an_entry() {
    let (place, mut folder) = van(2);
    let wish = Asked {
        at: Some(1),
        ..asked(&["machine-shop"])
    };
    assert!(print(&mut folder, &wish, Some(press)).refused);
    let mut folder = Folder::open(&place.path().join("van")).unwrap();
    assert!(folder.entries.len() > 1);
    let report = print(&mut folder, &asked(&["machine-shop"]), Some(press));
    assert_eq!(
        files(&folder).into_iter().collect::<Vec<_>>(),
        [
            "machine-shop-bulkhead-head.pdf",
            "machine-shop-radiator-head.pdf"
        ],
        "{:?}",
        report.findings
    );
}

#[test]
fn the_sheet_follows_the_units_of_the_book_unless_it_is_named() {
    let (_place, mut folder) = van(1);
    let printed = |folder: &mut Folder, paper: Option<&str>| {
        let wish = Asked {
            paper: paper.map(str::to_owned),
            ..asked(&["ends"])
        };
        assert_eq!(print(folder, &wish, Some(press)).exit_status(), 0);
        std::fs::read_to_string(folder.path().join("papers/ends.pdf")).unwrap()
    };
    assert!(printed(&mut folder, None).ends_with("a4"));
    assert!(printed(&mut folder, Some("Letter")).ends_with("letter"));
    folder.state.known.units = book::Units::Inch;
    assert!(printed(&mut folder, None).ends_with("letter"));
}
