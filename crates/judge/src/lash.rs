//! Valve lash: what was found, which shim goes where, and whether the readings afterwards
//! agree with the arithmetic.
//!
//! The choice of shims is `calc::lash`; here stand verdicts, words and the order of work.

mod after;
mod cut;
mod shims;
mod turn;

#[cfg(test)]
mod tests;

use calc::decision::DecisionError;
use calc::lash::{Aim, LashError, without_film};
use quantity::{Bound, Length, NotFinite, Quantity, Range, Unit, show_range};
use report::{Ask, Caution, Figure, Finding, Report, Source, Verdict, Weight};
use thiserror::Error;

use crate::limit::{Decision, Limit, Reading, decide};
pub use after::{After, check};

/// A window whose ends lie further apart than this was likely mistyped: `.006-.10 in`.
const ODD_RATIO: f64 = 8.0;

/// Inlet or exhaust.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Port {
    /// Inlet.
    Inlet,
    /// Exhaust: never set tight.
    Exhaust,
}

/// What sets the clearance.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Adjuster {
    /// Shims, and whether the cams come out was not said.
    #[default]
    Shim,
    /// Shims on top of the bucket, changed with the cam in place.
    ShimOver,
    /// Shims under the bucket: changing one means cams out.
    ShimUnder,
    /// Screw and nut.
    Screw,
    /// Hydraulic: no clearance to set, a preload instead.
    Hydraulic,
}

/// One valve as found.
#[derive(Clone, Debug, PartialEq)]
pub struct Valve {
    /// Its name on the sheet.
    pub name: String,
    /// Inlet or exhaust.
    pub port: Port,
    /// The clearance; nothing where it was not measured.
    pub clearance: Option<Bound<Length>>,
    /// The shim under it now.
    pub shim: Option<Length>,
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Lash {
    /// The valves, in the order of the sheet.
    pub valves: Vec<Valve>,
    /// The clearance of an inlet valve.
    pub inlet: Range<Length>,
    /// The clearance of an exhaust valve.
    pub exhaust: Range<Length>,
    /// Single shims at hand.
    pub stock: Vec<Length>,
    /// Sizes sold come in multiples of this.
    pub step: Option<Length>,
    /// What sets the clearance.
    pub adjuster: Adjuster,
    /// What is to be least; chosen by the adjuster where not said.
    pub aim: Option<Aim>,
    /// A sealant film that will lift the cams and is not there while measuring.
    pub film: Option<Length>,
    /// How far the valves sank when seats or faces were cut after the readings of the sheet.
    pub sink: Option<Length>,
    /// Advance of the adjusting screw per turn.
    pub pitch: Option<Length>,
    /// Readings after the shims were fitted.
    pub after: Vec<After>,
    /// The unit to show.
    pub unit: Unit,
}

/// Why shims cannot be chosen.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Lash(#[from] LashError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Answers.
#[must_use]
pub fn judge(asked: &Lash) -> Report {
    const TITLE: &str = "Valve lash";
    if asked.adjuster == Adjuster::Hydraulic {
        return hydraulic(TITLE);
    }
    cut::sunk(asked)
        .and_then(|asked| answer(&asked, TITLE))
        .unwrap_or_else(|fault| {
            let finding = Finding::new("lash", "", fault.to_string())
                .next("look at the windows and shims of the sheet, and the unit they are in");
            Report::refusal("lash", TITLE, finding)
        })
}

fn answer(asked: &Lash, title: &str) -> Result<Report, Unanswerable> {
    let windows = Windows::of(asked)?;
    let mut report = Report::new("lash", title);
    let decisions = asked
        .valves
        .iter()
        .map(|valve| windows.decide(valve, &asked.unit))
        .collect::<Result<Vec<Decision>, Unanswerable>>()?;
    overall(&mut report, &decisions);
    windows.question(&mut report, asked);
    if asked.adjuster == Adjuster::Screw {
        turn::tell(&mut report, asked, &windows, &decisions)?;
    } else {
        shims::choose(&mut report, asked, &windows, &decisions)?;
    }
    for (valve, decision) in asked.valves.iter().zip(&decisions) {
        report.findings.extend(decision.finding(&valve.name));
    }
    after::tell(&mut report, asked, &windows)?;
    cut::tell(&mut report, asked);
    before_the_cams(&mut report, asked);
    manners(&mut report, asked);
    Ok(report)
}

/// The windows in force: dry ones where a film will lift the cams.
struct Windows {
    inlet: Range<Length>,
    exhaust: Range<Length>,
}

impl Windows {
    fn of(asked: &Lash) -> Result<Self, Unanswerable> {
        let dry = |window| match asked.film {
            Some(film) => without_film(window, film),
            None => Ok(window),
        };
        Ok(Self {
            inlet: dry(asked.inlet)?,
            exhaust: dry(asked.exhaust)?,
        })
    }

