//! Before and after: option text into a question for the judge.

use judge::proof::{Proof, judge};
use quantity::{GaugePressure, Ratio};
use report::Report;

use crate::cranking::layout;
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
