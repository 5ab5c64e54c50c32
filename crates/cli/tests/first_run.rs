//! What a person meets in the first hour, through the program itself: an empty job, a slip of
//! the finger, a faulty book, the demo and its gate, help that fits the screen.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

use std::io::Read;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(arguments)
        .env("MATCHMARK_WHO", "tester")
        .output()
        .unwrap()
}

/// Exit status and standard output.
fn say(arguments: &[&str]) -> (i32, String) {
    let output = run(arguments);
    let text = String::from_utf8(output.stdout).unwrap();
    (output.status.code().unwrap(), text)
}

/// Exit status and the one JSON object on standard output.
fn ask(arguments: &[&str]) -> (i32, Value) {
    let (status, text) = say(&[arguments, &["--json"]].concat());
    let answer = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{fault}: {text}"));
    (status, answer)
}

fn codes(answer: &Value) -> Vec<&str> {
    let findings = answer["findings"].as_array().unwrap();
    findings
        .iter()
        .map(|finding| finding["code"].as_str().unwrap())
        .collect()
}

fn rows(answer: &Value) -> &Vec<Value> {
    answer["rows"].as_array().unwrap()
}

fn temporary() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

fn inside(folder: &tempfile::TempDir, name: &str) -> String {
    folder.path().join(name).to_str().unwrap().to_owned()
}

fn fits(text: &str, what: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{what}: wider than 80: {line}");
    }
}

/// Eight typed lines of someone who takes an alternator and its bracket off.
const ALTERNATOR: [&str; 8] = [
    "disconnect battery-minus from battery: 1 nut 10 mm",
    "off belt",
    "off charge-cable from alternator: 1 nut 13 mm",
    "unplug alternator-plug from alternator",
    "off alternator from bracket: 2 bolts M10x80, bag 1",
    "off bracket from block: 3 bolts M8x40, 1 bolt M8x65, bag 2",
    "photo 12 bag 2",
    "note bracket: upper hole is oval",
];

fn alternator(job: &str) {
    assert_eq!(ask(&["new", job]).0, 0);
    for line in ALTERNATOR {
        let (status, answer) = ask(&["log", line, "--job", job]);
        assert_eq!(status, 0, "{line}: {answer}");
    }
}

#[test]
fn eight_lines_take_an_alternator_apart_and_become_a_book() {
    let folder = temporary();
    let job = inside(&folder, "alternator");
    alternator(&job);
    let away = |name: &str| -> bool {
        let (_, answer) = ask(&["outstanding", "--job", &job]);
        rows(&answer).iter().any(|row| row["what"] == name)
    };
    assert!(away("alternator") && away("bracket"));

    // The last line is only a note: the one before the photo is what must come back.
    assert_eq!(ask(&["undo", "6", "--job", &job, "--anyway"]).0, 0);
    assert!(away("alternator") && !away("bracket"));
    let (_, record) = ask(&["record", "--job", &job]);
    assert_eq!(rows(&record).len(), ALTERNATOR.len() + 1);
    // Taking back the undo puts the bracket on the list again.
    assert_eq!(ask(&["undo", "9", "--job", &job]).0, 0);
    assert!(away("bracket"));

    let (status, book) = say(&["write-back", "--job", &job]);
    assert_eq!(status, 0);
    let file = inside(&folder, "alternator.kdl");
    std::fs::write(&file, &book).unwrap();
    let (status, checked) = ask(&["check", &file]);
    assert_eq!(status, 0, "{checked}\n{book}");

    // The same lines against the book they became leave the same things off.
    let again = inside(&folder, "again");
    assert_eq!(ask(&["new", &again, "--from", &file]).0, 0);
    for line in ALTERNATOR {
        let (status, answer) = ask(&["log", line, "--job", &again]);
        assert_eq!(status, 0, "{line}: {answer}");
    }
    let what = |job: &str| -> Vec<String> {
        let (_, answer) = ask(&["outstanding", "--job", job]);
        let mut what: Vec<String> = rows(&answer)
            .iter()
            .map(|row| format!("{} {} {}", row["what"], row["state"], row["where"]))
            .collect();
        what.sort();
        what
    };
    assert_eq!(what(&job), what(&again));
}

