//! The pattern over the layout: which low cylinders stand side by side, which stand alone,
//! and whether all are low alike.

use quantity::Quantity;
use report::{Ask, Finding, Report};

use super::answer::{Mark, Seen, percent, percent_whole};
use super::height;
use super::wet::{Gain, Wet};
use super::{Cycle, Standing};
use crate::layout::{Layout, named, numbers};

/// All low counts as even up to this spread: the tightest of the trade's spread rules.
const EVEN: f64 = 0.10;

/// The low cylinders by their place.
pub(super) struct Pattern {
    low: Vec<u8>,
    borderline: Vec<u8>,
    all_low: bool,
    even: bool,
    neighbours: Vec<Vec<u8>>,
    alone: Vec<u8>,
}

impl Pattern {
    pub(super) fn of(seen: &Seen<'_>) -> Self {
        let read = seen.read_count();
        let under_level = |mark: Mark| mark.by_level != Standing::Sound;
        let certainly = seen.cylinders(|mark| mark.by_level == Standing::Low);
        let all_low =
            read > 1 && !certainly.is_empty() && seen.cylinders(under_level).len() == read;
        // Where every cylinder is under the level, only the spread can tell one from another.
        let low = |mark: Mark| {
            mark.by_spread == Standing::Low || (!all_low && mark.by_level == Standing::Low)
        };
        let near = |mark: Mark| {
            mark.by_spread == Standing::Borderline
                || (!all_low && mark.by_level == Standing::Borderline)
        };
        let low_cylinders = seen.cylinders(low);
        let borderline = seen.cylinders(|mark| !low(mark) && near(mark));
        let (neighbours, alone) = runs(&seen.asked.layout, &low_cylinders, &borderline);
        Self {
            low: low_cylinders,
            borderline,
            all_low,
            even: seen.shares.spread.in_fraction() <= EVEN,
            neighbours,
            alone,
        }
    }

    pub(super) fn low(&self) -> Vec<u8> {
        self.low.clone()
    }

    pub(super) fn borderline(&self) -> Vec<u8> {
        self.borderline.clone()
    }

    pub(super) fn all_low_even(&self) -> bool {
        self.all_low && self.even
    }

    pub(super) fn any_low(&self) -> bool {
        self.all_low || !self.low.is_empty()
    }

    /// Whether a wet test would part the explanations that remain.
    pub(super) fn needs_wet(&self) -> bool {
        let any = !self.low.is_empty() || !self.borderline.is_empty();
        any && !self.all_low_even()
    }

    pub(super) fn findings(&self, seen: &Seen<'_>, wet: &Wet, report: &mut Report) {
        if self.all_low_even() {
            report.findings.push(self.even_low(seen));
            return;
        }
        if self.all_low {
            report.findings.push(
                Finding::new("all-low", "all cylinders", format!("every reading is under {}", seen.level.words))
                    .next("judge the level on a second, warm set; the pattern below goes by the spread alone"),
            );
        }
        for run in &self.neighbours {
            report.findings.push(neighbours(seen, wet, run));
        }
        match self.alone.as_slice() {
            [] => {}
            [only] => report.findings.push(one(seen, wet, *only)),
            several => report.findings.push(
                Finding::new("several-low", named(several), "low, and no two of them stand side by side")
                    .points_to("separate causes, or one that reaches them all: rings, valves, cam timing; a gasket between two cylinders does not")
                    .next("leak-down on each"),
            ),
        }
        self.borders(seen, report);
        self.numbering(seen, report);
    }

    fn even_low(&self, seen: &Seen<'_>) -> Finding {
        let says = format!(
            "all {} are under {}, and even: spread {}",
            seen.read_count(),
            seen.level.words,
            percent(seen.shares.spread)
        );
        let finding = Finding::new("all-low-even", "all cylinders", says);
        match seen.asked.cycle {
            Cycle::Four => finding
                .points_to("late cam timing before anything else; also a throttle left closed, slow cranking, a wrong gauge, bores worn alike")
                .next("check the timing marks over two hand turns, crank again with throttle open and a full battery, then leak-down; nothing comes off on this alone"),
            Cycle::Two => finding
                .points_to("a throttle left closed, slow cranking, a wrong gauge, or bores and rings worn alike")
                .next("crank again with throttle open and a full battery, on a second gauge; nothing comes off on this alone"),
        }
    }

    fn borders(&self, seen: &Seen<'_>, report: &mut Report) {
        // A cylinder may be low by one rule and borderline by the other; the doubt is still said.
        let near = seen.cylinders(|mark| {
            mark.by_spread == Standing::Borderline || mark.by_level == Standing::Borderline
        });
        for cylinder in near {
            let Some(mark) = seen.mark(cylinder) else {
                continue;
            };
            let by_spread = mark.by_spread == Standing::Borderline;
            let rule = if by_spread {
                seen.asked.rule.words()
            } else {
                seen.level.words.as_str()
            };
            let truth = match seen.asked.accuracy {
                Some(accuracy) if !by_spread => format!("is true to {} and ", seen.show(accuracy)),
                _ => String::new(),
            };
            let next = if truth.is_empty() {
                "repeat this cylinder and the best one three times each and compare the means"
            } else {
                "compare the gauge with a truer one; repeating does not make it truer"
            };
            let mut finding = Finding::new(
                "borderline",
                named(&[cylinder]),
                format!("{}, {} of the best: too close to call by \"{rule}\" on a gauge that {truth}repeats to {}", seen.show(mark.reading), seen.share(cylinder), percent_of(seen.repeatability)),
            )
            .next(next);
            if mark.by_level == Standing::Low {
                finding = finding.detail(format!("all the same low by {}", seen.level.key));
            }
            report.findings.push(finding);
        }
    }

