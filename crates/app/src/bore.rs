//! A bore or journal: a table of diameters, radii or ring gaps and options into a question
//! for the judge.

use std::path::PathBuf;

use calc::roundness::Spoke;
use files::Csv;
use judge::bore::{
    Asked as Question, Diameter, RingGaps, Section, judge, judge_ring, judge_section,
};
use quantity::{Angle, Length, unit};
use report::Report;

use crate::option::Options;
use crate::readings;

const COMMAND: &str = "bore";
const TITLE: &str = "Bore or journal";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The table: columns depth, direction and diameter.
    pub file: PathBuf,
    /// A shaft.
    pub journal: bool,
    /// The size it was made to.
    pub nominal: Option<String>,
    /// The most it may be out of round.
    pub limit_round: Option<String>,
    /// The most it may taper.
    pub limit_taper: Option<String>,
    /// Whose limits they are.
    pub limit_source: Option<String>,
    /// Expanded uncertainty of a difference.
    pub uncertainty: Option<String>,
    /// The piston skirt.
    pub skirt: Option<String>,
}

/// Judges a bore.
#[must_use]
pub fn bore(asked: &Asked) -> Report {
    let mut csv = match readings::open(COMMAND, TITLE, &asked.file) {
        Ok(csv) => csv,
        Err(refusal) => return *refusal,
    };
    let mut options = Options::of(COMMAND);
    let source = asked.limit_source.as_deref();
    let round = readings::limit(
        &mut options,
        "--limit-round",
        asked.limit_round.as_deref(),
        source,
    );
    let taper = readings::limit(
        &mut options,
        "--limit-taper",
        asked.limit_taper.as_deref(),
        source,
    );
    let mut length = |name, text: &Option<String>| {
        options
            .maybe::<Length>(name, text.as_deref())
            .map(|said| said.value)
    };
    let nominal = length("--nominal", &asked.nominal);
    let expanded = length("--uncertainty", &asked.uncertainty);
    let skirt = length("--skirt", &asked.skirt);
    let unit = |csv: &Csv, column: &str| csv.unit::<Length>(column).unwrap_or(unit::MILLIMETRE);
    let question = if csv.has("radius") {
        Sheet::Section(Section {
            spokes: spokes(&mut csv),
            limit: round,
            expanded,
            unit: unit(&csv, "radius"),
        })
    } else if csv.has("gap") {
        let depths = csv.words("depth");
        let gaps = csv.quantities::<Length>("gap");
        Sheet::Ring(RingGaps {
            gaps: depths
                .into_iter()
                .zip(gaps)
                .filter_map(|(depth, gap)| depth.zip(gap))
                .collect(),
            unworn: nominal,
            taper,
            expanded,
            unit: unit(&csv, "gap"),
        })
    } else {
        Sheet::Diameters(Question {
            diameters: diameters(&mut csv),
            journal: asked.journal,
            nominal,
            round,
            taper,
            expanded,
            skirt,
            unit: unit(&csv, "diameter"),
        })
    };
    if !options.clean() || !csv.faults().is_empty() {
        return readings::refusal(options, TITLE, &csv);
    }
    let mut report = match &question {
        Sheet::Diameters(question) => judge(question),
        Sheet::Section(question) => judge_section(question),
        Sheet::Ring(question) => judge_ring(question),
    };
    readings::mention_unused(&mut report, &csv);
    report
}

/// What the columns of the sheet say was measured.
enum Sheet {
    Diameters(Question),
    Section(Section),
    Ring(RingGaps),
}

fn diameters(csv: &mut Csv) -> Vec<Diameter> {
    let depths = csv.words("depth");
    let directions = csv.words("direction");
    let sizes = csv.quantities::<Length>("diameter");
    depths
        .into_iter()
        .zip(directions)
        .zip(sizes)
        .filter_map(|((depth, direction), size)| {
            Some(Diameter {
                depth: depth?,
                direction: direction?,
                size: size?,
            })
        })
        .collect()
}

fn spokes(csv: &mut Csv) -> Vec<Spoke> {
    let angles = csv.quantities::<Angle>("angle");
    let radii = csv.quantities::<Length>("radius");
    angles
        .into_iter()
        .zip(radii)
        .filter_map(|(angle, radius)| {
            Some(Spoke {
                angle: angle?,
                radius: radius?,
            })
        })
        .collect()
}
