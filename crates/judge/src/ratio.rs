//! Compression ratio: what the pieces come to, what a cut makes of it, and what a target asks.
//!
//! What a cut does besides (squish, timing, valves, manifold) is [`crate::cut`]'s.

#[cfg(test)]
mod tests;

use calc::cut::{CutError, squish};
use calc::ratio::{
    Cylinder, RatioError, chamber_loss, clearance_volume, cut_for, gasket_to_undo,
    mouth_by_perimeter, mouth_by_two_pourings, ratio, swept,
};
use quantity::{Area, Length, NotFinite, Quantity, Ratio, Volume, show, show_fixed, unit};
use report::{Ask, Figure, Finding, Report, Source, Weight};
use thiserror::Error;

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The pieces; a crevice that was not given is nothing. Its chamber is the first pouring.
    pub cylinder: Cylinder,
    /// The chamber poured again and again with the burette; the mean counts.
    pub poured_again: Vec<Volume>,
    /// Whether the crevice above the top ring was given.
    pub crevice_given: bool,
    /// Metal to come off the head face.
    pub cut: Option<Length>,
    /// The chamber mouth at the gasket face.
    pub mouth: Option<Mouth>,
    /// A ratio to reach.
    pub target: Option<Ratio>,
}

/// How the area of a chamber mouth was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mouth {
    /// Traced on paper, or told.
    Traced(Area),
    /// Poured a second time with the plate on a ring.
    Raised {
        /// What went in with the plate on the ring.
        volume: Volume,
        /// Height of the ring.
        ring: Length,
    },
    /// From a thread laid round it, as if it were round.
    Perimeter(Length),
}

impl Mouth {
    fn area(self, chamber: Volume) -> Result<Area, RatioError> {
        match self {
            Self::Traced(area) => Ok(area),
            Self::Raised { volume, ring } => mouth_by_two_pourings(chamber, volume, ring),
            Self::Perimeter(round) => mouth_by_perimeter(round),
        }
    }
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
    let poured = Poured::of(asked)?;
    let asked = &Asked {
        cylinder: Cylinder {
            chamber: poured.mean,
            ..asked.cylinder
        },
        ..asked.clone()
    };
    let mouth = asked
        .mouth
        .map(|mouth| mouth.area(poured.mean))
        .transpose()?;
    let swept = swept(asked.cylinder.bore, asked.cylinder.stroke)?;
    let before = clearance_volume(&asked.cylinder)?;
    let ratio_before = ratio(swept, before)?;
    let after = match (asked.cut, mouth) {
        (Some(cut), Some(mouth)) => Some((cut, mouth, after_cut(&asked.cylinder, cut, mouth)?)),
        _ => None,
    };
    if asked.cut.is_some() && mouth.is_none() {
        report.asks.push(Ask::new(
            "area of the chamber mouth",
            "a cut takes mouth area times depth out of the chamber, and the mouth is not the bore.",
            "Trace it, or pour the chamber at two plate heights; give it with --chamber-area \"4900 mm²\", --raised and --ring, or --perimeter.",
        ));
    }
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
    report.figures.push(poured.ratio(swept, clearance)?);
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
    poured.tell(&mut report);
    if let Some(area) = mouth {
        tell_mouth(&mut report, asked.mouth, area);
    }
    if let Some((cut, mouth, _)) = after {
        tell_cut(&mut report, asked, ratio_before, cut, mouth)?;
    }
    if let Some(target) = asked.target {
        tell_target(&mut report, mouth, swept, before, target)?;
    }
    room(&mut report, asked)?;
    crevice(&mut report, asked, swept, clearance)?;
    report.because.push("ratio = 1 + swept/left; left = chamber + gasket + deck gap + dish + relief + crevice − dome".into());
    Ok(report)
}

/// Pourings of one chamber that part by more than this share are not one chamber yet. *Common
/// practice, no source.*
const APART_SHARE: f64 = 0.01;

