//! Cranking compression: option text into a question for the judge.

use calc::crank::Cylinder;
use judge::cranking::{Condition, Cranking, Cycle, Geometry, Lighting, Rule, judge};
use judge::layout::Layout;
pub use judge::limit::Whose;
use quantity::{Angle, GaugePressure, Length, Quantity, Ratio, Volume, plausible};
use report::{Finding, Picture, Report};

use crate::folder::Folder;
use crate::gauge;
use crate::option::Options;
use crate::typed;

const COMMAND: &str = "cranking";
const TITLE: &str = "Cranking compression";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `I4`, `V6`, `V6:1 3 5/2 4 6`; empty where the job's book is to say.
    pub layout: String,
    /// Dry readings in cylinder order, the unit once at the end.
    pub dry: String,
    /// Wet readings.
    pub wet: Option<String>,
    /// Readings after the first stroke.
    pub first: Option<String>,
    /// `2` or `4` strokes to the cycle.
    pub cycle: Option<u32>,
    /// The engine lights its charge by compression.
    pub diesel: bool,
    /// Height of the workshop above sea level.
    pub altitude: Option<String>,
    /// The readings were brought to sea level already.
    pub already_corrected: bool,
    /// What a new engine reads at sea level.
    pub new: Option<String>,
    /// The maker's lowest reading at sea level.
    pub limit: Option<String>,
    /// Whose lowest reading that is; what a person types is the maker's.
    pub whose: Whose,
    /// The spread rule by its name.
    pub rule: Option<String>,
    /// A sentence that came with the readings.
    pub note: Option<String>,
    /// How well the gauge repeats: a share of the reading, or a pressure.
    pub repeatability: Option<String>,
    /// How far it may be off as a whole: `6 psi`, `2 % of 300 psi`.
    pub accuracy: Option<String>,
    /// The cam drive is broken or slipping.
    pub cam_drive_broken: bool,
    /// Oil put in for the wet test.
    pub oil: Option<String>,
    /// Strokes counted on each cylinder.
    pub strokes: Option<u32>,
    /// Conditions in plain words: `cold`, `throttle shut`, `fresh build`.
    pub conditions: Vec<String>,
    /// Geometry for a sanity band: bore, stroke, rod, ratio, inlet closing.
    pub geometry: GeometryText,
}

/// Geometry as typed; all five or none.
#[derive(Clone, Debug, Default)]
pub struct GeometryText {
    /// Bore.
    pub bore: Option<String>,
    /// Stroke.
    pub stroke: Option<String>,
    /// Rod between centres.
    pub rod: Option<String>,
    /// Compression ratio.
    pub ratio: Option<String>,
    /// Inlet closing after bottom dead centre.
    pub inlet_closes: Option<String>,
}

/// Judges cranking readings.
#[must_use]
pub fn cranking(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

/// Judges the job's last cranking readings over the engine of its book. What was typed wins
/// over what the book says.
#[must_use]
pub fn of_job(folder: &Folder, asked: &Asked) -> Report {
    let mut asked = asked.clone();
    let state = &folder.state;
    let read = if asked.dry.is_empty() {
        match fill_from_record(&mut asked, state) {
            Ok(dry) => Some(dry),
            Err(fault) => return Report::refusal(COMMAND, TITLE, *fault),
        }
    } else {
        None
    };
    let engine = state.known.engine.as_ref();
    if let Err(fault) = from_book(&mut asked, engine) {
        return Report::refusal(COMMAND, TITLE, *fault);
    }
    let limit = state
        .known
        .limits
        .iter()
        .find(|limit| limit.id.as_str().contains("compression"));
    if asked.limit.is_none()
        && let Some(limit) = limit
    {
        asked.limit = limit.min.typed().map(str::to_owned);
        asked.whose = judge::limit::Limit::<GaugePressure>::of_book(&limit.source).whose;
    }
    let instrument = read.as_ref().and_then(|(_, dry)| dry.instrument.as_deref());
    let gauge = gauge::of_shop(folder.shop.as_ref(), instrument);
    if let Some(gauge) = gauge {
        asked.repeatability = asked
            .repeatability
            .or_else(|| gauge::repeats(gauge).map(str::to_owned));
        asked.accuracy = asked
            .accuracy
            .or_else(|| gauge::off_by(gauge).map(str::to_owned));
    }
    let mut report = cranking(&asked);
    if let Some((entry, dry)) = read {
        let with = if dry.conditions.is_empty() {
            String::new()
        } else {
            format!(" ({})", dry.conditions.join(", "))
        };
        report
            .because
            .push(format!("The readings are those of entry {entry}{with}."));
    }
    name_banks(&mut report, engine);
    report
}

/// Fills in the last dry readings of the record, and the wet ones that belong to them; gives
/// the entry of the dry ones.
fn fill_from_record<'a>(
    asked: &mut Asked,
    state: &'a job::State,
) -> Result<&'a (job::EntryId, job::Measured), Box<Finding>> {
    let last = |name: &str| {
        state
            .readings
            .iter()
            .rev()
            .find(|(_, found)| job::same_name(&found.of, name) && found.numbers)
    };
    let read = last("cranking dry").or_else(|| last("cranking"));
    let read = read.ok_or_else(|| {
        Box::new(
            Finding::new(
                "no-readings",
                "readings",
                "the job has no cranking readings",
            )
            .next("write `read cranking dry: 175 180 … psi`, or give --dry"),
        )
    })?;
    asked.dry.clone_from(&read.1.values);
    asked.conditions.extend(read.1.conditions.iter().cloned());
    // Wet readings belong to the dry ones before them, not to an older set.
    if let Some((_, wet)) = last("cranking wet").filter(|(wet, _)| *wet > read.0) {
        asked.wet = asked.wet.take().or_else(|| Some(wet.values.clone()));
    }
    Ok(read)
}

