//! What stands on the papers of the island post van.

use std::collections::BTreeMap;

use super::{What, Wish, papers};
use crate::demo::{BOOK, LIFE, SHOP};
use crate::folder::Folder;
use book::{Date, JointId};
use quantity::Duration;
use sheet::paper::{Act, Block, Body, Card, Labels, Paper, Pulls, Size};

/// The van after so many chapters of its life.
fn van(chapters: usize, book: &str) -> (tempfile::TempDir, Folder) {
    let place = tempfile::tempdir().unwrap();
    let mut folder = Folder::begin(&place.path().join("van"), Some(book), Some(SHOP)).unwrap();
    for chapter in &LIFE[..chapters] {
        folder.append(&chapter.entries().unwrap()).unwrap();
    }
    (place, folder)
}

fn wish<'a>(folder: &'a Folder, joints: &[&str]) -> Wish<'a> {
    Wish {
        folder,
        now_micros: 1_775_520_000_000_000,
        day: Date::read("2026-04-07").unwrap(),
        size: Size::A4,
        joints: joints.iter().map(|&joint| JointId::new(joint)).collect(),
        targets: Vec::new(),
        stock: None,
        skip: 0,
        address: Some("http://bench:8080".to_owned()),
        scale: 1.0,
        at_work: Vec::new(),
        hours: None,
    }
}

fn only(what: What, wish: &Wish<'_>) -> Paper {
    let mut papers = papers(what, wish).unwrap();
    assert_eq!(papers.len(), 1);
    papers.remove(0)
}

fn blocks(paper: &Paper) -> &[Block] {
    match &paper.body {
        Body::Pages(_, blocks) => blocks,
        Body::Labels(_) | Body::Card(_) => panic!("{} does not flow", paper.name),
    }
}

fn labels(paper: &Paper) -> &Labels {
    match &paper.body {
        Body::Labels(labels) => labels,
        Body::Pages(..) | Body::Card(_) => panic!("{} is no sheet of labels", paper.name),
    }
}

fn card(paper: &Paper) -> &Card {
    match &paper.body {
        Body::Card(card) => card,
        Body::Pages(..) | Body::Labels(_) => panic!("{} is no card", paper.name),
    }
}

fn pulls(blocks: &[Block]) -> Vec<&Pulls> {
    let mut found = Vec::new();
    for block in blocks {
        match block {
            Block::Pulls(pulls) => found.push(pulls),
            Block::Chapter(_, blocks) => found.extend(self::pulls(blocks)),
            _ => {}
        }
    }
    found
}

#[test]
fn every_paper_of_an_invented_book_says_so() {
    let (_place, folder) = van(2, BOOK);
    for what in What::ALL {
        for paper in papers(what, &wish(&folder, &[])).unwrap() {
            let warning = paper.warning.as_deref().unwrap_or_default();
            assert!(warning.contains("invented"), "{}", paper.name);
            let names = [paper.job.as_str(), paper.title.as_str()];
            assert!(
                names.contains(&"Island post van, both heads off"),
                "{names:?}"
            );
        }
    }
}

/// A number stands on two labels, the end and its port; a bag on one.
#[test]
fn tags_come_in_pairs_and_bags_alone() {
    let (_place, folder) = van(0, BOOK);
    let paper = only(What::Tags, &wish(&folder, &[]));
    let mut marks: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for label in &labels(&paper).labels {
        marks.entry(&label.mark).or_default().push(&label.on);
        assert!(
            label
                .address
                .as_deref()
                .unwrap()
                .starts_with("http://bench:8080/where?of="),
            "{label:?}"
        );
    }
    for (mark, on) in &marks {
        let want = if mark.starts_with("bag") { 1 } else { 2 };
        assert_eq!(on.len(), want, "{mark}: {on:?}");
    }
    let bleed = marks.values().find(|on| on.contains(&"bottle-bleed.to"));
    assert_eq!(
        bleed.map(Vec::as_slice),
        Some(["bottle-bleed.to", "water-outlet.bleed"].as_slice())
    );
}

fn acts(paper: &Paper) -> &[Act] {
    let acts = blocks(paper).iter().find_map(|block| match block {
        Block::Acts(acts) => Some(acts.as_slice()),
        _ => None,
    });
    acts.unwrap_or_default()
}

