//! The answer as people read it. The vehicles are invented.

use std::collections::BTreeMap;

use job::plan::Plan;
use job::{ClientId, Entry, EntryId, State};
use report::{Cell, Report};

use super::*;
use crate::hand::{Bench, Worker, turns};
use crate::sequence::{Legs, Wish, sequence};
use crate::{Budget, Stop};

const BOOK: &str = r#"
book "Invented" units=metric invented=#true
part block fixed=#true
part head "Head" zone=above off="60 min" on="90 min" hands=2 {
    needs-off cover
    joint head-bolts to=block {
        holes A..B thread=M10x1.5 length="90 mm" head="15 mm" one-use=#true
        seal "head gasket" new=#true
    }
}
part cover "Cam cover" zone=above off="10 min" on="15 min" {
    joint cover-bolts to=head {
        holes A..B thread=M6x1 length="20 mm" head="10 mm"
        seal "cover gasket" new=#true
    }
}
check oiled "Cams oiled" of=head before=cover
temporary rag "Rag in the head" in=head out-before=cover
"#;

fn state(lines: &[&str]) -> State {
    let (book, faults) = book::read(BOOK);
    assert!(
        faults.is_empty(),
        "{}",
        book::show_faults(&faults, "b", BOOK)
    );
    let entries: Vec<Entry> = lines
        .iter()
        .zip(1..)
        .map(|(line, number)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "ana".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        })
        .collect();
    job::replay(Some(&book), &entries)
}

fn plan(job: &Job, legs: Legs) -> Plan {
    let wish = Wish {
        targets: Vec::new(),
        legs,
    };
    sequence(
        &job.graph,
        &job.standing,
        &wish,
        None,
        &Budget::moves(500),
        &Stop::new(),
        &mut |_| {},
    )
    .unwrap()
}

fn asked(lines: &[&str], legs: Legs, names: &[&str], rounds: usize) -> Report {
    let state = state(lines);
    let job = Job::of(&state);
    let plan = plan(&job, legs);
    let workers: Vec<Worker> = names
        .iter()
        .map(|name| Worker {
            name: (*name).to_owned(),
            holds: None,
        })
        .collect();
    let (singles, wrenches, begun) = Default::default();
    let shared = turns(
        &Bench {
            book: &state.known,
            plan: &plan,
            singles: &singles,
            wrenches: &wrenches,
            begun: &begun,
        },
        &workers,
        rounds,
    );
    hand(&Question {
        job: &job,
        state: &state,
        plan: &plan,
        workers: &workers,
        asks: 0,
        turns: &shared,
        pulls: &BTreeMap::new(),
    })
}

fn cells<'a>(report: &'a Report, key: &str) -> Vec<&'a Cell> {
    let at = report
        .rows
        .columns
        .iter()
        .position(|column| column.key == key)
        .unwrap();
    report.rows.rows.iter().map(|row| &row[at]).collect()
}

fn row_of<'a>(report: &'a Report, step: &str, key: &str) -> &'a Cell {
    let at = cells(report, "step")
        .iter()
        .position(|cell| **cell == Cell::from(step))
        .unwrap_or_else(|| panic!("no {step} in {:?}", cells(report, "step")));
    cells(report, key)[at]
}

const ALL_OFF: [&str; 4] = [
    "off cover-bolts: 2 bolts M6x20, bag 7",
    "off cover: shelf 1",
    "off head-bolts: 2 bolts M10x90, bag 8",
    "off head: shelf 2",
];

#[test]
fn an_act_says_what_to_lay_out_and_what_to_type_when_it_is_done() {
    let report = asked(&ALL_OFF, Legs::Together, &["ana"], 9);
    assert_eq!(
        row_of(&report, "on head", "lay_out"),
        &Cell::List(vec![
            "Head from shelf 2".to_owned(),
            "1 new head gasket".to_owned()
        ])
    );
    assert_eq!(
        row_of(&report, "on head", "line"),
        &Cell::from("on head: 1 new head gasket")
    );
    assert_eq!(
        row_of(&report, "on cover", "line"),
        &Cell::from("on cover: 1 new cover gasket")
    );
}