#[test]
fn a_new_name_is_said_and_a_known_one_is_not() {
    let folder = temporary();
    let job = inside(&folder, "job");
    assert_eq!(ask(&["new", &job]).0, 0);
    let (_, first) = ask(&[
        "log",
        "off alternator from bracket: 2 bolts M10x80",
        "--job",
        &job,
    ]);
    assert!(codes(&first).contains(&"first-met"), "{first}");
    let (_, second) = ask(&["log", "clean alternator", "--job", &job]);
    assert!(!codes(&second).contains(&"first-met"), "{second}");
}

#[test]
fn one_bad_line_among_good_ones_stores_nothing() {
    let folder = temporary();
    let job = inside(&folder, "job");
    assert_eq!(ask(&["new", &job]).0, 0);
    let lines = ["off belt", "frobnicate the belt", "off fan"];
    let (status, answer) = ask(&[&["log"], &lines[..], &["--job", &job]].concat());
    assert_eq!(status, 2);
    assert_eq!(codes(&answer), ["line-not-understood"]);
    assert_eq!(answer["findings"][0]["column"], 1);
    let (_, record) = ask(&["record", "--job", &job]);
    assert!(rows(&record).is_empty(), "{record}");
    let (_, gate) = ask(&["gate", "fire", "--job", &job]);
    assert!(
        gate["because"][0]
            .as_str()
            .unwrap()
            .contains("the record is empty"),
        "{gate}"
    );
    // On a screen: what stopped it, an example, the way out, nothing wider than the screen.
    let output = run(&["log", "frobnicate the belt", "--job", &job]);
    let text = String::from_utf8(output.stderr).unwrap();
    assert!(text.contains("for example:") && text.contains("nothing was stored"));
    fits(&text, "a refusal");
}

#[test]
fn what_a_line_speaks_of_must_be_there() {
    let folder = temporary();
    let job = inside(&folder, "job");
    assert_eq!(ask(&["new", &job]).0, 0);
    assert_eq!(ask(&["log", "off belt", "off fan", "--job", &job]).0, 0);
    for (line, code) in [
        ("undo 99", "entry-unknown"),
        ("correct 99: off belt", "entry-unknown"),
        ("gate nonsense passed: in a hurry", "gate-unknown"),
    ] {
        let (status, answer) = ask(&["log", line, "--job", &job]);
        assert_eq!((status, codes(&answer)), (2, vec![code]), "{line}");
    }
    assert_eq!(ask(&["undo", "--job", &job]).0, 0);
    assert_eq!(
        ask(&["undo", "2", "--job", &job]).0,
        2,
        "taken back already"
    );
    assert_eq!(ask(&["log", "correct 1: off v-belt", "--job", &job]).0, 0);
    let (_, record) = ask(&["record", "--job", &job]);
    let fates: Vec<&Value> = rows(&record).iter().map(|row| &row["now"]).collect();
    assert_eq!(
        fates,
        ["corrected", "taken back", "", ""]
            .map(|fate| {
                if fate.is_empty() {
                    Value::Null
                } else {
                    Value::from(fate)
                }
            })
            .iter()
            .collect::<Vec<_>>()
    );
}

#[test]
fn a_lost_bolt_shuts_the_gate_and_undo_opens_it() {
    let folder = temporary();
    let job = inside(&folder, "post-van");
    assert_eq!(ask(&["demo", "--dir", &job]).0, 0);
    let fire = || {
        let (status, answer) = ask(&["gate", "fire", "--job", &job]);
        (status, answer["verdict"].as_str().unwrap().to_owned())
    };
    let (status, left) = ask(&["outstanding", "--job", &job]);
    assert!(status == 0 && rows(&left).is_empty(), "{left}");
    assert_eq!(fire(), (0, "open".to_owned()));
    assert_eq!(ask(&["log", "lost 1 bolt M6x16", "--job", &job]).0, 0);
    assert_eq!(fire(), (1, "closed".to_owned()));
    let (status, all) = ask(&["gate", "--job", &job]);
    assert_eq!((status, all["verdict"].as_str()), (1, Some("closed")));
    assert_eq!(ask(&["undo", "--job", &job]).0, 0);
    assert_eq!(fire(), (0, "open".to_owned()));
    // A name that nobody knows, and one that means several things, are refused with a way out.
    let (status, unknown) = ask(&["log", "off tumble-horn", "--job", &job]);
    assert_eq!((status, codes(&unknown)), (2, vec!["name-unknown"]));
    assert_eq!(ask(&["gate", "nonsense", "--job", &job]).0, 2);
}

