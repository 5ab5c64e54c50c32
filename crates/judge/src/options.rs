//! Repair, replace, sell: every way out must cure all known faults, or it is no way out.
//!
//! Money that is spent is left out. The answer is a set of ways with their ranges, not a
//! winner: risk, hours and stop-points belong to the person who pays.

use calc::options::{Money, OptionsError, Way, break_even, outlook};
use quantity::unit::PERCENT;
use quantity::{
    Duration, Length, NotFinite, Range, Ratio, Unit, show, show_fixed, show_range, unit,
};
use report::{Align, Ask, Cell, Figure, Finding, Report, Source, Table, Verdict, Weight};
use thiserror::Error;

mod stop;
#[cfg(test)]
mod tests;

pub use stop::{StopFigures, StopPoint};

/// A cost this many times the middle one is questioned when its text ends in k.
const SLIP: f64 = 100.0;

/// A cost as a range, with the text it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// The least.
    pub low: Money,
    /// The most.
    pub high: Money,
    /// As it was typed.
    pub typed: String,
}

impl Cost {
    fn middle(&self) -> f64 {
        f64::midpoint(self.low.amount(), self.high.amount())
    }

    fn shown(&self) -> String {
        if self.low == self.high {
            whole(self.low.amount())
        } else {
            format!("{}–{}", whole(self.low.amount()), whole(self.high.amount()))
        }
    }
}

/// One way out.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// The known faults it cures.
    pub cures: Vec<String>,
    /// What it costs from here on.
    pub cost: Cost,
    /// Hours of one's own work.
    pub hours: Option<Range<Duration>>,
    /// How long the vehicle stands.
    pub downtime: Option<Range<Duration>>,
    /// Where to stop and think again, with what is then known.
    pub stop_point: Option<StopPoint>,
    /// What is not known about it.
    pub risk: Option<String>,
    /// Waiting, with the sign that ends the wait.
    pub trigger: Option<String>,
    /// Life and worth, for cost over distance.
    pub way: Option<Way>,
}

/// The question.
#[derive(Clone, Debug)]
pub struct Options {
    /// Every known fault. Where none is told, whatever any way out cures is taken as known.
    pub faults: Vec<String>,
    /// The ways out.
    pub choices: Vec<Choice>,
    /// What the vehicle is worth, sound.
    pub value: Option<Money>,
    /// What was spent already.
    pub spent: Option<Money>,
    /// What one's own hour is worth; not priced where not told.
    pub hour: Option<Money>,
    /// Horizon for cost over distance.
    pub horizon: Option<Length>,
    /// Unit distances are shown in.
    pub distance: Unit,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Options(#[from] OptionsError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Compares the ways out.
#[must_use]
pub fn judge(asked: &Options) -> Report {
    let title = "Ways out, each held against all known faults";
    let refuse = |code, says: String, next: &str| {
        Report::refusal(
            "options",
            title,
            Finding::new(code, "options", says).next(next),
        )
    };
    if asked.choices.is_empty() {
        return refuse(
            "no-options",
            "no way out is named".to_owned(),
            "list at least one, better three",
        );
    }
    let told = !asked.faults.is_empty();
    let asked = &with_faults(asked);
    if asked.faults.is_empty() {
        return refuse(
            "no-faults",
            "no known fault is named".to_owned(),
            "name every known fault, so that a way out can be held against it",
        );
    }
    let mut report = answer(asked, title).unwrap_or_else(|fault| {
        refuse(
            "figures",
            fault.to_string(),
            "correct the figure or leave it out",
        )
    });
    if !told {
        report.because.push("No fault was named, so every fault that any way out cures counts as known; --fault names them.".to_owned());
    }
    report
}

/// The question with the faults its own ways out name, where none was told.
fn with_faults(asked: &Options) -> Options {
    let mut asked = asked.clone();
    if asked.faults.is_empty() {
        for cured in asked.choices.iter().flat_map(|choice| &choice.cures) {
            if !asked.faults.iter().any(|fault| same(fault, cured)) {
                asked.faults.push(cured.clone());
            }
        }
    }
    asked
}

/// A choice with its cost as taken, which may differ from the typed one where a slip is plain.
struct Held<'a> {
    choice: &'a Choice,
    cost: Cost,
    misses: Vec<&'a str>,
}

impl Held<'_> {
    fn cures_all(&self) -> bool {
        self.misses.is_empty()
    }

