//! Compression ratio: what the pieces come to, what a cut makes of it, and what a target asks.
//!
//! What a cut does besides (squish, timing, valves, manifold) is [`crate::cut`]'s.

#[cfg(test)]
mod tests;

use calc::cut::{CutError, squish};
use calc::ratio::{
    Cylinder, RatioError, chamber_loss, clearance_volume, cut_for, gasket_to_undo, ratio, swept,
};
use quantity::{Area, Length, NotFinite, Quantity, Ratio, Volume, show, show_fixed, unit};
use report::{Ask, Figure, Finding, Report, Source, Weight};
use thiserror::Error;

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The pieces; a crevice that was not given is nothing.
    pub cylinder: Cylinder,
    /// Whether the crevice above the top ring was given.
    pub crevice_given: bool,
    /// Metal to come off the head face.
    pub cut: Option<Length>,
    /// Area of the chamber mouth at the gasket face.
    pub mouth: Option<Area>,
    /// A ratio to reach.
    pub target: Option<Ratio>,
}

/// Why there is no ratio.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Ratio(#[from] RatioError),
    #[error(transparent)]
    Cut(#[from] CutError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    const TITLE: &str = "Compression ratio";
    answer(asked, TITLE).unwrap_or_else(|fault| {
        let finding = Finding::new("ratio", "", fault.to_string()).next(
            "check each piece and its unit: a dome is taken off, a dish and a gasket are added",
        );
        Report::refusal("ratio", TITLE, finding)
    })
}

fn answer(asked: &Asked, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("ratio", title);
    let swept = swept(asked.cylinder.bore, asked.cylinder.stroke)?;
    let before = clearance_volume(&asked.cylinder)?;
    let ratio_before = ratio(swept, before)?;
    let after = match (asked.cut, asked.mouth) {
        (Some(cut), Some(mouth)) => Some((cut, mouth, after_cut(&asked.cylinder, cut, mouth)?)),
        (Some(_), None) => {
            report.asks.push(Ask::new(
                "area of the chamber mouth",
                "a cut takes mouth area times depth out of the chamber, and the mouth is not the bore.",
                "Trace it, or pour the chamber at two plate heights; give it with --chamber-area \"4900 mm²\".",
            ));
            None
        }
        (None, _) => None,
    };
    let (now, clearance) = match &after {
        Some((_, _, clearance)) => (ratio(swept, *clearance)?, *clearance),
        None => (ratio_before, before),
    };
    report.headline = Some(match &after {
        Some((cut, ..)) => format!(
            "{} : 1 after {} off the head, {} : 1 before.",
            plain(now),
            show(*cut, &unit::MILLIMETRE),
            plain(ratio_before)
        ),
        None => format!("{} : 1.", plain(now)),
    });
    report.figures.push(Figure::new(
        "ratio",
        "compression ratio",
        now,
        format!("{} : 1", plain(now)),
    ));
    report.figures.push(Figure::new(
        "swept",
        "swept, one cylinder",
        swept,
        cc(swept),
    ));
    report.figures.push(Figure::new(
        "clearance_volume",
        "left above the piston",
        clearance,
        cc(clearance),
    ));
    if let Some((cut, mouth, _)) = after {
        tell_cut(&mut report, asked, ratio_before, cut, mouth)?;
    }
    if let Some(target) = asked.target {
        tell_target(&mut report, asked, swept, before, target)?;
    }
    room(&mut report, asked)?;
    crevice(&mut report, asked, swept, clearance)?;
    report.because.push("ratio = 1 + swept/left; left = chamber + gasket + deck gap + dish + relief + crevice − dome".into());
    Ok(report)
}

fn after_cut(cylinder: &Cylinder, cut: Length, mouth: Area) -> Result<Volume, Unanswerable> {
    let lost = chamber_loss(mouth, cut)?;
    Ok(clearance_volume(&Cylinder {
        chamber: cylinder.chamber - lost,
        ..*cylinder
    })?)
}

