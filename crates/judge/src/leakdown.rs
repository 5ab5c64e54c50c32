//! Leak-down: how much of the supply each cylinder loses, and where the air comes out.
//!
//! A loss is shown against one named rule, never on a scale of three. Testers differ, so with
//! supply and orifice every loss is also given as the size of an equivalent hole.

use calc::altitude::AltitudeError;
use calc::leakdown::LeakdownError;
use calc::repeatability::RepeatabilityError;
use quantity::unit::{MILLIMETRE, PERCENT};
use quantity::{GaugePressure, Length, NotFinite, Ratio, show_fixed};
use report::{
    Align, Ask, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Verdict, Weight,
};
use thiserror::Error;

use crate::layout::{Layout, named, numbers};

mod place;
mod tester;

#[cfg(test)]
mod tests;

pub use place::{Heard, Place};
pub use tester::{OtherTester, moved};

use tester::{BETWEEN, elsewhere, figures, holes, margin, points_of, tenths};

/// The least loss counted as a leak worth following, where no rule was named.
const DEFAULT_RULE: Rule = Rule::Twenty;
/// The largest loss allowed, by name. They range from 8 % to 40 % and disagree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// 10 %: road and performance use. *Common practice, no source.*
    Ten,
    /// 20 %: cylinder-head work, tuning, motorcycles. *Common practice, no source.*
    Twenty,
    /// 25 %: 60 of 80 psi held, light aircraft. *Published: FAA AC 43.13-1B, 1998, 8-14.*
    SixtyOfEighty,
    /// 30 %: club practice. *Common practice, no source.*
    Thirty,
    /// The maker's own figure.
    Maker(Ratio),
}

impl Rule {
    /// The rules with a name to ask for them by.
    pub const NAMED: [Self; 4] = [Self::Ten, Self::Twenty, Self::SixtyOfEighty, Self::Thirty];

    /// The name to ask for it by.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Ten => "ten",
            Self::Twenty => "twenty",
            Self::SixtyOfEighty => "sixty-of-eighty",
            Self::Thirty => "thirty",
            Self::Maker(_) => "maker",
        }
    }

    /// Finds a named rule.
    #[must_use]
    pub fn find(key: &str) -> Option<Self> {
        Self::NAMED
            .into_iter()
            .find(|rule| rule.key().eq_ignore_ascii_case(key.trim()))
    }

    fn most(self) -> f64 {
        match self {
            Self::Ten => 0.10,
            Self::Twenty => 0.20,
            Self::SixtyOfEighty => 0.25,
            Self::Thirty => 0.30,
            Self::Maker(most) => most.in_fraction(),
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Ten => "at most 10 %, road and performance use",
            Self::Twenty => "at most 20 %, cylinder-head work and tuning",
            Self::SixtyOfEighty => "at most 25 %, 60 of 80 psi held, light aircraft",
            Self::Thirty => "at most 30 %, club practice",
            Self::Maker(_) => "the maker's figure",
        }
    }
}

