//! Coolant: option text into a question for the judge.

use calc::coolant_freezing::{Basis, Glycol};
use judge::coolant::{Coolant, Family, judge};
use quantity::{GaugePressure, Length, Ratio, Temperature, Volume, plausible};
use report::Report;

use crate::option::Options;
use crate::typed;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Capacity of the whole system.
    pub capacity: Option<String>,
    /// What came out.
    pub drained: String,
    /// Strength of what stayed inside.
    pub inside: String,
    /// Strength wanted.
    pub target: String,
    /// `ethylene` or `propylene`.
    pub glycol: Option<String>,
    /// Percentages are of pure glycol, not of concentrate.
    pub pure: bool,
    /// Pressure of the cap.
    pub cap: Option<String>,
    /// Height above sea level.
    pub altitude: Option<String>,
    /// What really went in.
    pub filled: Option<String>,
    /// Coldest temperature expected.
    pub coldest: Option<String>,
    /// Scale of the refractometer.
    pub scale: Option<String>,
    /// Family of what stayed inside.
    pub inside_family: Option<String>,
    /// Family of what is poured.
    pub family: Option<String>,
    /// Glycol of what stayed inside, where it is another one.
    pub inside_glycol: Option<String>,
}

/// Works out what to pour.
#[must_use]
pub fn coolant(asked: &Asked) -> Report {
    let mut options = Options::of("coolant");
    match question(asked, &mut options) {
        Some(question) if options.clean() => {
            let (question, notes) = question;
            let mut report = judge(&question);
            report.because.extend(notes);
            report
        }
        _ => options.refusal("Coolant"),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<(Coolant, Vec<String>)> {
    let capacity = options.maybe_likely::<Volume>(
        "--capacity",
        asked.capacity.as_deref(),
        &plausible::COOLANT_CAPACITY,
    );
    let drained = options.quantity::<Volume>("--drained", &asked.drained);
    let inside = strength(options, "--inside", &asked.inside);
    let target = strength(options, "--target", &asked.target);
    let cap = options.maybe::<GaugePressure>("--cap", asked.cap.as_deref());
    let height = options.maybe_likely::<Length>(
        "--altitude",
        asked.altitude.as_deref(),
        &plausible::ALTITUDE,
    );
    let filled = options.maybe::<Volume>("--filled", asked.filled.as_deref());
    let coldest = options.maybe::<Temperature>("--coldest", asked.coldest.as_deref());
    let kind = glycol(options, "--glycol", asked.glycol.as_deref());
    let scale = glycol(options, "--scale", asked.scale.as_deref());
    let inside_glycol = glycol(options, "--inside-glycol", asked.inside_glycol.as_deref());
    let inside_family = family(options, "--inside-family", asked.inside_family.as_deref());
    let poured_family = family(options, "--family", asked.family.as_deref());
    let drained = drained?;
    let mut notes = drained.notes;
    if let Some(capacity) = &capacity {
        notes.extend(capacity.notes.iter().cloned());
    }
    notes.dedup();
    let question = Coolant {
        capacity: capacity.map(|said| said.value),
        drained: drained.value,
        inside: inside?,
        target: target?,
        unit: typed::unit_of::<Volume>(&asked.drained),
        glycol: kind.unwrap_or_default(),
        basis: if asked.pure {
            Basis::Pure
        } else {
            Basis::Concentrate
        },
        cap: cap.map(|said| said.value),
        height: height.map(|said| said.value),
        filled: filled.map(|said| said.value),
        coldest: coldest.map(|said| said.value),
        scale,
        inside_family,
        poured_family,
        inside_glycol,
    };
    Some((question, notes))
}

/// Reads a strength; a bare 50 is asked for its per cent, and more than all cannot be.
fn strength(options: &mut Options, name: &str, text: &str) -> Option<Ratio> {
    let strength = options.quantity::<Ratio>(name, text)?.value;
    if (0.0..=1.0).contains(&strength.in_fraction()) {
        return Some(strength);
    }
    let text = text.trim();
    let says = if text.ends_with('%') {
        format!("{text} is no strength: it lies between 0 % and 100 %")
    } else {
        format!("{text} of what? The unit is missing")
    };
    options.fault(name, says, "write a share such as 50 %");
    None
}

fn family(options: &mut Options, name: &str, text: Option<&str>) -> Option<Family> {
    let text = text?;
    let found = Family::find(text);
    if found.is_none() {
        let names: Vec<&str> = Family::ALL.into_iter().map(Family::key).collect();
        options.fault(
            name,
            format!("{text:?} is no family kept here"),
            format!(
                "one of {}, or the letters on the bottle such as OAT; the colour does not tell",
                names.join(", ")
            ),
        );
    }
    found
}

fn glycol(options: &mut Options, name: &str, text: Option<&str>) -> Option<Glycol> {
    match text?.trim().to_lowercase().as_str() {
        "ethylene" => Some(Glycol::Ethylene),
        "propylene" => Some(Glycol::Propylene),
        other => {
            options.fault(
                name,
                format!("{other:?} is no glycol kept here"),
                "ethylene or propylene",
            );
            None
        }
    }
}