/// Fills what was not typed from the book's engine.
fn from_book(asked: &mut Asked, engine: Option<&book::Engine>) -> Result<(), Box<Finding>> {
    let missing = || {
        Finding::new("no-layout", "--layout", "the job's book names no engine")
            .next("give --layout, or put an engine with its banks into the book")
    };
    if asked.layout.is_empty() {
        let engine = engine.ok_or_else(|| Box::new(missing()))?;
        let layout = Layout::of_engine(engine).map_err(|fault| {
            Box::new(Finding::new("no-layout", "engine", fault.reason).next(fault.way_out))
        })?;
        asked.layout = layout.typed();
    }
    let Some(engine) = engine else { return Ok(()) };
    asked.cycle = asked.cycle.or(engine.strokes.known().copied());
    asked.diesel |= engine.lights.known() == Some(&book::Lights::Compression);
    let closes = engine.inlet_closes.as_ref();
    let known = [
        engine.bore.typed(),
        engine.stroke.typed(),
        engine.rod.typed(),
        engine.ratio.typed(),
        closes.and_then(|closes| closes.after_bottom.typed()),
    ];
    let typed = &mut asked.geometry;
    if let (
        [
            Some(bore),
            Some(stroke),
            Some(rod),
            Some(ratio),
            Some(closes),
        ],
        None,
    ) = (known, &typed.bore)
    {
        *typed = GeometryText {
            bore: Some(bore.to_owned()),
            stroke: Some(stroke.to_owned()),
            rod: Some(rod.to_owned()),
            ratio: Some(ratio.to_owned()),
            inlet_closes: Some(closes.to_owned()),
        };
    }
    Ok(())
}

