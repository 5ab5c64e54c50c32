//! Taking apart and putting together against a book: holes, lengths, seals, stages.

#[path = "lines/mod.rs"]
mod lines;

use book::{Book, Fact, HoleName, JointId, Seal, Stage, Stages, Tighten};
use job::outstanding::{Kind, Outstanding, blocks, outstanding};
use job::{Entry, State, replay, write_back};
use lines::{entries, entry};

const TAKEN_OFF: &str = "off runners from bulkhead-head: 2 nuts M8 13 mm holes A E, 3 bolts M8x40 holes B..D, 1 bolt M8x65 hole F";

fn stage(typed: &str) -> Stage {
    Stage {
        spec: quantity::spec::read(typed).expect("a figure of the test"),
        span: book::Span::default(),
    }
}

/// Runners on a head by two studs and four bolts, two stages, three gaskets that must be new.
fn runners() -> Book {
    let mut book = write_back(&replay(
        None,
        &entries(&[
            TAKEN_OFF,
            "off hose bleed: from bottle.top, to runners.bleed",
        ]),
    ))
    .book;
    let joint = &mut book.joints[0];
    joint.seals = vec![Seal {
        what: "runner gasket".to_owned(),
        count: 3,
        new: Fact::said(true, "#true"),
        holes: None,
        side: None,
        price: Fact::NeverAsked,
        thickness: Fact::NeverAsked,
        span: book::Span::default(),
    }];
    joint.tighten = vec![Tighten {
        holes: None,
        stages: Stages::Known(vec![stage("12 N·m"), stage("21 N·m")]),
        condition: Fact::NeverAsked,
        lubricant: None,
        source: book::Origin::default(),
        span: book::Span::default(),
    }];
    book
}

fn after(lines: &[&str]) -> State {
    replay(Some(&runners()), &entries(lines))
}

#[track_caller]
fn code_of(lines: &[&str]) -> &'static str {
    let state = after(lines);
    let found: Vec<_> = state.findings.iter().map(|it| it.finding.code).collect();
    assert_eq!(found.len(), 1, "{:?}", state.findings);
    found[0]
}

fn kinds(state: &State) -> Vec<Kind> {
    outstanding(state).iter().map(|row| row.kind).collect()
}

fn only(state: &State, kind: Kind) -> Outstanding {
    let mut rows: Vec<Outstanding> = outstanding(state)
        .into_iter()
        .filter(|row| row.kind == kind)
        .collect();
    assert_eq!(rows.len(), 1, "{:?}", outstanding(state));
    rows.remove(0)
}

#[test]
fn the_book_counts_where_nobody_did() {
    let state = after(&["off runners, bag 14"]);
    let joint = &state.joints[&JointId::from("runners-to-bulkhead-head")];
    assert_eq!(joint.holes.len(), 6);
    assert!(joint.holes.values().all(|hole| hole.empty && !hole.counted));
    assert_eq!(
        joint.holes[&HoleName::from("F")]
            .came_out
            .as_ref()
            .unwrap()
            .shown(),
        "1 bolt M8x65"
    );
    assert_eq!(kinds(&state), [Kind::Off]);
}

#[test]
fn a_short_count_and_a_long_one_are_found() {
    assert_eq!(
        code_of(&["off runners: 2 nuts 13 mm, 2 bolts M8x40, 1 bolt M8x65"]),
        "count-short"
    );
    assert_eq!(
        code_of(&["off runners: 2 nuts 13 mm, 4 bolts M8x40, 1 bolt M8x65"]),
        "not-in-book"
    );
    assert!(
        after(&["off runners: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65"])
            .findings
            .is_empty()
    );
}

