//! The next test: what was seen, as words or as the job's own readings, into a question for
//! the judge.

use judge::next_test::{Found, NextTest, Seen, judge};
use report::{Report, Verdict};

use crate::folder::Folder;
use crate::option::Options;
use crate::{cranking, leakdown};

/// Names the test that parts what remains.
#[must_use]
pub fn next_test(seen: &[String], overheat_cause: Option<&str>, two_stroke: bool) -> Report {
    let mut options = Options::of("next-test");
    let mut found = Vec::new();
    for word in seen
        .iter()
        .flat_map(|text| text.split(','))
        .map(str::trim)
        .filter(|word| !word.is_empty())
    {
        match Seen::find(word) {
            Some(seen) if found.contains(&seen) => {}
            Some(seen) => found.push(seen),
            None => {
                let names: Vec<&str> = Seen::ALL.into_iter().map(Seen::key).collect();
                options.fault(
                    "--seen",
                    format!("{word:?} is no observation kept here"),
                    names.join(", "),
                );
            }
        }
    }
    if !options.clean() {
        return options.refusal("What remains, and the test that parts it");
    }
    judge(&NextTest {
        seen: found,
        overheat_cause: overheat_cause.map(cause),
        two_stroke,
    })
}

fn cause(text: &str) -> Found {
    match text.trim().to_lowercase().as_str() {
        "not found" | "not-found" => Found::NotFound,
        _ => Found::Named(text.trim().to_owned()),
    }
}

/// What the findings of the job's own readings are called here.
const OF_FINDINGS: [(&str, Seen); 6] = [
    ("one-low", Seen::OneLow),
    ("several-low", Seen::OneLow),
    ("neighbours-low", Seen::NeighboursLow),
    ("all-low-even", Seen::AllLowEven),
    ("wet-gain", Seen::WetGain),
    ("no-wet-gain", Seen::NoWetGain),
];

/// What plain words of a note say, where they say it plainly.
const OF_NOTES: [(&str, Seen); 6] = [
    ("coolant loss", Seen::CoolantLoss),
    ("loses coolant", Seen::CoolantLoss),
    ("white smoke", Seen::WhiteSmoke),
    ("milky oil", Seen::MilkyOil),
    ("misfires cold", Seen::MisfireCold),
    ("overheat", Seen::Overheated),
];

/// Names the test that parts what remains, from the job's cranking and leak-down readings, its
/// notes and the cause of an overheating as its record has it. The answer says what was taken.
#[must_use]
pub fn of_job(folder: &Folder, overheat_cause: Option<&str>, two_stroke: bool) -> Report {
    let mut seen = Vec::new();
    let mut add = |one: Seen| {
        if !seen.contains(&one) {
            seen.push(one);
        }
    };
    let turned = cranking::of_job(folder, &cranking::Asked::default());
    for (code, one) in OF_FINDINGS {
        if turned.finds(code) {
            add(one);
        }
    }
    // One reading alone is not even with anything.
    let several = turned.figure("spread").is_some();
    if several && turned.verdict == Some(Verdict::Within) {
        add(Seen::EvenCompression);
    }
    let leak = leakdown::of_job(folder, &leakdown::Asked::default());
    if !leak.refused && leak.verdict == Some(Verdict::Within) {
        add(Seen::NoLeak);
    }
    for (_, _, text) in &folder.state.notes {
        let text = text.to_lowercase();
        for (words, one) in OF_NOTES {
            if text.contains(words) && !text.contains(&format!("no {words}")) {
                add(one);
            }
        }
    }
    let named = folder
        .state
        .causes
        .iter()
        .rev()
        .find(|(_, of, _)| of.to_lowercase().contains("overheat"))
        .map(|(_, _, found)| found.as_str());
    let taken: Vec<&str> = seen.iter().map(|one| one.key()).collect();
    let says = format!("Taken from the record: {}.", taken.join(", "));
    let mut report = judge(&NextTest {
        seen,
        overheat_cause: overheat_cause.or(named).map(cause),
        two_stroke: two_stroke || strokes(folder) == Some(2),
    });
    if !report.refused {
        report.because.push(says);
    }
    report
}

fn strokes(folder: &Folder) -> Option<u32> {
    let engine = folder.state.known.engine.as_ref()?;
    engine.strokes.known().copied()
}