/// The chamber as it was poured.
struct Poured {
    mean: Volume,
    least: Volume,
    most: Volume,
    count: usize,
}

impl Poured {
    fn of(asked: &Asked) -> Result<Self, Unanswerable> {
        let first = asked.cylinder.chamber;
        let mut poured = Self {
            mean: first,
            least: first,
            most: first,
            count: 1,
        };
        let (mut sum, mut times) = (first.si(), 1.0);
        for &again in &asked.poured_again {
            sum += again.si();
            times += 1.0;
            poured.count += 1;
            if again < poured.least {
                poured.least = again;
            }
            if again > poured.most {
                poured.most = again;
            }
        }
        poured.mean = Volume::from_si(sum / times)?;
        Ok(poured)
    }

    /// The ratio by the mean, between those that the single pourings would give.
    fn ratio(&self, swept: Volume, left: Volume) -> Result<Figure, Unanswerable> {
        let with = |chamber: Volume| -> Result<Ratio, Unanswerable> {
            Ok(ratio(swept, left + (chamber - self.mean))?)
        };
        let now = with(self.mean)?;
        let shown = format!("{} : 1", plain(now));
        let figure = Figure::new("ratio", "compression ratio", now, shown);
        if self.count < 2 {
            return Ok(figure);
        }
        let (low, high) = (with(self.most)?, with(self.least)?);
        Ok(figure.between(low, high).note(format!(
            "{} to {} by single pourings",
            plain(low),
            plain(high)
        )))
    }

    fn tell(&self, report: &mut Report) {
        if self.count < 2 {
            return;
        }
        let apart = self.most - self.least;
        report.figures.push(
            Figure::new("chamber", "chamber, mean", self.mean, cc(self.mean)).note(format!(
                "{} pourings, {} apart",
                self.count,
                cc(apart)
            )),
        );
        if apart.si() > APART_SHARE * self.mean.si() {
            report.findings.push(
                Finding::new(
                    "pourings-differ",
                    "chamber",
                    format!("single pourings are {} apart", cc(apart)),
                )
                .points_to("air under the plate, a leaking valve or a plate without grease")
                .next("lean the head until the pouring hole is its highest place, grease the plate, read the burette at the foot of the curve, pour again"),
            );
            report.cite(Source::common_practice(
                "pourings of one chamber agree within 1 %",
            ));
        }
    }
}

/// The area of the mouth, and how far it may be trusted.
fn tell_mouth(report: &mut Report, mouth: Option<Mouth>, area: Area) {
    let shown = show_fixed(area, &unit::SQUARE_MILLIMETRE, 0);
    let figure = Figure::new("mouth", "chamber mouth", area, shown);
    report.figures.push(match mouth {
        Some(Mouth::Perimeter(_)) => figure.note("from its edge, as if it were round"),
        Some(Mouth::Raised { .. }) => figure.note("from two pourings"),
        Some(Mouth::Traced(_)) | None => figure,
    });
    if matches!(mouth, Some(Mouth::Perimeter(_))) {
        report.findings.push(
            Finding::new(
                "mouth-not-round",
                "chamber mouth",
                "nothing of one edge is larger than a circle: a long mouth has less, one of 90 × 60 mm by 6 %",
            )
            .next("where it is not round, trace it or pour it again with the plate on a ring (--raised, --ring)"),
        );
        report.cite(Source::common_practice(
            "mouth area from a thread laid round it; exact for a round mouth only",
        ));
    }
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
    mouth: Option<Area>,
    swept: Volume,
    before: Volume,
    target: Ratio,
) -> Result<(), Unanswerable> {
    let Some(mouth) = mouth else {
        report.asks.push(Ask::new(
            "area of the chamber mouth",
            "the cut for a target ratio depends on it.",
            "Give it with --chamber-area, --raised and --ring, or --perimeter.",
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
