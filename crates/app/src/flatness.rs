//! Flatness of a face: a table of heights and its options into a question for the judge.

use std::path::PathBuf;

use files::Csv;
use judge::flatness::{
    Face, Flatness, Height, Laid, Local, Means, Stepped, judge, judge_jack, judge_lines,
};
use quantity::{Angle, Bound, Length, Quantity, Unit, unit};
use report::Report;

use crate::option::Options;
use crate::readings;
use crate::typed::unit_of;

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
    /// The limit for any short stretch: `0.05 mm per 150 mm`.
    pub limit_local: Option<String>,
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
    /// How far one step of a level or mirror reaches, for eight lines of tilts.
    pub foot: Option<String>,
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
            let mut report = match &question {
                Question::Grid(asked) => judge(asked),
                Question::Lines(asked, laid, means) => judge_lines(asked, laid, *means),
                Question::Jack(asked, walked, foot) => judge_jack(asked, walked, *foot),
            };
            readings::mention_unused(&mut report, &csv);
            report
        }
        _ => readings::refusal(options, TITLE, &csv),
    }
}

/// Heights on a grid, lines laid over the face, or eight lines of tilts.
enum Question {
    Grid(Flatness),
    Lines(Flatness, Vec<Laid>, Means),
    Jack(Flatness, Vec<Stepped>, Length),
}

fn question(asked: &Asked, options: &mut Options, csv: &mut Csv) -> Option<Question> {
    let walked = csv.has("angles").then(|| walked(asked, options, csv));
    let (means, heights) = match () {
        () if walked.is_some() => (None, Vec::new()),
        () if csv.has("gap") => (Some(Means::Straightedge), places(csv, "gap")),
        () if csv.has("tilt") => (Some(Means::Steps), Vec::new()),
        () => (None, places(csv, "z")),
    };
    let laid = match means {
        Some(Means::Straightedge) => by_line(csv, &heights),
        Some(Means::Steps) => steps(csv),
        None => Vec::new(),
    };
    let heights = heights.into_iter().flatten().collect();
    let column = if means == Some(Means::Straightedge) {
        "gap"
    } else {
        "z"
    };
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
    let local = local(options, asked.limit_local.as_deref(), source);
    let face = face(options, asked)?;
    let unit = match &walked {
        Some(_) => fine(asked.foot.as_deref()),
        None => csv.unit::<Length>(column).unwrap_or(unit::MILLIMETRE),
    };
    if asked.foot.is_some() && walked.is_none() {
        options.fault(
            "--foot",
            "a step length belongs to a table of tilts, `line,angles [arcsec]`",
            "leave it out; places come from the columns x and y",
        );
    }
    let mut question = Flatness::of(heights, unit);
    question.plan = csv.unit::<Length>("x").unwrap_or(unit::MILLIMETRE);
    question.face = face;
    question.limit = limit;
    question.along = along;
    question.across = across;
    question.local = local;
    question.expanded = expanded.map(|said| said.value);
    question.cylinders = asked.cylinders;
    question.overhead_cam = asked.overhead_cam;
    question.seed = asked.seed.unwrap_or(1);
    Some(match (walked, means) {
        (Some(walked), _) => {
            let (walked, foot) = walked?;
            Question::Jack(question, walked, foot)
        }
        (None, Some(means)) => Question::Lines(question, laid, means),
        (None, None) => Question::Grid(question),
    })
}

/// Lines of a union jack, one a row, with the tilts of their steps in one cell.
fn walked(asked: &Asked, options: &mut Options, csv: &mut Csv) -> Option<(Vec<Stepped>, Length)> {
    let names = csv.words("line");
    let lists = csv.lists::<Angle>("angles");
    let mut lines = Vec::new();
    for (row, (name, tilts)) in names.into_iter().zip(lists).enumerate() {
        let (Some(name), Some(tilts)) = (name, tilts) else {
            continue;
        };
        let count = tilts.len();
        let tilts: Vec<Angle> = tilts.into_iter().flatten().collect();
        if tilts.len() < count {
            csv.fault(
                row,
                "angles",
                "a step without its tilt breaks the line",
                "read that step again; a line is worth nothing with a hole in it",
            );
        }
        lines.push(Stepped { name, tilts });
    }
    let Some(foot) = &asked.foot else {
        options.fault(
            "--foot",
            "how far one step reaches is not given",
            "measure the feet of the level or the mirror's carriage: --foot \"100 mm\"",
        );
        return None;
    };
    let foot = options.quantity::<Length>("--foot", foot)?.value;
    if foot.si() <= 0.0 {
        options.fault(
            "--foot",
            "a step must reach somewhere",
            "give the distance of the feet, above zero",
        );
        return None;
    }
    Some((lines, foot))
}

