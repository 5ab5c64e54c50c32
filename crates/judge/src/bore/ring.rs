//! A worn bore mapped by the gap of one ring, pushed square to several depths.

use calc::bore::{BoreError, diameter_by_ring};
use quantity::{Length, NotFinite, Quantity, Unit, show};
use report::{Align, Ask, Cell, Figure, Finding, Report, Table, Weight};

use crate::limit::{Limit, Reading, decide};

const TITLE: &str = "Bore by the gap of a ring";

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct RingGaps {
    /// Depth and gap, in the order of the sheet.
    pub gaps: Vec<(String, Length)>,
    /// Diameter where the bore is not worn.
    pub unworn: Option<Length>,
    /// The most the bore may taper.
    pub taper: Option<Limit<Length>>,
    /// Expanded uncertainty of a difference of diameters.
    pub expanded: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

#[derive(Clone, Debug, PartialEq, thiserror::Error)]
enum Unanswerable {
    #[error(transparent)]
    Bore(#[from] BoreError),
    #[error(transparent)]
    Decision(#[from] calc::decision::DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
    #[error("{count} gaps show no taper")]
    TooFew { count: usize },
}

/// Answers.
#[must_use]
pub fn judge_ring(asked: &RingGaps) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("bore", "", fault.to_string())
            .next("push one ring square with a piston to three depths at least, one of them below the travel of the rings");
        Report::refusal("bore", TITLE, finding)
    })
}

fn answer(asked: &RingGaps) -> Result<Report, Unanswerable> {
    let mut sorted = asked.gaps.clone();
    sorted.sort_by(|a, b| a.1.si().total_cmp(&b.1.si()));
    let ([(tightest, least), ..], [.., (widest, most)]) = (&sorted[..], &sorted[..]) else {
        return Err(Unanswerable::TooFew { count: 0 });
    };
    if sorted.len() < 2 {
        return Err(Unanswerable::TooFew { count: 1 });
    }
    let mut report = Report::new("bore", TITLE);
    // Only the difference counts, so any diameter does to find it.
    let base = asked.unworn.map_or_else(|| Length::mm(1.0), Ok)?;
    let taper = diameter_by_ring(base, *least, *most)? - base;
    report.figures.push(
        Figure::new("taper", "taper", taper, show(taper, &asked.unit)).note(format!(
            "{widest} against {tightest}: the gap grows by π times the diameter"
        )),
    );
    report.rows = rows(asked, base, *least)?;
    match &asked.taper {
        Some(limit) => {
            let reading = Reading::exactly(taper).with(asked.expanded);
            decide("taper", Some(&reading), limit, &[], &asked.unit)?.lead(&mut report);
            if let Some(source) = limit.source() {
                report.cite(source);
            }
        }
        None => {
            report.headline = Some(format!(
                "The bore is {} wider at {widest} than at {tightest}; there is no limit to judge by.",
                show(taper, &asked.unit)
            ));
        }
    }
    manners(&mut report, asked, tightest, *least);
    Ok(report)
}

/// One row a depth: its gap, how much wider it is than the tightest, and its diameter.
fn rows(asked: &RingGaps, base: Length, least: Length) -> Result<Table, Unanswerable> {
    let mut table = Table::new(&[
        ("where", "where", Align::Left),
        ("gap", "gap", Align::Right),
        ("worn", "wider by", Align::Right),
        ("diameter", "diameter", Align::Right),
    ]);
    for (depth, gap) in &asked.gaps {
        let here = diameter_by_ring(base, least, *gap)?;
        let worn = here - base;
        table.push(vec![
            Cell::from(depth.clone()),
            Cell::from(Figure::new("gap", "gap", *gap, show(*gap, &asked.unit))),
            Cell::from(Figure::new(
                "worn",
                "wider by",
                worn,
                show(worn, &asked.unit),
            )),
            asked.unworn.map_or(Cell::None, |_| {
                Cell::from(Figure::new(
                    "diameter",
                    "diameter",
                    here,
                    show(here, &asked.unit),
                ))
            }),
        ]);
    }
    Ok(table)
}

/// What is missing, a ring that butts, and what a ring cannot show.
fn manners(report: &mut Report, asked: &RingGaps, tightest: &str, least: Length) {
    if asked.unworn.is_none() {
        report.asks.push(Ask::new(
            "diameter where the bore is not worn",
            "gaps give differences; with it they give diameters.",
            "Measure it below the travel of the rings, or give the size it was made to, with --nominal.",
        ));
    }
    if least.si() <= 0.0 {
        report.findings.push(
            Finding::new("ring-butts", tightest, "the ring has no gap here: it butts")
                .next("open the gap before it is used; a ring that butts scores the bore"),
        );
    }
    report.findings.push(
        Finding::new(
            "ring-averages",
            "",
            "a ring's gap gives the mean size at its depth; it shows no out-of-round",
        )
        .next("set new gaps where the ring is tightest, at the bottom of a worn bore")
        .weight(Weight::Note),
    );
}

#[cfg(test)]
mod tests {
    use quantity::unit::MILLIMETRE;

    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    /// Source: 0.05 mm of taper opens a ring's gap by 0.157 mm. *Computed: π × 0.05.*
    #[test]
    fn a_gap_that_grows_by_pi_times_the_taper_gives_it_back() {
        let asked = RingGaps {
            gaps: vec![("top".into(), mm(0.507)), ("bottom".into(), mm(0.350))],
            unworn: Some(mm(86.0)),
            taper: None,
            expanded: None,
            unit: MILLIMETRE,
        };
        let report = judge_ring(&asked);
        assert!((report.figure("taper").unwrap().value - 0.05e-3).abs() < 1e-7);
        assert!(report.asks.is_empty());
        let nameless = judge_ring(&RingGaps {
            unworn: None,
            ..asked.clone()
        });
        assert!((nameless.figure("taper").unwrap().value - 0.05e-3).abs() < 1e-7);
        assert_eq!(nameless.asks.len(), 1);
        assert_eq!(
            judge_ring(&RingGaps {
                gaps: Vec::new(),
                ..asked
            })
            .exit_status(),
            2
        );
    }
}
