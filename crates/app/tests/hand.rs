//! What is in hand on the demo's job, and that it agrees with the order of work. All invented.

#![expect(clippy::unwrap_used, reason = "a test that cannot run has failed")]

use app::demo::{BOOK, LIFE, SHOP};
use app::folder::{Folder, Hand};
use app::hand::{Asked, hand};
use report::{Cell, Picture, Report};

/// The demo after so many of its chapters.
fn demo(chapters: usize) -> (tempfile::TempDir, Folder) {
    let dir = tempfile::tempdir().unwrap();
    let mut folder = Folder::begin(&dir.path().join("job"), Some(BOOK), Some(SHOP)).unwrap();
    for chapter in LIFE.iter().take(chapters) {
        let rows = chapter.entries().unwrap_or_else(|fault| panic!("{fault}"));
        folder.append(&rows).unwrap();
    }
    (dir, folder)
}

/// 2026-03-28, in microseconds.
const NOW: i64 = 1_774_656_000_000_000;

fn asked(people: &[&str], ahead: usize) -> Asked {
    Asked {
        people: people.iter().map(|who| (*who).to_owned()).collect(),
        ahead: Some(ahead),
        now_micros: NOW,
        ..Asked::default()
    }
}

fn texts(report: &Report, key: &str) -> Vec<String> {
    let at = report
        .rows
        .columns
        .iter()
        .position(|column| column.key == key)
        .unwrap();
    let text = |row: &Vec<Cell>| match &row[at] {
        Cell::Text(text) => text.clone(),
        _ => String::new(),
    };
    report.rows.rows.iter().map(text).collect()
}

fn log(folder: &mut Folder, line: &str) {
    let hand = Hand {
        author: "ana".to_owned(),
        micros: NOW,
        client: format!("test-{}", folder.next_number()),
    };
    let report = app::lines::log(folder, &hand, &[line.to_owned()]);
    assert!(!report.refused, "{line}: {:?}", report.findings);
}

/// Tapping *it's on* again and again must lead somewhere: every act in hand, logged by the line
/// proposed for it, makes room for another one.
#[test]
fn the_proposed_lines_carry_the_work_forward() {
    let (_dir, mut folder) = demo(2);
    let mut seen: Vec<String> = Vec::new();
    for _ in 0..25 {
        let report = hand(&folder, &asked(&["ana"], 0));
        let lines = texts(&report, "line");
        let Some(line) = lines.first().filter(|line| !line.is_empty()) else {
            // A check with a reading or a gate is answered by a person, not by a tap.
            let step = &texts(&report, "step")[0];
            assert!(
                step.starts_with("check") || step.starts_with("gate"),
                "{step}"
            );
            break;
        };
        assert!(!seen.contains(line), "{line} again after {seen:?}");
        log(&mut folder, line);
        seen.push(line.clone());
    }
    assert!(seen.len() >= 3, "{seen:?}");
}

#[test]
fn two_people_see_the_same_sharing_out_and_never_the_same_thing() {
    let (_dir, folder) = demo(3);
    let ana = hand(&folder, &asked(&["ana", "rui"], 2));
    let rui = hand(&folder, &asked(&["rui", "ana"], 2));
    let pairs = |report: &Report| {
        let mut pairs: Vec<(String, String, String)> = texts(report, "who")
            .into_iter()
            .zip(texts(report, "turn"))
            .zip(texts(report, "step"))
            .map(|((who, turn), step)| (who, turn, step))
            .collect();
        pairs.sort();
        pairs
    };
    assert_eq!(pairs(&ana), pairs(&rui));
    let in_hand: Vec<String> = pairs(&ana)
        .into_iter()
        .filter(|(_, turn, _)| turn == "in hand")
        .map(|(_, _, step)| step)
        .collect();
    assert_eq!(in_hand.len(), 2, "{in_hand:?}");
    assert_ne!(in_hand[0], in_hand[1]);
    assert_eq!(texts(&ana, "who")[0], "ana");
    assert_eq!(texts(&rui, "who")[0], "rui");
}

/// The figure is the one of the tightening sheet, in the unit of the wrench of the shop.
#[test]
fn a_joint_in_hand_brings_the_wrench_its_figure_and_its_drawing() {
    let (_dir, mut folder) = demo(2);
    log(
        &mut folder,
        "on bulkhead-head-bolts: 8 new bolts M11x1.5x128, 1 new bulkhead head gasket",
    );
    let mut wanted = asked(&["ana"], 0);
    wanted.holding = vec![("ana".to_owned(), "do-up bulkhead-head-bolts".to_owned())];
    let report = hand(&folder, &wanted);
    assert_eq!(texts(&report, "step")[0], "do-up bulkhead-head-bolts");
    let sheet = app::tighten::tighten(
        &folder,
        &app::tighten::Asked {
            joint: Some("bulkhead-head-bolts".to_owned()),
            ..app::tighten::Asked::default()
        },
        NOW,
    );
    let setting = sheet.figure("setting").expect("the sheet sets a figure");
    assert_eq!(report.figure("setting"), Some(setting));
    let holes = report
        .pictures
        .iter()
        .any(|picture| matches!(picture, Picture::Holes(_)));
    let bay = report
        .pictures
        .iter()
        .any(|picture| matches!(picture, Picture::Bay(_)));
    assert!(holes && bay);
    let line = &texts(&report, "line")[0];
    assert!(line.starts_with("tight bulkhead-head-bolts"), "{line}");
    assert!(line.contains("stage 1"), "{line}");
}

#[test]
fn nothing_off_asks_what_is_to_be_got_at() {
    let (_dir, folder) = demo(0);
    let report = hand(&folder, &asked(&[], 2));
    assert!(!report.asks.is_empty(), "{report:?}");
    assert!(report.rows.rows.is_empty());
    let mut way_off = asked(&[], 2);
    way_off.targets = vec!["bulkhead-head".to_owned()];
    let report = hand(&folder, &way_off);
    assert_eq!(report.rows.rows.len(), 3);
}

#[test]
fn nonsense_is_refused_with_a_way_out() {
    let (_dir, folder) = demo(0);
    let mut wanted = asked(&[], 2);
    wanted.targets = vec!["bulkhead-hed".to_owned()];
    let report = hand(&folder, &wanted);
    assert!(report.refused && report.finds("name-unknown"));
    let far = hand(&folder, &asked(&[], 1000));
    assert!(far.refused && far.finds("ahead"));
    let (_dir, folder) = demo(2);
    let mut holding = asked(&["ana"], 0);
    holding.holding = vec![("ana".to_owned(), "the moon".to_owned())];
    assert!(hand(&folder, &holding).finds("not-left"));
}
