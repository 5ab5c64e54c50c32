//! The answers as people read them.

use super::*;
use crate::example::{self, part_ref};
use crate::graph::Choices;
use crate::sequence::{Legs, Wish};
use crate::{Budget, Stop};
use report::{Cell, Picture};

fn job(book: &book::Book) -> Job {
    Job {
        graph: Graph::new(book, &Choices::new()),
        standing: Standing::default(),
    }
}

fn column(report: &Report, key: &str) -> Vec<Cell> {
    let at = report
        .rows
        .columns
        .iter()
        .position(|column| column.key == key)
        .unwrap();
    report.rows.rows.iter().map(|row| row[at].clone()).collect()
}

fn texts(report: &Report, key: &str) -> Vec<String> {
    let text = |cell: Cell| match cell {
        Cell::Text(text) => text,
        other => panic!("{other:?}"),
    };
    column(report, key).into_iter().map(text).collect()
}

#[test]
fn reach_says_what_comes_off_how_long_and_that_it_is_proved() {
    let answer = reach(&job(&example::head()), &[part_ref("head")]);
    assert_eq!(texts(&answer, "part"), ["duct", "cover", "head"]);
    assert!((answer.figure("minutes").unwrap().value - 210.0).abs() < 1e-9);
    assert_eq!(
        answer.figure("minutes").unwrap().value,
        answer.figure("bound").unwrap().value
    );
    assert_eq!(
        answer.headline.as_deref(),
        Some("3 parts come off: 3 h 30 min there and back, proved cheapest.")
    );
    assert!(answer.finds("one-use") && answer.finds("fluids"));
    assert!(
        answer
            .cautions
            .iter()
            .any(|caution| caution.act == "draining coolant")
    );
    let [Picture::Net(net)] = &answer.pictures[..] else {
        panic!("no net");
    };
    assert_eq!(
        (net.columns.len(), net.things.len(), net.joins.len()),
        (3, 3, 2)
    );
    assert_eq!(answer.exit_status(), 0);
}

#[test]
fn reach_names_the_way_taken_and_what_the_other_costs() {
    let book = book::Book {
        parts: vec![
            example::any(example::part("pipe", 1.0, 1.0), &[&["liner"], &["duct"]]),
            example::part("liner", 20.0, 20.0),
            example::part("duct", 5.0, 5.0),
        ],
        ..book::Book::default()
    };
    let answer = reach(&job(&book), &[part_ref("pipe")]);
    assert_eq!(column(&answer, "way"), [Cell::None, Cell::from("by duct")]);
    let other = answer
        .findings
        .iter()
        .find(|finding| finding.code == "other-way")
        .unwrap();
    assert_eq!(
        other.says,
        "freed by duct. The best without that would cost 42 min, 30 min more, with liner off as well"
    );
}

#[test]
fn reach_of_what_is_not_there_or_never_comes_off_is_refused_with_a_way_out() {
    let job = job(&example::head());
    for (target, code) in [
        (part_ref("wing"), "not-a-target"),
        (part_ref("block"), "held-up"),
    ] {
        let answer = reach(&job, &[target]);
        assert!(answer.finds(code));
        assert_eq!(answer.exit_status(), 2);
        assert!(answer.findings[0].next.is_some());
    }
}

#[test]
fn missing_minutes_are_asked_for_and_the_time_is_at_least() {
    let mut book = example::head();
    book.parts[1].effort = book::Effort::default();
    let answer = reach(&job(&book), &[part_ref("head")]);
    assert_eq!(answer.asks[0].what, "minutes of duct");
    assert!(
        answer
            .figure("minutes")
            .unwrap()
            .shown
            .starts_with("at least ")
    );
}

#[test]
fn a_step_says_why_it_stands_there() {
    let job = job(&example::head());
    let wish = Wish {
        targets: vec![part_ref("head")],
        legs: Legs::Both,
    };
    let budget = Budget::moves(50_000);
    let plan = crate::sequence::sequence(
        &job.graph,
        &job.standing,
        &wish,
        None,
        &budget,
        &Stop::new(),
        &mut |_| {},
    );
    let answer = sequence(&job, Legs::Both, None, &plan);
    assert_eq!(
        answer.figure("steps").unwrap().value as usize,
        answer.rows.rows.len()
    );
    let plan = plan.unwrap();
    let reasons = why(&job, &plan, "on head");
    let rows: Vec<(String, String)> = texts(&reasons, "step")
        .into_iter()
        .zip(texts(&reasons, "why"))
        .collect();
    let expected = (
        "after check followers-free".to_owned(),
        "a free check before a one-use part".to_owned(),
    );
    assert!(rows.contains(&expected), "{rows:?}");
    assert!(rows.contains(&("before on cover".to_owned(), "would be covered".to_owned())));
    assert!(
        why(&job, &plan, "head").finds("step-unknown"),
        "off and on are both about the head"
    );
    assert!(why(&job, &plan, "wing").refused);
}