    const fn of_port(&self, port: Port) -> Range<Length> {
        match port {
            Port::Inlet => self.inlet,
            Port::Exhaust => self.exhaust,
        }
    }

    fn decide(&self, valve: &Valve, unit: &Unit) -> Result<Decision, Unanswerable> {
        let limit = Limit::between(self.of_port(valve.port));
        let reading = valve.clearance.map(Reading::bound);
        Ok(decide(
            &format!("{} clearance", valve.name),
            reading.as_ref(),
            &limit,
            &[],
            unit,
        )?)
    }

    /// Says the dry window, and asks about a window nobody would print.
    fn question(&self, report: &mut Report, asked: &Lash) {
        for (name, typed, used) in [
            ("inlet", asked.inlet, self.inlet),
            ("exhaust", asked.exhaust, self.exhaust),
        ] {
            if asked.film.is_some() {
                let shown = show_range(used, &asked.unit);
                report.figures.push(
                    Figure::new(
                        if name == "inlet" {
                            "inlet_dry"
                        } else {
                            "exhaust_dry"
                        },
                        format!("{name}, without the film"),
                        used.low,
                        shown,
                    )
                    .between(used.low, used.high)
                    .note("the film lifts the cam and adds clearance, so less is set dry"),
                );
            }
            if typed.high.si() >= ODD_RATIO * typed.low.si() && typed.low.si() > 0.0 {
                let says = format!(
                    "{} is {:.0} times as wide at its high end; no maker prints that",
                    show_range(typed, &asked.unit),
                    typed.high.si() / typed.low.si()
                );
                report.findings.push(
                    Finding::new("odd-window", name, says)
                        .next("read the book again: a zero may be missing behind the point"),
                );
            }
        }
    }
}

fn overall(report: &mut Report, decisions: &[Decision]) {
    let count = |verdict| {
        decisions
            .iter()
            .filter(|decision| decision.verdict == verdict)
            .count()
    };
    let (outside, open, missing) = (
        count(Verdict::Outside),
        count(Verdict::Undecided),
        count(Verdict::NotMeasured),
    );
    let verdict = match (outside, open, missing) {
        (1.., _, _) => Verdict::Outside,
        (_, 1.., _) => Verdict::Undecided,
        (_, _, 1..) => Verdict::NotMeasured,
        _ if decisions.is_empty() => Verdict::NotMeasured,
        _ => Verdict::Within,
    };
    let mut parts = vec![format!("{outside} of {} outside as found", decisions.len())];
    if open > 0 {
        parts.push(format!("{open} undecided"));
    }
    if missing > 0 {
        parts.push(format!("{missing} not measured"));
    }
    report.verdict = Some(verdict);
    report.headline = Some(format!("{}.", parts.join(", ")));
}

/// Where cams must come out to change one shim, every valve is read before.
fn before_the_cams(report: &mut Report, asked: &Lash) {
    let unread: Vec<&str> = asked
        .valves
        .iter()
        .filter(|valve| valve.clearance.is_none())
        .map(|valve| valve.name.as_str())
        .collect();
    if asked.adjuster != Adjuster::ShimUnder || unread.is_empty() {
        return;
    }
    report.findings.push(
        Finding::new(
            "read-all-first",
            unread.join(", "),
            "not read, and once a cam is out no clearance can be read",
        )
        .points_to("shims chosen for half a set: the cams come out a second time")
        .next("read these before the first cap is loosened, then choose for the whole set")
        .weight(Weight::Stop),
    );
}

/// Order of work, and what is not trusted.
fn manners(report: &mut Report, asked: &Lash) {
    if asked.adjuster == Adjuster::ShimUnder {
        report.cautions.push(Caution::new(
            "before the cams come out",
            "read every valve first: once a cam is out no clearance can be read. Loosen its caps evenly, in rounds, by the maker's order.",
        ));
    }
    if asked.sink.is_none() {
        report.findings.push(
            Finding::new("shims-last", "", "cutting seats or valve faces closes every clearance: choose shims after that work, or give --seats-cut").weight(Weight::Note),
        );
    }
    report.cite(Source::common_practice("new shim = old shim + found − wanted; exhaust never tight; measure shims, do not trust their marks"));
}

fn hydraulic(title: &str) -> Report {
    let mut report = Report::new("lash", title);
    report.headline =
        Some("Hydraulic followers have no clearance to set; they have a preload.".to_owned());
    report.verdict = Some(Verdict::NotMeasured);
    report.asks.push(Ask::new(
        "plunger travel of each follower",
        "a follower that is pumped up or dry holds a valve open and falsifies compression readings.",
        "Turn the lobe away, let the follower leak down, measure how far the plunger sits in; the maker's travel wins over the usual 0.5 to 1.0 mm.",
    ));
    report.cite(Source::common_practice(
        "hydraulic preload 0.5 to 1.0 mm of plunger travel",
    ));
    report
}