/// The question: losses and how they were taken.
#[derive(Clone, Debug)]
pub struct Leakdown {
    /// Where the cylinders stand.
    pub layout: Layout,
    /// Loss of each cylinder as a fraction of the supply.
    pub loss: Vec<Option<Ratio>>,
    /// Supply pressure.
    pub supply: Option<GaugePressure>,
    /// Orifice of the tester.
    pub orifice: Option<Length>,
    /// Height of the workshop.
    pub height: Option<Length>,
    /// Where air was heard.
    pub heard: Vec<Heard>,
    /// The rule to judge by.
    pub rule: Option<Rule>,
    /// Cranking readings of the same engine, for what the two tests say together.
    pub cranking: Option<Vec<Option<GaugePressure>>>,
    /// Two-stroke engines have no valves.
    pub two_stroke: bool,
    /// How far the tester as a whole may be off, in points of loss. It counts against a limit.
    pub accuracy: Option<Ratio>,
    /// How well a loss repeats, in points of loss (standard deviation). It counts between
    /// cylinders, and against a limit too.
    pub repeatability: Option<Ratio>,
    /// Another tester: what it would show for the same leaks.
    pub other: Option<OtherTester>,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Leakdown(#[from] LeakdownError),
    #[error(transparent)]
    Repeatability(#[from] RepeatabilityError),
    #[error(transparent)]
    Altitude(#[from] AltitudeError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

impl Unanswerable {
    const fn concerns(&self) -> &'static str {
        match self {
            Self::Leakdown(LeakdownError::Orifice { .. }) => "orifice",
            Self::Leakdown(LeakdownError::Supply { .. }) => "supply",
            Self::Repeatability(_) => "repeatability",
            Self::Altitude(_) => "altitude",
            Self::Leakdown(_) | Self::NotFinite(_) => "loss",
        }
    }

    const fn way_out(&self) -> &'static str {
        match self {
            Self::Leakdown(LeakdownError::Orifice { .. }) => {
                "measure the orifice with a drill shank, or leave it out"
            }
            Self::Leakdown(LeakdownError::Supply { .. }) => {
                "read the supply gauge, or leave it out"
            }
            Self::Repeatability(_) => "read one cylinder five times, or leave it out",
            Self::Altitude(_) => "give the height of the workshop, or leave it out",
            Self::Leakdown(_) | Self::NotFinite(_) => {
                "a loss lies between 0 % and 100 % of the supply"
            }
        }
    }
}

/// Judges a leak-down set.
#[must_use]
pub fn judge(asked: &Leakdown) -> Report {
    let title = format!("Leak-down, {}", asked.layout.words());
    let count = asked.layout.count();
    if asked.loss.len() != count {
        let finding = Finding::new(
            "count",
            "loss",
            format!("{} readings for {count} cylinders", asked.loss.len()),
        )
        .next("give one loss a cylinder, in cylinder order; - where there is none");
        return Report::refusal("leakdown", title, finding);
    }
    let strange = asked.heard.iter().filter_map(|heard| heard.cylinder);
    if let Some(cylinder) = strange
        .into_iter()
        .find(|cylinder| *cylinder == 0 || usize::from(*cylinder) > count)
    {
        let says = format!("air heard at cylinder {cylinder}; the engine has {count}");
        let finding = Finding::new("no-such-cylinder", "heard", says)
            .next(format!("write a cylinder from 1 to {count} and the place"));
        return Report::refusal("leakdown", title, finding);
    }
    match answer(asked, title.clone()) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            "leakdown",
            title,
            Finding::new("readings", fault.concerns(), fault.to_string()).next(fault.way_out()),
        ),
    }
}

fn answer(asked: &Leakdown, title: String) -> Result<Report, Unanswerable> {
    let rule = asked.rule.unwrap_or(DEFAULT_RULE);
    let mut report = Report::new("leakdown", title);
    let holes = holes(asked)?;
    let over = leaking(asked, rule, Verdict::Outside);
    let near = leaking(asked, rule, Verdict::Undecided);
    let elsewhere = elsewhere(asked, holes.as_deref())?;
    rows(
        asked,
        rule,
        holes.as_deref(),
        elsewhere.as_deref(),
        &mut report,
    );
    figures(asked, &mut report)?;
    let read = asked.loss.iter().flatten().count();
    // A whole set far out is dirt on the seats or a piston off the top more often than a head.
    let wild = read > 1 && over.len() == read;
    if wild {
        report.findings.push(
            Finding::new("all-wild", "all cylinders", "every cylinder loses more than the rule allows")
                .points_to("the test before the engine: dirt or carbon on the seats, a piston not at compression top, a leaking tester")
                .next("seat the valves with a few turns, check the top of each compression stroke, test the tester against a sound cylinder, repeat; nothing is condemned on this set"),
        );
    } else {
        place::findings(asked, &over, &mut report);
    }
    against_cranking(asked, &over, wild, &mut report);
    if over.is_empty() && !near.is_empty() {
        report.findings.push(
            Finding::new("undecided", named(&near), "as far from the rule as a gauge is read")
                .next("read it three times at compression top, the crank turned on between, and take the mean; where the air comes out says more than the last per cent"),
        );
    }
    report.verdict = Some(match (read, wild, over.is_empty(), near.is_empty()) {
        (0, ..) => Verdict::NotMeasured,
        (_, true, ..) => Verdict::Undecided,
        (_, false, false, _) => Verdict::Outside,
        (_, false, true, false) => Verdict::Undecided,
        (_, false, true, true) => Verdict::Within,
    });
    report.headline = Some(headline(wild, &over, &near, asked));
    reasons(asked, rule, &mut report);
    Ok(report)
}