/// 2026-04-07 is a Tuesday: by the shop file only one of the two is there, for three hours.
#[test]
fn a_job_sheet_has_the_acts_of_the_evening() {
    let (_place, folder) = van(2, BOOK);
    let paper = only(What::JobSheet, &wish(&folder, &[]));
    assert_eq!(paper.title, "Work of Tuesday 7 April");
    let acts = acts(&paper);
    assert!(acts.len() > 2, "{acts:?}");
    let numbers: Vec<usize> = acts.iter().map(|it| it.number.parse().unwrap()).collect();
    assert_eq!(numbers, (1..=acts.len()).collect::<Vec<_>>());
    // Ana takes half as long again as the book, and all of it fits into her evening.
    let all = wish(&folder, &[]);
    let longer = only(
        What::JobSheet,
        &Wish {
            hours: Duration::hours(6.0).ok(),
            ..all.clone()
        },
    );
    assert!(self::acts(&longer).len() > acts.len());
    let said = format!("{:?}", blocks(&paper));
    assert!(said.contains("3 h there"), "{said}");
}

/// On a Saturday both are there: one sheet each, the numbers shared.
#[test]
fn two_people_get_a_sheet_each_with_shared_numbers() {
    let (_place, folder) = van(2, BOOK);
    let saturday = Wish {
        day: Date::read("2026-04-11").unwrap(),
        ..wish(&folder, &[])
    };
    let sheets = papers(What::JobSheet, &saturday).unwrap();
    let names: Vec<&str> = sheets.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["job-sheet-ana", "job-sheet-rui"]);
    let (ana, rui) = (acts(&sheets[0]), acts(&sheets[1]));
    assert!(!ana.is_empty() && !rui.is_empty());
    assert_eq!(ana[0].number, "1");
    assert_eq!(rui[0].number, "1");
    assert_ne!(ana[0].says, rui[0].says);
}

/// Every stage of a joint stands at its act in the unit of the wrench, and what the part about
/// to go on covers stands at its own.
#[test]
fn a_job_sheet_says_what_to_set_and_what_is_covered() {
    let (_place, folder) = van(2, BOOK);
    let long = Wish {
        hours: Duration::hours(24.0).ok(),
        at_work: vec!["ana".to_owned()],
        ..wish(&folder, &[])
    };
    let paper = only(What::JobSheet, &long);
    let acts = acts(&paper);
    let settings: Vec<&str> = acts
        .iter()
        .flat_map(|act| &act.figures)
        .map(|figure| figure.shown.as_str())
        .collect();
    assert!(settings.contains(&"22 lbf·ft"), "{settings:?}");
    assert!(settings.contains(&"90°"), "{settings:?}");
    assert!(
        acts.iter().any(|act| !act.last_chance.is_empty()),
        "nothing is about to be covered"
    );
    assert!(acts.iter().any(|act| !act.cautions.is_empty()));
}

#[test]
fn before_anything_is_off_a_job_sheet_asks_what_for() {
    let (_place, folder) = van(0, BOOK);
    let bare = wish(&folder, &[]);
    let why = papers(What::JobSheet, &bare).unwrap_err();
    assert!(why.next.unwrap().contains("--for PART"));
    let wish = Wish {
        targets: vec!["bulkhead-head".to_owned()],
        ..bare
    };
    let paper = only(What::JobSheet, &wish);
    assert!(!acts(&paper).is_empty());
}

/// Eight bolts, three stages: 24 boxes, and those the record has are ticked.
#[test]
fn a_tightening_sheet_has_a_box_for_each_bolt_and_stage() {
    let (_place, folder) = van(2, BOOK);
    let paper = only(What::Tightening, &wish(&folder, &["bulkhead-head-bolts"]));
    assert_eq!(paper.name, "tightening-bulkhead-head-bolts");
    let [pulls] = pulls(blocks(&paper))[..] else {
        panic!("one table");
    };
    assert_eq!(pulls.stages.len(), 3);
    assert_eq!(pulls.bolts.len(), 8);
    assert_eq!(pulls.stages[0].figure, "30 N·m");
    assert_eq!(pulls.stages[0].setting, "22 lbf·ft");
    assert_eq!(pulls.stages[0].wrench, "middle");
    assert_eq!(pulls.stages[1].setting, "90°");
    assert!(pulls.bolts.iter().all(|bolt| bolt.had == [Some(false); 3]));
    let (_place, folder) = van(LIFE.len(), BOOK);
    let paper = only(What::Tightening, &wish(&folder, &["bulkhead-head-bolts"]));
    let pulls = self::pulls(blocks(&paper));
    assert!(
        pulls[0]
            .bolts
            .iter()
            .all(|bolt| bolt.had == [Some(true); 3])
    );
}

