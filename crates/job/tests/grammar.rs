//! The line grammar, read as a standing person types it.

use job::line::{LineFault, VERBS, read_line};
use job::{Act, Details, Sort};

#[track_caller]
fn off(line: &str) -> (Vec<String>, Box<Details>) {
    match read_line(line) {
        Ok(Act::Off { what, details, .. }) => (what, details),
        other => panic!("{line}: {other:?}"),
    }
}

#[track_caller]
fn fault(line: &str) -> LineFault {
    match read_line(line) {
        Err(fault) => fault,
        Ok(act) => panic!("{line} was read as {act:?}"),
    }
}

#[test]
fn every_example_is_read_as_its_own_verb() {
    for verb in VERBS {
        assert!(!verb.examples.is_empty(), "{}", verb.word);
        for example in verb.examples {
            match read_line(example) {
                Ok(act) => assert_eq!(act.kind(), verb.word, "{example}"),
                Err(fault) => panic!("{example}: {fault}"),
            }
        }
        for also in verb.also {
            let rest = verb.examples[0]
                .trim_start_matches("new ")
                .split_once(' ')
                .unwrap_or_default()
                .1;
            let line = format!("{also} {rest}");
            match read_line(&line) {
                Ok(act) => assert_eq!(act.kind(), verb.word, "{line}"),
                Err(fault) => panic!("{line}: {fault}"),
            }
        }
    }
}

#[test]
fn the_line_of_the_design_is_read_whole() {
    let (what, details) = off("off runners: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65, bag 14");
    assert_eq!(what, ["runners"]);
    assert_eq!(details.place.as_deref(), Some("bag 14"));
    let said: Vec<String> = details.items.iter().map(job::Item::shown).collect();
    assert_eq!(said, ["2 nuts 13 mm", "3 bolts M8x40", "1 bolt M8x65"]);
    assert_eq!(details.items[0].sort, Sort::Nut);
    assert_eq!(details.items[1].length.unwrap().in_mm(), 40.0);
}

#[test]
fn case_and_punctuation_may_be_missing() {
    let whole = off("off runners: 3 bolts M8x40, bag 14");
    for line in [
        "OFF Runners: 3 BOLTS m8X40; Bag 14",
        "off runners, 3 bolts M8x40, bag 14",
        "off runners: three bolts M8×40 bag 14",
        "  took off runners :  3 bolts M8 x40 , bag 14 ",
        "off runners: 3 M8x40, bag 14",
        "off runners: 3x bolt M8x40, bag 14",
        "off runners in bag 14, 3 bolts M8x40",
    ] {
        let (what, details) = off(line);
        assert_eq!(what[0].to_lowercase(), whole.0[0], "{line}");
        assert_eq!(
            details.items[0].shown().to_lowercase(),
            "3 bolts m8x40",
            "{line}"
        );
        assert_eq!(details.place.unwrap().to_lowercase(), "bag 14", "{line}");
    }
}

#[test]
fn a_standard_pitch_is_a_pitch_and_anything_else_a_length() {
    for (size, pitch, length) in [
        ("M8x40", None, Some(40.0)),
        ("M8x1", Some("1"), None),
        ("M8x1.25", Some("1.25"), None),
        ("M8x1.25x40", Some("1.25"), Some(40.0)),
        ("M10x1.25x80", Some("1.25"), Some(80.0)),
        ("M6x16", None, Some(16.0)),
        ("M12x1.5", Some("1.5"), None),
        ("1/4-20", Some("20"), None),
        ("1/4-20x3/4", Some("20"), Some(19.05)),
        ("1/4-20x1-1/4", Some("20"), Some(31.75)),
    ] {
        let (_, details) = off(&format!("off runners: 1 bolt {size}"));
        let item = &details.items[0];
        assert_eq!(
            item.thread.as_ref().unwrap().pitch.as_deref(),
            pitch,
            "{size}"
        );
        let told = item
            .length
            .map(|length| (length.in_mm() * 100.0).round() / 100.0);
        assert_eq!(told, length, "{size}");
    }
    // Neither a pitch of M8 nor a length anybody makes.
    assert_eq!(fault("off runners: 1 bolt M8x0.7").column(), 24);
    assert_eq!(fault("off runners: 1 bolt M8x2x40").column(), 24);
    assert_eq!(fault("off runners: 1 bolt M80x40").column(), 22);
    assert_eq!(fault("off runners: 1 bolt M8x1.25x40x3").column(), 32);
}

