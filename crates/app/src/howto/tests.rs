//! A how-to from a whole invented job, from one without a book, and what it must not tell.

use std::path::Path;

use report::{Cell, Report};
use sheet::paper::{Block, Body, Paper};
use sheet::{hypertext, markdown};

use super::{after_distance, howto};
use crate::folder::{Folder, Hand};

const NOON: i64 = 1_772_452_800_000_000; // 2026-03-02 12:00 UTC

fn log(folder: &mut Folder, at: i64, line: &str) {
    let hand = Hand {
        author: "ana".to_owned(),
        micros: NOON + at * 60_000_000,
        client: format!("{at}"),
    };
    let report = crate::lines::log(folder, &hand, &[line.to_owned()]);
    assert!(!report.refused, "{line}: {:?}", report.findings);
}

const BOOK: &str = "book \"Test engine, invented\"\n\
    part block fixed=#true\n\
    part duct \"Air duct\" zone=above {\n joint duct-to-block to=block {\n holes A..B thread=M6 length=\"20 mm\"\n tighten \"9 N·m\" source=maker at=\"inlet section\"\n }\n}\n\
    part head \"Head\" zone=above {\n needs-off duct\n joint head-to-block to=block critical=head {\n holes A..D thread=M10 length=\"90 mm\"\n tighten \"?\"\n }\n}\n\
    limit head-flat of=head max=\"0.05 mm\" source=maker at=\"head section\"\n";

fn job(at: &Path, book: Option<&str>) -> Folder {
    Folder::begin(at, book, None).unwrap()
}

fn told(folder: &Folder) -> (Report, String) {
    let told = howto(folder, NOON);
    let paper: Paper = told.paper.unwrap();
    let text = markdown::write(&paper, "photos").unwrap().text;
    assert!(
        hypertext::whole(&paper)
            .unwrap()
            .starts_with("<!DOCTYPE html>")
    );
    (told.report, text)
}

#[test]
fn layers_come_from_the_book_and_figures_say_whose_they_are() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path(), Some(BOOK));
    log(&mut folder, 0, "note smells sweet");
    log(
        &mut folder,
        5,
        "off duct: 2 bolts M6x20, bag 1, film 00:01:10",
    );
    log(&mut folder, 25, "off head: 4 bolts M10x90, bag 2");
    log(&mut folder, 26, "note head: dowel stays in the block");
    log(&mut folder, 27, "note ana dropped the socket");
    log(&mut folder, 40, "read head-flat: 0.02 mm");
    log(&mut folder, 50, "note after 1000 km: dry");
    let (report, text) = told(&folder);
    let chapters: Vec<Cell> = report.rows.rows.iter().map(|row| row[0].clone()).collect();
    assert_eq!(chapters[0], Cell::from("Layer 1: Air duct"));
    assert_eq!(chapters[1], Cell::from("Layer 2: Head"));
    assert_eq!(report.rows.rows[0][1], Cell::from("00:01:10".to_owned()));
    assert!(chapters.contains(&Cell::from("How it held")));
    for expected in [
        "9 N·m",
        "maker, inlet section",
        "not known; see the maker's book",
        "20 min",
        "dowel stays in the block",
        "0.02 mm",
        "after 1000 km: dry",
        "The good way",
        "* Layer 1: Air duct (film 00:01:10)",
    ] {
        assert!(text.contains(expected), "{expected} is not in\n{text}");
    }
    assert!(!text.to_lowercase().contains("ana "), "no names");
    assert!(report.finds("left-out"));
}

#[test]
fn without_a_book_a_layer_is_a_day_and_says_so() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path(), None);
    log(&mut folder, 0, "off cover: 4 bolts M6x20, bag 1");
    log(&mut folder, 60 * 24, "off pump: 3 bolts M8x40, bag 2");
    let (report, text) = told(&folder);
    assert_eq!(report.figure("layers").map(|it| it.value), Some(2.0));
    assert!(text.contains("There was no build book"));
    assert!(!text.contains("The good way"));
    assert!(report.asks.iter().any(|ask| ask.what == "how it held"));
}

#[test]
fn an_empty_job_has_nothing_to_tell() {
    let at = tempfile::tempdir().unwrap();
    let folder = job(at.path(), Some(BOOK));
    let told = howto(&folder, NOON);
    assert!(told.report.refused && told.paper.is_none());
}

#[test]
fn a_photo_is_in_it_only_when_shown_and_looked_through() {
    let at = tempfile::tempdir().unwrap();
    let mut folder = job(at.path(), Some(BOOK));
    log(&mut folder, 5, "off duct: 2 bolts M6x20, bag 1");
    let bytes = crate::photo::tests::png(1);
    let sent = crate::photo::Sent {
        name: "a.png",
        bytes: &bytes,
    };
    let hand = Hand {
        author: "ana".to_owned(),
        micros: NOON,
        client: "p".to_owned(),
    };
    let kept = crate::photo::keep(&mut folder, &hand, &[sent], "of duct: clips");
    assert!(!kept.refused, "{:?}", kept.findings);
    let photos = |folder: &Folder| {
        let told = howto(folder, NOON);
        let Some(Body::Pages(_, blocks)) = told.paper.map(|paper| paper.body) else {
            panic!("no pages");
        };
        let count = blocks
            .iter()
            .filter(|block| matches!(block, Block::Photo(_)))
            .count();
        (count, told.report.asks.len())
    };
    let (none, asks) = photos(&folder);
    assert_eq!(none, 0, "not marked to be shown");
    log(&mut folder, 6, "show 2");
    assert_eq!(
        photos(&folder),
        (0, asks + 1),
        "asked whether it was looked through"
    );
    log(&mut folder, 7, "show 2: no plate, no face");
    assert_eq!(photos(&folder), (1, asks));
}

#[test]
fn a_distance_is_a_number_and_its_unit() {
    assert!(after_distance("after 1000 km: dry"));
    assert!(after_distance("1,000 km later, no loss"));
    assert!(after_distance("checked after 600 miles"));
    assert!(!after_distance("12 km up the hill"));
    assert!(!after_distance("1000 turns"));
}
