//! What a cut of a head does besides the ratio: cam timing, valve room, lifters, the inlet
//! manifold of a V, total metal gone, and a face cut deeper at one end.

#[cfg(test)]
mod tests;

use calc::cut::{
    CutError, angle_cut_depth, lean_of_wedge, lifter_preload_growth, taper_spread,
    valve_clearance_loss,
};
use calc::decision::DecisionError;
use calc::manifold::{ManifoldError, follow, slide};
use calc::timing::{TimingError, lean_of_straight_drive, retard};
use quantity::{Angle, Area, Length, NotFinite, Quantity, Unit, show, show_fixed, unit};
use report::{Ask, Caution, Figure, Finding, Report, Source, Verdict, Weight};
use thiserror::Error;

use crate::limit::{Limit, Reading, Whose, decide};

/// Total removal, head and block, at which several factory books stop, in inches. *Common
/// practice, no source.*
const TOTAL_INCH: f64 = 0.008;

/// More than this off a face is another head or a slip of the unit.
const MOST_CUT_MM: f64 = 5.0;

/// The height a manifold flange is told for, in millimetres: an example, not a size of any
/// engine.
const FLANGE_MM: f64 = 60.0;

/// The drive of an overhead cam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CamDrive {
    /// Pitch radius of the cam wheel.
    pub cam: Length,
    /// How the pulling span leans.
    pub lean: Lean,
}

/// How the span that crosses from block to head leans from the direction of the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lean {
    /// Straight from crank wheel to cam wheel: pitch radius of the crank wheel, centre distance.
    Straight {
        /// Pitch radius of the crank wheel.
        crank: Length,
        /// Distance of the centres.
        apart: Length,
    },
    /// Measured.
    Measured(Angle),
}

/// A V engine's manifold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vee {
    /// Angle between the banks.
    pub bank: Angle,
    /// Tilt of the manifold flange from square to the deck.
    pub tilt: Angle,
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Metal to come off now; the deepest place.
    pub cut: Length,
    /// Metal that came off before, head and block.
    pub before: Option<Length>,
    /// The most that may be gone in all.
    pub total: Option<Limit<Length>>,
    /// The drive of an overhead cam.
    pub drive: Option<CamDrive>,
    /// Angle of the valves to the bore.
    pub valve: Option<Angle>,
    /// Angle of the pushrods to the bore.
    pub pushrod: Option<Angle>,
    /// The manifold of a V.
    pub vee: Option<Vee>,
    /// Thickness at the corners: drive end left and right, flywheel end left and right.
    pub corners: Vec<Option<Length>>,
    /// Area of a chamber mouth, for a tapered face.
    pub mouth: Option<Area>,
    /// Share of the head's length between its end cylinders.
    pub end_share: Option<f64>,
    /// Distance of the corners across the face, for the lean of a wedge.
    pub width: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

