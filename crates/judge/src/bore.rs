//! A bore or journal from diameters at depths and directions, as the shop means it, with what
//! ISO means beside it and what a two-point gauge cannot see.

mod ring;
mod spokes;

#[cfg(test)]
mod tests;

use calc::bore::{BoreError, out_of_round, ring_gap_change, taper};
use calc::clearance::{ClearanceError, between};
use calc::decision::DecisionError;
use quantity::{Length, NotFinite, Quantity, Unit, show, show_fixed, unit};
use report::{Align, Cell, Figure, Finding, Report, Table, Weight};
use thiserror::Error;

use crate::limit::{Act, Limit, Reading, Whose, decide, gravity};
pub use ring::{RingGaps, judge_ring};
pub use spokes::{Section, judge_section};

/// Decimals beyond which nothing is told apart in a workshop, in millimetres or inches.
const MOST_DECIMALS: usize = 4;

/// One diameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Diameter {
    /// At which depth: `top`, `10 mm`.
    pub depth: String,
    /// In which direction: `thrust`, `axial`.
    pub direction: String,
    /// The reading.
    pub size: Length,
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The diameters, in the order of the sheet.
    pub diameters: Vec<Diameter>,
    /// A shaft: wear makes it smaller.
    pub journal: bool,
    /// The size it was made to.
    pub nominal: Option<Length>,
    /// The most it may be out of round.
    pub round: Option<Limit<Length>>,
    /// The most it may taper.
    pub taper: Option<Limit<Length>>,
    /// Expanded uncertainty of a difference.
    pub expanded: Option<Length>,
    /// The piston skirt that runs in it.
    pub skirt: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

/// Why a bore cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Bore(#[from] BoreError),
    #[error(transparent)]
    Clearance(#[from] ClearanceError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

impl Asked {
    /// A difference with as many decimals as the finest diameter was read to: 0.050 beside
    /// 0.031.
    fn written(&self, length: Length) -> String {
        show_fixed(length, &self.unit, self.decimals())
    }

    fn decimals(&self) -> usize {
        let whole = |decimals: usize| {
            let scale = (0..decimals).fold(1.0, |scale, _| 10.0 * scale);
            self.diameters
                .iter()
                .map(|diameter| diameter.size)
                .chain(self.skirt)
                .chain(self.nominal)
                .all(|size| {
                    let scaled = self.unit.of_si(size.si()) * scale;
                    // A reading that went through metres and back is off by float noise only.
                    (scaled - scaled.round()).abs() < 1e-7 * scaled.abs().max(1.0)
                })
        };
        (0..MOST_DECIMALS)
            .find(|&decimals| whole(decimals))
            .unwrap_or(MOST_DECIMALS)
    }
}

/// What settles an open case, *common practice, no source*.
fn acts() -> Result<Vec<Act<Length>>, Unanswerable> {
    Ok(vec![
        Act {
            says: "set a dial bore gauge in a micrometer or ring and measure again, three times a place (about ± 0.005 mm)".into(),
            minutes: 20,
            leaves: Length::mm(0.005)?,
        },
        Act {
            says: "have it measured at the machine shop (about ± 0.002 mm)".into(),
            minutes: 240,
            leaves: Length::mm(0.002)?,
        },
    ])
}

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    let title = if asked.journal { "Journal" } else { "Bore" };
    answer(asked, title).unwrap_or_else(|fault| {
        let finding = Finding::new("bore", "", fault.to_string())
            .next("read two directions at three depths at least: below the ring ridge, in the middle, at the bottom");
        Report::refusal("bore", title, finding)
    })
}

fn answer(asked: &Asked, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("bore", title);
    let levels = groups(&asked.diameters, |diameter| &diameter.depth);
    let directions = groups(&asked.diameters, |diameter| &diameter.direction);
    let mut table = Table::new(&[
        ("where", "where", Align::Left),
        ("what", "what", Align::Left),
        ("value", "out by", Align::Right),
    ]);
    let round = worst(&mut table, &levels, "out-of-round", out_of_round, asked)?;
    let cone = worst(&mut table, &directions, "taper", taper, asked)?;
    report.rows = table;
    for (name, label, found, note) in [
        (
            "out_of_round",
            "out of round",
            round,
            "largest less smallest diameter at one depth, as the shop means it",
        ),
        (
            "taper",
            "taper",
            cone,
            "largest less smallest diameter down one direction, as the shop means it",
        ),
    ] {
        if let Some(found) = found {
            report
                .figures
                .push(Figure::new(name, label, found, asked.written(found)).note(note));
        }
    }
    if let Some(round) = round {
        let radial = Length::from_si(round.si() / 2.0)?;
        report.figures.push(
            Figure::new(
                "roundness",
                "roundness as ISO has it",
                radial,
                show(radial, &asked.unit),
            )
            .note("radial, half the shop's figure; if the bore is oval and nothing else"),
        );
    }
    verdicts(&mut report, asked, round, cone)?;
    wear(&mut report, asked, cone)?;
    if !asked.journal {
        report.findings.push(
            Finding::new("three-lobes", "", "a two-point gauge cannot see three lobes: their diameter is the same all round")
                .next("use a three-point head or map the gap of one ring where honing distortion is suspected")
                .weight(Weight::Note),
        );
    }
    Ok(report)
}

/// Diameters that share a name, in the order of the sheet.
fn groups(diameters: &[Diameter], of: impl Fn(&Diameter) -> &String) -> Vec<(String, Vec<Length>)> {
    let mut groups: Vec<(String, Vec<Length>)> = Vec::new();
    for diameter in diameters {
        match groups.iter_mut().find(|(name, _)| name == of(diameter)) {
            Some((_, sizes)) => sizes.push(diameter.size),
            None => groups.push((of(diameter).clone(), vec![diameter.size])),
        }
    }
    groups
}