fn headline(wild: bool, over: &[u8], near: &[u8], asked: &Leakdown) -> String {
    if wild {
        return "All wild: repeat the test before believing it.".to_owned();
    }
    let losses = |cylinders: &[u8]| {
        let shown: Vec<String> = cylinders
            .iter()
            .filter_map(|&cylinder| at(&asked.loss, cylinder))
            .map(percent)
            .collect();
        shown.join(", ")
    };
    match (over, near) {
        ([], []) => "No cylinder loses more than the rule allows.".to_owned(),
        ([], near) => format!(
            "Too close to the rule to call: {} ({}).",
            named(near),
            losses(near)
        ),
        (over, _) => format!("Too much loss: {} ({}).", named(over), losses(over)),
    }
}

fn standing(asked: &Leakdown, loss: Ratio, rule: Rule) -> Verdict {
    let over = loss.in_fraction() - rule.most();
    if over.abs() <= margin(asked) {
        Verdict::Undecided
    } else if over > 0.0 {
        Verdict::Outside
    } else {
        Verdict::Within
    }
}

fn leaking(asked: &Leakdown, rule: Rule, wanted: Verdict) -> Vec<u8> {
    (1u8..)
        .zip(&asked.loss)
        .filter(|(_, loss)| loss.is_some_and(|loss| standing(asked, loss, rule) == wanted))
        .map(|(cylinder, _)| cylinder)
        .collect()
}

fn rows(
    asked: &Leakdown,
    rule: Rule,
    holes: Option<&[Option<Length>]>,
    elsewhere: Option<&[Option<Ratio>]>,
    report: &mut Report,
) {
    let mut table = Table::new(&[
        ("cylinder", "cylinder", Align::Right),
        ("loss", "loss", Align::Right),
        (
            "hole",
            if holes.is_some() { "hole" } else { "" },
            Align::Right,
        ),
        (
            "other_loss",
            if elsewhere.is_some() {
                "other tester"
            } else {
                ""
            },
            Align::Right,
        ),
        ("verdict", "verdict", Align::Left),
        ("heard", "heard at", Align::Left),
    ]);
    for (cylinder, loss) in (1u8..).zip(&asked.loss) {
        let hole = holes.and_then(|holes| at(holes, cylinder));
        let other = elsewhere.and_then(|losses| at(losses, cylinder));
        let heard: Vec<String> = asked
            .heard
            .iter()
            .filter(|heard| heard.cylinder == Some(cylinder))
            .map(|heard| heard.place.words().to_owned())
            .collect();
        table.push(vec![
            Cell::from(usize::from(cylinder)),
            loss.map(|loss| Figure::new("loss", "loss", loss, percent(loss)))
                .into(),
            hole.map(|hole| Figure::new("hole", "hole", hole, show_fixed(hole, &MILLIMETRE, 2)))
                .into(),
            other
                .map(|loss| Figure::new("other_loss", "other tester", loss, tenths(loss)))
                .into(),
            loss.map_or(Verdict::NotMeasured, |loss| standing(asked, loss, rule))
                .into(),
            Cell::List(heard),
        ]);
    }
    report.rows = table;
}

/// What the two tests see differently. A leak found at standstill outranks an even cranking set.
fn against_cranking(asked: &Leakdown, over: &[u8], wild: bool, report: &mut Report) {
    let Some(cranking) = &asked.cranking else {
        return;
    };
    let Ok(shares) = calc::cranking::shares(cranking) else {
        return;
    };
    let even = shares.spread.in_fraction() <= 0.10;
    if wild {
        return;
    }
    if even && !over.is_empty() {
        let mut finding = Finding::new(
            "tests-disagree",
            named(over),
            format!("cranking is even within {}, and leak-down finds a leak", percent(shares.spread)),
        )
        .points_to("the leak: a moving piston outruns a leak that standing air finds, so the even set clears nothing")
        .next("trust the place of the hiss; confirm on a second gauge, and re-check the timing marks if the cranking level is not known to be right");
        if over.len() < asked.layout.count() {
            finding = finding
                .detail("one leaking cylinder does not explain an engine that will not start");
        }
        report.findings.push(finding);
        report.asks.push(Ask::new(
            "whether the cranking level is right for this engine",
            "even and equally low also looks even.",
            "Give the maker's lowest reading to `matchmark cranking --limit`.",
        ));
    }
    if !even && over.is_empty() {
        let low = numbers(&low_of(cranking, &shares));
        report.findings.push(
            Finding::new("tests-disagree", format!("cylinder {low}"), "cranking is low, and leak-down finds nothing")
                .points_to(if asked.two_stroke {
                    "filling: a blocked port or exhaust, or the reading itself"
                } else {
                    "filling, not sealing: a worn cam lobe, a lazy follower, cam timing, or the reading itself"
                })
                .next("repeat the cranking reading, then compare valve lift"),
        );
    }
}