    /// Where the numbering was assumed and the other common one changes who is whose neighbour.
    fn numbering(&self, seen: &Seen<'_>, report: &mut Report) {
        let Some(other) = seen.asked.layout.other_numbering() else {
            return;
        };
        let (neighbours, _) = runs(&other, &self.low, &self.borderline);
        if neighbours != self.neighbours {
            report.asks.push(Ask::new(
                "how the banks are numbered",
                format!(
                    "with {} other cylinders are neighbours, and the finding changes.",
                    other.words()
                ),
                "Give --layout with its banks, like V6:1 2 3/4 5 6.",
            ));
        }
    }

    pub(super) fn headline(&self, seen: &Seen<'_>) -> String {
        if self.all_low_even() {
            return match seen.asked.cycle {
                Cycle::Four => {
                    "All low and even: look at the cam timing before anything else.".to_owned()
                }
                Cycle::Two => {
                    "All low and even: look at the way of testing and the gauge first.".to_owned()
                }
            };
        }
        if let Some(run) = self.neighbours.first() {
            return format!(
                "{} are low and stand side by side: {} of the best.",
                upper(&named(run)),
                shares(seen, run)
            );
        }
        if !self.low.is_empty() {
            let verb = if self.low.len() == 1 { "is" } else { "are" };
            return format!(
                "{} {verb} low: {} of the best.",
                upper(&named(&self.low)),
                shares(seen, &self.low)
            );
        }
        if self.all_low {
            return format!("Every reading is under {}.", seen.level.words);
        }
        if !self.borderline.is_empty() {
            return format!(
                "{} too close to the limit for this gauge.",
                upper(&named(&self.borderline))
            );
        }
        sound(seen)
    }
}

/// What can be said of a set in which nothing is low, and no more.
fn sound(seen: &Seen<'_>) -> String {
    if seen.read_count() == 1 {
        return format!(
            "{} is above {}.",
            seen.show(seen.shares.best),
            seen.level.words
        );
    }
    let word = if height::high_normal(seen) {
        ", high-normal"
    } else {
        ""
    };
    format!(
        "Even within {}{word}. Even does not mean every valve seals.",
        percent(seen.shares.spread)
    )
}

fn runs(layout: &Layout, low: &[u8], borderline: &[u8]) -> (Vec<Vec<u8>>, Vec<u8>) {
    let among = [low, borderline].concat();
    let mut neighbours = Vec::new();
    let mut alone = Vec::new();
    for run in layout.runs(&among) {
        if !run.iter().any(|cylinder| low.contains(cylinder)) {
            continue;
        }
        match run.as_slice() {
            [only] => alone.push(*only),
            _ => neighbours.push(run),
        }
    }
    (neighbours, alone)
}

fn neighbours(seen: &Seen<'_>, wet: &Wet, run: &[u8]) -> Finding {
    let two = seen.asked.cycle == Cycle::Two;
    let points_to = match (wet.gain_of_all(run), two) {
        (Some(Gain::Closed), _) => {
            "the rings or bores of all of them; the gasket between them is not shown by this"
                .to_owned()
        }
        (Some(Gain::None), false) => format!(
            "the gasket between {}, or valves of both; the rings are unlikely",
            numbers(run)
        ),
        (Some(Gain::None), true) => format!(
            "the gasket between {}; the rings are unlikely",
            numbers(run)
        ),
        (_, false) => format!(
            "the gasket between {}; valves or rings of both stay possible",
            numbers(run)
        ),
        (_, true) => format!(
            "the gasket between {}; rings of both stay possible",
            numbers(run)
        ),
    };
    let finding = Finding::new(
        "neighbours-low",
        named(run),
        format!("low side by side: {} of the best", shares(seen, run)),
    )
    .points_to(points_to)
    .next("low-pressure air into each, piston held at the top, and listen and feel in the neighbour's plug hole before the head comes off");
    let bank = seen
        .asked
        .layout
        .banks()
        .iter()
        .find(|bank| bank.len() > 2 && bank.as_slice() == run);
    match bank {
        Some(_) if seen.asked.layout.banks().len() > 1 && !two => {
            finding.detail("the whole bank is low: check the cam timing of this bank first")
        }
        _ => finding,
    }
}

fn one(seen: &Seen<'_>, wet: &Wet, cylinder: u8) -> Finding {
    let two = seen.asked.cycle == Cycle::Two;
    let finding = Finding::new(
        "one-low",
        named(&[cylinder]),
        format!("alone low: {} of the best", seen.share(cylinder)),
    );
    let finding = match (wet.gain(cylinder), two) {
        (Some(Gain::Closed), _) => finding.points_to("its rings or bore (see the wet gain)"),
        (Some(Gain::None), false) => finding
            .points_to("a valve or its seat; a gasket to the outside or a crack stays possible"),
        (_, false) => {
            finding.points_to("rings, a valve, the gasket or a crack: not told apart yet")
        }
        (Some(Gain::None), true) => {
            finding.points_to("the gasket to the outside, a crack or the plug seat")
        }
        (_, true) => finding.points_to("rings, the gasket or a crack: not told apart yet"),
    };
    finding.next("leak-down on this cylinder; listen where the air comes out")
}

fn shares(seen: &Seen<'_>, cylinders: &[u8]) -> String {
    let words: Vec<String> = cylinders
        .iter()
        .map(|&cylinder| seen.share(cylinder))
        .collect();
    match words.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
        _ => words.concat(),
    }
}

fn percent_of(fraction: f64) -> String {
    quantity::Ratio::from_si(fraction).map_or_else(|_| "?".to_owned(), percent_whole)
}

fn upper(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