#[test]
fn a_long_bolt_in_a_short_hole_is_told_with_by_how_much() {
    let state = after(&[
        "off runners",
        "on runners: 2 nuts 13 mm, 2 bolts M8x40 holes B D, 1 bolt M8x65 hole C, 1 bolt M8x40 hole F",
    ]);
    let wrong: Vec<(String, String)> = outstanding(&state)
        .into_iter()
        .filter(|row| row.kind == Kind::WrongLength)
        .map(|row| (row.what, row.note.unwrap()))
        .collect();
    assert_eq!(
        wrong,
        [
            (
                "1 bolt M8x40 in runners, hole F".to_owned(),
                "wants 65 mm: 25 mm too short".to_owned()
            ),
            (
                "1 bolt M8x65 in runners, hole C".to_owned(),
                "wants 40 mm: 25 mm too long".to_owned()
            ),
        ]
    );
    assert_eq!(Kind::WrongLength.code(), "wrong-length");
}

#[test]
fn counts_fill_holes_only_where_there_is_one_way() {
    // Two of the three M8x40 could be in any two of B, C, D: counted, not placed.
    let state = after(&[
        "off runners",
        "on runners: 2 nuts 13 mm, 2 bolts M8x40, 1 bolt M8x65",
    ]);
    let joint = &state.joints[&JointId::from("runners-to-bulkhead-head")];
    assert!(
        ["B", "C", "D"]
            .iter()
            .all(|name| joint.holes[&HoleName::from(*name)].empty)
    );
    assert!(
        ["A", "E", "F"]
            .iter()
            .all(|name| !joint.holes[&HoleName::from(*name)].empty)
    );
    assert_eq!(joint.unplaced_back[0].shown(), "2 bolts M8x40");
    assert_eq!(only(&state, Kind::LeftOver).what, "1 bolt M8x40 of runners");
    // The third one settles all.
    let state = replay(
        Some(&runners()),
        &entries(&[
            "off runners",
            "on runners: 2 nuts 13 mm, 2 bolts M8x40, 1 bolt M8x65",
            "on runners: 1 bolt M8x40",
        ]),
    );
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    assert!(!kinds(&state).contains(&Kind::LeftOver));
    assert!(
        state
            .joints
            .values()
            .all(|joint| joint.unplaced_back.is_empty())
    );
}

#[test]
fn a_forgotten_seal_is_missed() {
    let missing = only(
        &after(&["off runners", "on runners: 2 new runner gaskets"]),
        Kind::SealMissing,
    );
    assert_eq!(missing.what, "1 runner gasket of runners");
    assert_eq!(missing.note.as_deref(), Some("3 new wanted, 2 put in"));
    assert_eq!(
        only(&after(&["off runners", "on runners"]), Kind::SealMissing)
            .note
            .as_deref(),
        Some("3 new wanted, 0 put in")
    );
    let old = after(&["off runners", "on runners: 3 old runner gaskets"]);
    assert!(kinds(&old).contains(&Kind::SealMissing));
    let new = after(&["off runners", "on runners: 3 new gaskets"]);
    assert!(!kinds(&new).contains(&Kind::SealMissing));
}

#[test]
fn stages_are_kept_at_the_single_bolt() {
    let lines = [
        "off runners",
        "on runners: 3 new runner gaskets",
        "tight runners stage 1 12 Nm",
        "tight runners holes A..E stage 2 21 Nm wrench small",
    ];
    let row = only(&after(&lines), Kind::NotTightened);
    assert_eq!(row.note.as_deref(), Some("stages done: F (1 of 2)"));
    let done = after(&[lines.as_slice(), &["tight runners hole F 21 Nm"]].concat());
    assert_eq!(kinds(&done), [] as [Kind; 0]);
    assert_eq!(code_of(&["tight runners stage 2 21 Nm"]), "stage-skipped");
    assert_eq!(
        code_of(&["tight runners stage 3 21 Nm"]),
        "contradicts-the-record"
    );
    assert_eq!(
        code_of(&["off runners", "tight runners stage 1 12 Nm"]),
        "contradicts-the-record"
    );
    assert_eq!(
        code_of(&["tight runners hole Z stage 1 12 Nm"]),
        "contradicts-the-record"
    );
}

