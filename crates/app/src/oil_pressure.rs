//! Oil pressure: option text into a question for the judge.

use judge::oil_pressure::{OilPressure, judge};
use quantity::{GaugePressure, RotationalSpeed};
use report::Report;

use crate::option::Options;
use crate::typed;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// At warm idle.
    pub idle: Option<String>,
    /// At a speed.
    pub fast: Option<String>,
    /// That speed.
    pub speed: Option<String>,
    /// The maker's lowest at idle.
    pub limit: Option<String>,
    /// The oil was not fully warm.
    pub cold: bool,
    /// The gauge or lamp in the dash was read.
    pub dash: bool,
}

/// Judges oil pressure.
#[must_use]
pub fn oil_pressure(asked: &Asked) -> Report {
    let mut options = Options::of("oil-pressure");
    let idle = options.maybe::<GaugePressure>("--idle", asked.idle.as_deref());
    let fast = options.maybe::<GaugePressure>("--fast", asked.fast.as_deref());
    let speed = options.maybe::<RotationalSpeed>("--speed", asked.speed.as_deref());
    let limit = options.maybe::<GaugePressure>("--limit", asked.limit.as_deref());
    if asked.fast.is_some() != asked.speed.is_some() {
        options.fault(
            "--fast",
            "a pressure at speed needs its speed",
            "--fast and --speed together",
        );
    }
    if !options.clean() {
        return options.refusal("Oil pressure");
    }
    let typed = asked
        .idle
        .as_deref()
        .or(asked.fast.as_deref())
        .unwrap_or_default();
    judge(&OilPressure {
        idle: idle.map(|said| said.value),
        fast: fast
            .zip(speed)
            .map(|(fast, speed)| (fast.value, speed.value)),
        limit: limit.map(|said| said.value),
        warm: !asked.cold,
        mechanical: !asked.dash,
        unit: typed::unit_of::<GaugePressure>(typed),
    })
}
