//! Intake vacuum: option text into a question for the judge.

use judge::vacuum::{Needle, Vacuum, judge};
use quantity::{GaugePressure, Length};
use report::Report;

use crate::option::Options;

/// Reads a vacuum gauge: a level, how the needle moves, the height of the workshop.
#[must_use]
pub fn vacuum(level: &str, needle: Option<&str>, altitude: Option<&str>) -> Report {
    let mut options = Options::of("vacuum");
    let below = options.quantity::<GaugePressure>("level", level);
    let height = options.maybe::<Length>("--altitude", altitude);
    let needle = needle.map_or(Some(Needle::default()), |text| {
        let found = Needle::NAMED
            .into_iter()
            .find(|(name, _)| *name == text.trim());
        if found.is_none() {
            let names: Vec<&str> = Needle::NAMED.into_iter().map(|(name, _)| name).collect();
            options.fault(
                "--needle",
                format!("{text:?} is no movement kept here"),
                format!("one of {}", names.join(", ")),
            );
        }
        found.map(|(_, needle)| needle)
    });
    match (below, needle) {
        (Some(below), Some(needle)) if options.clean() => judge(&Vacuum {
            below: below.value,
            needle,
            height: height.map(|said| (said.value, said.typed)),
        }),
        _ => options.refusal("Intake vacuum, warm idle"),
    }
}