#[test]
fn loosening_takes_the_stages_back() {
    let state = after(&[
        "off runners",
        "on runners: 3 new gaskets",
        "tight runners",
        "tight runners",
        "loose runners hole C",
    ]);
    let rows = kinds(&state);
    assert!(
        rows.contains(&Kind::Loosened) && rows.contains(&Kind::NotTightened),
        "{rows:?}"
    );
}

#[test]
fn a_part_that_was_loosened_is_in_its_place_once_nothing_of_it_is_loose() {
    let mut lines = vec!["loose runners"];
    assert!(kinds(&after(&lines)).contains(&Kind::Loosened));
    lines.push("tight runners stage 1");
    lines.push("tight runners stage 2");
    assert!(
        kinds(&after(&lines)).is_empty(),
        "{:?}",
        kinds(&after(&lines))
    );
}

#[test]
fn an_unknown_name_is_refused_with_near_ones_unless_it_is_new() {
    let state = replay(Some(&runners()), &[]);
    let refused = state.refusal(&entry(1, "Ada", "off runner")).unwrap();
    assert_eq!(refused.code, "name-unknown");
    assert!(refused.next.unwrap().contains("runners"));
    assert!(
        state
            .refusal(&entry(1, "Ada", "new off spacer: 2 bolts M6x30"))
            .is_none()
    );
    assert!(
        state
            .refusal(&entry(1, "Ada", "off Bulkhead Head"))
            .is_none()
    );
}

#[test]
fn a_name_of_several_joints_is_refused_with_the_candidates() {
    let mut book = runners();
    let mut second = book.joints[0].clone();
    second.id = JointId::from("runners-to-bracket");
    book.joints.push(second);
    let state = replay(Some(&book), &[]);
    let refused = state
        .refusal(&entry(1, "Ada", "tight runners stage 1 12 Nm"))
        .unwrap();
    assert_eq!(refused.code, "name-ambiguous");
    assert!(refused.next.unwrap().contains("runners-to-bracket"));
}

#[test]
fn contradictions_stay_and_change_nothing() {
    for (lines, wrong) in [
        (vec!["off runners"], "off runners"),
        (vec![], "on runners"),
        (vec!["off runners"], "out inlet ports: 1 rag"),
        (vec!["in inlet ports: 2 rags"], "out inlet ports: 3 rags"),
        (vec![], "back runners"),
        (
            vec!["off runners", "sent runners to machine shop"],
            "on runners",
        ),
        (vec![], "arrived 2 head gaskets"),
        (vec!["off bleed"], "off bleed.to"),
        (vec![], "on bleed"),
        (vec!["tag 3 bleed.to"], "tag 3 bleed.from"),
        (vec![], "stow runners: shelf 2"),
    ] {
        let before = after(&lines);
        assert!(
            before.findings.is_empty(),
            "{lines:?}: {:?}",
            before.findings
        );
        let mut state = after(&[lines.as_slice(), &[wrong]].concat());
        assert_eq!(state.findings.len(), 1, "{wrong}");
        assert!(state.findings[0].contradicts, "{wrong}");
        state.findings.clear();
        state.last = before.last;
        assert_eq!(state, before, "{wrong}");
    }
}

#[test]
fn fire_is_closed_and_says_why() {
    let lines = [
        "off runners",
        "lost 1 bolt M6x16",
        "in inlet ports: 3 rags",
        "drain coolant 5 L",
        "off bleed.from",
    ];
    let mut book = runners();
    book.circuits = replay(None, &entries(&["drain coolant"])).known.circuits;
    let why = |gate: &str, lines: &[&str]| -> Vec<&'static str> {
        let state = replay(Some(&book), &entries(lines));
        assert!(state.findings.is_empty(), "{:?}", state.findings);
        blocks(&state, gate)
            .iter()
            .map(|finding| finding.code)
            .collect()
    };
    assert_eq!(
        why("fire", &lines),
        ["lost", "put-in-not-out", "still-off", "end-off", "not-full"]
    );
    assert_eq!(why("turn-by-hand", &lines), ["lost", "put-in-not-out"]);
    let put_right = [
        "found 1 bolt M6x16",
        "out inlet ports",
        "fill coolant 5 L",
        "on bleed.from",
        "on runners: 3 new gaskets",
        "tight runners",
        "tight runners",
    ];
    assert_eq!(
        why("fire", &[lines.as_slice(), &put_right].concat()),
        [] as [&str; 0]
    );
}

