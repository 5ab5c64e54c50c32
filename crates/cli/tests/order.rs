//! What is in the way of what, through the command line: reach, sequence, turn, last chance,
//! comeback. The post van and the small engine are invented.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// A fresh job from a book.
fn job(name: &str, book: &Path) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&dir);
    let made = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(["new", dir.to_str().unwrap(), "--from"])
        .arg(book)
        .output()
        .unwrap();
    let says = String::from_utf8_lossy(&made.stderr);
    assert!(made.status.success(), "{says}");
    dir
}

fn van(name: &str) -> PathBuf {
    job(
        name,
        Path::new(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../app/demo/post-van.kdl"
        )),
    )
}

/// A cover on a head on a block; a hose and a gasket under the cover.
const SMALL: &str = r#"
book "Small engine" invented=#true
part block fixed=#true {
    port out medium=coolant
}
part cover zone=above off="10 min" on="20 min" {
    joint cover-bolts to=head {
        holes A..D thread=M6x1 length="20 mm"
    }
}
part head zone=above off="1 h" on="2 h" {
    port in medium=coolant
    joint head-bolts to=block critical=head {
        holes h1..h4 thread=M10x1.5 length="100 mm" one-use=#true
        tighten "20 N·m" "40 N·m" source=invented
        seal "head gasket" new=#true
    }
}
hose feed medium=coolant {
    from block.out
    to   head.in
}
circuit coolant capacity="8 L"
"#;

fn small(name: &str) -> PathBuf {
    let file = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.kdl"));
    std::fs::write(&file, SMALL).unwrap();
    job(name, &file)
}

fn ask(dir: &Path, arguments: &[&str]) -> (i32, Value) {
    let output = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .arg("--job")
        .arg(dir)
        .args(arguments)
        .arg("--json")
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let answer = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{fault}: {text}"));
    (output.status.code().unwrap(), answer)
}

fn log(dir: &Path, lines: &[&str]) {
    let mut arguments = vec!["log"];
    arguments.extend(lines);
    let (status, answer) = ask(dir, &arguments);
    assert_eq!(status, 0, "{answer}");
}

fn figure(answer: &Value, name: &str) -> f64 {
    answer["figures"][name]["value"].as_f64().unwrap()
}

fn column<'a>(answer: &'a Value, key: &str) -> Vec<&'a str> {
    let rows = answer["rows"].as_array().unwrap();
    rows.iter().map(|row| row[key].as_str().unwrap()).collect()
}

#[test]
fn reach_is_proved_and_its_minutes_are_those_of_its_rows() {
    let dir = van("order-reach");
    let (status, answer) = ask(&dir, &["reach", "bulkhead-head", "radiator-head"]);
    assert_eq!(status, 0);
    let rows = answer["rows"].as_array().unwrap();
    let minutes = |row: &Value| row["off"].as_f64().unwrap() + row["on"].as_f64().unwrap();
    let sum: f64 = rows.iter().map(minutes).sum();
    assert!((figure(&answer, "minutes") - sum).abs() < 1e-6);
    assert!((figure(&answer, "bound") - sum).abs() < 1e-6);
    assert!(column(&answer, "part").contains(&"bulkhead-head"));
}

#[test]
fn the_order_for_both_heads_passes_the_checker_and_repeats() {
    let dir = van("order-sequence");
    let asked = [
        "sequence",
        "bulkhead-head",
        "radiator-head",
        "--moves",
        "20000",
        "--seed",
        "7",
    ];
    let (status, answer) = ask(&dir, &asked);
    assert_eq!(status, 0, "{}", answer["findings"]);
    assert!(figure(&answer, "between") >= figure(&answer, "bound"));
    assert!(figure(&answer, "bound") > 0.0);
    assert_eq!(ask(&dir, &asked).1, answer);
    let steps = column(&answer, "step");
    let at = |name: &str| steps.iter().position(|step| *step == name).unwrap();
    assert!(at("check bulkhead-followers-free") < at("on bulkhead-head"));
    assert!(
        at("on bulkhead-head") < at("on radiator-head"),
        "a rule of the book"
    );
}

#[test]
fn a_step_says_why_it_stands_there() {
    let dir = small("order-why");
    let (status, answer) = ask(&dir, &["sequence", "head", "--why", "off head"]);
    assert_eq!(status, 0);
    let why = column(&answer, "why");
    assert!(why.contains(&"fastened onto it"), "{answer}");
    let (status, answer) = ask(&dir, &["sequence", "head", "--why", "off wing"]);
    assert_eq!(
        (status, answer["findings"][0]["code"].as_str()),
        (2, Some("step-unknown"))
    );
}