/// Why a cut cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Cut(#[from] CutError),
    #[error(transparent)]
    Timing(#[from] TimingError),
    #[error(transparent)]
    Manifold(#[from] ManifoldError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    const TITLE: &str = "What a cut does";
    if !(0.0..=MOST_CUT_MM).contains(&asked.cut.in_mm()) {
        let says = format!(
            "{} is no cut of a face: it lies between 0 and {MOST_CUT_MM:.0} mm",
            show(asked.cut, &asked.unit)
        );
        let finding =
            Finding::new("cut", "", says).next("read figure and unit again: `0.25 mm`, `0.010 in`");
        return Report::refusal("cut", TITLE, finding);
    }
    answer(asked, TITLE).unwrap_or_else(|fault| {
        let finding = Finding::new("cut", "", fault.to_string()).next(
            "check the sizes and angles; lean and tilt are measured from the bore and from square",
        );
        Report::refusal("cut", TITLE, finding)
    })
}

fn answer(asked: &Asked, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("cut", title);
    total(&mut report, asked)?;
    timing(&mut report, asked)?;
    valves(&mut report, asked)?;
    manifold(&mut report, asked)?;
    corners(&mut report, asked)?;
    report.findings.push(
        Finding::new(
            "also-measure",
            "",
            "a lower head also leaves longer bolts, taller dowels and a proud timing cover",
        )
        .next("probe every blind hole, check dowels and cover before the gasket goes on")
        .weight(Weight::Note),
    );
    Ok(report)
}

/// Metal gone in all, against the maker's or the usual limit.
fn total(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let gone = asked.before.map_or(asked.cut, |before| before + asked.cut);
    report.figures.push(Figure::new(
        "total",
        "gone in all",
        gone,
        show(gone, &asked.unit),
    ));
    let usual = Limit::most(Length::inches(TOTAL_INCH)?)
        .by_default(
            Whose::CommonPractice,
            "total off head and block, several factory books",
        )
        .stated_in(unit::INCH_UNIT);
    let limit = asked.total.as_ref().unwrap_or(&usual);
    let mut decision = decide(
        "metal gone",
        Some(&Reading::exactly(gone)),
        limit,
        &[],
        &asked.unit,
    )?;
    if asked.before.is_none() && decision.verdict == Verdict::Within {
        // The limit is for all cuts together, and only this one is known.
        decision.verdict = Verdict::Undecided;
        decision.note = None;
        decision.says = format!(
            "{} comes off now; what came off before is not known, and the limit is for both: {}.",
            show(asked.cut, &asked.unit),
            limit.words(&asked.unit)
        );
        decision.settle = Some(
            "measure the head's thickness against the maker's new figure and give --before"
                .to_owned(),
        );
    }
    decision.lead(report);
    if let Some(source) = limit.source() {
        report.cite(source);
    }
    report.asks.extend(limit.ask_for_makers("--limit"));
    if asked.before.is_none() {
        report.asks.push(Ask::new(
            "what was taken off before",
            "the limit is for all cuts together.",
            "Measure the head's thickness against the maker's new figure and give --before.",
        ));
    }
    Ok(())
}

fn timing(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let Some(drive) = asked.drive else {
        return Ok(());
    };
    let lean = match drive.lean {
        Lean::Straight { crank, apart } => lean_of_straight_drive(drive.cam, crank, apart)?,
        Lean::Measured(lean) => lean,
    };
    let late = retard(asked.cut, drive.cam, lean)?;
    let degrees = |angle| show_fixed(angle, &unit::DEGREE, 2);
    report.figures.push(
        Figure::new(
            "retard_cam",
            "cam comes late by",
            late.cam,
            degrees(late.cam),
        )
        .note("degrees of the cam"),
    );
    report.figures.push(
        Figure::new(
            "retard_crank",
            "the same at the crank",
            late.crank,
            degrees(late.crank),
        )
        .note("degrees of the crank, twice as many"),
    );
    report.findings.push(
        Finding::new(
            "cam-late",
            "cam timing",
            format!("the cam comes {} crank degrees late; inlet valves open later, exhaust valves close later and come nearer their pistons", show_fixed(late.crank, &unit::DEGREE, 2)),
        )
        .next(format!("a shim of {} under the head gives the height and so the timing back; each bank of a V may differ", show(asked.cut, &asked.unit)))
        .weight(Weight::Note),
    );
    report.because.push(
        "cam angle = cut·cos(lean)/pitch radius; pitch radius is teeth × pitch/2π, not the outside"
            .into(),
    );
    Ok(())
}

fn valves(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    if let Some(angle) = asked.valve {
        let loss = valve_clearance_loss(asked.cut, angle)?;
        report.figures.push(Figure::new(
            "valve_loss",
            "valves nearer their pistons by",
            loss,
            show(loss, &asked.unit),
        ));
        report.cautions.push(Caution::new(
            "before the starter turns it",
            "turn the engine two full turns by hand and stop at any hard spot; measure valve to piston with clay or wire (the trade wants 0.080 in inlet, 0.100 in exhaust; the maker's figure wins).",
        ));
        report.cite(Source::common_practice(
            "valve to piston 0.080 in inlet, 0.100 in exhaust",
        ));
    }
    if let Some(angle) = asked.pushrod {
        let more = lifter_preload_growth(asked.cut, angle)?;
        report.figures.push(
            Figure::new(
                "lifter_preload",
                "lifter plungers deeper by",
                more,
                show(more, &asked.unit),
            )
            .note("no rocker ratio in it: the whole head comes down"),
        );
    }
    Ok(())
}

fn manifold(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let Some(vee) = asked.vee else { return Ok(()) };
    let factors = follow(vee.bank, vee.tilt)?;
    let times = |factor: f64| Length::from_si(asked.cut.si() * factor);
    let (flange, rail) = (
        times(factors.flange.in_fraction())?,
        times(factors.rail.in_fraction())?,
    );
    let slid = slide(asked.cut, vee.bank, vee.tilt)?;
    let note = |factor: f64| format!("{factor:.4} of the cut");
    report.figures.push(
        Figure::new(
            "flange",
            "off each flange pair",
            flange,
            show(flange, &asked.unit),
        )
        .note(note(factors.flange.in_fraction())),
    );
    report.figures.push(
        Figure::new(
            "rail",
            "the manifold drops by",
            rail,
            show(rail, &asked.unit),
        )
        .note(note(factors.rail.in_fraction())),
    );
    report.figures.push(Figure::new(
        "slide",
        "ports out of line if nothing is cut",
        slid,
        show(slid, &asked.unit),
    ));
    report.because.push("the manifold follows only if flanges and end rails are cut; the head moves along its bore, no sliding along the flange allowed".into());
    Ok(())
}

/// Thickness at the corners: a face cut deeper at one end is judged by its ends, never by its
/// mean.
fn corners(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let measured: Vec<Length> = asked.corners.iter().copied().flatten().collect();
    if measured.len() < 2 {
        report.asks.push(Ask::new(
            "thickness at the four corners",
            "a head may come back thinner at one end.",
            "Measure before it goes out and when it comes back; give --corners \"DL DR FL FR mm\".",
        ));
        return Ok(());
    }
    let high = measured
        .iter()
        .map(|at| at.si())
        .fold(f64::NEG_INFINITY, f64::max);
    let low = measured
        .iter()
        .map(|at| at.si())
        .fold(f64::INFINITY, f64::min);
    let taper = Length::from_si(high - low)?;
    report.figures.push(Figure::new(
        "taper",
        "corners differ by",
        taper,
        show(taper, &asked.unit),
    ));
    let level = Length::inches(0.001)?;
    leaning(report, asked, level)?;
    if taper > level {
        let mut finding = Finding::new(
            "tapered",
            "head",
            format!("the corners differ by {}; a machine set level leaves {}", show(taper, &asked.unit), show(level, &asked.unit)),
        )
        .points_to("end cylinders of different ratio, cam height and belt run out of line")
        .next("have it cut parallel, check the least thickness, restore the height with a shim under the head and check the cam bores; or another head")
        .weight(Weight::Stop);
        if let Some(mouth) = asked.mouth {
            let share = asked.end_share.unwrap_or(0.75);
            let spread = taper_spread(mouth, taper, Length::metres(share)?, Length::metres(1.0)?)?;
            report.figures.push(
                Figure::new(
                    "chamber_spread",
                    "end chambers differ by up to",
                    spread,
                    show_fixed(spread, &unit::CUBIC_CENTIMETRE, 2),
                )
                .note(format!(
                    "end cylinders {:.0} % of the head apart",
                    share * 100.0
                )),
            );
            finding = finding.detail("the mean of the corners hides it");
        }
        report.findings.push(finding);
        report.cite(Source::common_practice(
            "machine set-up: corners level within 0.001 in",
        ));
    }
    Ok(())
}

/// Which way a wedge goes: along the face it turns the cams and the belt, across it leans the
/// whole head, and on a V the manifold flange with it.
fn leaning(report: &mut Report, asked: &Asked, level: Length) -> Result<(), Unanswerable> {
    let [
        Some(drive_left),
        Some(drive_right),
        Some(far_left),
        Some(far_right),
    ] = asked.corners[..]
    else {
        return Ok(());
    };
    let half = |length: f64| Length::from_si(length / 2.0);
    let along = half(drive_left.si() + drive_right.si() - far_left.si() - far_right.si())?;
    let across = half(drive_left.si() + far_left.si() - drive_right.si() - far_right.si())?;
    for (name, label, by, thick, thin) in [
        (
            "along",
            "along the face",
            along,
            "drive end",
            "flywheel end",
        ),
        ("across", "across the face", across, "left", "right"),
    ] {
        let size = Length::from_si(by.si().abs())?;
        let (thick, thin) = if by.si() < 0.0 {
            (thin, thick)
        } else {
            (thick, thin)
        };
        let mut figure = Figure::new(name, label, by, show(size, &asked.unit));
        if size > level {
            figure = figure.note(format!("{thick} thicker than {thin}"));
        }
        report.figures.push(figure);
    }
    if across.si().abs() > level.si() {
        lean(report, asked, across)?;
    }
    Ok(())
}

/// The angle of a wedge across the face, and what it does to the flange of a V.
fn lean(report: &mut Report, asked: &Asked, across: Length) -> Result<(), Unanswerable> {
    let Some(width) = asked.width else {
        report.asks.push(Ask::new(
            "width between the corners",
            "a face cut deeper at one side leans the whole head, and a V engine's manifold flange with it.",
            "Give --width with the distance of the corners across the face.",
        ));
        return Ok(());
    };
    let lean = lean_of_wedge(across, width)?;
    let degrees = show_fixed(lean, &unit::DEGREE, 2);
    report.figures.push(Figure::new(
        "lean",
        "the head leans by",
        lean,
        degrees.clone(),
    ));
    let mut finding = Finding::new(
        "leans",
        "head",
        format!("cut deeper at one side, the head leans by {degrees}: valves stand at another angle to the bore"),
    )
    .next("have it cut parallel");
    if let Some(vee) = asked.vee {
        let gape = angle_cut_depth(Length::mm(FLANGE_MM)?, lean)?;
        finding = finding.points_to(format!(
            "on a V of {} the manifold flange leans with it: a flange {FLANGE_MM:.0} mm high gapes {} at one edge",
            show(vee.bank, &unit::DEGREE),
            show_fixed(gape, &unit::MILLIMETRE, 2)
        ));
    }
    report.findings.push(finding);
    Ok(())
}