#[test]
fn the_demo_tells_the_same_story_twice_on_one_screen_width() {
    let folder = temporary();
    let tell = || {
        let output = Command::new(env!("CARGO_BIN_EXE_matchmark"))
            .arg("demo")
            .current_dir(folder.path())
            .output()
            .unwrap();
        assert!(output.status.success());
        String::from_utf8(output.stdout).unwrap()
    };
    let (first, second) = (tell(), tell());
    assert_eq!(first, second);
    assert!(first.lines().count() <= 70);
    fits(&first, "the demo");
    // The files it names are there.
    for name in ["book.kdl", "shop.kdl", "record.sqlite", "written-back.kdl"] {
        let named = format!("post-van/{name}");
        assert!(first.contains(&named) && folder.path().join(&named).exists());
    }
}

#[test]
fn the_demo_leaves_the_job_of_somebody_else_alone() {
    let folder = temporary();
    let job = inside(&folder, "job");
    assert_eq!(ask(&["new", &job]).0, 0);
    assert_eq!(ask(&["log", "off belt", "--job", &job]).0, 0);
    assert_eq!(ask(&["demo", "--dir", &job]).0, 2);
    let (_, record) = ask(&["record", "--job", &job]);
    assert_eq!(rows(&record).len(), 1);
}

#[test]
fn five_values_without_quotes_are_five_faults() {
    let folder = temporary();
    let file = inside(&folder, "slips.kdl");
    let text = "book \"Slips\" units=metric\n\
        engine V6 angle=90° bore=88mm\n\
        part block fixed=#true\n\
        part cover {\n    joint cover-to-block to=block {\n\
        \u{20}       holes A..D thread=M6x1 length=16mm head=10mm\n    }\n}\n\
        circuit coolant capacity=8.6L\n";
    std::fs::write(&file, text).unwrap();
    let (status, answer) = ask(&["check", &file]);
    assert_eq!(status, 1);
    let mut at: Vec<(u64, u64)> = Vec::new();
    for finding in answer["findings"].as_array().unwrap() {
        assert_eq!(finding["code"], "book/unquoted-value", "{finding}");
        at.push((
            finding["line"].as_u64().unwrap(),
            finding["column"].as_u64().unwrap(),
        ));
    }
    let lines: Vec<u64> = at.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [2, 2, 6, 6, 9], "{answer}");
    let (_, shown) = say(&["check", &file]);
    assert_eq!(shown.matches(": error[").count(), 5, "{shown}");
    assert!(shown.contains("quotes"));
}

/// Source: exact by definition, 1 lbf·ft = 12 lbf·in (NIST SP 811, 2008, appendix B.8). *Published.*
#[test]
fn thirteen_foot_pounds_are_156_inch_pounds() {
    let (status, answer) = ask(&["convert", "13 ft-lb", "--in", "lbf·in"]);
    assert_eq!(status, 0);
    assert_eq!(answer["figures"]["value"]["shown"], "156 lbf·in");
}

#[test]
fn a_bound_stays_a_bound_and_a_spec_goes_to_its_own_command() {
    let (status, answer) = ask(&["convert", "< 0.04 mm", "--in", "µm"]);
    let value = &answer["figures"]["value"];
    assert_eq!((status, value["shown"].as_str()), (0, Some("< 40 µm")));
    assert!(value["low"].is_null() && value["high"].is_number());
    for spec in ["30 N·m + 90° + 90°", "20 → 40 N·m"] {
        let (status, answer) = ask(&["convert", spec]);
        assert_eq!((status, codes(&answer)), (2, vec!["a-spec"]), "{spec}");
        assert_eq!(ask(&["torque", spec]).0, 0, "{spec}");
    }
    // A temperature below zero is a figure, not an option.
    assert_eq!(ask(&["convert", "-20 °C"]).0, 0);
}

/// Source: pounds alone leave foot or inch open, a factor of twelve. *Common practice, no source.*
#[test]
fn pounds_alone_are_asked_about_and_joules_are_refused() {
    for text in [
        "35 lbs",
        "35",
        "5 kg",
        "24 J",
        "-18 N·m",
        "10 + 3 N·m",
        "5 MNm",
        "mN",
    ] {
        let (status, answer) = ask(&["convert", text, "--as", "torque"]);
        assert_eq!(status, 2, "{text}: {answer}");
        let asked = !answer["asks"].as_array().unwrap().is_empty();
        let hinted = answer["findings"]
            .as_array()
            .unwrap()
            .iter()
            .any(|finding| finding["next"].is_string());
        assert!(asked || hinted, "{text}: no way out in {answer}");
    }
}

