//! The length of bolts: too long to be used again, grown for good, or stretched as they sit.
//!
//! Three questions with three limits, kept apart. A maker that says *replace* is never
//! overruled by a length.

#[cfg(test)]
mod tests;

use calc::decision::DecisionError;
use calc::stretch::{self, BoltSpring, End, bolt_stiffness};
use calc::thread::Thread;
use calc::tightening::TighteningError;
use quantity::{
    Force, Length, NotFinite, Quantity, Stress, TemperatureDifference, Unit, show, show_fixed, unit,
};
use report::{
    Align, Ask, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Verdict, Weight,
};
use thiserror::Error;

use crate::limit::{Act, Decision, Limit, Reading, Whose, decide, gravity, shown};

const COMMAND: &str = "stretch";
const TITLE: &str = "Length of bolts";
/// Modulus of steel in MPa. *From memory*: handbook value.
const STEEL_MPA: f64 = 205_000.0;

/// A bolt that was measured tight, as a spring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// The thread.
    pub thread: Thread,
    /// What lies between head and nut or tapped part.
    pub grip: Length,
    /// Plain shank within it.
    pub shank: Length,
    /// What the end sits in.
    pub end: End,
}

/// The question. All lists go bolt by bolt in one order; nothing where none was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Free lengths now.
    pub free: Vec<Option<Length>>,
    /// The most a free bolt may measure.
    pub limit: Option<Limit<Length>>,
    /// Free lengths before they were tightened.
    pub before: Vec<Option<Length>>,
    /// The most a bolt may have grown for good.
    pub growth: Option<Limit<Length>>,
    /// How much warmer the bolts are now than before.
    pub warmer: Option<TemperatureDifference>,
    /// Lengths as they sit, tightened.
    pub tight: Vec<Option<Length>>,
    /// How far they are to be stretched.
    pub wanted: Option<Limit<Length>>,
    /// What turns a stretch into a preload.
    pub spring: Option<Spring>,
    /// Expanded uncertainty of one reading.
    pub expanded: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
}

/// Why lengths cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Tightening(#[from] TighteningError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
    #[error("no length was given")]
    Empty,
    #[error("{free} bolts were measured free and {other} {how}")]
    Counts {
        free: usize,
        other: usize,
        how: &'static str,
    },
    #[error("bolt {bolt} measures less tightened than free")]
    Shorter { bolt: usize },
}

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("lengths", "", fault.to_string())
            .next("give the same bolts in the same order in every list, `-` for one not measured");
        Report::refusal(COMMAND, TITLE, finding)
    })
}

fn answer(asked: &Asked) -> Result<Report, Unanswerable> {
    if asked.free.is_empty() {
        return Err(Unanswerable::Empty);
    }
    for (list, how) in [(&asked.before, "before"), (&asked.tight, "tightened")] {
        if !list.is_empty() && list.len() != asked.free.len() {
            return Err(Unanswerable::Counts {
                free: asked.free.len(),
                other: list.len(),
                how,
            });
        }
    }
    let bolts = (0..asked.free.len())
        .map(|at| Bolt::of(asked, at))
        .collect::<Result<Vec<Bolt>, Unanswerable>>()?;
    let mut report = Report::new(COMMAND, TITLE);
    lead(&mut report, asked, &bolts);
    figures(&mut report, asked, &bolts)?;
    report.rows = rows(asked, &bolts);
    about_growth(&mut report, asked)?;
    about_tight(&mut report, asked)?;
    whose(&mut report, asked);
    ends(&mut report, asked);
    Ok(report)
}

/// One bolt: what was found of it and how it stands to each limit.
struct Bolt {
    number: usize,
    free: Option<Length>,
    grown: Option<Length>,
    stretched: Option<Length>,
    decisions: Vec<Decision>,
}