/// The worst of the groups that have two readings and more; each of them is a row.
fn worst(
    table: &mut Table,
    groups: &[(String, Vec<Length>)],
    what: &'static str,
    of: fn(&[Length]) -> Result<Length, BoreError>,
    asked: &Asked,
) -> Result<Option<Length>, Unanswerable> {
    let mut worst: Option<Length> = None;
    for (name, sizes) in groups.iter().filter(|(_, sizes)| sizes.len() >= 2) {
        let found = of(sizes)?;
        table.push(vec![
            Cell::from(name.clone()),
            Cell::from(what),
            Cell::from(Figure::new("value", what, found, asked.written(found))),
        ]);
        worst = Some(worst.map_or(found, |held| if found > held { found } else { held }));
    }
    Ok(worst)
}

fn verdicts(
    report: &mut Report,
    asked: &Asked,
    round: Option<Length>,
    cone: Option<Length>,
) -> Result<(), Unanswerable> {
    let usual = |inch: f64, place: &str| -> Result<Limit<Length>, Unanswerable> {
        Ok(Limit::most(Length::inches(inch)?)
            .by_default(Whose::CommonPractice, place)
            .stated_in(unit::INCH_UNIT))
    };
    let old_iron = (
        usual(0.002, "old iron bores; far less on modern rings")?,
        usual(0.005, "old iron bores; far less on modern rings")?,
    );
    let asked_of = [
        (
            "out of round",
            round,
            asked.round.clone().unwrap_or(old_iron.0),
        ),
        ("taper", cone, asked.taper.clone().unwrap_or(old_iron.1)),
    ];
    let ask = asked_of
        .iter()
        .find_map(|(_, _, limit)| limit.ask_for_makers("--limit-round, --limit-taper"));
    report.asks.extend(ask);
    let mut led = 0;
    for (what, found, limit) in asked_of {
        let reading = found.map(|found| Reading::exactly(found).with(asked.expanded));
        let decision = decide(what, reading.as_ref(), &limit, &acts()?, &asked.unit)?;
        let rank = gravity(decision.verdict);
        if rank > led {
            led = rank;
            report.verdict = Some(decision.verdict);
            report.headline = Some(decision.says.clone());
        }
        report.because.push(format!("{what}: {}", decision.because));
        report.findings.extend(decision.finding(what));
        if let Some(source) = limit.source() {
            report.cite(source);
        }
    }
    Ok(())
}

/// No wear and no regrind goes further than this share of a size. *Common practice, no source:*
/// 1.5 mm oversize or undersize is about the last.
const ANOTHER_SIZE: f64 = 0.04;
/// Wear the wrong way round by more than this is no scatter of a gauge.
const TURNED_ROUND_MM: f64 = 0.02;

fn is_another(nominal: Length, worn: Length) -> bool {
    worn.si().abs() > ANOTHER_SIZE * nominal.si().abs()
}

/// A size it was made to that cannot be this one's.
fn odd_nominal(asked: &Asked, nominal: Length, worn: Length, read: Length) -> Option<Finding> {
    let what = if asked.journal { "journal" } else { "bore" };
    let (made, read) = (asked.written(nominal), asked.written(read));
    if is_another(nominal, worn) {
        return Some(
            Finding::new(
                "odd-nominal",
                "--nominal",
                format!("no {what} made to {made} reads {read}"),
            )
            .next("read the size it was made to again, with its unit")
            .weight(Weight::Stop),
        );
    }
    (worn.si() < -TURNED_ROUND_MM / 1000.0).then(|| {
        let way = if asked.journal { "larger" } else { "smaller" };
        Finding::new(
            "odd-nominal",
            "--nominal",
            format!("the {what} reads {way} than the {made} it was made to, and wear goes the other way"),
        )
        .next("set the gauge again in a ring or micrometer; an oversize or undersize has a nominal of its own")
    })
}

/// Wear against the size it was made to, the piston in it, and what its taper does to a ring.
fn wear(report: &mut Report, asked: &Asked, cone: Option<Length>) -> Result<(), Unanswerable> {
    let sizes = asked.diameters.iter().map(|diameter| diameter.size.si());
    let largest = Length::from_si(sizes.clone().fold(f64::NEG_INFINITY, f64::max))?;
    let smallest = Length::from_si(sizes.fold(f64::INFINITY, f64::min))?;
    if let Some(nominal) = asked.nominal {
        let worn = if asked.journal {
            nominal - smallest
        } else {
            largest - nominal
        };
        report.findings.extend(odd_nominal(
            asked,
            nominal,
            worn,
            if asked.journal { smallest } else { largest },
        ));
        if worn.si() > -TURNED_ROUND_MM / 1000.0 && !is_another(nominal, worn) {
            report
                .figures
                .push(Figure::new("wear", "most wear", worn, asked.written(worn)));
        }
    }
    if let Some(skirt) = asked.skirt {
        let (tight, loose) = (between(smallest, skirt)?, between(largest, skirt)?);
        report.figures.push(
            Figure::new(
                "piston_clearance",
                "piston to wall",
                tight,
                format!("{} to {}", asked.written(tight), asked.written(loose)),
            )
            .between(tight, loose)
            .note("at the tightest and the widest place; judge it with `clearance piston-cast`"),
        );
    }
    if let Some(cone) = cone.filter(|_| !asked.journal) {
        let opens = ring_gap_change(cone)?;
        report.figures.push(
            Figure::new(
                "ring_gap_change",
                "a ring's gap opens by",
                opens,
                show(opens, &asked.unit),
            )
            .note("over the taper; set gaps at the bottom, where it is tightest"),
        );
    }
    Ok(())
}
