//! Before and after: option text into a question for the judge.

use judge::layout::Layout;
use judge::proof::{Proof, judge};
use judge::proof_page::{self, Done, Test};
use quantity::{GaugePressure, Ratio, read};
use report::Report;

use crate::cranking::layout;
use crate::folder::Folder;
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
    let repeatability = options.maybe::<Ratio>("--repeatability", asked.repeatability.as_deref());
    match (layout, before, after) {
        (Some(layout), Some(before), Some(after)) if options.clean() => judge(&Proof {
            layout,
            before: before.value,
            after: after.value,
            work: asked.work.clone(),
            alike: asked.alike,
            repeatability: repeatability.map(|said| said.value),
            unit: typed::unit_of::<GaugePressure>(&asked.after),
        }),
        _ => options.refusal("Before and after"),
    }
}

/// The page of proof of a job: the first and the last reading of every test.
#[must_use]
pub fn of_job(folder: &Folder) -> Report {
    let state = &folder.state;
    let mut tests: Vec<Test> = Vec::new();
    for (_, found) in &state.readings {
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
        test.moved = layout.as_ref().and_then(|layout| moved(test, layout));
    }
    let cause = state
        .causes
        .last()
        .map(|(_, of, found)| format!("{of}: {found}"));
    proof_page::page(&tests, cause.as_deref())
}

/// How a cranking test moved; other readings are set side by side and left to the reader.
fn moved(test: &Test, layout: &Layout) -> Option<report::Verdict> {
    let after = test.after.as_ref()?;
    if !test.name.to_lowercase().contains("cranking") || !after.is_like(&test.before) {
        return None;
    }
    let list = |text: &str| read::read_list::<GaugePressure>(text).ok();
    judge(&Proof {
        layout: layout.clone(),
        before: list(&test.before.values)?.value,
        after: list(&after.values)?.value,
        work: None,
        alike: true,
        repeatability: None,
        unit: typed::unit_of::<GaugePressure>(&after.values),
    })
    .verdict
}
