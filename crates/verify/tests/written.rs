//! Plans written down to be read: every one in `wrong/` is refused for the reason it names,
//! every one in `right/` passes.
//!
//! The same for calendars, in `wrong-calendar/` and `right-calendar/`.
//!
//! A file names the reason it is refused for, says why in a sentence, and holds a book, where
//! the job stands, and the steps. Hands and hoist of a step are those of the book unless it
//! says otherwise.

mod text;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use text::{Case, DatedCase};
use verify::{Reason, Refusal};

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder)
        .unwrap_or_else(|fault| panic!("{}: {fault}", folder.display()))
        .map(|entry| entry.expect("a readable folder").path())
        .collect();
    files.sort();
    files
}

fn refusals(case: &Case) -> Vec<Refusal> {
    verify::check(&case.book, &case.state, &case.plan)
}

fn listed(refusals: &[Refusal]) -> String {
    let line = |refusal: &Refusal| {
        format!(
            "  step {:?}: {} ({})\n",
            refusal.step.map(|step| step + 1),
            refusal.reason.name(),
            refusal.says
        )
    };
    refusals.iter().map(line).collect()
}

#[test]
fn every_wrong_plan_is_refused_for_the_reason_it_names() {
    let mut named = BTreeSet::new();
    let mut failed = String::new();
    let files = files("wrong");
    for file in &files {
        let case = Case::read(&std::fs::read_to_string(file).unwrap());
        let wanted = case
            .refuses
            .clone()
            .unwrap_or_else(|| panic!("{}: no `refuses:` line", file.display()));
        let found = refusals(&case);
        let first = found.first().map(|refusal| refusal.reason.name());
        if first != Some(wanted.as_str()) {
            failed += &format!("{}: wanted {wanted}\n{}", file.display(), listed(&found));
        }
        named.insert(wanted);
    }
    assert!(failed.is_empty(), "\n{failed}");
    assert!(files.len() >= 25, "only {} wrong plans ran", files.len());
    for file in self::files("wrong-calendar") {
        named.extend(Case::read(&std::fs::read_to_string(file).unwrap()).refuses);
    }
    let all: BTreeSet<String> = Reason::ALL
        .iter()
        .map(|reason| reason.name().to_owned())
        .collect();
    let without: Vec<&String> = all.difference(&named).collect();
    assert!(without.is_empty(), "no wrong plan for {without:?}");
}

#[test]
fn every_right_plan_passes() {
    let files = files("right");
    assert!(!files.is_empty(), "no right plan ran");
    let mut failed = String::new();
    for file in &files {
        let case = Case::read(&std::fs::read_to_string(file).unwrap());
        assert_eq!(case.refuses, None, "{}", file.display());
        let found = refusals(&case);
        if !found.is_empty() {
            failed += &format!("{}\n{}", file.display(), listed(&found));
        }
    }
    assert!(failed.is_empty(), "\n{failed}");
}

#[test]
fn the_answer_names_step_and_reason_and_stops() {
    let file = files("wrong")
        .into_iter()
        .find(|file| file.ends_with("runners-under-the-duct.txt"))
        .unwrap();
    let case = Case::read(&std::fs::read_to_string(file).unwrap());
    let report = verify::report(&refusals(&case));
    assert!(report.finds("blocked-part"));
    assert!(report.findings[0].says.starts_with("Step 2: "));
    assert_eq!(report.findings[0].concerns, "duct");
    assert_eq!(report.exit_status(), 1);
    assert_eq!(verify::report(&[]).exit_status(), 0);
}

/// What is said of a written calendar, its walking looked at too.
fn said_of_days(file: &Path) -> (DatedCase, Vec<Refusal>) {
    let day = DatedCase::read(&std::fs::read_to_string(file).expect("a readable file"));
    let Case { book, plan, .. } = &day.case;
    let mut found = verify::calendar(book, &day.shop, plan, &day.dated);
    found.extend(verify::walking(Some(&day.shop), plan));
    (day, found)
}

#[test]
fn every_wrong_calendar_is_refused_for_the_reason_it_names_and_no_other() {
    let files = files("wrong-calendar");
    let mut failed = String::new();
    for file in &files {
        let (day, found) = said_of_days(file);
        let wanted = day.case.refuses.expect("a `refuses:` line");
        let reasons: BTreeSet<&str> = found.iter().map(|refusal| refusal.reason.name()).collect();
        if reasons != BTreeSet::from([wanted.as_str()]) {
            failed += &format!("{}: wanted {wanted}\n{}", file.display(), listed(&found));
        }
    }
    assert!(failed.is_empty(), "\n{failed}");
    assert!(
        files.len() >= 20,
        "only {} wrong calendars ran",
        files.len()
    );
}

#[test]
fn every_right_calendar_passes() {
    let files = files("right-calendar");
    assert!(!files.is_empty(), "no right calendar ran");
    for file in &files {
        let (day, found) = said_of_days(file);
        assert_eq!(day.case.refuses, None, "{}", file.display());
        assert!(found.is_empty(), "{}\n{}", file.display(), listed(&found));
    }
}
