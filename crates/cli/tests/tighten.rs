//! `matchmark tighten` on a job begun from the demo's book and shop, asked as a person asks.

use std::path::Path;
use std::process::Command;

use app::demo::{BOOK, SHOP};
use app::folder::Folder;
use serde_json::Value;

fn job() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    Folder::begin(&dir.path().join("job"), Some(BOOK), Some(SHOP)).expect("a job");
    dir
}

fn run(dir: &Path, arguments: &[&str]) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(arguments)
        .arg("--job")
        .arg(dir.join("job"))
        .output()
        .expect("the program runs");
    let text = String::from_utf8(output.stdout).expect("the answer is text");
    (output.status.code().expect("it ended by itself"), text)
}

fn ask(dir: &Path, arguments: &[&str]) -> (i32, Value) {
    let mut arguments = arguments.to_vec();
    arguments.push("--json");
    let (status, text) = run(dir, &arguments);
    let answer = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{fault}: {text}"));
    (status, answer)
}

/// The head bolts out, new ones in, and what was tightened since.
fn head(bolts: &str, tightened: &[&str]) -> (tempfile::TempDir, i32, Value) {
    let dir = job();
    let back = format!("on bulkhead-head-bolts: 8 {bolts} M11x1.5x128, 1 new bulkhead head gasket");
    let mut lines = vec![
        "log",
        "off bulkhead-head-bolts: 8 bolts M11x1.5x128, bag 66",
        &back,
    ];
    lines.extend(tightened);
    let (_, logged) = ask(dir.path(), &lines);
    assert_eq!(logged["refused"], false, "{logged}");
    let (status, answer) = ask(dir.path(), &["tighten", "bulkhead-head-bolts"]);
    assert_eq!(answer["command"], "tighten");
    (dir, status, answer)
}

fn finds(answer: &Value, code: &str) -> bool {
    answer["findings"]
        .as_array()
        .expect("findings are a list")
        .iter()
        .any(|finding| finding["code"] == code)
}

#[test]
fn the_head_joint_has_a_whole_sheet() {
    let (dir, status, answer) = head("new bolts", &[]);
    assert_eq!(status, 0);
    let rows = answer["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), 3);
    assert_eq!(
        (&rows[0]["stage"], &rows[0]["wrench"]),
        (&Value::from(1.0), &Value::from("middle"))
    );
    assert_eq!(rows[0]["setting"]["shown"], "22 lbf·ft");
    assert_eq!(rows[0]["figure"]["value"], 30.0);
    assert_eq!(rows[0]["next_hole"], "h4");
    assert_eq!(rows[1]["figure"]["shown"], "90°");
    assert_eq!(rows[2]["done"], 0.0);
    let (_, text) = run(dir.path(), &["tighten", "bulkhead-head-bolts"]);
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(text.contains("h4"));
}

/// Three mistakes planted at once in the head joint of the demo's book: the number on the other
/// scale, a stage left out, the old bolts taken to the end. All three are named, and nothing
/// comes next until they are put right.
#[test]
fn three_planted_mistakes_are_caught_together() {
    let (dir, status, answer) = head(
        "bolts",
        &[
            "tight bulkhead-head-bolts stage 1 30 lbf·ft wrench middle oiled",
            "tight bulkhead-head-bolts stage 3 90° wrench angle oiled",
        ],
    );
    assert_eq!(status, 1);
    for code in ["other-scale", "stage-skipped", "used-bolt-finished"] {
        assert!(finds(&answer, code), "{code}: {answer:#}");
    }
    let drawing = dir.path().join("head.svg");
    let (_, text) = run(
        dir.path(),
        &[
            "tighten",
            "bulkhead-head-bolts",
            "--draw",
            &drawing.display().to_string(),
        ],
    );
    assert!(!text.contains("when it is done, type"), "{text}");
    let drawing = std::fs::read_to_string(drawing).expect("a drawing");
    for hole in 1..=8 {
        assert!(drawing.contains(&format!("hole-h{hole}")), "h{hole}");
    }
}

#[test]
fn a_skipped_stage_is_caught() {
    let (_dir, status, answer) = head(
        "new bolts",
        &[
            "tight bulkhead-head-bolts stage 1 30 N·m wrench middle oiled",
            "tight bulkhead-head-bolts stage 3 90° wrench angle",
        ],
    );
    assert!(finds(&answer, "stage-skipped") && status == 1);
}

#[test]
fn a_bolt_out_of_turn_and_a_doubled_angle_are_caught() {
    let (_dir, status, answer) = head(
        "new bolts",
        &[
            "tight bulkhead-head-bolts hole h1 stage 1 30 N·m",
            "tight bulkhead-head-bolts hole h4 stage 1 30 N·m",
        ],
    );
    assert!(finds(&answer, "out-of-order") && status == 1);
    let (_dir, status, answer) = head(
        "new bolts",
        &[
            "tight bulkhead-head-bolts stage 1 30 N·m",
            "tight bulkhead-head-bolts stage 2 90°",
            "tight bulkhead-head-bolts hole h5 stage 2 90°",
        ],
    );
    assert!(finds(&answer, "stage-doubled") && status == 1);
}

#[test]
fn the_number_on_the_wrong_scale_is_caught() {
    let (_dir, status, answer) = head(
        "new bolts",
        &["tight bulkhead-head-bolts stage 1 30 lbf·ft wrench middle oiled"],
    );
    assert!(finds(&answer, "other-scale") && status == 1);
    assert!(
        answer["rows"][0]["next_hole"].is_null(),
        "nothing is next until it is put right"
    );
}

#[test]
fn used_bolts_are_not_finished() {
    let stages = [
        "tight bulkhead-head-bolts stage 1 30 N·m wrench middle oiled",
        "tight bulkhead-head-bolts stage 2 90° wrench angle oiled",
        "tight bulkhead-head-bolts stage 3 90° wrench angle oiled",
    ];
    let (_dir, status, answer) = head("bolts", &stages[..2]);
    assert!(finds(&answer, "used-bolt") && status == 0);
    let (_dir, status, answer) = head("bolts", &stages);
    assert!(finds(&answer, "used-bolt-finished") && status == 1);
}

#[test]
fn an_unknown_joint_is_refused_with_a_way_out() {
    let dir = job();
    let (status, answer) = ask(dir.path(), &["tighten", "bulkhead-head-bolt"]);
    assert_eq!(status, 2);
    let next = answer["findings"][0]["next"].as_str().expect("a way out");
    assert!(next.contains("bulkhead-head-bolts"), "{next}");
    let (status, _) = ask(dir.path(), &["tighten", "sump", "--rows", "5"]);
    assert_eq!(status, 2, "18 bolts do not fill 5 rows");
}
