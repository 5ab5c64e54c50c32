//! Hydraulic lock: option text into a question for the judge.

use calc::crank::Cylinder;
use judge::hydraulic_lock::{HydraulicLock, judge};
use quantity::{Angle, Length, Ratio, Volume, plausible};
use report::Report;

use crate::option::Options;
use crate::typed;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Bore.
    pub bore: String,
    /// Stroke.
    pub stroke: String,
    /// Rod between centres.
    pub rod: String,
    /// Compression ratio.
    pub ratio: String,
    /// Liquid that may be in the cylinder.
    pub liquid: String,
    /// Inlet closing after bottom dead centre.
    pub inlet_closes: Option<String>,
}

/// Works out whether the liquid locks the engine.
#[must_use]
pub fn hydraulic_lock(asked: &Asked) -> Report {
    let mut options = Options::of("hydraulic-lock");
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal("Hydraulic lock"),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<HydraulicLock> {
    let bore = options.likely::<Length>("--bore", &asked.bore, &plausible::BORE);
    let stroke = options.likely::<Length>("--stroke", &asked.stroke, &plausible::STROKE);
    let rod = options.likely::<Length>("--rod", &asked.rod, &plausible::ROD_LENGTH);
    let ratio = options.likely::<Ratio>("--ratio", &asked.ratio, &plausible::COMPRESSION_RATIO);
    let liquid = options.quantity::<Volume>("--liquid", &asked.liquid);
    let inlet_closes = options.maybe::<Angle>("--inlet-closes", asked.inlet_closes.as_deref());
    let cylinder = match Cylinder::new(bore?.value, stroke?.value, rod?.value, ratio?.value) {
        Ok(cylinder) => cylinder,
        Err(fault) => {
            options.fault(
                "geometry",
                fault.to_string(),
                "check bore, stroke, rod and ratio with their units",
            );
            return None;
        }
    };
    Some(HydraulicLock {
        cylinder,
        liquid: liquid?.value,
        unit: typed::unit_of::<Volume>(&asked.liquid),
        inlet_closes: inlet_closes.map(|said| said.value),
    })
}