#[test]
fn before_the_cover_goes_on_the_bolts_and_the_hose_are_asked_for() {
    let dir = small("order-last");
    log(
        &dir,
        &[
            "drain coolant 5 L",
            "off cover",
            "off feed.to",
            "off head",
            "on head",
        ],
    );
    let (status, answer) = ask(&dir, &["last-chance", "cover"]);
    assert_eq!(status, 0);
    assert_eq!(
        column(&answer, "item"),
        ["4 bolts, head-bolts", "feed, end on head.in"]
    );
    log(
        &dir,
        &[
            "tight head-bolts stage 1",
            "tight head-bolts stage 2",
            "on feed.to",
        ],
    );
    let (_, answer) = ask(&dir, &["last-chance", "cover"]);
    assert_eq!(answer["rows"].as_array().unwrap().len(), 0, "{answer}");
    let (_, answer) = ask(&dir, &["sequence", "--on"]);
    let steps = column(&answer, "step");
    assert!(
        steps.contains(&"on cover") && steps.contains(&"fill coolant"),
        "{steps:?}"
    );
}

#[test]
fn comeback_ranks_everything_of_the_van_worst_first() {
    let dir = van("order-comeback");
    let (status, answer) = ask(&dir, &["comeback"]);
    assert_eq!(status, 0);
    let rows = answer["rows"].as_array().unwrap();
    assert!(rows.len() >= 50);
    let minutes: Vec<f64> = rows
        .iter()
        .map(|row| row["minutes"].as_f64().unwrap())
        .collect();
    assert!(minutes.windows(2).all(|pair| pair[0] >= pair[1]));
    for kind in ["fasteners", "seal", "end", "put in", "check", "fluid"] {
        assert!(column(&answer, "kind").contains(&kind), "{kind}");
    }
}

#[test]
fn a_name_that_is_none_is_refused_with_near_ones() {
    let dir = van("order-names");
    for command in ["reach", "while-open", "last-chance"] {
        let (status, answer) = ask(&dir, &[command, "bulkhead-hed"]);
        assert_eq!(status, 2);
        assert_eq!(answer["findings"][0]["code"], "name-unknown");
        assert!(
            answer["findings"][0]["next"]
                .as_str()
                .unwrap()
                .contains("bulkhead-head")
        );
    }
}

#[test]
fn without_a_book_the_way_back_is_the_record_reversed() {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("order-no-book");
    let _ = std::fs::remove_dir_all(&dir);
    let made = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(["new", dir.to_str().unwrap()])
        .output()
        .unwrap();
    assert!(made.status.success());
    log(
        &dir,
        &[
            "off cover: 4 bolts M6x20",
            "off bracket: 2 bolts M8x25",
            "off pump: 3 nuts 13 mm",
        ],
    );
    let (status, answer) = ask(&dir, &["sequence", "--on"]);
    assert_eq!(status, 0, "{answer}");
    let steps = column(&answer, "step");
    let at = |name: &str| steps.iter().position(|step| *step == name).unwrap();
    assert!(at("on pump") < at("on bracket") && at("on bracket") < at("on cover"));
    assert!(answer["because"][0].as_str().unwrap().contains("record"));
    // Whoever asks otherwise is told the same way back.
    std::fs::write(
        dir.join("shop.kdl"),
        "shop \"Test bay\"\nperson me { hours mon=\"2 h\" }\n",
    )
    .unwrap();
    let (status, answer) = ask(&dir, &["calendar", "--from", "2026-03-02"]);
    assert_eq!(status, 0, "{answer}");
    let day = answer["rows"][0]["what"].as_str().unwrap();
    let at = |name: &str| day.find(name).unwrap_or_else(|| panic!("{name}: {day}"));
    assert!(
        at("pump") < at("bracket") && at("bracket") < at("cover"),
        "{day}"
    );
    assert!(
        !answer["findings"].to_string().contains("contradicts"),
        "{answer}"
    );
}

#[test]
fn whole_engines_turn_by_the_crank_and_a_pin_holds_them() {
    let dir = van("order-turn");
    let may = |answer: &Value| -> Vec<bool> {
        let rows = answer["rows"].as_array().unwrap();
        rows.iter()
            .map(|row| row["may_turn"].as_bool().unwrap())
            .collect()
    };
    let (_, answer) = ask(&dir, &["turn"]);
    assert!(may(&answer).iter().all(|may| *may));
    log(&dir, &["in block: 1 crank locking pin"]);
    let (status, answer) = ask(&dir, &["turn"]);
    assert_eq!(status, 0);
    assert!(may(&answer).iter().all(|may| !may), "all hang on the crank");
    assert!(column(&answer, "why").iter().all(|why| !why.is_empty()));
}