#[test]
fn a_length_after_a_bare_thread_and_a_wrench_size_are_told_apart() {
    let item = |line: &str| off(line).1.items[0].clone();
    let long = item("off runners: 3 bolts M8 40 mm");
    assert_eq!((long.length.unwrap().in_mm(), long.head), (40.0, None));
    let head = item("off runners: 3 bolts M8x40 13 mm");
    assert_eq!(
        (head.length.unwrap().in_mm(), head.head.unwrap().in_mm()),
        (40.0, 13.0)
    );
    let both =
        item("off runners: 3 flange bolts M8 long 40 mm head 13mm 10.9 with washers (rusty)");
    assert_eq!(
        (both.length.unwrap().in_mm(), both.head.unwrap().in_mm()),
        (40.0, 13.0)
    );
    assert_eq!(
        (both.grade.as_deref(), both.washer, both.note.as_deref()),
        (Some("10.9"), Some(true), Some("rusty"))
    );
    assert_eq!(both.name, "flange bolt");
}

#[test]
fn holes_are_named_before_or_after() {
    let holes = |line: &str| off(line).1.items[0].holes.clone();
    assert_eq!(
        holes("off runners: 3 bolts M8x40 holes B..D"),
        ["B", "C", "D"]
    );
    assert_eq!(
        holes("off runners: holes B..D 3 bolts M8x40"),
        ["B", "C", "D"]
    );
    assert_eq!(
        holes("off runners: 3 bolts M8x40 holes A, C, E, bag 2"),
        ["A", "C", "E"]
    );
    assert_eq!(holes("off head: 8 bolts M10x100 holes h1..h8").len(), 8);
    assert_eq!(fault("off runners: 3 bolts M8x40 holes").column(), 33);
    assert_eq!(fault("off runners: 3 bolts M8x40 holes D..A").column(), 34);
}

#[test]
fn a_decimal_comma_is_asked_about_not_guessed() {
    let fault = fault("drain coolant 5,1 L");
    assert_eq!(fault.column(), 16);
    assert!(fault.reason.unwrap().contains("both ways"));
}

#[test]
fn the_other_kinds_of_the_issue_are_read() {
    match read_line("tight runners hole C stage 1 12 Nm wrench small").unwrap() {
        Act::Tightened(it) => {
            assert_eq!(
                (it.joint.as_str(), it.holes.as_slice(), it.stage),
                ("runners", ["C".to_owned()].as_slice(), Some(1))
            );
            assert_eq!(
                (it.figure.as_deref(), it.wrench.as_deref()),
                (Some("12 Nm"), Some("small"))
            );
        }
        other => panic!("{other:?}"),
    }
    match read_line("read cranking dry 205 210 208 210 212 210 psi").unwrap() {
        Act::Measured(it) => {
            assert_eq!(
                (it.of.as_str(), it.values.as_str()),
                ("cranking dry", "205 210 208 210 212 210 psi")
            );
            assert!(it.numbers);
        }
        other => panic!("{other:?}"),
    }
    match read_line("in bulkhead inlet ports: 3 rags").unwrap() {
        Act::PutIn { place, items } => {
            assert_eq!(
                (place.as_str(), items[0].count, items[0].name.as_str()),
                ("bulkhead inlet ports", 3, "rag")
            );
        }
        other => panic!("{other:?}"),
    }
    match read_line("lost 1 bolt M6x16").unwrap() {
        Act::Lost { items, place } => {
            assert_eq!((items[0].shown().as_str(), place), ("1 bolt M6x16", None))
        }
        other => panic!("{other:?}"),
    }
    match read_line("correct 14: off runners: 2 nuts 13 mm").unwrap() {
        Act::Corrected { entry, act } => assert_eq!((entry.0, act.kind()), (14, "off")),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_fault_says_what_was_understood_where_it_stopped_and_how_to_go_on() {
    let fault = fault("off runners: 2 nuts 13 mm, 3 blots M8x40, bag 14");
    assert_eq!(fault.understood, ["off", "runners", "2 nuts 13 mm"]);
    assert_eq!(fault.column(), 28);
    assert!(fault.expected.contains("bolt"));
    assert!(fault.examples[0].starts_with("off runners"));
    let finding = fault.finding();
    assert_eq!(finding.code, "line-not-understood");
    assert_eq!(finding.place.unwrap().column, 28);
}

#[test]
fn columns_count_characters_not_bytes() {
    assert_eq!(fault("tight kühler-brücke 12 Nm wobbly").column(), 27);
    assert_eq!(fault("off löwe: 3 µµµ M8x40").column(), 11);
}

#[test]
fn a_slip_in_the_verb_names_the_near_one() {
    let fault = fault("tihgt runners stage 1");
    assert_eq!(fault.column(), 1);
    assert!(fault.expected.contains("`tight`"), "{}", fault.expected);
    assert!(fault.examples.iter().all(|line| read_line(line).is_ok()));
}
