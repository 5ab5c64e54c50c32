//! The ledger through the command line: hole by hole, one thing under two names, a folder that
//! cannot be written, a line sent twice, an undo that would strand others.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

mod program;

use program::ask;
use serde_json::Value;

/// A new job in a folder of this test alone, with a book or without.
fn job(book: Option<&str>) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let (status, _) = ask(&["new", &at(&folder)]);
    assert_eq!(status, 0);
    if let Some(book) = book {
        std::fs::write(folder.path().join("job/book.kdl"), book).unwrap();
    }
    folder
}

fn at(folder: &tempfile::TempDir) -> String {
    folder.path().join("job").to_str().unwrap().to_owned()
}

#[track_caller]
fn log(job: &str, lines: &[&str]) -> Value {
    let (status, answer) = ask(&[&["log", "--job", job], lines].concat());
    assert_eq!(status, 0, "{answer}");
    answer
}

fn rows(job: &str) -> Vec<(String, String)> {
    let (_, answer) = ask(&["outstanding", "--job", job]);
    let text = |row: &Value, key: &str| row[key].as_str().unwrap_or_default().to_owned();
    answer["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| (text(row, "what"), text(row, "state")))
        .collect()
}

fn codes(answer: &Value) -> Vec<&str> {
    answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| finding["code"].as_str().unwrap())
        .collect()
}

const PUMP: &str = r#"
book "Invented" invented=#true
part block fixed=#true
part bracket "Lifting bracket" thickness="6 mm" { joint bracket-bolts to=block { hole A thread=M6x1 length="20 mm" head="10 mm"; }; }
part pump {
    joint pump-bolts to=block {
        holes A..C thread=M8x1.25 length="40 mm" head="13 mm" grade="8.8"
        hole  D    thread=M8x1.25 length="65 mm" head="13 mm" grade="10.9"
        washer "plain" thickness="2 mm" holes="A..C"
    }
}
"#;

#[test]
fn a_right_count_with_washers_missing_or_a_soft_bolt_is_told_and_keeps_the_gate_shut() {
    let folder = job(Some(PUMP));
    let job = at(&folder);
    log(
        &job,
        &[
            "off pump: 3 bolts M8x40 with washer, 1 bolt M8x65",
            "off bracket",
        ],
    );
    log(
        &job,
        &["on pump: 3 bolts M8x40, 1 new bolt M8x71 8.8 hole D"],
    );
    let found = rows(&job);
    for state in ["washer missing", "wrong strength", "wrong length"] {
        assert!(
            found.iter().any(|(_, held)| held == state),
            "{state}: {found:?}"
        );
    }
    // Too long by six: the bracket of that thickness is named.
    let (status, gate) = ask(&["gate", "fire", "--job", &job]);
    assert_eq!(status, 1);
    let says = gate.to_string();
    assert!(
        says.contains("Lifting bracket is 6 mm thick and still off"),
        "{says}"
    );
    assert!(codes(&gate).contains(&"washer-missing"));
}

#[test]
fn where_answers_for_what_is_counted_too() {
    let folder = job(None);
    let job = at(&folder);
    log(
        &job,
        &[
            "off runners from head: 3 bolts M8x40, 1 bolt M8x65, bag 14",
            "in inlet ports: 6 rags",
            "lost 1 bolt M6x16 in the valley",
        ],
    );
    let told = |name: &str| {
        let (status, answer) = ask(&["where", name, "--job", &job]);
        assert_eq!(status, 0, "{name}: {answer}");
        answer["headline"].as_str().unwrap().to_owned()
    };
    assert!(told("rags").starts_with("6 rags: put into inlet ports, since entry 2"));
    assert_eq!(told("inlet ports"), "inlet ports holds 6 rags.");
    assert_eq!(told("M8x65"), "1 bolt M8x65: bag 14, out of runners.");
    assert!(told("M6x16").contains("lost, the valley, since entry 3"));
    let (status, unknown) = ask(&["where", "the moon", "--job", &job]);
    assert_eq!(status, 2);
    assert!(
        !unknown["findings"][0]["next"]
            .as_str()
            .unwrap()
            .contains("`new`")
    );
}

/// Source: trap 46, *common practice, no source*; the thickness is invented.
#[test]
fn a_bolt_that_bottoms_in_a_job_points_to_the_part_of_that_thickness() {
    let folder = job(Some(PUMP));
    let job = at(&folder);
    log(&job, &["off bracket"]);
    let asked = ["hole", "--bolt", "46 mm", "--depth", "40 mm", "--job", &job];
    let (status, answer) = ask(&asked);
    assert_eq!((status, codes(&answer)), (1, vec!["bottoms"]));
    let detail = answer["findings"][0].to_string();
    assert!(
        detail.contains("Lifting bracket is 6 mm thick and still off"),
        "{detail}"
    );
}

