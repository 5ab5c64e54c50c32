//! One reading against one limit: the verdict, a sentence, and the cheapest act that settles
//! an open case.
//!
//! Every question that judges a number comes here, so that *within*, *outside* and
//! *undecided* mean the same everywhere, and a limit always says whose it is.

mod whose;

#[cfg(test)]
mod tests;

use calc::decision::{self, DecisionError, Outcome};
use quantity::{
    Bound, Kind, Quantity, Range, Ratio, Unit, show, show_bound, show_fixed, show_range,
};
use report::{Finding, Report, Source, Verdict, Weight};

pub use whose::Whose;

/// A number to judge by, with its owner.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit<Q> {
    /// The least allowed.
    pub low: Option<Q>,
    /// The most allowed.
    pub high: Option<Q>,
    /// Whose number it is.
    pub whose: Whose,
    /// Where it stands: page, section, table.
    pub at: Option<String>,
    /// Nobody gave this limit for this engine; it is our fallback and is shown as one.
    pub default: bool,
}

impl<Q: Quantity> Limit<Q> {
    /// At most so much; whose it is was not said.
    #[must_use]
    pub const fn most(high: Q) -> Self {
        Self {
            low: None,
            high: Some(high),
            whose: Whose::Unsaid,
            at: None,
            default: false,
        }
    }

    /// At least so much; whose it is was not said.
    #[must_use]
    pub const fn least(low: Q) -> Self {
        Self {
            low: Some(low),
            high: None,
            whose: Whose::Unsaid,
            at: None,
            default: false,
        }
    }

    /// Between two ends; whose it is was not said.
    #[must_use]
    pub const fn between(range: Range<Q>) -> Self {
        Self {
            low: Some(range.low),
            high: Some(range.high),
            whose: Whose::Unsaid,
            at: None,
            default: false,
        }
    }

    /// An owner and a place as a book states them, without numbers yet.
    #[must_use]
    pub fn of_book(origin: &book::Origin) -> Self {
        let whose = match origin.kind {
            Some(book::OriginKind::Maker) => Whose::Maker,
            Some(book::OriginKind::Shop) => Whose::Shop,
            Some(book::OriginKind::Published) => Whose::Published,
            Some(book::OriginKind::CommonPractice) => Whose::CommonPractice,
            Some(book::OriginKind::Invented) => Whose::Invented,
            Some(book::OriginKind::None) | None => Whose::Unsaid,
        };
        Self {
            low: None,
            high: None,
            whose,
            at: origin.at.clone(),
            default: false,
        }
    }

    /// The same limit with its owner.
    #[must_use]
    pub const fn of(mut self, whose: Whose) -> Self {
        self.whose = whose;
        self
    }

    /// The same limit with its place in a book.
    #[must_use]
    pub fn at(mut self, place: impl Into<String>) -> Self {
        self.at = Some(place.into());
        self
    }

    /// The same limit as a fallback of ours, with where it comes from.
    #[must_use]
    pub fn by_default(mut self, whose: Whose, place: impl Into<String>) -> Self {
        self.whose = whose;
        self.at = Some(place.into());
        self.default = true;
        self
    }

    /// The same limit with the owner and place a person typed: `maker, head section`.
    #[must_use]
    pub fn sourced(mut self, typed: &str) -> Self {
        let (whose, at) = Whose::read(typed);
        self.whose = whose;
        self.at = at;
        self
    }

    /// The bare numbers: `at most 0.05 mm`.
    #[must_use]
    pub fn numbers(&self, unit: &Unit) -> String {
        match (self.low, self.high) {
            (Some(low), Some(high)) if is_long(high, unit) => {
                format!("{} to {}", shown(low, unit), shown(high, unit))
            }
            (Some(low), Some(high)) => show_range(Range { low, high }, unit),
            (Some(low), None) => format!("at least {}", shown(low, unit)),
            (None, Some(high)) => format!("at most {}", shown(high, unit)),
            (None, None) => "no limit".to_owned(),
        }
    }

    /// The numbers with their owner: `at most 0.05 mm (maker's limit, head section)`.
    #[must_use]
    pub fn words(&self, unit: &Unit) -> String {
        format!("{} ({})", self.numbers(unit), self.owner())
    }

    /// Whose it is: `maker's limit, head section`; `default limit, common practice, no source`.
    #[must_use]
    pub fn owner(&self) -> String {
        let mut words = String::new();
        if self.default {
            words.push_str("default limit, ");
        }
        words.push_str(self.whose.words());
        if let Some(at) = &self.at {
            words.push_str(": ");
            words.push_str(at);
        }
        words
    }

    /// The limit as a source of the answer.
    #[must_use]
    pub fn source(&self) -> Option<Source> {
        let title = self
            .at
            .clone()
            .unwrap_or_else(|| "limit as given".to_owned());
        self.whose.kind().map(|kind| Source::new(kind, title))
    }
}

/// A number found, with what its instrument leaves open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading<Q> {
    /// What was read; a blade set gives a bound.
    pub value: Bound<Q>,
    /// Expanded uncertainty U = 2u of the instrument and its use, where it is known.
    pub expanded: Option<Q>,
}