#[test]
fn one_use_bolts_must_be_said_to_be_new() {
    let mut book = runners();
    for hole in &mut book.joints[0].holes {
        hole.one_use = Fact::said(true, "#true");
    }
    let rows = |lines: &[&str]| -> usize {
        let state: State = replay(Some(&book), &entries(lines));
        kinds(&state)
            .iter()
            .filter(|kind| **kind == Kind::NotRenewed)
            .count()
    };
    assert_eq!(rows(&["off runners", "on runners"]), 6);
    assert_eq!(
        rows(&[
            "off runners",
            "on runners: 2 new nuts 13 mm, 3 new bolts M8x40, 1 new bolt M8x65"
        ]),
        0
    );
    assert_eq!(
        rows(&[
            "off runners",
            "on runners: 2 nuts 13 mm, 3 new bolts M8x40, 1 new bolt M8x65"
        ]),
        2
    );
    assert_eq!(
        rows(&[
            "off runners",
            "replaced 2 nuts 13 mm in runners",
            "on runners"
        ]),
        4
    );
}

#[test]
fn a_length_the_book_has_otherwise_is_kept_and_asked_about() {
    let state = after(&[
        "off runners: 2 nuts 13 mm, 2 bolts M8x40 holes B C, 1 bolt M8x45 hole D, 1 bolt M8x65 hole F",
    ]);
    let asks = write_back(&state).asks;
    assert!(
        asks.iter().any(|ask| ask
            .what
            .contains("hole D: 40 mm in the book, 45 mm came out")),
        "{asks:?}"
    );
}

#[test]
fn parts_lifted_as_one_come_back_as_one() {
    let state = after(&["lift runners, bulkhead-head: shelf 2"]);
    // Their joint to each other stays closed.
    assert!(state.joints.values().all(|joint| !joint.open));
    assert_eq!(kinds(&state), [Kind::Off, Kind::Off]);
    let back = after(&["lift runners, bulkhead-head: shelf 2", "on runners"]);
    assert_eq!(kinds(&back), [] as [Kind; 0]);
}

#[test]
fn two_people_at_once_and_a_correction() {
    let job: Vec<Entry> = vec![
        entry(1, "Ada", "off runners, bag 41"),
        entry(2, "Bo", "drain coolant 5 L"),
        entry(3, "Ada", "correct 1: off runners, bag 14"),
    ];
    let mut book = runners();
    book.circuits = replay(None, &entries(&["drain coolant"])).known.circuits;
    let place = |job: &[Entry]| only(&replay(Some(&book), job), Kind::Off).place;
    assert_eq!(place(&job).as_deref(), Some("bag 14"));
    // Taking the correction back brings the first words back, in their own place.
    let undone = [job.as_slice(), &[entry(4, "Bo", "undo 3")]].concat();
    assert_eq!(place(&undone).as_deref(), Some("bag 41"));
    // Bo's own undo takes Bo's entry, not the last of all.
    let bo = [job.as_slice(), &[entry(4, "Bo", "undo")]].concat();
    assert!(replay(Some(&book), &bo).circuits.is_empty());
}

/// Bolts first into a bag, then the part onto a shelf: the bolts are still in the bag.
#[test]
fn fasteners_stay_in_the_bag_when_the_part_goes_to_a_shelf() {
    let joint = JointId::from("runners-to-bulkhead-head");
    let state = after(&[
        "off runners-to-bulkhead-head: bag 14",
        "off runners: shelf 2",
    ]);
    assert_eq!(state.joints[&joint].place.as_deref(), Some("bag 14"));
    let together = after(&["off runners, bag 15"]);
    assert_eq!(together.joints[&joint].place.as_deref(), Some("bag 15"));
}