/// Used head bolts do not go back: the line asks for new ones of the same size.
#[test]
fn one_use_bolts_are_asked_for_new() {
    let report = asked(&ALL_OFF, Legs::Together, &["ana"], 9);
    let Cell::Text(line) = row_of(&report, "do-up head-bolts", "line") else {
        panic!("no line");
    };
    assert!(
        line.starts_with("on head-bolts: 2 new bolts M10x1.5x90"),
        "{line}"
    );
    assert!(job::line::read_line(line).is_ok(), "{line}");
    let Cell::List(things) = row_of(&report, "do-up head-bolts", "lay_out") else {
        panic!("nothing laid out");
    };
    assert!(things.contains(&"2 new bolts".to_owned()), "{things:?}");
    assert!(things.contains(&"bag 8".to_owned()), "{things:?}");
}

#[test]
fn every_proposed_line_can_be_read() {
    for legs in [Legs::Apart, Legs::Together] {
        let lines: &[&str] = if legs == Legs::Apart { &[] } else { &ALL_OFF };
        let report = asked(lines, legs, &["ana"], 20);
        let mut read = 0;
        for cell in cells(&report, "line") {
            if let Cell::Text(line) = cell {
                assert!(job::line::read_line(line).is_ok(), "{line}");
                read += 1;
            }
        }
        assert!(read >= 4, "only {read} lines");
    }
}

#[test]
fn a_check_comes_because_the_cover_hides_it() {
    let report = asked(&ALL_OFF, Legs::Together, &["ana"], 9);
    assert_eq!(
        row_of(&report, "check oiled", "why"),
        &Cell::from("Cam cover hides it")
    );
}

/// The rag is in the head; the plan takes it out before the cover, so the cover in hand first
/// would bury it.
#[test]
fn what_a_part_is_about_to_cover_is_told_at_the_part() {
    let mut lines = ALL_OFF.to_vec();
    lines.extend([
        "on head: 1 new head gasket",
        "on head-bolts: 2 new bolts M10x90",
        "tight head-bolts",
        "in head: 1 rag",
    ]);
    let state = state(&lines);
    let job = Job::of(&state);
    let full = plan(&job, Legs::Together);
    let cover = full
        .steps
        .iter()
        .position(|step| step.name.to_string() == "on cover")
        .unwrap();
    let workers = [Worker {
        name: "ana".to_owned(),
        holds: None,
    }];
    let shared = [Turn {
        who: 0,
        round: 0,
        step: cover,
        beside: Vec::new(),
        helps: false,
    }];
    let report = hand(&Question {
        job: &job,
        state: &state,
        plan: &full,
        workers: &workers,
        asks: 0,
        turns: &shared,
        pulls: &BTreeMap::new(),
    });
    let told: Vec<&Finding> = report
        .findings
        .iter()
        .filter(|finding| finding.code == "last-chance")
        .collect();
    assert!(
        told.iter()
            .any(|finding| finding.says.contains("Rag in the head: still in")),
        "{told:?}"
    );
    assert!(told.iter().all(|finding| finding.concerns == "Cam cover"));
}

#[test]
fn one_person_before_an_act_for_two_is_told_so() {
    let mut lines = ALL_OFF.to_vec();
    lines.push("check oiled");
    let alone = asked(&lines, Legs::Together, &["ana"], 1);
    assert!(alone.finds("more-hands"), "{:?}", alone.findings);
    let both = asked(&lines, Legs::Together, &["ana", "rui"], 1);
    assert!(!both.finds("more-hands"), "{:?}", both.findings);
}

#[test]
fn nothing_left_is_said() {
    let report = asked(&[], Legs::Together, &["ana"], 3);
    assert_eq!(report.headline.as_deref(), Some("Nothing is left to do."));
    assert!(report.rows.rows.is_empty());
}

#[test]
fn the_next_bag_is_one_nobody_used() {
    let report = asked(
        &[
            "off cover-bolts: 2 bolts M6x20, bag 7",
            "off cover: shelf 1",
        ],
        Legs::Apart,
        &["ana"],
        3,
    );
    assert_eq!(
        row_of(&report, "undo head-bolts", "lay_out"),
        &Cell::List(vec!["bag 8 for its bolts".to_owned()])
    );
}
