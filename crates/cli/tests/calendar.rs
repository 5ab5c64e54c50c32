//! The calendar of the demo through the command line.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

/// A fresh job from the demo book and shop, nothing taken off yet.
fn job(name: &str) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&dir);
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../app/demo");
    let made = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args([
            "new",
            dir.to_str().unwrap(),
            "--from",
            &format!("{demo}/post-van.kdl"),
        ])
        .output()
        .unwrap();
    assert!(
        made.status.success(),
        "{}",
        String::from_utf8_lossy(&made.stderr)
    );
    std::fs::copy(format!("{demo}/shop.kdl"), dir.join("shop.kdl")).unwrap();
    dir
}

fn run(dir: &std::path::Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .arg("--job")
        .arg(dir)
        .args(arguments)
        .output()
        .unwrap()
}

const HEADS: [&str; 6] = [
    "calendar",
    "--from",
    "2026-03-02",
    "--for",
    "bulkhead-head",
    "radiator-head",
];

#[test]
fn both_heads_have_a_likely_and_a_bad_finish_and_a_date_for_each_outcome() {
    let dir = job("calendar-heads");
    let mut arguments = HEADS.to_vec();
    arguments.push("--json");
    let output = run(&dir, &arguments);
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let days = |name: &str| answer["figures"][name]["value"].as_f64().unwrap();
    assert!(
        days("inspected") < days("finish_likely") && days("finish_likely") <= days("finish_badly"),
        "{answer}"
    );
    let findings = answer["findings"].as_array().unwrap();
    let of = |code: &str| {
        findings
            .iter()
            .filter(|finding| finding["code"] == code)
            .count()
    };
    assert_eq!(
        of("outside-work"),
        2,
        "each head comes back good, with work, or not at all"
    );
    assert_eq!(of("buy-now"), 1);
    assert_eq!(of("sets-the-finish"), 1);
    let rows = answer["rows"].as_array().unwrap();
    // Rui is here on Saturdays and Sundays only, and Ana away on the 21st and 22nd of March.
    for row in rows {
        let (day, who) = (row["day"].as_str().unwrap(), row["who"].as_str().unwrap());
        let weekend = day.starts_with("Sat") || day.starts_with("Sun");
        assert!(weekend || !who.contains("Rui"), "{row}");
        assert!(
            !(day.ends_with("21 Mar") || day.ends_with("22 Mar")) || !who.contains("Ana"),
            "{row}"
        );
    }
    let again = run(&dir, &arguments);
    assert_eq!(
        again.stdout, output.stdout,
        "the same seed gives the same calendar"
    );
}

#[test]
fn the_text_stays_within_eighty_columns() {
    let dir = job("calendar-text");
    let output = run(&dir, &HEADS);
    let text = String::from_utf8(output.stdout).unwrap();
    let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
    assert!(widest <= 80, "{widest}\n{text}");
    assert!(text.contains("Likely finished"), "{text}");
}

#[test]
fn without_a_target_the_job_is_asked_for() {
    let dir = job("calendar-no-target");
    let output = run(&dir, &["calendar", "--from", "2026-03-02", "--json"]);
    assert_eq!(output.status.code(), Some(2));
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["findings"][0]["code"], "no-target");
    assert!(
        answer["asks"][0]["how"]
            .as_str()
            .unwrap()
            .contains("bulkhead-head radiator-head"),
        "{answer}"
    );
}

#[test]
fn a_day_that_does_not_exist_is_refused() {
    let dir = job("calendar-no-day");
    let output = run(
        &dir,
        &[
            "calendar",
            "--from",
            "2026-02-30",
            "--for",
            "bulkhead-head",
            "--json",
        ],
    );
    assert_eq!(output.status.code(), Some(2));
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["findings"][0]["code"], "date");
}

/// The invented shop is away on the weekend of 21 March, and nothing else explains why the last
/// evenings lie ten days apart.
#[test]
fn a_gap_in_the_work_names_who_is_away() {
    let dir = job("calendar-away");
    let output = run(
        &dir,
        &[
            "calendar",
            "bulkhead-head",
            "radiator-head",
            "--from",
            "2026-03-02",
        ],
    );
    let text = String::from_utf8(output.stdout).unwrap();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("; Ana away Sat 21 Mar to Sun 22 Mar"),
        "{text}"
    );
    let asked_the_other_way = run(&dir, &HEADS);
    assert_eq!(text.as_bytes(), asked_the_other_way.stdout);
}
