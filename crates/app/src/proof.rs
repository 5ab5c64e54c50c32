//! Before and after: option text into a question for the judge.

use judge::layout::Layout;
use judge::proof::{Proof, judge};
use judge::proof_page::{self, Done, Test};
use quantity::{GaugePressure, Ratio, read};
use report::Report;

use crate::cranking::{best, layout};
use crate::folder::Folder;
use crate::gauge;
use crate::option::Options;
use crate::typed;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `I4`, `V6`, `V6:1 3 5/2 4 6`.
    pub layout: String,
    /// Readings before.
    pub before: String,
    /// Readings after.
    pub after: String,
    /// What was done in between.
    pub work: Option<String>,
    /// Same gauge, strokes and warmth.
    pub alike: bool,
    /// How well the gauge repeats.
    pub repeatability: Option<String>,
}

/// Compares before and after.
#[must_use]
pub fn proof(asked: &Asked) -> Report {
    let mut options = Options::of("proof");
    let layout = layout(&mut options, &asked.layout);
    let before = options.list::<GaugePressure>("--before", &asked.before);
    let after = options.list::<GaugePressure>("--after", &asked.after);
    let best = before.as_ref().and_then(|before| best(&before.value));
    let repeatability = gauge::repeatability(&mut options, asked.repeatability.as_deref(), best);
    match (layout, before, after) {
        (Some(layout), Some(before), Some(after)) if options.clean() => judge(&Proof {
            layout,
            before: before.value,
            after: after.value,
            work: asked.work.clone(),
            alike: asked.alike,
            repeatability,
            unit: typed::unit_of::<GaugePressure>(&asked.after),
        }),
        _ => options.refusal("Before and after"),
    }
}

/// The page of proof of a job: the first and the last reading of every test of the engine.
/// Readings the book has a limit for belong to a face or a clearance, and to other pages.
#[must_use]
pub fn of_job(folder: &Folder) -> Report {
    let state = &folder.state;
    let mut tests: Vec<Test> = Vec::new();
    let of_a_part = |name: &str| {
        state.known.limits.iter().any(|limit| {
            let label = limit.label.as_deref().unwrap_or_default();
            let bound = limit.min.known().or(limit.max.known());
            let is_length = matches!(bound, Some(book::Amount::Length(_)));
            (limit.of.is_some() || is_length)
                && (job::same_name(name, limit.id.as_str()) || job::same_name(name, label))
        })
    };
    for (_, found) in &state.readings {
        if of_a_part(&found.of) {
            continue;
        }
        let done = Done {
            values: found.values.clone(),
            gauge: found.instrument.clone(),
            conditions: found.conditions.clone(),
        };
        match tests
            .iter_mut()
            .find(|test| job::same_name(&test.name, &found.of))
        {
            Some(test) => test.after = Some(done),
            None => tests.push(Test {
                name: found.of.clone(),
                before: done,
                after: None,
                moved: None,
            }),
        }
    }
    let layout = state
        .known
        .engine
        .as_ref()
        .and_then(|engine| Layout::of_engine(engine).ok());
    for test in &mut tests {
        test.moved = layout
            .as_ref()
            .and_then(|layout| moved(folder, test, layout));
    }
    let cause = state
        .causes
        .last()
        .map(|(_, of, found)| format!("{of}: {found}"));
    let mut report = proof_page::page(&tests, cause.as_deref());
    report.findings.extend(judge::after::open(state));
    report
        .because
        .extend(state.passed.iter().map(|(gate, (entry, reason))| {
            format!("Gate {gate} was passed by entry {entry}: {reason}")
        }));
    report
}

/// How a test of numbers by cylinder moved; other readings are set side by side and left to
/// the reader.
fn moved(folder: &Folder, test: &Test, layout: &Layout) -> Option<report::Verdict> {
    let after = test.after.as_ref()?;
    let name = test.name.to_lowercase();
    if !after.is_like(&test.before) {
        return None;
    }
    if name.contains("leak") {
        let list = |text: &str| read::read_list::<Ratio>(text).ok();
        let (before, after) = (list(&test.before.values)?, list(&after.values)?);
        return judge::leakdown::moved(&before.value, &after.value);
    }
    if !name.contains("cranking") {
        return None;
    }
    let list = |text: &str| read::read_list::<GaugePressure>(text).ok();
    let before = list(&test.before.values)?.value;
    // The same gauge both times, so only how well it repeats counts.
    let gauge = gauge::of_shop(folder.shop.as_ref(), test.before.gauge.as_deref());
    let mut options = Options::of("proof");
    let repeats = gauge.and_then(gauge::repeats);
    let repeatability = gauge::repeatability(&mut options, repeats, best(&before));
    judge(&Proof {
        layout: layout.clone(),
        before,
        after: list(&after.values)?.value,
        work: None,
        alike: true,
        repeatability,
        unit: typed::unit_of::<GaugePressure>(&after.values),
    })
    .verdict
}