    /// Cost with own hours, where they are priced.
    fn whole_cost(&self, hour: Option<Money>) -> (f64, f64) {
        let (low, high) = (self.cost.low.amount(), self.cost.high.amount());
        match (hour, self.choice.hours) {
            (Some(hour), Some(hours)) => (
                low + hour.amount() * hours.low.in_hours(),
                high + hour.amount() * hours.high.in_hours(),
            ),
            _ => (low, high),
        }
    }
}

fn answer(asked: &Options, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("options", title);
    let held = hold(asked, &mut report)?;
    let mut left: Vec<&Held<'_>> = held.iter().filter(|held| held.cures_all()).collect();
    left.sort_by(|a, b| {
        a.whole_cost(asked.hour)
            .0
            .total_cmp(&b.whole_cost(asked.hour).0)
    });
    rows(asked, &held, &mut report);
    outs(asked, &held, &left, &mut report);
    report.verdict = Some(if left.is_empty() {
        Verdict::Outside
    } else {
        Verdict::Within
    });
    report.headline = Some(headline(asked, &held, &left));
    if let (Some(first), Some(second)) = (left.first(), left.get(1)) {
        pays_until(asked, first, second, &mut report)?;
    }
    over_distance(asked, &left, &mut report)?;
    worth(asked, &left, &mut report)?;
    reasons(asked, &left, &mut report);
    Ok(report)
}

fn hold<'a>(asked: &'a Options, report: &mut Report) -> Result<Vec<Held<'a>>, Unanswerable> {
    let mut middles: Vec<f64> = asked
        .choices
        .iter()
        .map(|choice| choice.cost.middle())
        .filter(|cost| *cost > 0.0)
        .collect();
    middles.sort_by(f64::total_cmp);
    let usual = middles
        .get(middles.len().saturating_sub(1) / 2)
        .copied()
        .unwrap_or(0.0);
    let mut held = Vec::new();
    for choice in &asked.choices {
        let misses = asked
            .faults
            .iter()
            .filter(|fault| !choice.cures.iter().any(|cured| same(cured, fault)))
            .map(String::as_str)
            .collect();
        let cost = match slip(&choice.cost, usual)? {
            Some(read) => {
                report.findings.push(
                    Finding::new(
                        "money-slip",
                        choice.name.clone(),
                        format!(
                            "\"{}\" is far from every other cost; it is read as {} here",
                            choice.cost.typed,
                            read.shown()
                        ),
                    )
                    .next(format!(
                        "say which is meant: {} or {}",
                        read.shown(),
                        choice.cost.shown()
                    )),
                );
                report.asks.push(Ask::new(
                    format!("cost of {}", choice.name),
                    format!("\"{}\" looks like a slip.", choice.cost.typed),
                    "Write the plain amount.",
                ));
                read
            }
            None => choice.cost.clone(),
        };
        held.push(Held {
            choice,
            cost,
            misses,
        });
    }
    Ok(held)
}

/// A `k` too many: a thousandth of it sits among the others and it does not.
fn slip(cost: &Cost, usual: f64) -> Result<Option<Cost>, Unanswerable> {
    let thousands = cost.typed.to_lowercase().contains('k');
    if !thousands || usual <= 0.0 || cost.middle() < SLIP * usual {
        return Ok(None);
    }
    Ok(Some(Cost {
        low: Money::new(cost.low.amount() / 1000.0)?,
        high: Money::new(cost.high.amount() / 1000.0)?,
        typed: cost.typed.clone(),
    }))
}