impl<Q: Quantity> Reading<Q> {
    /// A plain value from an instrument nothing is known of.
    #[must_use]
    pub const fn exactly(value: Q) -> Self {
        Self {
            value: Bound::Exactly(value),
            expanded: None,
        }
    }

    /// A reading that may be a bound.
    #[must_use]
    pub const fn bound(value: Bound<Q>) -> Self {
        Self {
            value,
            expanded: None,
        }
    }

    /// The same reading with its expanded uncertainty.
    #[must_use]
    pub const fn with(mut self, expanded: Option<Q>) -> Self {
        self.expanded = expanded;
        self
    }

    /// As a person reads it: `0.044 mm ± 0.01 mm`.
    #[must_use]
    pub fn words(&self, unit: &Unit) -> String {
        let value = match self.value {
            Bound::Exactly(value) => shown(value, unit),
            bound => show_bound(bound, unit),
        };
        match self.expanded {
            Some(expanded) if expanded.si() > 0.0 => {
                format!("{value} ± {}", show(expanded, unit))
            }
            _ => value,
        }
    }
}

/// Something to do that leaves less open.
#[derive(Clone, Debug, PartialEq)]
pub struct Act<Q> {
    /// What to do: `repeat with the dial gauge`.
    pub says: String,
    /// About how long it takes; the cheapest act that settles the case is named.
    pub minutes: u32,
    /// The expanded uncertainty left once it is done.
    pub leaves: Q,
}

/// How one reading stands to one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// The word.
    pub verdict: Verdict,
    /// The verdict in one sentence.
    pub says: String,
    /// A line that must stand beside the verdict: the reading lies on the edge.
    pub note: Option<String>,
    /// The cheapest act that settles it, for every undecided case.
    pub settle: Option<String>,
    /// The rule that decided.
    pub because: String,
    /// How likely the true value keeps a one-sided limit, where an uncertainty is known.
    pub conformance: Option<Ratio>,
}

impl Decision {
    /// Puts the decision on top of a report: verdict, headline, rule, and the act that
    /// settles it.
    pub fn lead(&self, report: &mut Report) {
        report.verdict = Some(self.verdict);
        report.headline = Some(self.says.clone());
        report.because.push(self.because.clone());
        if let Some(finding) = self.finding("") {
            report.findings.push(finding);
        }
    }

    /// What the decision asks of the reader, if anything: the act that settles it, or that
    /// the reading lies on the edge.
    #[must_use]
    pub fn finding(&self, concerns: &str) -> Option<Finding> {
        if let Some(settle) = &self.settle {
            let code = if self.verdict == Verdict::NotMeasured {
                "not-measured"
            } else {
                "undecided"
            };
            // Without a name of its own it stands under the headline, which says it all.
            let says = if concerns.is_empty() {
                "this act settles it"
            } else {
                &self.says
            };
            return Some(Finding::new(code, concerns, says).next(settle.clone()));
        }
        self.note
            .as_ref()
            .map(|note| Finding::new("on-the-limit", concerns, note.clone()).weight(Weight::Note))
    }
}

/// Judges a reading. `what` is the noun of the sentence; `acts` are things that could be
/// done to know better, in any order.
///
/// ```
/// use judge::limit::{Limit, Reading, Whose, decide};
/// use quantity::{Length, unit::MILLIMETRE};
/// let limit = Limit::most(Length::mm(0.05)?).of(Whose::Maker).at("head section");
/// let reading = Reading::exactly(Length::mm(0.044)?).with(Some(Length::mm(0.01)?));
/// let seen = decide("flatness", Some(&reading), &limit, &[], &MILLIMETRE)?;
/// assert_eq!(seen.verdict, report::Verdict::Undecided);
/// assert!(seen.settle.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`DecisionError`] for a negative uncertainty or limits that cross.
pub fn decide<Q: Quantity>(
    what: &str,
    reading: Option<&Reading<Q>>,
    limit: &Limit<Q>,
    acts: &[Act<Q>],
    unit: &Unit,
) -> Result<Decision, DecisionError> {
    let Some(reading) = reading else {
        return Ok(unmeasured(what, limit, unit));
    };
    let slack = reading.expanded.map_or_else(|| Q::from_si(0.0), Ok)?;
    let outcome = decision::decide(reading.value, limit.low, limit.high, slack)?;
    let (seen, words) = (reading.words(unit), limit.words(unit));
    let (verdict, says) = match outcome {
        Outcome::Within { .. } => (Verdict::Within, format!("{what} {seen} keeps {words}.")),
        Outcome::Outside => (Verdict::Outside, format!("{what} {seen} breaks {words}.")),
        Outcome::Undecided => (
            Verdict::Undecided,
            format!("{what} {seen} cannot be told from {words}."),
        ),
    };
    Ok(Decision {
        verdict,
        says: capital(&says),
        note: edge_note(outcome, slack.si() > 0.0),
        settle: (outcome == Outcome::Undecided).then(|| settling(reading, limit, acts, unit)),
        because: rule(slack.si() > 0.0, limit),
        conformance: probability(reading, limit),
    })
}

