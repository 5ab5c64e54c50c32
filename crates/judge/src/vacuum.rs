//! Intake vacuum at warm idle: a level and a movement of the needle.
//!
//! A clue, never a proof: every line ends in the test that would confirm it.

use quantity::unit::INCH_OF_MERCURY;
use quantity::{GaugePressure, Length, Quantity, Range, show, show_fixed};
use report::{Caution, Figure, Finding, Report, Source, Verdict};

/// How the needle moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Needle {
    /// It stands still.
    #[default]
    Steady,
    /// It drops several divisions at regular beats.
    RegularDrop,
    /// It swings from low to high at regular beats.
    RegularSwing,
    /// It falls while speed is held at about 3000 rpm.
    FallsAtSpeed,
}

impl Needle {
    /// Every movement with its name.
    pub const NAMED: [(&'static str, Self); 4] = [
        ("steady", Self::Steady),
        ("regular-drop", Self::RegularDrop),
        ("regular-swing", Self::RegularSwing),
        ("falls-at-speed", Self::FallsAtSpeed),
    ];
}

/// The question.
#[derive(Clone, Debug)]
pub struct Vacuum {
    /// How far below the air around the intake stands, as a positive pressure.
    pub below: GaugePressure,
    /// How the needle moves.
    pub needle: Needle,
    /// Height of the workshop and the words it was typed in.
    pub height: Option<(Length, String)>,
}

/// Bands at sea level in inches of mercury, lowest first, and what they stand for. All of it:
/// *common practice, no source*.
const BANDS: [(f64, f64, &str, &str, &str); 4] = [
    (
        0.0,
        5.0,
        "very-low",
        "a leak at manifold or throttle gasket",
        "spray water round the gaskets and listen; smoke test",
    ),
    (
        5.0,
        14.0,
        "low-steady",
        "late cam timing; also a leak, or low compression",
        "check the timing marks, then cranking compression",
    ),
    (
        14.0,
        17.0,
        "somewhat-low",
        "late ignition; some sixes are sound at 15",
        "check ignition timing",
    ),
    (
        22.0,
        30.0,
        "high",
        "a gauge that reads high, or a throttle closed tighter than usual",
        "try a second gauge",
    ),
];

/// Reads a vacuum gauge.
#[must_use]
pub fn judge(asked: &Vacuum) -> Report {
    let mut report = Report::new("vacuum", "Intake vacuum, warm idle");
    let inches = INCH_OF_MERCURY.of_si(asked.below.si());
    if !(0.0..=30.0).contains(&inches) {
        let finding = Finding::new(
            "vacuum",
            "reading",
            format!(
                "{} below the air cannot be",
                show(asked.below, &INCH_OF_MERCURY)
            ),
        )
        .next("give the vacuum as a positive figure from 0 to 30 inHg");
        return Report::refusal("vacuum", "Intake vacuum, warm idle", finding);
    }
    // One inch of mercury a thousand feet. Common practice, no source.
    let shift = asked.height.as_ref().map_or(0.0, |(height, _)| {
        height.in_metres() / (1000.0 * quantity::FOOT)
    });
    let at_sea_level = inches + shift;
    report.figures.push(Figure::new(
        "vacuum",
        "vacuum",
        asked.below,
        show_fixed(asked.below, &INCH_OF_MERCURY, 1),
    ));
    band(shift, &mut report);
    let level = BANDS
        .iter()
        .find(|(from, to, ..)| (*from..*to).contains(&at_sea_level));
    if let Some((_, _, code, points_to, next)) = level {
        report.findings.push(
            Finding::new(
                code,
                "level",
                format!(
                    "{} where 17 to 22 inHg is usual at sea level",
                    show(asked.below, &INCH_OF_MERCURY)
                ),
            )
            .points_to(*points_to)
            .next(*next),
        );
    }
    movement(asked.needle, &mut report);
    report.verdict = Some(if report.findings.is_empty() {
        Verdict::Within
    } else {
        Verdict::Outside
    });
    report.headline = Some(if report.findings.is_empty() {
        "Usual level, steady needle.".to_owned()
    } else {
        "Not usual: a clue to follow, not a cause.".to_owned()
    });
    report
        .because
        .push("17 to 22 inHg steady at warm idle; wild cams and some sixes idle lower.".to_owned());
    report.because.push(
        "Snap the throttle open and shut: under 5 inHg and then 21 to 25 speaks for sound rings."
            .to_owned(),
    );
    if let Some((_, typed)) = &asked.height {
        report.because.push(format!("1 inHg less for every 1000 ft: at {typed} the band was lowered by {shift:.1} inHg, the reading stays as typed."));
    }
    report.cautions.push(Caution::new("running it", "outside or extracted; hands, hair and sleeves clear of belts and fans, and electric fans start by themselves."));
    report.cite(Source::common_practice(
        "vacuum bands, needle movements and the height rule",
    ));
    report
}

fn band(shift: f64, report: &mut Report) {
    let end =
        |inches: f64| GaugePressure::from_si(INCH_OF_MERCURY.to_si((inches - shift).max(0.0)));
    if let (Ok(low), Ok(high)) = (end(17.0), end(22.0)) {
        let range = Range { low, high };
        report.figures.push(
            Figure::new(
                "usual_low",
                "usual from",
                range.low,
                show_fixed(range.low, &INCH_OF_MERCURY, 1),
            )
            .note(format!(
                "to {}",
                show_fixed(range.high, &INCH_OF_MERCURY, 1)
            )),
        );
    }
}

fn movement(needle: Needle, report: &mut Report) {
    let finding = |code, says: &str, points_to: &str, next: &str| {
        Finding::new(code, "needle", says)
            .points_to(points_to)
            .next(next)
    };
    match needle {
        Needle::Steady => {}
        Needle::RegularDrop => report.findings.push(finding(
            "regular-drop",
            "drops at regular beats",
            "a burnt or leaking valve, or a dead cylinder",
            "leak-down; listen at intake and tailpipe",
        )),
        Needle::RegularSwing => report.findings.push(finding(
            "regular-swing",
            "swings low to high at regular beats",
            "the gasket between two neighbours",
            "cranking compression over the layout",
        )),
        Needle::FallsAtSpeed => report.findings.push(finding(
            "falls-at-speed",
            "falls while speed is held",
            "a blocked exhaust",
            "measure back-pressure ahead of the first box, cold pipe",
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(inches: f64, needle: Needle) -> Vacuum {
        Vacuum {
            below: GaugePressure::from_si(INCH_OF_MERCURY.to_si(inches)).unwrap(),
            needle,
            height: None,
        }
    }

    /// Source: *common practice, no source*.
    #[test]
    fn bands_and_movements() {
        for (inches, needle, code) in [
            (10.0, Needle::Steady, "low-steady"),
            (15.0, Needle::Steady, "somewhat-low"),
            (3.0, Needle::Steady, "very-low"),
            (18.0, Needle::RegularSwing, "regular-swing"),
            (18.0, Needle::RegularDrop, "regular-drop"),
            (18.0, Needle::FallsAtSpeed, "falls-at-speed"),
        ] {
            let report = judge(&asked(inches, needle));
            assert!(report.finds(code), "{inches}");
            assert!(report.findings.iter().all(|finding| finding.next.is_some()));
        }
        assert_eq!(
            judge(&asked(19.0, Needle::Steady)).verdict,
            Some(Verdict::Within)
        );
    }

    #[test]
    fn height_lowers_the_band_once() {
        let mut high = asked(13.5, Needle::Steady);
        assert!(judge(&high).finds("low-steady"));
        high.height = Some((
            Length::metres(5000.0 * 0.3048).unwrap(),
            "5000 ft".to_owned(),
        ));
        assert_eq!(judge(&high).verdict, Some(Verdict::Within));
    }

    #[test]
    fn more_than_the_air_is_refused() {
        assert!(judge(&asked(35.0, Needle::Steady)).refused);
        assert!(judge(&asked(-5.0, Needle::Steady)).refused);
    }
}