fn rows(asked: &Options, held: &[Held<'_>], report: &mut Report) {
    let mut table = Table::new(&[
        ("option", "way out", Align::Left),
        ("verdict", "cures all", Align::Left),
        // What a way leaves stands among the findings; the page has no room for it twice.
        ("misses", "", Align::Left),
        ("cost", "cost", Align::Right),
        (
            "if_bad",
            if held.iter().any(|held| stop::if_bad(held).is_some()) {
                "if bad"
            } else {
                ""
            },
            Align::Right,
        ),
        (
            "hours",
            if asked.hour.is_some() { "" } else { "hours" },
            Align::Right,
        ),
        ("downtime", "stands", Align::Right),
        (
            "with_hours",
            if asked.hour.is_some() {
                "with hours"
            } else {
                ""
            },
            Align::Right,
        ),
    ]);
    for held in held {
        let (low, high) = held.whole_cost(asked.hour);
        let bad = stop::if_bad(held);
        let verdict = match (held.cures_all(), &held.choice.trigger) {
            (true, _) => Verdict::Within,
            (false, Some(_)) => Verdict::Undecided,
            (false, None) => Verdict::Outside,
        };
        table.push(vec![
            held.choice.name.clone().into(),
            verdict.into(),
            Cell::List(held.misses.iter().map(|&miss| miss.to_owned()).collect()),
            Cell::Number(held.cost.middle(), held.cost.shown()),
            bad.map_or(Cell::None, |bad| {
                Cell::Number(f64::midpoint(bad.0, bad.1), stop::shown(bad))
            }),
            held.choice
                .hours
                .map(|hours| show_range(hours, &unit::HOUR))
                .into(),
            held.choice
                .downtime
                .map(|days| show_range(days, &unit::DAY))
                .into(),
            Cell::Number(f64::midpoint(low, high), stop::shown((low, high))),
        ]);
    }
    report.rows = table;
}

fn outs(asked: &Options, held: &[Held<'_>], left: &[&Held<'_>], report: &mut Report) {
    for held in held {
        let name = held.choice.name.clone();
        if let (false, Some(trigger)) = (held.cures_all(), &held.choice.trigger) {
            report.findings.push(
                Finding::new("wait-with-trigger", name, "cures nothing; it waits").next(format!(
                    "write the level down at every fill; the wait ends when: {trigger}"
                )),
            );
        } else if !held.cures_all() {
            report.findings.push(
                Finding::new(
                    "leaves-a-fault",
                    name,
                    format!("out: it leaves {}", held.misses.join(", ")),
                )
                .next("add the missing work and its cost, or drop it"),
            );
            let leaks = asked
                .faults
                .iter()
                .any(|fault| fault.to_lowercase().contains("leak"));
            if leaks && held.choice.cures.is_empty() && held.cost.middle() <= 0.0 {
                report.asks.push(Ask::new(
                    "how fast it leaks, and onto what",
                    "rate and place decide whether waiting is safe, not the share of the vehicle's worth.",
                    "Note level and distance over a week; give the wait a trigger.",
                ));
            }
            continue;
        }
        if let Some(stop) = &held.choice.stop_point {
            report.findings.push(stop::finding(held, stop, left));
        }
        if let Some(risk) = &held.choice.risk {
            report.findings.push(
                Finding::new("not-known", held.choice.name.clone(), risk.clone())
                    .weight(Weight::Note),
            );
        }
    }
}

fn headline(asked: &Options, held: &[Held<'_>], left: &[&Held<'_>]) -> String {
    let waits = held.iter().any(|held| held.choice.trigger.is_some());
    match left {
        [] if waits => {
            "Nothing here cures every known fault; waiting stands only with its trigger.".to_owned()
        }
        [] => "None of these cures every known fault.".to_owned(),
        [first, others @ ..] => {
            let (low, high) = first.whole_cost(asked.hour);
            let overlap = others
                .iter()
                .any(|other| other.whole_cost(asked.hour).0 <= high);
            let tail = if overlap {
                "; ranges overlap, so hours, skill and risk decide"
            } else {
                ""
            };
            format!(
                "{} of {} cure every known fault; least cost {}: {}{tail}.",
                left.len(),
                held.len(),
                first.choice.name,
                stop::shown((low, high))
            )
        }
    }
}

/// If the cheap way fails one pays for the next as well: it pays while p < 1 − c₁/c₂.
fn pays_until(
    asked: &Options,
    first: &Held<'_>,
    second: &Held<'_>,
    report: &mut Report,
) -> Result<(), Unanswerable> {
    let middle = |held: &Held<'_>| {
        let (low, high) = held.whole_cost(asked.hour);
        f64::midpoint(low, high)
    };
    let (cheap, dear) = (middle(first), middle(second));
    if dear > cheap && cheap >= 0.0 {
        let chance = Ratio::fraction(1.0 - cheap / dear)?;
        report.figures.push(
            Figure::new("pays_until", "pays until", chance, show_fixed(chance, &PERCENT, 0)).note(format!(
                "{} first, then {} if it fails: cheaper while its chance of failing outright is under this",
                first.choice.name, second.choice.name
            )),
        );
    }
    Ok(())
}