impl Bolt {
    fn of(asked: &Asked, at: usize) -> Result<Self, Unanswerable> {
        let number = at + 1;
        let of = |list: &[Option<Length>]| list.get(at).copied().flatten();
        let (free, before, tight) = (of(&asked.free), of(&asked.before), of(&asked.tight));
        let mut decisions = Vec::new();
        if let Some(limit) = &asked.limit {
            let reading = free.map(|free| Reading::exactly(free).with(asked.expanded));
            decisions.push(asked.decide(&format!("bolt {number}"), reading, limit)?);
        }
        let grown = match free.zip(before) {
            Some((free, before)) => Some(grown(asked, before, free)?),
            None => None,
        };
        if let Some(limit) = &asked.growth {
            let reading = grown.map(|grown| Reading::exactly(grown).with(asked.difference()));
            decisions.push(asked.decide(&format!("growth of bolt {number}"), reading, limit)?);
        }
        let stretched = match free.zip(tight) {
            Some((free, tight)) if tight >= free => Some(tight - free),
            Some(_) => return Err(Unanswerable::Shorter { bolt: number }),
            None => None,
        };
        if let Some(limit) = &asked.wanted {
            let reading = stretched.map(|way| Reading::exactly(way).with(asked.difference()));
            decisions.push(asked.decide(&format!("stretch of bolt {number}"), reading, limit)?);
        }
        Ok(Self {
            number,
            free,
            grown,
            stretched,
            decisions,
        })
    }

    /// The decision that weighs most; the first of several alike.
    fn worst(&self) -> Option<&Decision> {
        self.decisions
            .iter()
            .rev()
            .max_by_key(|decision| gravity(decision.verdict))
    }
}

impl Asked {
    /// Two readings of one instrument leave √2 as much open as one.
    fn difference(&self) -> Option<Length> {
        let one = self.expanded?;
        Length::from_si(std::f64::consts::SQRT_2 * one.si()).ok()
    }

    fn decide(
        &self,
        what: &str,
        reading: Option<Reading<Length>>,
        limit: &Limit<Length>,
    ) -> Result<Decision, Unanswerable> {
        let acts = micrometer()?;
        Ok(decide(what, reading.as_ref(), limit, &acts, &self.unit)?)
    }
}

/// *Common practice, no source*: what a micrometer with rounded anvils leaves open over bolt
/// ends, once for one reading and once for a difference.
fn micrometer() -> Result<Vec<Act<Length>>, NotFinite> {
    Ok(vec![Act {
        says: "measure it again with a micrometer or a height gauge at 20 °C, ends cleaned (about ± 0.01 mm)".into(),
        minutes: 5,
        leaves: Length::mm(0.01)?,
    }])
}

/// What a bolt has grown for good, warmth taken off.
fn grown(asked: &Asked, before: Length, after: Length) -> Result<Length, Unanswerable> {
    let growth = stretch::lasting_growth(before, after, Length::from_si(0.0)?)?.length;
    Ok(match asked.warmer {
        Some(warmer) => growth - stretch::thermal_growth(before, warmer)?,
        None => growth,
    })
}

/// The worst bolt leads; every other that is not within is named.
fn lead(report: &mut Report, asked: &Asked, bolts: &[Bolt]) {
    let mut judged: Vec<(usize, &Decision)> = bolts
        .iter()
        .filter_map(|bolt| Some((bolt.number, bolt.worst()?)))
        .collect();
    judged
        .sort_by_key(|(number, decision)| (std::cmp::Reverse(gravity(decision.verdict)), *number));
    let Some(((_, worst), rest)) = judged.split_first() else {
        report.headline = Some("No limit to judge by.".to_owned());
        report.asks.push(Ask::new(
            "the maker's limit",
            "without one a length says nothing about using a bolt again.",
            "Look at the bolts' own page of the maker's book: give --limit for the free length, --most-growth, or --stretch for rod-bolt practice.",
        ));
        return;
    };
    worst.lead(report);
    if worst.verdict == Verdict::Within && asked.free.len() > 1 {
        report.headline = Some(match asked.free.len() {
            2 => "Both bolts keep their limits.".to_owned(),
            count => format!("All {count} bolts keep their limits."),
        });
    }
    if worst.verdict == Verdict::Outside {
        report.findings.push(
            Finding::new("replace", "", "a bolt beyond its limit is not used again")
                .next("replace it; where one has stretched, most makers want the whole set new")
                .weight(Weight::Stop),
        );
    }
    for (number, decision) in rest {
        if decision.verdict == Verdict::Within {
            continue;
        }
        let mut finding = decision
            .finding(&format!("bolt {number}"))
            .unwrap_or_else(|| {
                Finding::new("beyond", format!("bolt {number}"), decision.says.clone())
            });
        if decision.verdict == Verdict::Outside {
            finding = finding.weight(Weight::Stop);
        }
        report.findings.push(finding);
    }
}

