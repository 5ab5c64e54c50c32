//! Coolant: option text into a question for the judge.

use book::{Circuit, Medium};
use calc::coolant_freezing::{Basis, Glycol};
use job::State;
use judge::coolant::{Coolant, Family, judge};
use quantity::unit::LITRE;
use quantity::{GaugePressure, Length, Quantity, Ratio, Temperature, Volume, plausible, show};
use report::Report;

use crate::folder::Folder;
use crate::option::Options;
use crate::typed;

/// The options as they were typed. What was left out, book and record may say.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Capacity of the whole system.
    pub capacity: Option<String>,
    /// What came out.
    pub drained: Option<String>,
    /// Strength of what stayed inside.
    pub inside: Option<String>,
    /// Strength wanted.
    pub target: Option<String>,
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

/// The same for the coolant circuit of a job: capacity, strength wanted and cap of its book, and
/// what the record says came out. What was typed wins.
#[must_use]
pub fn of_job(folder: Option<&Folder>, asked: &Asked) -> Report {
    let mut asked = asked.clone();
    let mut taken = Vec::new();
    let state = folder.map(|folder| &folder.state);
    let circuit = state.and_then(|state| {
        let mut circuits = state.known.circuits.iter();
        circuits.find(|it| it.medium == Medium::Coolant && state.applies(&it.when))
    });
    if let (Some(state), Some(circuit)) = (state, circuit) {
        let drained = drained(state, circuit);
        let mut say = |typed: &mut Option<String>, what: &str, known: Option<&str>, whose: &str| {
            if let (None, Some(known)) = (&typed, known) {
                taken.push(format!("{what} {known} ({whose})"));
                *typed = Some(known.to_owned());
            }
        };
        let book = "the book's";
        say(
            &mut asked.capacity,
            "capacity",
            circuit.capacity.typed(),
            book,
        );
        say(&mut asked.target, "wanted", circuit.target.typed(), book);
        say(&mut asked.cap, "cap", circuit.cap.typed(), book);
        say(
            &mut asked.drained,
            "drained",
            drained.as_deref(),
            "by the record",
        );
    }
    let mut report = coolant(&asked);
    if !taken.is_empty() && !report.refused {
        report
            .because
            .push(format!("Taken from the job: {}.", taken.join(", ")));
    }
    report
}

/// All that came out, where every amount was said and nothing was filled in since.
fn drained(state: &State, circuit: &Circuit) -> Option<String> {
    let held = state.circuits.get(&circuit.id)?;
    let amounts: Option<Vec<Volume>> = held.drained.iter().map(|(_, amount)| *amount).collect();
    let amounts = amounts.filter(|amounts| !amounts.is_empty() && held.filled.is_empty())?;
    let whole = Volume::from_si(amounts.into_iter().map(Quantity::si).sum()).ok()?;
    Some(show(whole, &LITRE))
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
    let drained_text = told(options, "--drained", asked.drained.as_deref(), NO_DRAINED);
    let inside = told(options, "--inside", asked.inside.as_deref(), NO_INSIDE);
    let target = told(options, "--target", asked.target.as_deref(), NO_TARGET);
    let drained = options.maybe::<Volume>("--drained", drained_text);
    let inside = inside.and_then(|text| strength(options, "--inside", text));
    let target = target.and_then(|text| strength(options, "--target", text));
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
    // Both are measured with one jug as a rule: which quart was taken is said once.
    let mut notes = drained.notes;
    if let Some(capacity) = capacity.as_ref().filter(|_| notes.is_empty()) {
        notes.extend(capacity.notes.iter().cloned());
    }
    let question = Coolant {
        capacity: capacity.map(|said| said.value),
        drained: drained.value,
        inside: inside?,
        target: target?,
        unit: typed::unit_of::<Volume>(drained_text.unwrap_or_default()),
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

/// What is missing, and the way out.
type Missing = [&'static str; 2];

const NO_DRAINED: Missing = [
    "what came out is not known",
    "measure it and give --drained, or log `drain coolant 5.1 L` in the job; a guess spoils the mixture",
];
const NO_INSIDE: Missing = [
    "the strength of what stayed inside is not known",
    "give --inside: 0 % after a flush with water, else what the refractometer says",
];
const NO_TARGET: Missing = [
    "the strength wanted is not known",
    "give --target, such as 50 %, or write target=\"50 %\" at the coolant circuit in the book",
];

/// The text of an option without which nothing can be said; where it is missing, what is
/// missing and the way out are kept.
fn told<'a>(
    options: &mut Options,
    name: &str,
    text: Option<&'a str>,
    [missing, way_out]: Missing,
) -> Option<&'a str> {
    if text.is_none() {
        options.fault(name, missing, way_out);
    }
    text
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