fn unmeasured<Q: Quantity>(what: &str, limit: &Limit<Q>, unit: &Unit) -> Decision {
    Decision {
        verdict: Verdict::NotMeasured,
        says: capital(&format!(
            "{what} was not measured; it must be {}.",
            limit.words(unit)
        )),
        note: None,
        settle: Some(format!("measure {what}")),
        because: format!("no reading; {}", limit.owner()),
        conformance: None,
    }
}

fn edge_note(outcome: Outcome, uncertain: bool) -> Option<String> {
    (outcome == Outcome::Within { on_edge: true }).then(|| {
        if uncertain {
            "it lies exactly on the edge of what can be proved; that counts as within".to_owned()
        } else {
            "it lies exactly on the limit, and nothing is known of the instrument; that counts as within".to_owned()
        }
    })
}

fn rule<Q: Quantity>(uncertain: bool, limit: &Limit<Q>) -> String {
    if uncertain {
        format!(
            "the uncertainty counts against whoever must prove (ISO 14253-1, summary); {}",
            limit.owner()
        )
    } else {
        format!(
            "compared with the limit as it stands, its edge being within; no uncertainty of the instrument was given; {}",
            limit.owner()
        )
    }
}

/// The probability of keeping a one-sided limit; two-sided limits and bounds have none.
fn probability<Q: Quantity>(reading: &Reading<Q>, limit: &Limit<Q>) -> Option<Ratio> {
    let Bound::Exactly(value) = reading.value else {
        return None;
    };
    let standard = Q::from_si(reading.expanded?.si() / 2.0).ok()?;
    match (limit.low, limit.high) {
        (None, Some(high)) => decision::conformance(value, high, standard).ok(),
        (Some(low), None) => decision::conformance(low, value, standard).ok(),
        _ => None,
    }
}

/// The cheapest act that settles an open case.
fn settling<Q: Quantity>(
    reading: &Reading<Q>,
    limit: &Limit<Q>,
    acts: &[Act<Q>],
    unit: &Unit,
) -> String {
    let Bound::Exactly(value) = reading.value else {
        return act_for_bound(reading, limit, unit);
    };
    let gap = [limit.low, limit.high]
        .into_iter()
        .flatten()
        .map(|end| (end.si() - value.si()).abs())
        .fold(f64::INFINITY, f64::min);
    // An act that leaves just the gap settles it; a rounding must not cost it the place.
    let enough = acts
        .iter()
        .filter(|act| act.leaves.si() <= gap * (1.0 + 1e-9))
        .min_by_key(|act| act.minutes);
    if let Some(act) = enough {
        return act.says.clone();
    }
    match Q::from_si(gap) {
        Ok(needed) if gap > 0.0 => format!(
            "measure again so that no more than ± {} is left open",
            show(needed, unit)
        ),
        _ => "no instrument settles a reading on the limit itself: mend the part, or ask whose limit it is".to_owned(),
    }
}

/// A bound straddles the limit: try the limit itself.
fn act_for_bound<Q: Quantity>(reading: &Reading<Q>, limit: &Limit<Q>, unit: &Unit) -> String {
    let inside = |end: &Q| {
        reading.value.low().is_none_or(|low| low.si() <= end.si())
            && reading
                .value
                .high()
                .is_none_or(|high| end.si() <= high.si())
    };
    let ends: Vec<String> = [limit.low, limit.high]
        .into_iter()
        .flatten()
        .filter(inside)
        .map(|end| show(end, unit))
        .collect();
    if ends.is_empty() {
        return "measure again with a finer step".to_owned();
    }
    format!(
        "try {} itself (a blade or gauge of that size): whether it goes settles it",
        ends.join(" and ")
    )
}

/// Whether a length is so long that four digits lose the hundredths a judgement hangs on.
fn is_long<Q: Quantity>(value: Q, unit: &Unit) -> bool {
    Q::KIND == Kind::Length && unit.kind == Kind::Length && unit.of_si(value.si()).abs() >= 10.0
}

/// A judged number: as [`show()`], but a bore, a bolt or a head keeps its thousandths.
///
/// ```
/// use quantity::{Length, unit::MILLIMETRE};
/// assert_eq!(judge::limit::shown(Length::mm(101.01)?, &MILLIMETRE), "101.01 mm");
/// assert_eq!(judge::limit::shown(Length::mm(0.05)?, &MILLIMETRE), "0.05 mm");
/// # Ok::<(), quantity::NotFinite>(())
/// ```
#[must_use]
pub fn shown<Q: Quantity>(value: Q, unit: &Unit) -> String {
    if !is_long(value, unit) {
        return show(value, unit);
    }
    let text = show_fixed(value, unit, 3);
    match text.split_once(' ') {
        Some((number, symbol)) => {
            let number = number.trim_end_matches('0').trim_end_matches('.');
            format!("{number} {symbol}")
        }
        None => text,
    }
}

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