#[test]
fn lifted_as_one_split_later_and_two_names_for_one_thing() {
    let folder = job(None);
    let job = at(&folder);
    log(
        &job,
        &[
            "off runners from head: 3 bolts M8x40",
            "on runners: 3 bolts M8x40",
            "off plenum from runners: 4 bolts M6x25",
            "on plenum: 4 bolts M6x25",
            "lift plenum, runners: shelf 3",
        ],
    );
    let split = log(&job, &["off plenum: 4 bolts M6x25, bag 9"]);
    assert!(codes(&split).is_empty(), "{split}");
    let (_, place) = ask(&["where", "plenum", "--job", &job]);
    assert!(
        place["headline"].as_str().unwrap().contains("off"),
        "{place}"
    );
    log(
        &job,
        &[
            "off gen: 2 bolts M10x80, bag 2",
            "off stay from alternator: 1 bolt M8x20",
        ],
    );
    log(&job, &["loose alternator", "same gen as alternator"]);
    let (_, one) = ask(&["where", "alternator", "--job", &job]);
    assert!(one["headline"].as_str().unwrap().contains("bag 2"), "{one}");
}

#[test]
fn a_new_part_is_compared_and_the_old_one_is_not_put_back_unseen() {
    let folder = job(Some(PUMP));
    let job = at(&folder);
    log(&job, &["ordered pump", "arrived pump", "off pump"]);
    assert!(rows(&job).contains(&("pump, new".to_owned(), "not compared".to_owned())));
    let (status, bad) = ask(&["log", "compare pump", "--job", &job]);
    assert_eq!(status, 2, "{bad}");
    log(&job, &["compare pump: same", "on pump"]);
    assert_eq!(rows(&job), [("pump".to_owned(), "not renewed".to_owned())]);
    log(&job, &["replaced pump"]);
    assert!(rows(&job).is_empty());
}

#[test]
fn an_undo_that_would_strand_later_entries_lists_them_and_changes_nothing() {
    let folder = job(None);
    let job = at(&folder);
    log(
        &job,
        &["off cover: 2 bolts M6x20", "on cover: 2 bolts M6x20"],
    );
    let (status, answer) = ask(&["undo", "1", "--job", &job]);
    assert_eq!((status, codes(&answer)), (2, vec!["undo-strands"]));
    assert!(
        answer.to_string().contains("on cover: 2 bolts M6x20"),
        "{answer}"
    );
    let (_, record) = ask(&["record", "--job", &job]);
    assert_eq!(
        record["rows"].as_array().unwrap().len(),
        2,
        "nothing was written"
    );
    let (status, _) = ask(&["undo", "1", "--anyway", "--job", &job]);
    assert_eq!(status, 0);
    let (_, record) = ask(&["record", "--job", &job]);
    assert_eq!(record["rows"][0]["now"].as_str(), Some("taken back"));
}

#[test]
fn a_line_sent_twice_with_one_id_is_kept_once_and_one_typed_twice_is_asked_about() {
    let folder = job(None);
    let job = at(&folder);
    let sent = ["log", "--id", "a1", "lost 1 bolt M6x16", "--job", &job];
    assert_eq!(ask(&sent).0, 0);
    let (status, again) = ask(&sent);
    assert_eq!(status, 0);
    assert_eq!(
        again["headline"].as_str(),
        Some("Already had it, as entry 1.")
    );
    assert_eq!(rows(&job).len(), 1);
    // The same id with other words is no second sending.
    let (status, other) = ask(&["log", "--id", "a1", "lost 2 bolts M6x16", "--job", &job]);
    assert_eq!(status, 2, "{other}");
    let typed = log(&job, &["lost 1 bolt M6x16"]);
    assert_eq!(codes(&typed), ["same-as-the-last"]);
    assert_eq!(rows(&job).len(), 2, "two can be lost");
}

/// As root nothing is read-only, so that part of the test needs another user; a folder below
/// a file can be written by nobody.
#[test]
fn a_folder_that_cannot_be_written_is_said_with_the_way_out() {
    let folder = job(None);
    let job = at(&folder);
    let below = format!("{job}/record.sqlite/job");
    let (status, answer) = ask(&["new", &below]);
    assert_eq!((status, codes(&answer)), (2, vec!["job-folder"]));
    let next = answer["findings"][0]["next"].as_str().unwrap();
    assert!(next.contains("written to"), "{next}");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = |file: &std::path::Path, mode| {
            std::fs::set_permissions(file, std::fs::Permissions::from_mode(mode)).unwrap();
        };
        let path = std::path::Path::new(&job);
        log(&job, &["off cover: 2 bolts M6x20"]);
        for file in std::fs::read_dir(path).unwrap() {
            mode(&file.unwrap().path(), 0o555);
        }
        mode(path, 0o555);
        let is_root = std::fs::write(path.join("probe"), "").is_ok();
        if !is_root {
            let (status, answer) = ask(&["log", "off pump: 1 bolt M6x20", "--job", &job]);
            assert_eq!((status, codes(&answer)), (2, vec!["job-folder"]));
            let says = answer["findings"][0]["says"].as_str().unwrap();
            assert!(says.contains("cannot be written"), "{says}");
        }
        mode(path, 0o755);
    }
}

/// Source: trap 29, *common practice, no source*.
#[test]
fn a_broken_stud_is_kept_and_drilling_is_held_back() {
    let folder = job(Some(PUMP));
    let job = at(&folder);
    log(&job, &["off pump", "broke pump hole D: flush"]);
    assert!(rows(&job).iter().any(|(_, state)| state == "broken off"));
    let (status, ways) = ask(&["broken", "--thread", "M8x1.25", "--into", "aluminium"]);
    assert_eq!(status, 0);
    assert!(codes(&ways).contains(&"drilling-held-back"));
    let (status, bad) = ask(&["broken", "--into", "cheese"]);
    assert_eq!(status, 2, "{bad}");
}