/// Tilts are read to a micrometre and finer: the small unit of the family the foot is in.
fn fine(foot: Option<&str>) -> Unit {
    let inch = foot.is_some_and(|text| matches!(unit_of::<Length>(text).symbol, "in" | "ft"));
    if inch {
        unit::MICROINCH
    } else {
        unit::MICROMETRE
    }
}

/// Places with their reading, one a row; a place without a reading was never measured.
fn places(csv: &mut Csv, column: &str) -> Vec<Option<Height>> {
    let x = csv.quantities::<Length>("x");
    let y = csv.quantities::<Length>("y");
    let z = csv.bounds::<Length>(column);
    // A place that could not be read has its own fault already.
    let sound = csv.faults().is_empty();
    let mut places = Vec::with_capacity(z.len());
    for (row, ((x, y), z)) in x.into_iter().zip(y).zip(z).enumerate() {
        if sound && z.is_some() && (x.is_none() || y.is_none()) {
            csv.fault(
                row,
                column,
                "a reading without its place",
                "give x and y, or write - for the reading",
            );
        }
        places.push(x.zip(y).zip(z).map(|((x, y), z)| Height { x, y, z }));
    }
    places
}

/// Readings gathered by the name of their line, in the order of the sheet.
fn by_line(csv: &mut Csv, readings: &[Option<Height>]) -> Vec<Laid> {
    let mut laid: Vec<Laid> = Vec::new();
    for (name, reading) in csv.words("line").into_iter().zip(readings) {
        let (Some(name), Some(reading)) = (name, reading) else {
            continue;
        };
        match laid.iter_mut().find(|line| line.name == name) {
            Some(line) => line.readings.push(*reading),
            None => laid.push(Laid {
                name,
                readings: vec![*reading],
            }),
        }
    }
    laid
}

/// Lines of tilt steps: each tilt is that of the step from the row before; the first place of
/// a line has none.
fn steps(csv: &mut Csv) -> Vec<Laid> {
    let names = csv.words("line");
    let x = csv.quantities::<Length>("x");
    let y = csv.quantities::<Length>("y");
    let tilts = csv.quantities::<Angle>("tilt");
    let mut laid: Vec<Laid> = Vec::new();
    let rows = names.into_iter().zip(x.into_iter().zip(y)).zip(tilts);
    for (row, ((name, (x, y)), tilt)) in rows.enumerate() {
        let (Some(name), Some(x), Some(y)) = (name, x, y) else {
            continue;
        };
        let at = laid.iter().position(|line| line.name == name);
        let last = at.and_then(|at| laid[at].readings.last().copied());
        let z = match (last, tilt) {
            (None, _) => Length::from_si(0.0).ok(),
            (Some(last), Some(tilt)) => {
                let run = (x - last.x, y - last.y);
                let foot = (run.0.si() * run.0.si() + run.1.si() * run.1.si()).sqrt();
                let before = last.z.high().map_or(0.0, Quantity::si);
                Length::from_si(before + foot * tilt.in_radians()).ok()
            }
            (Some(_), None) => None,
        };
        let Some(z) = z else {
            csv.fault(
                row,
                "tilt",
                "a step without its tilt breaks the line",
                "read it again, or begin a new line here",
            );
            continue;
        };
        let reading = Height {
            x,
            y,
            z: Bound::Exactly(z),
        };
        match at {
            Some(at) => laid[at].readings.push(reading),
            None => laid.push(Laid {
                name,
                readings: vec![reading],
            }),
        }
    }
    laid
}

/// A limit over a stretch: `0.05 mm per 150 mm`.
fn local(options: &mut Options, text: Option<&str>, source: Option<&str>) -> Option<Local> {
    let text = text?;
    let Some((limit, stretch)) = text.split_once(" per ").or_else(|| text.split_once('/')) else {
        options.fault(
            "--limit-local",
            format!("“{text}” does not say over which length"),
            "write both lengths: 0.05 mm per 150 mm",
        );
        return None;
    };
    let limit = readings::limit(options, "--limit-local", Some(limit.trim()), source)?;
    let stretch = options.quantity::<Length>("--limit-local", stretch.trim())?;
    Some(Local {
        limit,
        stretch: stretch.value,
    })
}

/// Which face it is; only a head has cams in it.
fn face(options: &mut Options, asked: &Asked) -> Option<Face> {
    match asked.face.as_deref().map(str::to_lowercase).as_deref() {
        None if asked.overhead_cam => Some(Face::Head),
        None => Some(Face::Unsaid),
        Some("head") => Some(Face::Head),
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
