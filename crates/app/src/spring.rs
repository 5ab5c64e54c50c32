//! A valve spring as installed: option text into a question for the judge.

use judge::spring::{Spring, judge};
use quantity::{Length, Stiffness};
use report::Report;

use crate::option::Options;
use crate::typed::unit_of;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Spring rate.
    pub rate: String,
    /// Free length.
    pub free: String,
    /// Installed height before the valve sank.
    pub height: String,
    /// How far the valve sank.
    pub sink: Option<String>,
    /// Lift of the valve.
    pub lift: Option<String>,
    /// Length with the coils together.
    pub solid: Option<String>,
}

/// Answers height, load and room.
#[must_use]
pub fn spring(asked: &Asked) -> Report {
    let mut options = Options::of("spring");
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal("Valve spring as installed"),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Spring> {
    let rate = options.quantity::<Stiffness>("--rate", &asked.rate);
    let free = options.quantity::<Length>("--free", &asked.free);
    let height = options.quantity::<Length>("--height", &asked.height);
    let sink = options.maybe::<Length>("--sink", asked.sink.as_deref());
    let lift = options.maybe::<Length>("--lift", asked.lift.as_deref());
    let solid = options.maybe::<Length>("--solid", asked.solid.as_deref());
    if asked.lift.is_some() != asked.solid.is_some() {
        options.fault(
            "--lift",
            "the room at full lift needs lift and solid length",
            "give both --lift and --solid",
        );
    }
    Some(Spring {
        rate: rate?.value,
        free: free?.value,
        height: height?.value,
        sink: sink.map(|said| said.value),
        lift: lift.map(|said| said.value),
        solid: solid.map(|said| said.value),
        unit: unit_of::<Length>(&asked.height),
    })
}
