//! Cooling-system tests: option text into questions for the judge.

use judge::cooling::{self, Colour, Gas, Hold};
use quantity::{Duration, GaugePressure, Volume};
use report::Report;

use crate::option::Options;
use crate::typed;

/// A pressure hold as it was typed.
#[derive(Clone, Debug, Default)]
pub struct HoldText {
    /// Pumped to.
    pub start: String,
    /// Found at the end.
    pub end: String,
    /// After this time.
    pub time: String,
    /// Rating of the cap.
    pub cap: String,
    /// The maker's allowed drop.
    pub allowed: Option<String>,
    /// Air above the coolant.
    pub air: Option<String>,
    /// The engine was warm.
    pub warm: bool,
}

/// Judges a pressure hold.
#[must_use]
pub fn hold(asked: &HoldText) -> Report {
    let mut options = Options::of("cooling-pressure");
    let start = options.quantity::<GaugePressure>("--start", &asked.start);
    let end = options.quantity::<GaugePressure>("--end", &asked.end);
    let time = options.quantity::<Duration>("--time", &asked.time);
    let cap = options.quantity::<GaugePressure>("--cap", &asked.cap);
    let allowed = options.maybe::<GaugePressure>("--allowed", asked.allowed.as_deref());
    let air = options.maybe::<Volume>("--air", asked.air.as_deref());
    match (start, end, time, cap) {
        (Some(start), Some(end), Some(time), Some(cap)) if options.clean() => {
            cooling::hold(&Hold {
                start: start.value,
                end: end.value,
                time: time.value,
                cap: cap.value,
                allowed: allowed.map(|said| said.value),
                air: air.map(|said| said.value),
                cold: !asked.warm,
                unit: typed::unit_of::<GaugePressure>(&asked.start),
            })
        }
        _ => options.refusal("Cooling system, pressure hold"),
    }
}

/// A combustion-gas test as it was typed.
#[derive(Clone, Debug, Default)]
pub struct GasText {
    /// `blue` or `yellow`.
    pub colour: String,
    /// The engine was cold.
    pub cold: bool,
    /// Idle only, no load.
    pub idle_only: bool,
    /// Coolant got into the tube.
    pub splashed: bool,
    /// The fluid was old.
    pub old_fluid: bool,
    /// Times made with this result.
    pub times: u32,
}

/// Judges a combustion-gas test.
#[must_use]
pub fn gas(asked: &GasText) -> Report {
    let mut options = Options::of("gas-test");
    let colour = match asked.colour.trim().to_lowercase().as_str() {
        "blue" => Colour::Blue,
        "yellow" | "green" => Colour::Yellow,
        other => {
            options.fault(
                "colour",
                format!("{other:?} is no colour of this fluid"),
                "blue or yellow",
            );
            return options.refusal("Combustion gas in the coolant");
        }
    };
    cooling::gas(&Gas {
        colour,
        warm: !asked.cold,
        loaded: !asked.idle_only,
        splashed: asked.splashed,
        fresh: !asked.old_fluid,
        times: asked.times,
    })
}