fn tell_cut(
    report: &mut Report,
    asked: &Asked,
    before: Ratio,
    cut: Length,
    mouth: Area,
) -> Result<(), Unanswerable> {
    let lost = chamber_loss(mouth, cut)?;
    let undo = gasket_to_undo(mouth, cut, asked.cylinder.gasket_bore)?;
    report.figures.push(Figure::new(
        "ratio_before",
        "ratio before the cut",
        before,
        format!("{} : 1", plain(before)),
    ));
    report.figures.push(Figure::new(
        "chamber_loss",
        "out of the chamber",
        lost,
        cc(lost),
    ));
    report.figures.push(
        Figure::new(
            "gasket_to_undo",
            "extra gasket for the old volume",
            undo,
            show(undo, &unit::MILLIMETRE),
        )
        .note("volume only; cam timing and valve room need the whole cut back"),
    );
    report.findings.push(
        Finding::new(
            "open-chamber",
            "",
            "the mouth of an open chamber changes with depth",
        )
        .next("pour the chamber again after the cut")
        .weight(Weight::Note),
    );
    Ok(())
}

fn tell_target(
    report: &mut Report,
    asked: &Asked,
    swept: Volume,
    before: Volume,
    target: Ratio,
) -> Result<(), Unanswerable> {
    let Some(mouth) = asked.mouth else {
        report.asks.push(Ask::new(
            "area of the chamber mouth",
            "the cut for a target ratio depends on it.",
            "Give it with --chamber-area.",
        ));
        return Ok(());
    };
    let cut = cut_for(swept, before, target, mouth)?;
    report.figures.push(
        Figure::new(
            "cut_for_target",
            "cut for the target",
            cut,
            show(cut, &unit::MILLIMETRE),
        )
        .note(format!("for {} : 1", plain(target))),
    );
    if cut.si() < 0.0 {
        report.findings.push(
            Finding::new(
                "target-below",
                "",
                "the target lies below what the engine has: nothing is cut for it",
            )
            .next("a thicker gasket or a dish lowers the ratio"),
        );
    }
    Ok(())
}

/// Room between piston edge and head, against the rule of thumb.
fn room(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let none = Length::from_si(0.0)?;
    let left = squish(asked.cylinder.gasket, asked.cylinder.deck, none)?;
    let least = Length::inches(0.040)?;
    report.figures.push(
        Figure::new(
            "squish",
            "piston edge to head",
            left,
            show(left, &unit::MILLIMETRE),
        )
        .note("a cut of the head face does not change it where the chamber is as wide as the bore"),
    );
    if left < least {
        report.findings.push(
            Finding::new(
                "little-room",
                "piston to head",
                format!("{} is below the {} the trade wants with steel rods", show(left, &unit::MILLIMETRE), show_fixed(least, &unit::MILLIMETRE, 2)),
            )
            .next("measure with soft wire or clay on the piston before the engine is turned by the starter"),
        );
        report.cite(Source::common_practice(
            "piston to head not under 0.040 in with steel rods",
        ));
    }
    Ok(())
}

/// Whether the crevice is in the number, and what it would do.
fn crevice(
    report: &mut Report,
    asked: &Asked,
    swept: Volume,
    clearance: Volume,
) -> Result<(), Unanswerable> {
    if asked.crevice_given {
        report
            .because
            .push("the crevice round the piston above the top ring is counted".into());
        return Ok(());
    }
    let with = Volume::cc(clearance.in_cc() + 1.0)?;
    report.because.push(format!(
        "the crevice round the piston above the top ring is not counted; each cubic centimetre of it would make {} : 1",
        plain(ratio(swept, with)?)
    ));
    Ok(())
}

fn plain(ratio: Ratio) -> String {
    show_fixed(ratio, &unit::FRACTION, 2)
}

fn cc(volume: Volume) -> String {
    show_fixed(volume, &unit::CUBIC_CENTIMETRE, 2)
}
