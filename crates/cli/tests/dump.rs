//! The words and pages of every paper of the demo job, read back from the pages as they are set.

#![cfg(feature = "paper")]
#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::path::Path;
use std::process::Command;

use app::folder::Folder;
use app::paper::{What, Wish, papers};
use book::Date;
use sheet::paper::{Block, Body, Paper, Size};

/// 2026-03-28, a Saturday in the middle of the job, in microseconds.
const NOW: i64 = 1_774_656_000_000_000;

/// The last entry before the heads go back.
const APART: u64 = 218;

fn demo(place: &Path) -> Folder {
    let van = place.join("van");
    let status = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .arg("demo")
        .arg("--dir")
        .arg(&van)
        .output()
        .unwrap()
        .status;
    assert!(status.success());
    Folder::open(&van).unwrap()
}

fn wish(folder: &Folder, size: Size) -> Wish<'_> {
    Wish {
        folder,
        now_micros: NOW,
        day: Date::read("2026-03-28").unwrap(),
        size,
        joints: Vec::new(),
        targets: Vec::new(),
        stock: None,
        skip: 0,
        address: Some("http://bench:8080".to_owned()),
        scale: 1.0,
        at_work: Vec::new(),
        hours: None,
    }
}

/// What must stand on a paper, and on how many pages it may lie, in all its sheets.
struct Stands {
    what: What,
    pages: std::ops::RangeInclusive<usize>,
    words: &'static [&'static str],
}

fn stands(what: What) -> Stands {
    let (pages, words): (_, &[&str]) = match what {
        What::Tags => (7..=9, &["bottle-bleed.to", "takes", "bag"]),
        What::Buying => (1..=3, &["What to buy", "Order now"]),
        What::JobSheet => (
            6..=12,
            &[
                "Work of Saturday 28 March: Ana",
                "Work of Saturday 28 March: Rui",
                "Lay out",
                "Last chance",
                "What was different",
            ],
        ),
        What::Ends => (8..=10, &["Take hold of each", "bottle-bleed"]),
        What::BoltCard => (13..=20, &["full size, 1 : 1", "not to scale", "M11"]),
        What::MachineShop => (
            2..=6,
            &["0.09 mm", "Thickness at the corners", "The shop's answers"],
        ),
        What::Tightening => (24..=42, &["stage 3", "90°", "22 lbf·ft", "turn"]),
        What::Start => (1..=4, &["By the clock", "Oil pressure cold"]),
        What::Proof => (1..=2, &["92"]),
        What::Account => (
            6..=20,
            &[
                "Before and after",
                "What was not measured",
                "Passed over, corrected, taken back",
                "Costs",
                "372 EUR",
                "Hours",
                "Photographs",
                "burnt through between 3 and 5",
            ],
        ),
        What::HowTo => (
            6..=24,
            &[
                "Layer 1",
                "Met here",
                "on the way back",
                "whose figure",
                "As it was done",
                "The good way",
                "film 00:01:30",
                "knock sensor plug, under the loom",
                "after 1000 km",
            ],
        ),
    };
    Stands { what, pages, words }
}

/// Both are told of the finished job; the others while it is apart.
fn is_told_at_the_end(what: What) -> bool {
    matches!(
        what,
        What::Account | What::HowTo | What::Proof | What::Start | What::Tightening
    )
}

fn photos(paper: &Paper) -> usize {
    match &paper.body {
        Body::Pages(_, blocks) => blocks
            .iter()
            .filter(|block| matches!(block, Block::Photo(photo) if !photo.marks.is_empty()))
            .count(),
        Body::Labels(_) | Body::Card(_) => 0,
    }
}

#[test]
fn every_paper_says_what_it_is_for_on_as_many_pages_as_it_needs() {
    let place = tempfile::tempdir().unwrap();
    let whole = demo(place.path());
    let mut apart = whole.clone();
    apart.entries.retain(|entry| entry.id.0 <= APART);
    apart.state = job::replay(apart.book.as_ref(), &apart.entries);
    let mut slips: Vec<String> = Vec::new();
    for what in What::ALL {
        let folder = if is_told_at_the_end(what) {
            &whole
        } else {
            &apart
        };
        let want = stands(what);
        // Every paper is printed on both by another test; these lie on a fender.
        let sizes: &[Size] = match what {
            What::JobSheet => &[Size::A4, Size::Letter],
            _ => &[Size::A4],
        };
        for &size in sizes {
            let papers = papers(want.what, &wish(folder, size)).unwrap();
            let mut said = String::new();
            let mut pages = 0;
            for paper in &papers {
                let own = press::words(paper, size).unwrap();
                let flows = matches!(paper.body, Body::Pages(..));
                pages += own.len();
                said.push_str(&own.join(" "));
                // A page with nothing but its head and foot is a page too many; a last sheet
                // may well have one label on it.
                for (number, page) in own.iter().enumerate() {
                    // The words in a drawing are its own.
                    let drawn = what == What::Ends;
                    if flows && !drawn && page.len() < 160 {
                        slips.push(format!("{} page {number} is bare: {page}", paper.name));
                    }
                }
            }
            if !want.pages.contains(&pages) {
                slips.push(format!(
                    "{what:?} lies on {pages} pages, not {:?}",
                    want.pages
                ));
            }
            for word in want.words {
                if !said.contains(word) {
                    slips.push(format!("{what:?} without `{word}`:\n{said}"));
                }
            }
            if matches!(what, What::Account | What::HowTo) {
                assert_eq!(papers.iter().map(photos).sum::<usize>(), 5, "{what:?}");
            }
        }
    }
    assert!(slips.is_empty(), "{}", slips.join("\n"));
}

/// What stays in the house: who worked, whom to call, where a picture was taken.
#[test]
fn the_printed_how_to_names_nobody() {
    let place = tempfile::tempdir().unwrap();
    let whole = demo(place.path());
    let told = papers(What::HowTo, &wish(&whole, Size::A4)).unwrap();
    let said = press::words(&told[0], Size::A4).unwrap().join(" ");
    for name in ["Ana", "ana ", "Rui", "rui "] {
        assert!(!said.contains(name), "{name}: {said}");
    }
}