fn longest(bolts: &[Bolt], of: impl Fn(&Bolt) -> Option<Length>) -> Option<Length> {
    bolts
        .iter()
        .filter_map(of)
        .reduce(|held, next| if next > held { next } else { held })
}

fn figures(report: &mut Report, asked: &Asked, bolts: &[Bolt]) -> Result<(), Unanswerable> {
    let unit = &asked.unit;
    if let Some(free) = longest(bolts, |bolt| bolt.free) {
        report.figures.push(Figure::new(
            "longest",
            "longest, free",
            free,
            show(free, unit),
        ));
    }
    if let Some(grown) = longest(bolts, |bolt| bolt.grown) {
        let mut figure = Figure::new("growth", "grown for good, most", grown, show(grown, unit));
        if let Some(doubt) = asked.difference() {
            figure = figure.note(format!("± {}, two readings", show_fixed(doubt, unit, 4)));
        }
        report.figures.push(figure);
    }
    if let Some(way) = longest(bolts, |bolt| bolt.stretched) {
        report.figures.push(Figure::new(
            "stretch",
            "stretched, most",
            way,
            show(way, unit),
        ));
    }
    let Some(spring) = &asked.spring else {
        return Ok(());
    };
    let stiffness = stiffness(spring)?;
    if let Some(way) = longest(bolts, |bolt| bolt.stretched) {
        let force = Force::from_si(way.si() * stiffness)?;
        let mut figure = Figure::new("preload", "preload of that one", force, kilonewtons(force));
        if let Some(doubt) = asked.difference() {
            let off = doubt.si() * stiffness;
            let low = Force::from_si((force.si() - off).max(0.0))?;
            figure = figure
                .between(low, Force::from_si(force.si() + off)?)
                .note(format!(
                    "± {} for the readings",
                    kilonewtons(Force::from_si(off)?)
                ));
        }
        report.figures.push(figure);
    }
    let slip = Force::from_si(Length::mm(0.01)?.si() * stiffness)?;
    report.because.push(format!(
        "A hundredth of a millimetre misread is {} here.",
        kilonewtons(slip)
    ));
    Ok(())
}

/// Newtons a metre.
fn stiffness(spring: &Spring) -> Result<f64, Unanswerable> {
    let bolt = BoltSpring {
        thread: spring.thread,
        shank: spring.shank,
        free_thread: Length::from_si(spring.grip.si() - spring.shank.si())?,
        end: spring.end,
        modulus: Stress::megapascals(STEEL_MPA)?,
    };
    Ok(bolt_stiffness(&bolt)?.si())
}

fn kilonewtons(force: Force) -> String {
    show_fixed(force, &unit::KILONEWTON, 1)
}

