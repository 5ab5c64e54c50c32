//! Cranking compression: a set of readings over the layout, dry and wet.
//!
//! It says which cylinders are low by which named rule, which of them are neighbours, what
//! that points to and what it does not. It never turns one number into a cause, and what an
//! even set cannot see stays unsaid. Leak-down has its own file.

mod answer;
mod bars;
mod condition;
mod height;
mod note;
mod pattern;
mod rule;
mod scatter;
mod wet;

#[cfg(test)]
mod tests;

use calc::altitude::AltitudeError;
use calc::compression::CompressionError;
use calc::crank::Cylinder;
use calc::cranking::CrankingError;
use calc::repeatability::RepeatabilityError;
use quantity::{Angle, GaugePressure, Length, NotFinite, Ratio, Unit, Volume};
use report::{Finding, Report};
use thiserror::Error;

use crate::layout::Layout;
use crate::limit::Whose;
use answer::Seen;
pub use condition::Condition;
pub use rule::{Rule, Standing};

/// Two-stroke or four-stroke.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cycle {
    /// Valves and a cam drive.
    #[default]
    Four,
    /// Ports; no valve advice is given.
    Two,
}

/// How the engine lights its charge.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lighting {
    /// By spark.
    #[default]
    Spark,
    /// By compression; a wet test is void and can break the engine.
    Compression,
}

/// Geometry for a sanity band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Geometry {
    /// Bore, stroke, rod and ratio.
    pub cylinder: Cylinder,
    /// When the inlet valve seats, after bottom dead centre.
    pub inlet_closes: Angle,
}

/// The question: readings and their conditions.
#[derive(Clone, Debug)]
pub struct Cranking {
    /// Where the cylinders stand.
    pub layout: Layout,
    /// The dry readings in cylinder order.
    pub dry: Vec<Option<GaugePressure>>,
    /// The readings with oil, in cylinder order.
    pub wet: Option<Vec<Option<GaugePressure>>>,
    /// The unit the readings were typed in.
    pub unit: Unit,
    /// Two-stroke or four-stroke.
    pub cycle: Cycle,
    /// Spark or compression.
    pub lighting: Lighting,
    /// Where the workshop stands, and the words it was typed in.
    pub height: Option<(Length, String)>,
    /// The readings were brought to sea level before they were typed.
    pub already_corrected: bool,
    /// What the maker says a new engine reads, at sea level.
    pub new: Option<GaugePressure>,
    /// The lowest allowed reading, at sea level.
    pub limit: Option<GaugePressure>,
    /// Whose lowest reading that is.
    pub whose: Whose,
    /// The rule for the spread.
    pub rule: Rule,
    /// A sentence that came with the readings.
    pub note: Option<String>,
    /// How well the gauge repeats, as a fraction of the reading; 2 % where not told. It counts
    /// between cylinders and against a limit.
    pub repeatability: Option<Ratio>,
    /// How far the gauge as a whole may be off. It counts against a limit only: what one gauge
    /// reads too high it reads too high on every cylinder.
    pub accuracy: Option<GaugePressure>,
    /// The belt, chain or gears to the cam are broken or slipping.
    pub cam_drive_broken: bool,
    /// Oil put into each cylinder for the wet readings.
    pub oil: Option<Volume>,
    /// Geometry for a sanity band.
    pub geometry: Option<Geometry>,
    /// Compression strokes counted on each cylinder.
    pub strokes: Option<u32>,
    /// The reading after the first stroke, in cylinder order.
    pub first: Option<Vec<Option<GaugePressure>>>,
    /// Conditions that make the set unlike the one a limit is made for.
    pub conditions: Vec<Condition>,
}

impl Cranking {
    /// A question with nothing but dry readings.
    #[must_use]
    pub fn dry(layout: Layout, dry: Vec<Option<GaugePressure>>, unit: Unit) -> Self {
        Self {
            layout,
            dry,
            wet: None,
            unit,
            cycle: Cycle::default(),
            lighting: Lighting::default(),
            height: None,
            already_corrected: false,
            new: None,
            limit: None,
            whose: Whose::Maker,
            rule: Rule::default(),
            note: None,
            repeatability: None,
            accuracy: None,
            cam_drive_broken: false,
            oil: None,
            geometry: None,
            strokes: None,
            first: None,
            conditions: Vec::new(),
        }
    }
}

/// Why a set cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Cranking(#[from] CrankingError),
    #[error(transparent)]
    Altitude(#[from] AltitudeError),
    #[error(transparent)]
    Compression(#[from] CompressionError),
    #[error(transparent)]
    Repeatability(#[from] RepeatabilityError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Judges a cranking set.
#[must_use]
pub fn judge(asked: &Cranking) -> Report {
    let title = format!("Cranking compression, {}", asked.layout.words());
    if let Some(finding) = void(asked) {
        return Report::refusal("cranking", title, finding);
    }
    match Seen::of(asked).and_then(|seen| seen.report(title.clone())) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            "cranking",
            title,
            Finding::new("readings", "readings", fault.to_string())
                .next("correct the reading or leave it out with - and test again"),
        ),
    }
}

/// What makes the whole test void before any number is looked at.
fn void(asked: &Cranking) -> Option<Finding> {
    let count = asked.layout.count();
    let lists = [
        ("dry", Some(&asked.dry)),
        ("wet", asked.wet.as_ref()),
        ("first", asked.first.as_ref()),
    ];
    for (name, list) in lists {
        if let Some(list) = list.filter(|list| list.len() != count) {
            let says = format!("{} readings for {count} cylinders", list.len());
            return Some(
                Finding::new("count", name, says)
                    .next("give one reading a cylinder, in cylinder order; - where there is none"),
            );
        }
    }
    if asked.cam_drive_broken && asked.cycle == Cycle::Four {
        return Some(
            Finding::new(
                "cam-drive-broken",
                "cam drive",
                "with the cam drive broken the valves do not follow the crank, so these readings say nothing about rings, valves or gasket",
            )
            .next("restore the cam drive by the maker's marks, turn two crank turns by hand, stop at any hard spot, then test again"),
        );
    }
    if asked.wet.is_some() && asked.lighting == Lighting::Compression {
        return Some(
            Finding::new(
                "wet-void",
                "wet readings",
                "a compression-ignition engine gets no wet test: the oil fills the small room above the piston and can lock or fire",
            )
            .next("leave the wet readings out and use a leak-down test"),
        );
    }
    None
}
