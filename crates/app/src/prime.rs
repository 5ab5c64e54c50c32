//! Priming oil and fuel: option text into questions for the judge.

use judge::prime;
use quantity::{Duration, Flow, Ratio, RotationalSpeed, Volume, plausible};
use report::Report;

use crate::option::Options;

const COMMAND: &str = "prime";

/// Oil options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Oil {
    /// Filter and galleries.
    pub volume: String,
    /// Displacement in one crank turn.
    pub per_turn: String,
    /// Share of it delivered.
    pub efficiency: String,
    /// Cranking or drill speed.
    pub speed: String,
    /// A diesel starter may turn longer.
    pub diesel: bool,
}

/// Fuel options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Fuel {
    /// Line, filter and rail.
    pub volume: String,
    /// Pump flow at working pressure.
    pub flow: String,
    /// How long the pump runs at each key-on.
    pub pulse: Option<String>,
}

/// Turns, time and bursts to prime the oil.
#[must_use]
pub fn oil(asked: &Oil) -> Report {
    let mut options = Options::of(COMMAND);
    let volume = options.likely::<Volume>("--volume", &asked.volume, &plausible::OIL_VOLUME);
    let per_turn = options.quantity::<Volume>("--per-turn", &asked.per_turn);
    let efficiency = options.quantity::<Ratio>("--efficiency", &asked.efficiency);
    let speed =
        options.likely::<RotationalSpeed>("--speed", &asked.speed, &plausible::ENGINE_SPEED);
    match (volume, per_turn, efficiency, speed) {
        (Some(volume), Some(per_turn), Some(efficiency), Some(speed)) => prime::oil(&prime::Oil {
            volume: volume.value,
            per_turn: per_turn.value,
            efficiency: efficiency.value,
            speed: speed.value,
            diesel: asked.diesel,
        }),
        _ => options.refusal("Priming the oil"),
    }
}

/// Time and key-on pulses to prime the fuel.
#[must_use]
pub fn fuel(asked: &Fuel) -> Report {
    let mut options = Options::of(COMMAND);
    let volume = options.quantity::<Volume>("--volume", &asked.volume);
    let flow = options.quantity::<Flow>("--flow", &asked.flow);
    let pulse = options.maybe::<Duration>("--pulse", asked.pulse.as_deref());
    match (volume, flow) {
        (Some(volume), Some(flow)) if options.clean() => prime::fuel(&prime::Fuel {
            volume: volume.value,
            flow: flow.value,
            pulse: pulse.map(|said| said.value),
        }),
        _ => options.refusal("Priming the fuel"),
    }
}
