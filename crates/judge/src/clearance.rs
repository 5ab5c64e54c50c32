//! One clearance of a named kind against the maker's limit, or against the trade's where no
//! other is known.

mod kind;

use calc::clearance::ClearanceError;
use calc::decision::DecisionError;
use quantity::{Bound, Length, NotFinite, Quantity, Unit, show, show_range};
use report::{Ask, Figure, Finding, Report, Weight};
use thiserror::Error;

use crate::limit::{Act, Limit, Reading, decide, gravity};
pub use kind::Kind;

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What is measured.
    pub kind: Kind,
    /// The readings, one a place: each cylinder, journal or valve; nothing where not measured.
    pub readings: Vec<Option<Bound<Length>>>,
    /// The bore or journal the trade's rule goes by.
    pub of: Option<Length>,
    /// The limit, where one is known.
    pub limit: Option<Limit<Length>>,
    /// The most the places may differ from each other.
    pub spread: Option<Length>,
    /// Expanded uncertainty of a reading.
    pub expanded: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

/// Why a clearance cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
pub(crate) enum Unanswerable {
    #[error(transparent)]
    Clearance(#[from] ClearanceError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
    #[error("no reading was given")]
    Empty,
}

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    let title = asked.kind.title();
    answer(asked, title).unwrap_or_else(|fault| {
        let finding = Finding::new("clearance", "", fault.to_string())
            .next("give the readings with their unit; `-` for a place that was not measured");
        Report::refusal("clearance", title, finding)
    })
}

fn answer(asked: &Asked, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("clearance", title);
    if asked.readings.is_empty() {
        return Err(Unanswerable::Empty);
    }
    let usual = asked.kind.usual(asked.of)?;
    let Some(limit) = asked.limit.as_ref().or(usual.as_ref()) else {
        report.asks.push(Ask::new(
            asked.kind.needs(),
            "the trade's rule goes by it, and no maker's limit was given.",
            "Give --limit with the maker's figure, or --of with the size.",
        ));
        report.headline = Some("No limit to judge by.".to_owned());
        return Ok(report);
    };
    each(&mut report, asked, limit)?;
    spread(&mut report, asked)?;
    if let Some(source) = limit.source() {
        report.cite(source);
    }
    report.asks.extend(limit.ask_for_makers("--limit"));
    if let Some(how) = asked.kind.how() {
        report
            .findings
            .push(Finding::new("how-to-measure", "", how).weight(Weight::Note));
    }
    Ok(report)
}

/// What settles an open case, *common practice, no source*.
fn acts() -> Result<Vec<Act<Length>>, Unanswerable> {
    Ok(vec![
        Act {
            says: "measure it three more times at the same place, cleaned each time, with a dial gauge (about ± 0.01 mm)".into(),
            minutes: 10,
            leaves: Length::mm(0.01)?,
        },
        Act {
            says: "measure both parts with a micrometer and a bore gauge set in it (about ± 0.005 mm)".into(),
            minutes: 30,
            leaves: Length::mm(0.005)?,
        },
    ])
}

/// Every place judged; the worst leads.
fn each(report: &mut Report, asked: &Asked, limit: &Limit<Length>) -> Result<(), Unanswerable> {
    let mut decisions = Vec::new();
    for (at, reading) in asked.readings.iter().enumerate() {
        let name = if asked.readings.len() == 1 {
            asked.kind.noun().to_owned()
        } else {
            format!("{} no. {}", asked.kind.noun(), at + 1)
        };
        let reading = reading.map(|value| Reading::bound(value).with(asked.expanded));
        decisions.push((
            at,
            decide(&name, reading.as_ref(), limit, &acts()?, &asked.unit)?,
        ));
    }
    let worst = decisions
        .iter()
        .max_by_key(|(at, decision)| (gravity(decision.verdict), std::cmp::Reverse(*at)));
    if let Some((_, worst)) = worst {
        worst.lead(report);
    }
    let led = worst.map(|(at, _)| *at);
    for (at, decision) in &decisions {
        if led == Some(*at) {
            continue;
        }
        let weight = if decision.verdict == report::Verdict::Outside {
            Weight::Stop
        } else {
            Weight::Note
        };
        let mut finding =
            Finding::new("place", format!("{}", at + 1), decision.says.clone()).weight(weight);
        if let Some(act) = &decision.settle {
            finding = finding.next(act.clone());
        }
        report.findings.push(finding);
    }
    if let [Some(Bound::Exactly(only))] = asked.readings[..] {
        report.figures.push(Figure::new(
            "reading",
            asked.kind.noun(),
            only,
            show(only, &asked.unit),
        ));
    }
    if let (Some(low), Some(high)) = (limit.low, limit.high) {
        let range = quantity::Range { low, high };
        report.figures.push(
            Figure::new("limit", "limit", low, show_range(range, &asked.unit))
                .between(low, high)
                .note(limit.owner()),
        );
    }
    Ok(())
}