/// Bolts that take another figure have a column of their own and nothing in the others.
#[test]
fn every_bolt_of_a_joint_gets_its_own_stages_and_no_other() {
    let (_place, folder) = van(2, BOOK);
    let joints = folder.state.known.joints.clone();
    let mut seen = 0;
    for joint in &joints {
        let wish = wish(&folder, &[joint.id.as_str()]);
        let Ok(papers) = papers(What::Tightening, &wish) else {
            continue;
        };
        for pulls in pulls(blocks(&papers[0])) {
            assert!(pulls.stages.len() <= 4, "{}", joint.id);
            for bolt in &pulls.bolts {
                seen += 1;
                assert_eq!(bolt.had.len(), pulls.stages.len());
                assert!(
                    bolt.had.iter().any(Option::is_some),
                    "{} {}",
                    joint.id,
                    bolt.hole
                );
            }
        }
    }
    assert!(seen > 100, "only {seen} bolts");
}

const MEASURED: &str = r#"
book "A cover" units=metric
part block "Block" fixed=#true
part cover "Cover" {
    joint cover-bolts to=block from=drive-end {
        hole A x="0 mm" y="0 mm" thread=M8x1.25 length="40 mm"
        hole B x="120 mm" y="0 mm" thread=M8x1.25 length="65 mm" one-use=#true note="through the lifting eye"
        hole C x="120 mm" y="80 mm" thread=M6x1 length="20 mm"
    }
}
"#;

#[test]
fn a_card_takes_the_places_of_the_book_and_points_to_the_drive_end() {
    let place = tempfile::tempdir().unwrap();
    let folder = Folder::begin(&place.path().join("job"), Some(MEASURED), None).unwrap();
    let paper = only(What::BoltCard, &wish(&folder, &["cover-bolts"]));
    let card = card(&paper);
    assert!(card.measured);
    assert_eq!(card.drive_end, Some(sheet::paper::Towards::Left));
    let hole = &card.holes[1];
    assert!((hole.x_mm - 120.0).abs() < 1e-9 && hole.y_mm.abs() < 1e-9);
    assert_eq!(hole.thread_mm, Some(8.0));
    assert_eq!(
        hole.lines,
        [
            "M8×1.25 × 65 mm",
            "one use: renew",
            "through the lifting eye"
        ]
    );
}

#[test]
fn a_card_without_places_is_not_to_scale_and_points_nowhere() {
    let book = MEASURED.replace(r#"x="120 mm" y="80 mm" "#, "");
    let place = tempfile::tempdir().unwrap();
    let folder = Folder::begin(&place.path().join("job"), Some(&book), None).unwrap();
    let paper = only(What::BoltCard, &wish(&folder, &["cover-bolts"]));
    assert!(!card(&paper).measured);
    assert_eq!(card(&paper).drive_end, None);
}

#[test]
fn the_machine_shop_is_told_what_was_found_here() {
    let (_place, folder) = van(2, BOOK);
    let papers = papers(What::MachineShop, &wish(&folder, &[])).unwrap();
    let head = papers
        .iter()
        .find(|paper| paper.name == "machine-shop-bulkhead-head")
        .unwrap();
    let said = format!("{:?}", head.body);
    for words in [
        "0.09 mm",
        "0.05 mm",
        "Sent out to machine shop for pressure test and skim, due back 25 March.",
        "straighten, then check the line of the cam bores",
    ] {
        assert!(said.contains(words), "`{words}` is missing in {said}");
    }
}

#[test]
fn what_to_buy_has_a_box_for_each_thing() {
    let (_place, folder) = van(1, BOOK);
    let paper = only(What::Buying, &wish(&folder, &[]));
    let ticks: Vec<&str> = blocks(&paper)
        .iter()
        .filter_map(|block| match block {
            Block::Boxes(ticks) => Some(ticks),
            _ => None,
        })
        .flatten()
        .map(|tick| tick.says.as_str())
        .collect();
    assert!(
        ticks
            .iter()
            .any(|tick| tick.contains("bulkhead head gasket")),
        "{ticks:?}"
    );
}

#[test]
fn the_first_start_has_a_box_for_every_look() {
    let (_place, folder) = van(LIFE.len(), BOOK);
    let paper = only(What::Start, &wish(&folder, &[]));
    let blocks = blocks(&paper);
    assert!(matches!(blocks[0], Block::Care(_)), "care stands first");
    let rows = blocks.iter().find_map(|block| match block {
        Block::TickRows(table) => Some(table.rows.len()),
        _ => None,
    });
    assert!(rows.is_some_and(|rows| rows > 10), "{rows:?}");
}
