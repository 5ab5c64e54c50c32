//! Flatness of a face: a table of heights and its options into a question for the judge.

use std::path::PathBuf;

use files::Csv;
use judge::flatness::{Face, Flatness, Height, judge};
use quantity::{Bound, Length, unit};
use report::Report;

use crate::option::Options;
use crate::readings;

const COMMAND: &str = "flatness";
const TITLE: &str = "Flatness of a face";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The table: columns x, y and z.
    pub file: PathBuf,
    /// The limit for the whole face.
    pub limit: Option<String>,
    /// Whose limit it is, and where it stands.
    pub limit_source: Option<String>,
    /// The limit for a line along.
    pub limit_along: Option<String>,
    /// The limit for a line across.
    pub limit_across: Option<String>,
    /// Expanded uncertainty of the flatness.
    pub uncertainty: Option<String>,
    /// `head`, `block` or `other`.
    pub face: Option<String>,
    /// Cylinders on this bank.
    pub cylinders: Option<u8>,
    /// Cams run in bores of this head.
    pub overhead_cam: bool,
    /// Where the drawing of readings begins.
    pub seed: Option<u64>,
}

/// Judges a face.
#[must_use]
pub fn flatness(asked: &Asked) -> Report {
    let mut csv = match readings::open(COMMAND, TITLE, &asked.file) {
        Ok(csv) => csv,
        Err(refusal) => return *refusal,
    };
    let mut options = Options::of(COMMAND);
    let question = question(asked, &mut options, &mut csv);
    match question {
        Some(question) if options.clean() && csv.faults().is_empty() => {
            let mut report = judge(&question);
            readings::mention_unused(&mut report, &csv);
            report
        }
        _ => readings::refusal(options, TITLE, &csv),
    }
}

fn question(asked: &Asked, options: &mut Options, csv: &mut Csv) -> Option<Flatness> {
    let heights = heights(csv);
    let source = asked.limit_source.as_deref();
    let limit = readings::limit(options, "--limit", asked.limit.as_deref(), source);
    let along = readings::limit(
        options,
        "--limit-along",
        asked.limit_along.as_deref(),
        source,
    );
    let across = readings::limit(
        options,
        "--limit-across",
        asked.limit_across.as_deref(),
        source,
    );
    let expanded = options.maybe::<Length>("--uncertainty", asked.uncertainty.as_deref());
    let face = face(options, asked.face.as_deref())?;
    let unit = csv.unit::<Length>("z").unwrap_or(unit::MILLIMETRE);
    let mut question = Flatness::of(heights, unit);
    question.plan = csv.unit::<Length>("x").unwrap_or(unit::MILLIMETRE);
    question.face = face;
    question.limit = limit;
    question.along = along;
    question.across = across;
    question.expanded = expanded.map(|said| said.value);
    question.cylinders = asked.cylinders;
    question.overhead_cam = asked.overhead_cam;
    question.seed = asked.seed.unwrap_or(1);
    Some(question)
}

/// The heights that were read; a place without a height is left out and was never measured.
fn heights(csv: &mut Csv) -> Vec<Height> {
    let x = csv.quantities::<Length>("x");
    let y = csv.quantities::<Length>("y");
    let z: Vec<Option<Bound<Length>>> = csv.bounds::<Length>("z");
    let mut heights = Vec::new();
    for (row, ((x, y), z)) in x.into_iter().zip(y).zip(z).enumerate() {
        match (x, y, z) {
            (Some(x), Some(y), Some(z)) => heights.push(Height { x, y, z }),
            (None, _, Some(_)) | (_, None, Some(_)) if csv.faults().is_empty() => {
                csv.fault(
                    row,
                    "z",
                    "a height without its place",
                    "give x and y, or write - for the height",
                );
            }
            _ => {}
        }
    }
    heights
}

fn face(options: &mut Options, text: Option<&str>) -> Option<Face> {
    match text.map(str::to_lowercase).as_deref() {
        None | Some("head") => Some(Face::Head),
        Some("block") => Some(Face::Block),
        Some("other") => Some(Face::Other),
        Some(word) => {
            options.fault(
                "--face",
                format!("“{word}” is no face we know"),
                "head, block or other",
            );
            None
        }
    }
}
