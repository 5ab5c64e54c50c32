//! What an entry sets going of its own: a plan that changes says so in one line, sealant keeps
//! a gate shut until it has cured. The book is invented.

use app::folder::{Folder, Hand};
use app::{gate, lines};
use report::Report;

const BOOK: &str = r#"
book "Invented" invented=#true
part block fixed=#true
part cover zone=above off="10 min" on="20 min" {
    joint cover-seam to=block {
        holes A..C thread=M6x1 length="20 mm"
        sealant "grey" cures="24 h"
    }
}
part ring one-use=#true lead="3 d" off="10 min" on="20 min" {
    needs-off cover
    joint ring-bolts to=block {
        holes A..C thread=M6x1 length="20 mm"
    }
}
"#;

const SHOP: &str = r#"
shop "Test bay"
person ana { hours mon="2 h" tue="2 h" wed="2 h" thu="2 h" fri="2 h" }
"#;

/// 2026-03-02, a Monday, at 18:00 UTC, in microseconds.
const MONDAY: i64 = 1_772_474_400_000_000;
const HOUR: i64 = 3_600_000_000;

fn job() -> (tempfile::TempDir, Folder) {
    let dir = tempfile::tempdir().expect("a folder");
    let folder = Folder::begin(&dir.path().join("job"), Some(BOOK), Some(SHOP)).expect("a job");
    (dir, folder)
}

fn log(folder: &mut Folder, line: &str) -> Report {
    let hand = hand(folder);
    let report = lines::log(folder, &hand, &[line.to_owned()]);
    assert!(!report.refused, "{line}: {:?}", report.findings);
    report
}

fn hand(folder: &Folder) -> Hand {
    Hand {
        author: "ana".to_owned(),
        micros: MONDAY,
        client: format!("test-{}", folder.entries.len()),
    }
}

fn says(report: &Report, code: &str) -> Option<String> {
    let found = report.findings.iter().find(|finding| finding.code == code);
    found.map(|finding| finding.says.clone())
}

#[test]
fn a_purchase_that_comes_to_light_is_said_once_and_in_one_line() {
    let (_dir, mut folder) = job();
    for line in ["off cover", "off ring", "note ring: worn", "ordered ring"] {
        // Done as it was planned, or nothing to do with the plan.
        assert_eq!(
            says(&log(&mut folder, line), "plan-changed"),
            None,
            "{line}"
        );
    }
    let by = hand(&folder);
    let undone = lines::undo(&mut folder, &by, Some(4), false);
    let change = says(&undone, "plan-changed").expect("the ring is to be ordered after all");
    assert!(
        change.contains("ring") && change.contains("ordered by"),
        "{change}"
    );
    assert!(!change.contains('\n'), "{change}");
}

#[test]
fn a_job_without_a_shop_file_says_nothing_of_days() {
    let dir = tempfile::tempdir().expect("a folder");
    let mut folder = Folder::begin(&dir.path().join("job"), Some(BOOK), None).expect("a job");
    log(&mut folder, "off cover");
    assert_eq!(
        says(&log(&mut folder, "ordered ring"), "plan-changed"),
        None
    );
}

#[test]
fn sealant_keeps_the_engine_from_being_spun_until_it_has_cured() {
    let (_dir, mut folder) = job();
    let at = |folder: &Folder, hours: i64| {
        let report = gate::gate(folder, Some("spin"), MONDAY + hours * HOUR);
        says(&report, "sealant-not-cured")
    };
    assert_eq!(at(&folder, 0), None, "nothing was opened");
    log(&mut folder, "off cover: 3 bolts M6x20");
    log(&mut folder, "on cover: 3 bolts M6x20");
    let wet = at(&folder, 1).expect("done up an hour ago");
    assert!(wet.ends_with("cures 23 h more"), "{wet}");
    assert_eq!(at(&folder, 24), None);
}
