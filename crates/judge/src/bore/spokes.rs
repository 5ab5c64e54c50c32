//! A section from radii at angles: roundness as ISO has it, and what a two-point gauge would
//! have made of the same bore.

use calc::roundness::{RoundnessError, Spoke, roundness, two_point_spread};
use quantity::{Angle, Length, Quantity, Unit, show};
use report::{Ask, Figure, Finding, Report, Source, SourceKind};

use crate::limit::{Limit, Reading, decide};

const TITLE: &str = "Roundness of a section";
/// Share of the roundness below which a two-point gauge counts as blind to it.
const BLIND_BELOW: f64 = 0.5;
/// How far a step between readings may be off and still count as even, in radians.
const EVEN_WITHIN: f64 = 1e-3;

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The radii, or their deviations from any fixed radius.
    pub spokes: Vec<Spoke>,
    /// The most the roundness may be, radial.
    pub limit: Option<Limit<Length>>,
    /// Expanded uncertainty of the roundness.
    pub expanded: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

/// Answers.
#[must_use]
pub fn judge_section(asked: &Section) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("bore", "", fault.to_string())
            .next("read the radius every 30° all the way round: twelve readings");
        Report::refusal("bore", TITLE, finding)
    })
}

#[derive(Clone, Debug, PartialEq, thiserror::Error)]
enum Unanswerable {
    #[error(transparent)]
    Roundness(#[from] RoundnessError),
    #[error(transparent)]
    Decision(#[from] calc::decision::DecisionError),
}

fn answer(asked: &Section) -> Result<Report, Unanswerable> {
    let mut report = Report::new("bore", TITLE);
    let seen = roundness(&asked.spokes)?;
    let show = |length| show(length, &asked.unit);
    report.figures.push(
        Figure::new(
            "roundness",
            "roundness, minimum zone",
            seen.minimum_zone,
            show(seen.minimum_zone),
        )
        .note("radial, as ISO 12181 has it: two circles about one centre"),
    );
    report.figures.push(Figure::new(
        "least_squares",
        "about the mean circle",
        seen.least_squares,
        show(seen.least_squares),
    ));
    match &asked.limit {
        Some(limit) => {
            let reading = Reading::exactly(seen.minimum_zone).with(asked.expanded);
            decide("roundness", Some(&reading), limit, &[], &asked.unit)?.lead(&mut report);
            if let Some(source) = limit.source() {
                report.cite(source);
            }
        }
        None => {
            report.headline = Some(format!(
                "Round within {}; there is no limit to judge by.",
                show(seen.minimum_zone)
            ));
            report.asks.push(Ask::new(
                "limit for the roundness",
                "no verdict without one.",
                "Give the maker's with --limit-round and --limit-source maker; a limit for out-of-round by diameters is twice it on an oval bore.",
            ));
        }
    }
    two_point(&mut report, asked, seen.minimum_zone)?;
    report.cite(Source::new(
        SourceKind::Published,
        "ISO 12181, roundness; from secondary texts",
    ));
    Ok(report)
}

/// What a two-point gauge would show, where every reading has its opposite.
fn two_point(report: &mut Report, asked: &Section, zone: Length) -> Result<(), Unanswerable> {
    let Some(radii) = evenly(&asked.spokes) else {
        return Ok(());
    };
    let spread = two_point_spread(&radii)?;
    report.figures.push(
        Figure::new(
            "out_of_round",
            "a two-point gauge would show",
            spread,
            show(spread, &asked.unit),
        )
        .note("largest less smallest diameter, as the shop means it"),
    );
    if spread.si() < BLIND_BELOW * zone.si() {
        report.findings.push(
            Finding::new(
                "three-lobes",
                "",
                "an odd number of lobes: a two-point gauge is nearly blind to this bore, because its diameter is the same all round",
            )
            .points_to("honing distortion, or a bore pulled out of shape by its bolts")
            .next("measure with a three-point head or on a spindle, with the head's bolts or a plate tightened"),
        );
    }
    Ok(())
}

/// The radii in order of angle, where they stand evenly all the way round.
fn evenly(spokes: &[Spoke]) -> Option<Vec<Length>> {
    let turn = Angle::degrees(360.0).ok()?.in_radians();
    let mut sorted: Vec<(f64, Length)> = spokes
        .iter()
        .map(|spoke| (spoke.angle.in_radians().rem_euclid(turn), spoke.radius))
        .collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    if !sorted.len().is_multiple_of(2) {
        return None;
    }
    let count = sorted.iter().map(|_| 1.0).sum::<f64>();
    let step = turn / count;
    sorted
        .windows(2)
        .all(|pair| (pair[1].0 - pair[0].0 - step).abs() < EVEN_WITHIN)
        .then(|| sorted.into_iter().map(|(_, radius)| radius).collect())
}

#[cfg(test)]
mod tests {
    use quantity::unit::MILLIMETRE;

    use super::*;

    fn section(lobes: f64) -> Report {
        let spokes = (0..72)
            .map(|at| {
                let angle = Angle::degrees(5.0 * f64::from(at)).unwrap();
                let radius = 43.0 + 0.01 * libm::cos(lobes * angle.in_radians());
                Spoke {
                    angle,
                    radius: Length::mm(radius).unwrap(),
                }
            })
            .collect();
        judge_section(&Section {
            spokes,
            limit: None,
            expanded: None,
            unit: MILLIMETRE,
        })
    }

    /// Source: r = 43 + 0.01·cos 2θ, 72 points. *Computed by a general library (numpy 2.4.6,
    /// least-squares circle).*
    #[test]
    fn e16_an_oval_bore_shows_twice_its_roundness_on_a_two_point_gauge() {
        let report = section(2.0);
        assert!((report.figure("out_of_round").unwrap().value - 0.040e-3).abs() < 1e-9);
        assert!((report.figure("least_squares").unwrap().value - 0.020e-3).abs() < 1e-9);
        assert!(!report.finds("three-lobes"));
    }

    /// Source: r = 43 + 0.01·cos 3θ, 72 points. *Computed by a general library (numpy 2.4.6,
    /// least-squares circle).*
    #[test]
    fn e17_three_lobes_are_not_seen_by_a_two_point_gauge_and_that_is_said() {
        let report = section(3.0);
        assert!(report.figure("out_of_round").unwrap().value.abs() < 1e-9);
        assert!((report.figure("least_squares").unwrap().value - 0.020e-3).abs() < 1e-9);
        assert!(report.finds("three-lobes"));
    }
}
