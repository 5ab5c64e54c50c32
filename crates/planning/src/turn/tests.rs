//! What may turn, and that unknown means no.

use super::*;
use crate::example::{self, at, fixed, part};
use crate::graph::Choices;
use book::{Book, Drive, Fact, PartId, TemporaryId};

/// A crank, and a cam in a head on a belt; everything known.
fn engine() -> Book {
    let mut crank = example::shaft("crank", ShaftKind::Crank);
    crank.sense = Fact::said(Sense::Clockwise, "clockwise");
    let mut cam = example::shaft("cam", ShaftKind::Cam);
    cam.driven_by = Some(at(ShaftId::from("crank")));
    cam.drive = Fact::said(Drive::Belt, "belt");
    cam.drive_part = Some(at(PartId::from("belt")));
    cam.sits_in = Some(at(PartId::from("head")));
    cam.pin = Some(at(TemporaryId::from("pin")));
    cam.sense = Fact::said(Sense::Clockwise, "clockwise");
    cam.interference = Fact::said(true, "#true");
    cam.parked = Fact::said(Angle::degrees(60.0).unwrap(), "60°");
    Book {
        parts: vec![
            fixed("block"),
            part("head", 60.0, 90.0),
            part("belt", 30.0, 40.0),
        ],
        joints: vec![example::joint("belt", "block", 1)],
        temporaries: vec![example::temporary("pin", "head", &[], &[])],
        shafts: vec![crank, cam],
        ..Book::default()
    }
}

fn asked(book: &Book, standing: &Standing) -> [Turning; 2] {
    let graph = Graph::new(book, &Choices::new());
    turn(&graph, standing).try_into().unwrap()
}

fn off(parts: &[&str]) -> Standing {
    Standing {
        off: parts.iter().map(|part| PartId::from(*part)).collect(),
        ..Standing::default()
    }
}

#[test]
fn with_the_belt_on_all_turns_by_the_crank_in_its_sense() {
    let [crank, cam] = asked(&engine(), &Standing::default());
    assert!(crank.may && cam.may);
    assert_eq!((crank.way, crank.by), (Some(Sense::Clockwise), None));
    assert_eq!(cam.by, Some(ShaftId::from("crank")));
}

#[test]
fn a_pin_in_the_cam_holds_the_crank_too_while_the_belt_is_on() {
    let mut standing = Standing::default();
    standing.temporaries_in.insert(TemporaryId::from("pin"));
    let [crank, cam] = asked(&engine(), &standing);
    assert!(!crank.may && !cam.may);
    standing.off.insert(PartId::from("belt"));
    standing.off.insert(PartId::from("head"));
    let [crank, cam] = asked(&engine(), &standing);
    assert!(crank.may && !cam.may);
}

#[test]
fn with_the_belt_off_and_the_head_on_nothing_turns() {
    let [crank, cam] = asked(&engine(), &off(&["belt"]));
    assert!(!crank.may && !cam.may);
    assert!(matches!(cam.unknown[..], [Unknown::Parked(..)]));
}

#[test]
fn a_parked_crank_lets_the_cam_turn_and_still_not_the_crank() {
    let mut standing = off(&["belt"]);
    standing.parked.insert(ShaftId::from("crank"));
    let [crank, cam] = asked(&engine(), &standing);
    assert!(!crank.may && cam.may);
    let mut unparked = engine();
    unparked.shafts[1].parked = Fact::NeverAsked;
    let [_, cam] = asked(&unparked, &standing);
    assert!(!cam.may, "nobody knows where parked is");
}

#[test]
fn with_the_head_off_or_without_interference_the_crank_is_free() {
    let [crank, cam] = asked(&engine(), &off(&["belt", "head"]));
    assert!(crank.may && cam.may);
    let mut free = engine();
    free.shafts[1].interference = Fact::said(false, "#false");
    let [crank, cam] = asked(&free, &off(&["belt"]));
    assert!(crank.may && cam.may);
}

#[test]
fn unknown_means_no() {
    type Forget = fn(&mut Book);
    let forget: [(Forget, &[&str]); 5] = [
        (|book| book.shafts[0].sense = Fact::Unknown, &[]),
        (|book| book.shafts[1].drive_part = None, &[]),
        (
            |book| book.shafts[1].interference = Fact::NeverAsked,
            &["belt"],
        ),
        (|book| book.shafts[1].sits_in = None, &["belt"]),
        (|book| book.shafts[1].parked = Fact::NeverAsked, &["belt"]),
    ];
    for (number, (forget, parts)) in forget.into_iter().enumerate() {
        let mut book = engine();
        forget(&mut book);
        let [crank, _] = asked(&book, &off(parts));
        assert!(!crank.may, "case {number}");
    }
}

#[test]
fn a_belt_that_is_aside_or_not_done_up_is_neither_on_nor_off() {
    let mut aside = Standing::default();
    aside.aside.insert(PartId::from("belt"));
    let book = engine();
    let mut loose = Standing::default();
    let hole = book::HoleRef {
        joint: book.joints[0].id.clone(),
        hole: book.joints[0].holes[0].name.clone(),
    };
    loose.opened.insert(hole, 0);
    for standing in [aside, loose] {
        let [crank, cam] = asked(&book, &standing);
        assert!(!crank.may && !cam.may);
    }
}

/// A chain without bolts of its own is logged loose as a part; it is held by its tensioner.
#[test]
fn a_chain_logged_loose_or_without_its_tensioner_is_not_known_to_be_in_time() {
    let mut book = engine();
    book.parts[2].needs_off = vec![at(PartId::from("belt-tensioner"))];
    book.parts.push(part("belt-tensioner", 5.0, 5.0));
    let mut loose = Standing::default();
    loose.loosened.insert(PartId::from("belt"));
    for (standing, word) in [
        (loose, "belt: loose"),
        (off(&["belt-tensioner"]), "belt-tensioner: off"),
    ] {
        let [crank, cam] = asked(&book, &standing);
        assert!(!crank.may && !cam.may);
        let why = crank.why.join("; ");
        assert!(
            why.contains(word) && why.contains("valves meet pistons"),
            "{why}"
        );
    }
    let other = off(&["alternator-tensioner"]);
    let [crank, _] = asked(&book, &other);
    assert!(crank.may, "another belt's tensioner says nothing");
}