/// How far the places differ, where they must be alike.
fn spread(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    let sizes: Vec<f64> = asked
        .readings
        .iter()
        .flatten()
        .filter_map(|reading| match reading {
            Bound::Exactly(value) => Some(value.si()),
            Bound::Below(_) | Bound::Above(_) | Bound::Between(_) => None,
        })
        .collect();
    if sizes.len() < 2 {
        return Ok(());
    }
    let high = sizes.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let low = sizes.iter().copied().fold(f64::INFINITY, f64::min);
    let spread = Length::from_si(high - low)?;
    report.figures.push(Figure::new(
        "spread",
        "places differ by",
        spread,
        show(spread, &asked.unit),
    ));
    let usual = asked.kind.usual_spread()?;
    let Some(limit) = asked.spread.map(Limit::most).or(usual) else {
        return Ok(());
    };
    let decision = decide(
        "difference of the places",
        Some(&Reading::exactly(spread).with(asked.expanded)),
        &limit,
        &acts()?,
        &asked.unit,
    )?;
    if decision.verdict == report::Verdict::Outside {
        report.verdict = Some(report::Verdict::Outside);
        report.headline = Some(decision.says.clone());
        report.findings.push(
            Finding::new("uneven", "", decision.says)
                .next("look at the highest and the lowest place first")
                .weight(Weight::Stop),
        );
    } else {
        report.because.push(decision.says);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use quantity::Range;
    use quantity::unit::{INCH_UNIT, MILLIMETRE};
    use report::Verdict;

    use super::*;
    use crate::limit::Whose;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn asked(kind: Kind, readings: &[f64]) -> Asked {
        Asked {
            kind,
            readings: readings
                .iter()
                .map(|&value| Some(Bound::Exactly(mm(value))))
                .collect(),
            of: None,
            limit: None,
            spread: None,
            expanded: None,
            unit: MILLIMETRE,
        }
    }

    /// Source: 4.00 in bore, 0.0040 to 0.0045 per inch: 0.016 to 0.018 in. *Common practice, no
    /// source.*
    #[test]
    fn e35_ring_gap_goes_by_the_bore() {
        let inch = |value| Length::inches(value).unwrap();
        let mut gap = asked(Kind::TopRingGap, &[]);
        gap.of = Some(inch(4.0));
        gap.unit = INCH_UNIT;
        for (reading, verdict) in [(0.0161, Verdict::Within), (0.0150, Verdict::Outside)] {
            gap.readings = vec![Some(Bound::Exactly(inch(reading)))];
            assert_eq!(judge(&gap).verdict, Some(verdict), "{reading}");
        }
        let gap = Asked { of: None, ..gap };
        assert_eq!(judge(&gap).verdict, None);
        assert!(!judge(&gap).asks.is_empty());
    }

    /// Source: journal 2.5 in: 0.0020 to 0.0030 in. *Common practice, no source.*
    #[test]
    fn e36_bearing_goes_by_the_journal() {
        let inch = |value| Length::inches(value).unwrap();
        let mut bearing = asked(Kind::Bearing, &[]);
        bearing.of = Some(inch(2.5));
        bearing.readings = vec![
            Some(Bound::Exactly(inch(0.0025))),
            Some(Bound::Exactly(inch(0.0035))),
        ];
        let report = judge(&bearing);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert!(report.headline.unwrap().contains('2'));
        let limit = report
            .figures
            .iter()
            .find(|figure| figure.name == "limit")
            .unwrap();
        assert!((limit.low.unwrap() - inch(0.0020).si()).abs() < 1e-12);
    }

    #[test]
    fn liners_that_differ_are_outside_though_each_stands_high_enough() {
        let report = judge(&asked(Kind::Liner, &[0.06, 0.10, 0.07]));
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert!(report.finds("uneven"));
    }

    #[test]
    fn a_makers_limit_wins_and_a_gap_in_the_list_is_not_measured() {
        let mut guide = asked(Kind::GuideInlet, &[0.09]);
        let limit = Limit::between(Range {
            low: mm(0.02),
            high: mm(0.10),
        })
        .of(Whose::Maker);
        guide.limit = Some(limit);
        assert_eq!(judge(&guide).verdict, Some(Verdict::Within));
        guide.readings.push(None);
        assert_eq!(judge(&guide).verdict, Some(Verdict::NotMeasured));
        assert_eq!(judge(&asked(Kind::GuideInlet, &[])).exit_status(), 2);
    }

    #[test]
    fn every_kind_is_found_by_its_name() {
        for kind in Kind::ALL {
            assert_eq!(Kind::find(kind.key()), Some(kind));
        }
        assert_eq!(Kind::find("blinker-fluid"), None);
    }
}
