//! Hydraulic lock: option text into a question for the judge.

use calc::crank::Cylinder;
use judge::hydraulic_lock::{HydraulicLock, judge};
use quantity::plausible::Plausible;
use quantity::{Angle, Length, Quantity, Ratio, Said, Volume, plausible};
use report::Report;

use crate::folder::Folder;
use crate::option::Options;
use crate::typed;

/// The options as they were typed. What was left out is the book's to say.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Bore.
    pub bore: Option<String>,
    /// Stroke.
    pub stroke: Option<String>,
    /// Rod between centres.
    pub rod: Option<String>,
    /// Compression ratio.
    pub ratio: Option<String>,
    /// Liquid that may be in the cylinder.
    pub liquid: String,
    /// Inlet closing after bottom dead centre.
    pub inlet_closes: Option<String>,
}

/// The same over the engine of a job's book. What was typed wins over what the book says.
#[must_use]
pub fn of_job(folder: Option<&Folder>, asked: &Asked) -> Report {
    let mut asked = asked.clone();
    if let Some(engine) = folder.and_then(|folder| folder.state.known.engine.as_ref()) {
        let say = |typed: &mut Option<String>, known: Option<&str>| {
            if typed.is_none() {
                *typed = known.map(str::to_owned);
            }
        };
        say(&mut asked.bore, engine.bore.typed());
        say(&mut asked.stroke, engine.stroke.typed());
        say(&mut asked.rod, engine.rod.typed());
        say(&mut asked.ratio, engine.ratio.typed());
        let closes = engine.inlet_closes.as_ref();
        say(
            &mut asked.inlet_closes,
            closes.and_then(|closes| closes.after_bottom.typed()),
        );
    }
    hydraulic_lock(&asked)
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
    let bore = needed::<Length>(options, "--bore", asked.bore.as_deref(), &plausible::BORE);
    let stroke = needed::<Length>(
        options,
        "--stroke",
        asked.stroke.as_deref(),
        &plausible::STROKE,
    );
    let rod = needed::<Length>(
        options,
        "--rod",
        asked.rod.as_deref(),
        &plausible::ROD_LENGTH,
    );
    let ratio = needed::<Ratio>(
        options,
        "--ratio",
        asked.ratio.as_deref(),
        &plausible::COMPRESSION_RATIO,
    );
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

/// A figure without which nothing can be said.
fn needed<Q: Quantity>(
    options: &mut Options,
    name: &str,
    text: Option<&str>,
    range: &Plausible,
) -> Option<Said<Q>> {
    if text.is_none() {
        let word = name.trim_start_matches('-');
        options.fault(
            name,
            format!("the {word} is not known"),
            format!("give {name}, or write {word}=\"…\" at the engine in the job's book"),
        );
    }
    options.maybe_likely::<Q>(name, text, range)
}