fn over_distance(
    asked: &Options,
    left: &[&Held<'_>],
    report: &mut Report,
) -> Result<(), Unanswerable> {
    let Some(horizon) = asked.horizon else {
        return Ok(());
    };
    let priced: Vec<(&Held<'_>, Way)> = left
        .iter()
        .filter_map(|held| held.choice.way.map(|way| (*held, way)))
        .collect();
    let thousand = Length::metres(asked.distance.to_si(1000.0))?;
    for (held, way) in &priced {
        let seen = outlook(way, horizon)?;
        let money = seen.for_distance(thousand)?;
        report.findings.push(
            Finding::new(
                "over-distance",
                held.choice.name.clone(),
                format!(
                    "{:.2} for 1000 {}; {} to run past {}",
                    money.amount(),
                    asked.distance.symbol,
                    show_fixed(seen.runs, &PERCENT, 0),
                    show(horizon, &asked.distance)
                ),
            )
            .weight(Weight::Note),
        );
    }
    if let [(first, way), (second, other), ..] = priced.as_slice()
        && let Ok(chance) = break_even(way, other, horizon)
    {
        report.figures.push(
            Figure::new(
                "break_even",
                "break-even",
                chance,
                show_fixed(chance, &PERCENT, 0),
            )
            .note(format!(
                "chance of failing at once at which {} costs as much for the distance as {}",
                first.choice.name, second.choice.name
            )),
        );
    }
    Ok(())
}

fn worth(asked: &Options, left: &[&Held<'_>], report: &mut Report) -> Result<(), Unanswerable> {
    let Some(value) = asked.value.filter(|value| value.amount() > 0.0) else {
        return Ok(());
    };
    if let Some(first) = left.first() {
        let share = Ratio::fraction(first.cost.middle() / value.amount())?;
        report.figures.push(
            Figure::new(
                "share_of_value",
                "share of value",
                share,
                show_fixed(share, &PERCENT, 0),
            )
            .note("shown because people ask; one price over one value decides nothing"),
        );
    }
    Ok(())
}

fn reasons(asked: &Options, left: &[&Held<'_>], report: &mut Report) {
    report.because.push(format!(
        "A way out must cure all of: {}.",
        asked.faults.join(", ")
    ));
    if let Some(spent) = asked.spent {
        report.because.push(format!(
            "{} is spent whatever is done now, and is left out.",
            whole(spent.amount())
        ));
    }
    report.because.push(match asked.hour {
        Some(_) => "Own hours are priced as told.".to_owned(),
        None => "Own hours are not priced; give --hour if they should be.".to_owned(),
    });
    let unknown = left
        .iter()
        .any(|held| held.choice.risk.is_none() && held.choice.stop_point.is_none());
    if unknown {
        report.asks.push(Ask::new(
            "stop-points and unknowns",
            "extra faults turn up with the head off, and a limit fixed beforehand is kept better.",
            "Fill the columns stop_point and risk: what is looked at, and the sum at which you stop.",
        ));
    }
    report.cite(Source::common_practice(
        "costs and ranges as typed; no price list stands behind them",
    ));
}

fn same(a: &str, b: &str) -> bool {
    let fold = |text: &str| {
        text.to_lowercase()
            .replace(['-', '_'], " ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    fold(a) == fold(b)
}

fn whole(amount: f64) -> String {
    format!("{amount:.0}")
}