#[test]
fn every_refusal_is_one_json_object_with_status_two() {
    let folder = temporary();
    let nothing = inside(&folder, "nothing");
    for arguments in [
        &["outstanding", "--job", &nothing][..],
        &["log", "off belt", "--job", &nothing],
        &["undo", "--job", &nothing],
        &["write-back", "--job", &nothing],
        &["gate", "fire", "--job", &nothing],
        &["check", &nothing],
        &["new", &nothing, "--from", &nothing],
        &["convert", "13 parsecs"],
        &["frobnicate"],
        &["convert"],
        &["cranking", "--layout", "I4"],
    ] {
        let (status, answer) = ask(arguments);
        assert_eq!(status, 2, "{arguments:?}");
        assert_eq!(answer["refused"], true, "{arguments:?}");
        assert!(!codes(&answer).is_empty(), "{arguments:?}: no finding");
    }
    assert!(!Path::new(&nothing).exists());
}

/// What every command takes stands behind what this one takes, and `help` is understood.
#[test]
fn help_tells_the_options_of_a_command_first() {
    let (status, page) = say(&["help", "cut"]);
    assert_eq!(status, 0);
    let own = page.find("--end-share").unwrap();
    let shared = page.find("For every command").unwrap();
    assert!(
        own < shared && shared < page.find("--json").unwrap(),
        "{page}"
    );
}

#[test]
fn help_is_a_word_too() {
    assert_eq!(say(&["help"]), say(&["--help"]));
    let (status, page) = say(&["help", "hole"]);
    assert_eq!(status, 0);
    assert!(page.contains("--depth"), "{page}");
    assert_eq!(say(&["help", "no-such-command"]).0, 2);
}

#[test]
fn every_help_page_fits_the_screen() {
    let (status, page) = say(&["--help"]);
    assert_eq!(status, 0);
    fits(&page, "--help");
    // One indented line begins each command; the second column of a wrapped one is deeper.
    let names: Vec<&str> = page
        .lines()
        .take_while(|line| !line.starts_with("Options"))
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(names.len() > 40, "{names:?}");
    for name in names {
        let (status, page) = say(&[name, "--help"]);
        assert_eq!(status, 0, "{name}");
        fits(&page, name);
    }
}

#[test]
fn a_reader_that_leaves_early_meets_no_panic() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(["completions", "bash"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut said = String::new();
    let mut complaints = child.stderr.take().unwrap();
    complaints.read_to_string(&mut said).unwrap();
    child.wait().unwrap();
    assert!(!said.contains("panicked"), "{said}");
}

#[test]
fn packers_get_completions_and_manual_pages() {
    let folder = temporary();
    for shell in ["bash", "zsh", "fish"] {
        let (status, script) = say(&["completions", shell]);
        assert!(status == 0 && script.contains("write-back"), "{shell}");
    }
    let pages = inside(&folder, "man");
    let (status, answer) = ask(&["man", &pages]);
    assert_eq!(status, 0);
    assert!(rows(&answer).len() > 40);
    let page = std::fs::read_to_string(Path::new(&pages).join("matchmark-log.1")).unwrap();
    assert!(page.contains("LINE"));
}

#[test]
fn a_drawing_is_written_beside_the_answer() {
    let folder = temporary();
    let face = inside(&folder, "face.csv");
    let heights = "x [mm],y [mm],z [mm]\n0,0,0\n400,0,0.02\n400,120,0\n0,120,0.02\n200,60,0.05\n";
    std::fs::write(&face, heights).unwrap();
    let drawing = inside(&folder, "face.svg");
    let output = run(&["flatness", &face, "--draw", &drawing]);
    assert!(output.status.success());
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("face.svg")
    );
    assert!(
        std::fs::read_to_string(&drawing)
            .unwrap()
            .starts_with("<svg")
    );

    let none = inside(&folder, "none.svg");
    let output = run(&["convert", "13 ft-lb", "--draw", &none]);
    assert!(output.status.success() && !Path::new(&none).exists());
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("Nothing to draw")
    );

    let (status, answer) = ask(&["flatness", &face, "--draw", &inside(&folder, "no/such.svg")]);
    assert_eq!(status, 1);
    assert!(codes(&answer).contains(&"drawing-not-written"));
}