#[test]
fn turn_rows_say_no_with_a_reason() {
    let mut book = example::stack(&["belt"]);
    let mut cam = example::shaft("cam", book::ShaftKind::Cam);
    cam.driven_by = Some(example::at("crank".into()));
    book.shafts = vec![example::shaft("crank", book::ShaftKind::Crank), cam];
    let answer = turn(&job(&book));
    assert_eq!(
        column(&answer, "may_turn"),
        [Cell::Flag(false), Cell::Flag(false)]
    );
    assert!(texts(&answer, "why").iter().all(|why| !why.is_empty()));
    assert!(!answer.asks.is_empty());
    assert_eq!(turn(&job(&example::head())).rows.rows.len(), 0);
}

#[test]
fn comeback_rows_stand_worst_first_and_rates_only_on_request() {
    let job = job(&example::head());
    let plain = comeback(&job, false);
    let minutes: Vec<f64> = column(&plain, "minutes")
        .into_iter()
        .map(|cell| match cell {
            Cell::Number(minutes, _) => minutes,
            other => panic!("{other:?}"),
        })
        .collect();
    assert!(minutes.is_sorted_by(|one, other| one >= other));
    assert_eq!(
        plain
            .findings
            .iter()
            .filter(|finding| finding.code == "look-twice")
            .count(),
        5
    );
    assert!(plain.sources.is_empty());
    let with = comeback(&job, true);
    assert_eq!(with.sources[0].kind, report::SourceKind::FromMemory);
    assert_eq!(with.rows.columns.len(), plain.rows.columns.len() + 2);
}

#[test]
fn last_chance_without_a_part_looks_at_what_can_go_on_next() {
    let mut job = job(&example::head());
    assert_eq!(
        last_chance(&job, None).headline.as_deref(),
        Some("No part is off, so nothing is about to be covered.")
    );
    for part in ["duct", "cover"] {
        let at = job.graph.at(&PartId::from(part)).unwrap();
        job.standing.take_off(&job.graph, at);
    }
    let answer = last_chance(&job, None);
    assert_eq!(texts(&answer, "before"), ["cover"; 2]);
    assert_eq!(
        texts(&answer, "item"),
        ["cover gasket, cover-head", "followers-free"]
    );
    let one = last_chance(&job, Some(&PartId::from("cover")));
    assert_eq!(one.rows.rows.len(), 2);
}

#[test]
fn while_open_lists_the_check_that_is_free_meanwhile() {
    let answer = while_open(&job(&example::head()), &[part_ref("head")]);
    assert!(texts(&answer, "item").contains(&"followers-free".to_owned()));
}

#[test]
fn times_read_as_people_say_them() {
    let shown = |minutes: f64| time(Duration::minutes(minutes).unwrap());
    assert_eq!(
        [0.0, 0.2, 25.4, 99.0, 125.0].map(shown),
        ["0 min", "under 1 min", "25 min", "99 min", "2 h 05 min"]
    );
}

/// Source: trap 28, *common practice, no source*: steel seized in light alloy; one of eight
/// breaks, a quarter of an hour each and two hours for the one that breaks.
#[test]
fn seized_bolts_on_the_way_are_said_with_what_they_may_cost() {
    let text = |seizes: &str| {
        format!(
            "part block fixed=#true
part manifold off=\"20 min\" on=\"20 min\" {{
    joint nuts to=block {seizes} {{ holes A..J thread=M8x1.25 length=\"40 mm\" }}
}}
"
        )
    };
    let answer = |seizes: &str| {
        let (book, faults) = book::read(&text(seizes));
        assert!(faults.is_empty(), "{faults:?}");
        reach(&job(&book), &[part_ref("manifold")])
    };
    let seized = answer("seizes=#true");
    assert!(seized.finds("may-seize"), "{seized:#?}");
    let extra = seized.figure("seized_extra").unwrap();
    assert_eq!((extra.low, extra.high), (Some(150.0), Some(390.0)));
    // The time of the work itself stays what the book says.
    assert!((seized.figure("minutes").unwrap().value - 40.0).abs() < 1e-9);
    for plain in ["", "seizes=#false"] {
        assert!(!answer(plain).finds("may-seize"));
    }
}