/// The drawing calls the banks what the book calls them.
fn name_banks(report: &mut Report, engine: Option<&book::Engine>) {
    let Some(engine) = engine else { return };
    for picture in &mut report.pictures {
        if let Picture::Bars(bars) = picture
            && bars.banks.len() == engine.banks.len()
        {
            for (drawn, bank) in bars.banks.iter_mut().zip(&engine.banks) {
                drawn.name.clone_from(&bank.name);
            }
        }
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Cranking> {
    let layout = layout(options, &asked.layout);
    let dry = set(options, "--dry", &asked.dry);
    let list = |options: &mut Options, name: &str, text: &Option<String>| {
        set(options, name, text.as_deref()?)
    };
    let wet = list(options, "--wet", &asked.wet);
    let first = list(options, "--first", &asked.first);
    let height = options.maybe_likely::<Length>(
        "--altitude",
        asked.altitude.as_deref(),
        &plausible::ALTITUDE,
    );
    let level = |options: &mut Options, name: &str, text: &Option<String>| {
        options.maybe_likely::<GaugePressure>(name, text.as_deref(), &plausible::CRANKING_PRESSURE)
    };
    let new = level(options, "--new", &asked.new);
    let limit = level(options, "--limit", &asked.limit);
    if asked.strokes == Some(0) {
        options.fault(
            "--strokes",
            "no stroke gives no reading",
            "count the compression strokes, four or five on every cylinder",
        );
    }
    let best = dry.as_deref().and_then(best);
    let repeatability = gauge::repeatability(options, asked.repeatability.as_deref(), best);
    let accuracy = gauge::accuracy(options, asked.accuracy.as_deref());
    let oil = options.maybe::<Volume>("--oil", asked.oil.as_deref());
    let geometry = geometry(options, &asked.geometry);
    let rule = rule(options, asked.rule.as_deref());
    let cycle = cycle(options, asked.cycle);
    let mut question = Cranking::dry(layout?, dry?, typed::unit_of::<GaugePressure>(&asked.dry));
    question.wet = wet;
    question.first = first;
    question.height = height.map(|said| (said.value, said.typed));
    question.already_corrected = asked.already_corrected;
    question.new = new.map(|said| said.value);
    question.limit = limit.map(|said| said.value);
    question.whose = asked.whose;
    question.repeatability = repeatability;
    question.accuracy = accuracy;
    question.conditions = asked
        .conditions
        .iter()
        .filter_map(|text| Condition::find(text))
        .collect();
    question.oil = oil.map(|said| said.value);
    question.geometry = geometry;
    question.rule = rule?;
    question.cycle = cycle?;
    question.note.clone_from(&asked.note);
    question.strokes = asked.strokes;
    question.cam_drive_broken = asked.cam_drive_broken;
    if asked.diesel {
        question.lighting = Lighting::Compression;
    }
    Some(question)
}

/// Reads a set of readings; one that no engine shows is a slip of the finger or the unit.
fn set(options: &mut Options, name: &str, text: &str) -> Option<Vec<Option<GaugePressure>>> {
    let set = options.list::<GaugePressure>(name, text)?.value;
    for (cylinder, reading) in (1..).zip(&set) {
        let Some(reading) = reading else { continue };
        if let Err(fault) = plausible::CRANKING_PRESSURE.check(*reading) {
            options.fault(
                name,
                format!("cylinder {cylinder}: {fault}"),
                "read figure and unit again, and write both",
            );
        }
    }
    Some(set)
}

/// The best of a set.
pub(crate) fn best(set: &[Option<GaugePressure>]) -> Option<GaugePressure> {
    set.iter()
        .flatten()
        .copied()
        .max_by(|one, other| one.si().total_cmp(&other.si()))
}

/// Reads a layout; a fault is kept and `None` returned.
pub(crate) fn layout(options: &mut Options, text: &str) -> Option<Layout> {
    if text.trim().is_empty() {
        options.fault(
            "--layout",
            "how the cylinders stand is not known, so neither is who is whose neighbour",
            "give --layout: I4, V6, F4, or with its banks V6:1 3 5/2 4 6; a job whose book has the engine needs none",
        );
        return None;
    }
    match Layout::read(text) {
        Ok(layout) => Some(layout),
        Err(fault) => {
            options.fault("--layout", fault.reason, fault.way_out);
            None
        }
    }
}

fn rule(options: &mut Options, text: Option<&str>) -> Option<Rule> {
    let Some(text) = text else {
        return Some(Rule::default());
    };
    let found = Rule::find(text);
    if found.is_none() {
        let names: Vec<&str> = Rule::ALL.into_iter().map(Rule::key).collect();
        options.fault(
            "--rule",
            format!("{text:?} is no rule"),
            format!("one of {}", names.join(", ")),
        );
    }
    found
}

fn cycle(options: &mut Options, strokes: Option<u32>) -> Option<Cycle> {
    match strokes {
        None | Some(4) => Some(Cycle::Four),
        Some(2) => Some(Cycle::Two),
        Some(other) => {
            options.fault(
                "--cycle",
                format!("an engine of {other} strokes to the cycle"),
                "2 or 4",
            );
            None
        }
    }
}

fn geometry(options: &mut Options, text: &GeometryText) -> Option<Geometry> {
    let given = [
        &text.bore,
        &text.stroke,
        &text.rod,
        &text.ratio,
        &text.inlet_closes,
    ];
    if given.iter().all(|part| part.is_none()) {
        return None;
    }
    if given.iter().any(|part| part.is_none()) {
        options.fault(
            "geometry",
            "only part of the geometry is given",
            "--bore, --stroke, --rod, --ratio and --inlet-closes together, or none of them",
        );
        return None;
    }
    let bore = options.maybe::<Length>("--bore", text.bore.as_deref());
    let stroke = options.maybe::<Length>("--stroke", text.stroke.as_deref());
    let rod = options.maybe::<Length>("--rod", text.rod.as_deref());
    let ratio = options.maybe::<Ratio>("--ratio", text.ratio.as_deref());
    let inlet_closes = options.maybe::<Angle>("--inlet-closes", text.inlet_closes.as_deref());
    match Cylinder::new(bore?.value, stroke?.value, rod?.value, ratio?.value) {
        Ok(cylinder) => Some(Geometry {
            cylinder,
            inlet_closes: inlet_closes?.value,
        }),
        Err(fault) => {
            options.fault(
                "geometry",
                fault.to_string(),
                "measure again or leave the geometry out",
            );
            None
        }
    }
}
