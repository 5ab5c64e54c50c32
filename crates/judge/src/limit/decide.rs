//! The decision itself: how a reading stands to a limit, in a sentence, and the cheapest act
//! that settles an open case.

use calc::decision::{self, DecisionError, Outcome};
use quantity::{Bound, Kind, Quantity, Ratio, Unit, show};
use report::{Finding, Report, Verdict, Weight};

use super::{Limit, Reading, Whose, capital};

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
                "what would settle it"
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
        Outcome::Within { .. } => (
            Verdict::Within,
            format!("{what} is {seen}: within the limit, {words}."),
        ),
        Outcome::Outside => (
            Verdict::Outside,
            format!("{what} is {seen}: outside the limit, {words}."),
        ),
        Outcome::Undecided => (
            Verdict::Undecided,
            format!("{what} is {seen}: it may or may not keep the limit, {words}."),
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
    let rule = if uncertain {
        "what the instrument may be off by counts against whoever must prove (ISO 14253-1, summary)"
    } else {
        "held against the limit as it stands, on the edge counts as within; what the instrument may be off by was not told"
    };
    if limit.whose == Whose::Unsaid && limit.at.is_none() {
        return rule.to_owned();
    }
    format!("{rule}; {}", limit.owner())
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
            "measure again with something good to ± {}",
            show(needed, unit)
        ),
        _ => "no instrument settles a reading on the limit itself: mend the part, or ask whose limit it is".to_owned(),
    }
}

/// Whether blades are made in a size: hundredths of a millimetre, halves of a thousandth of an
/// inch. What is no length has none to be made.
fn has_a_blade<Q: Quantity>(size: Q) -> bool {
    let whole = |step_metres: f64| {
        let steps = size.si() / step_metres;
        (steps - steps.round()).abs() < 1e-6
    };
    Q::KIND != Kind::Length || whole(0.01e-3) || whole(0.0005 * quantity::INCH)
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
    let straddled = || [limit.low, limit.high].into_iter().flatten().filter(inside);
    let ends: Vec<String> = straddled().map(|end| show(end, unit)).collect();
    if ends.is_empty() {
        return "measure again with a finer step".to_owned();
    }
    if !straddled().all(has_a_blade) {
        return format!(
            "measure it in figures, with a micrometer or a dial; no blade has {}",
            ends.join(" or ")
        );
    }
    format!(
        "try {} itself (a blade or gauge of that size): whether it goes settles it",
        ends.join(" and ")
    )
}

/// How heavy a verdict weighs beside others: of several the heaviest leads.
pub(crate) const fn gravity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Outside | Verdict::Closed => 4,
        Verdict::Undecided => 3,
        Verdict::NotMeasured => 2,
        Verdict::Within | Verdict::Open => 1,
    }
}