fn low_of(cranking: &[Option<GaugePressure>], shares: &calc::cranking::Shares) -> Vec<u8> {
    (1u8..)
        .zip(cranking)
        .filter(|(_, reading)| **reading == Some(shares.lowest))
        .map(|(cylinder, _)| cylinder)
        .collect()
}

fn reasons(asked: &Leakdown, rule: Rule, report: &mut Report) {
    report.because.push(format!(
        "Judged by \"{}\"; limits in use run from 8 % to 40 %.",
        rule.words()
    ));
    report.because.extend(other_rules(asked, rule));
    let known = asked.accuracy.is_some() || asked.repeatability.is_some();
    report.because.push(format!(
        "A loss within {} of the rule is undecided{}; between cylinders only the scatter counts, because one tester is off alike on all.",
        points_of(margin(asked)),
        if known {
            ": how true the tester is and how well it repeats"
        } else {
            ", as testers are read"
        }
    ));
    if let Some(apart) = report.figure("apart").map(|apart| apart.value) {
        report.because.push(format!(
            "The tuning trade lets {} between cylinders pass; here it is {}.",
            points_of(BETWEEN),
            points_of(apart)
        ));
    }
    if asked.supply.is_none() || asked.orifice.is_none() {
        report.asks.push(Ask::new(
            "supply pressure and orifice of the tester",
            "without them a loss cannot be compared with another tester's.",
            "Give --supply and --orifice; compare cylinders on one tester meanwhile.",
        ));
    }
    report.cautions.push(Caution::new(
        "putting air in",
        "the piston is pushed with several kilonewtons and turns the crank if it is not exactly at the top: hold or lock the crank, take the wrench off it, keep hands out of belts and fans, eye protection on.",
    ));
    report.cite(match rule {
        Rule::SixtyOfEighty => Source::new(
            SourceKind::Published,
            "FAA AC 43.13-1B, 1998, paragraph 8-14",
        ),
        Rule::Maker(_) => Source::new(SourceKind::Maker, "the maker's figure, as typed"),
        Rule::Ten | Rule::Twenty | Rule::Thirty => Source::common_practice(rule.words()),
    });
}

/// The trade disagrees: what each named limit says of the worst loss.
fn other_rules(asked: &Leakdown, decided: Rule) -> Option<String> {
    let read = asked.loss.iter().flatten().copied();
    let worst = read.max_by(|one, other| one.in_fraction().total_cmp(&other.in_fraction()))?;
    let says = |rule: Rule| {
        let this = if rule == decided {
            " (this one decided)"
        } else {
            ""
        };
        format!(
            "{}: {}{this}",
            rule.key(),
            standing(asked, worst, rule).word()
        )
    };
    let words: Vec<String> = Rule::NAMED.into_iter().map(says).collect();
    Some(format!(
        "The trade's limits on the worst loss: {}.",
        words.join(", ")
    ))
}

fn at<T: Copy>(list: &[Option<T>], cylinder: u8) -> Option<T> {
    list.get(usize::from(cylinder).checked_sub(1)?)
        .copied()
        .flatten()
}

/// A loss as a tester shows it: whole per cent, and half ones where it was read so.
fn percent(ratio: Ratio) -> String {
    let whole = (ratio.in_percent() - ratio.in_percent().round()).abs() < 1e-6;
    show_fixed(ratio, &PERCENT, if whole { 0 } else { 1 })
}

/// A note for the reader that changes nothing tonight.
fn aside(code: &'static str, concerns: String, says: &str) -> Finding {
    Finding::new(code, concerns, says).weight(Weight::Note)
}