fn rows(asked: &Asked, bolts: &[Bolt]) -> Table {
    let mut columns = vec![
        ("bolt", "bolt", Align::Right),
        ("free", "free", Align::Right),
    ];
    let with = [
        (!asked.before.is_empty(), ("grown", "grown", Align::Right)),
        (
            !asked.tight.is_empty(),
            ("stretch", "stretched", Align::Right),
        ),
    ];
    columns.extend(
        with.iter()
            .filter(|(there, _)| *there)
            .map(|(_, column)| *column),
    );
    columns.push(("verdict", "verdict", Align::Left));
    let mut table = Table::new(&columns);
    for bolt in bolts {
        let cell = |name, value: Option<Length>| match value {
            Some(value) => Cell::from(Figure::new(name, name, value, shown(value, &asked.unit))),
            None => Cell::None,
        };
        let mut row = vec![Cell::from(bolt.number), cell("free", bolt.free)];
        if !asked.before.is_empty() {
            row.push(cell("grown", bolt.grown));
        }
        if !asked.tight.is_empty() {
            row.push(cell("stretch", bolt.stretched));
        }
        row.push(match bolt.worst() {
            Some(decision) => Cell::from(decision.verdict),
            None => Cell::None,
        });
        table.push(row);
    }
    table
}

/// Conditions a difference of two free lengths stands or falls with.
fn about_growth(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    if asked.before.is_empty() {
        return Ok(());
    }
    let Some(before) = asked.before.iter().flatten().next() else {
        return Ok(());
    };
    let ten = TemperatureDifference::kelvins(10.0)?;
    match asked.warmer {
        Some(warmer) => report.because.push(format!(
            "{} of warmth were taken off: it passes, growth stays.",
            show(stretch::thermal_growth(*before, warmer)?, &asked.unit)
        )),
        None => report.because.push(format!(
            "Both readings are taken as made at one temperature; 10 K warmer looks like {} of growth (--warmer).",
            show_fixed(stretch::thermal_growth(*before, ten)?, &unit::MILLIMETRE, 3)
        )),
    }
    report.cite(Source::new(
        SourceKind::FromMemory,
        "expansion of steel, 11.5 µm a metre and kelvin",
    ));
    Ok(())
}

/// What a stretch needs to become a preload, and its model.
fn about_tight(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    if asked.tight.is_empty() {
        return Ok(());
    }
    if asked.spring.is_none() {
        report.asks.push(Ask::new(
            "thread, grip and shank",
            "the stretch alone does not say how hard the bolt clamps.",
            "Give --thread, --grip and --shank for the preload.",
        ));
        return Ok(());
    }
    report.because.push(
        "Preload = stretch × stiffness of the bolt, head and engaged thread reckoned in; elastic only."
            .to_owned(),
    );
    report.cite(Source::new(
        SourceKind::FromMemory,
        "VDI 2230, substitute lengths of a bolt",
    ));
    Ok(())
}

/// Whose leave it is: only the maker's.
fn whose(report: &mut Report, asked: &Asked) {
    for limit in [&asked.limit, &asked.growth].into_iter().flatten() {
        if let Some(source) = limit.source() {
            report.cite(source);
        }
        if limit.whose != Whose::Maker && !report.finds("not-the-makers") {
            report.findings.push(
                Finding::new(
                    "not-the-makers",
                    "",
                    "a length limit that is not the maker's is no leave to use a stretch bolt again",
                )
                .next("look in the maker's book; then say --limit-source maker and where it stands"),
            );
        }
    }
    if let Some(source) = asked.wanted.as_ref().and_then(Limit::source) {
        report.cite(source);
    }
}

fn ends(report: &mut Report, asked: &Asked) {
    if asked.expanded.is_none() {
        report.asks.push(Ask::new(
            "what the instrument leaves open",
            "a bolt near its limit cannot be told without it.",
            "Give --uncertainty: a caliper about \"0.05 mm\", a micrometer about \"0.01 mm\".",
        ));
    }
    report.cautions.push(Caution::new(
        "using bolts again",
        "Where the maker says new bolts, new bolts it is, whatever they measure. A good length says nothing of nicks, rust or a necked thread: look at each.",
    ));
    report.cite(Source::new(
        SourceKind::Published,
        "ISO 14253-1, decision rule; from a summary",
    ));
}
