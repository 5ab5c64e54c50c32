//! Deciding whether a reading keeps its limits when the instrument is not perfect.
//!
//! Only the rule and its probabilities stand here. The sentence, and the act that settles an
//! open case, are `judge`'s work; where an uncertainty comes from is [`crate::uncertainty`]'s.

use libm::erfc;
use quantity::{Bound, NotFinite, Quantity, Ratio};
use thiserror::Error;

/// Two numbers closer than this share of their size are one number typed or added twice.
const FLOAT_NOISE: f64 = 1e-9;

/// Why no decision can be made.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DecisionError {
    /// An uncertainty below zero.
    #[error("an uncertainty of {si} {unit} is below zero")]
    Negative {
        /// The uncertainty in SI.
        si: f64,
        /// Its SI unit.
        unit: &'static str,
    },
    /// An uncertainty of nothing has no probability.
    #[error("without an uncertainty there is no probability, only a comparison")]
    NoUncertainty,
    /// The low limit lies above the high one.
    #[error("the low limit {low} lies above the high limit {high} ({unit})")]
    Crossed {
        /// The low limit in SI.
        low: f64,
        /// The high limit in SI.
        high: f64,
        /// Their SI unit.
        unit: &'static str,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// How a reading stands to its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Conformity is shown.
    Within {
        /// The reading, less or more its uncertainty, lies on a limit.
        on_edge: bool,
    },
    /// Non-conformity is shown.
    Outside,
    /// Neither is shown.
    Undecided,
}

/// Decides a reading against its limits.
///
/// # Formula
/// Upper limit L, reading y, expanded uncertainty U: y ≤ L − U within; y ≥ L + U outside
/// (y > L where U is 0); between them undecided. A lower limit is the mirror image. A reading
/// that is a bound stands for its whole interval: `below x` never reaches x.
/// # Units
/// Reading, limits and `expanded` in one kind; `expanded` is U = 2u.
/// # Range
/// Any; a missing limit is no limit. Differences below one part in 10⁹ are float noise.
/// # Source
/// ISO 14253-1, decision rule; from a summary, full text not compared. *Published.*
/// # Errors
/// [`DecisionError`] names a negative uncertainty or limits that cross.
/// # Example
/// ```
/// use calc::decision::{Outcome, decide};
/// use quantity::{Bound, Length};
/// let mm = |v| Length::mm(v);
/// let seen = decide(Bound::Exactly(mm(0.044)?), None, Some(mm(0.05)?), mm(0.01)?)?;
/// assert_eq!(seen, Outcome::Undecided);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn decide<Q: Quantity>(
    reading: Bound<Q>,
    low: Option<Q>,
    high: Option<Q>,
    expanded: Q,
) -> Result<Outcome, DecisionError> {
    let slack = expanded.si();
    if slack < 0.0 {
        return Err(DecisionError::Negative {
            si: slack,
            unit: Q::KIND.si_symbol(),
        });
    }
    if let (Some(low), Some(high)) = (low, high)
        && low.si() > high.si()
    {
        return Err(DecisionError::Crossed {
            low: low.si(),
            high: high.si(),
            unit: Q::KIND.si_symbol(),
        });
    }
    let sides = [
        high.map(|limit| side(&Spread::of(reading), limit.si(), slack)),
        low.map(|limit| side(&Spread::of(reading).mirrored(), -limit.si(), slack)),
    ];
    let mut outcome = Outcome::Within { on_edge: false };
    for seen in sides.into_iter().flatten() {
        outcome = match (outcome, seen) {
            (Outcome::Outside, _) | (_, Outcome::Outside) => Outcome::Outside,
            (Outcome::Undecided, _) | (_, Outcome::Undecided) => Outcome::Undecided,
            (Outcome::Within { on_edge: a }, Outcome::Within { on_edge: b }) => {
                Outcome::Within { on_edge: a || b }
            }
        };
    }
    Ok(outcome)
}

/// Where a reading can lie; an end that is never reached is open.
#[derive(Clone, Copy, Debug)]
struct Spread {
    low: f64,
    low_open: bool,
    high: f64,
    high_open: bool,
}

impl Spread {
    fn of<Q: Quantity>(reading: Bound<Q>) -> Self {
        let (low, low_open, high, high_open) = match reading {
            Bound::Exactly(value) => (value.si(), false, value.si(), false),
            Bound::Below(value) => (f64::NEG_INFINITY, true, value.si(), true),
            Bound::Above(value) => (value.si(), true, f64::INFINITY, true),
            // The blade that goes may fit exactly; the one that does not go never does.
            Bound::Between(range) => (
                range.low.si(),
                false,
                range.high.si(),
                range.low != range.high,
            ),
        };
        Self {
            low,
            low_open,
            high,
            high_open,
        }
    }

    fn mirrored(self) -> Self {
        Self {
            low: -self.high,
            low_open: self.high_open,
            high: -self.low,
            high_open: self.low_open,
        }
    }
}

/// One upper limit.
fn side(spread: &Spread, limit: f64, slack: f64) -> Outcome {
    let noise = FLOAT_NOISE * limit.abs().max(slack);
    let room = limit - slack - spread.high;
    if room >= -noise {
        return Outcome::Within {
            on_edge: room.abs() <= noise && !spread.high_open,
        };
    }
    let past = spread.low - (limit + slack);
    let shown = if slack > 0.0 || spread.low_open {
        past >= -noise
    } else {
        past > noise
    };
    if shown {
        Outcome::Outside
    } else {
        Outcome::Undecided
    }
}

/// How likely a reading's true value keeps an upper limit.
///
/// # Formula
/// P = Φ((L − y)/u)
/// # Units
/// `reading`, `limit` and the standard uncertainty in one kind; returns a probability.
/// # Range
/// Normal scatter, nothing known beforehand.
/// # Source
/// JCGM 106:2012, conformance probability; from a summary. *Published.*
/// # Errors
/// [`DecisionError::NoUncertainty`] where u is not above zero.
/// # Example
/// ```
/// use quantity::Length;
/// let p = calc::decision::conformance(Length::mm(0.044)?, Length::mm(0.05)?, Length::mm(0.005)?)?;
/// assert!((p.in_fraction() - 0.88493).abs() < 1e-5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn conformance<Q: Quantity>(reading: Q, limit: Q, standard: Q) -> Result<Ratio, DecisionError> {
    if standard.si() <= 0.0 {
        return Err(DecisionError::NoUncertainty);
    }
    let z = (limit.si() - reading.si()) / standard.si();
    Ok(Ratio::fraction(0.5 * erfc(-z / std::f64::consts::SQRT_2))?)
}

/// The strip inside a one-sided limit in which 95 % conformance is not yet sure.
///
/// # Formula
/// g = 1.6449·u
/// # Units
/// `standard` uncertainty; returns the width of the strip in the same kind.
/// # Range
/// One-sided limit, normal scatter.
/// # Source
/// ISO 14253-1:2017, default conformance probability of 95 %; from a summary. *Published.*
/// # Errors
/// [`DecisionError::NoUncertainty`] where u is not above zero.
/// # Example
/// ```
/// use quantity::Length;
/// let strip = calc::decision::guard_band(Length::mm(0.005)?)?;
/// assert!((strip.in_mm() - 0.00822).abs() < 5e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn guard_band<Q: Quantity>(standard: Q) -> Result<Q, DecisionError> {
    if standard.si() <= 0.0 {
        return Err(DecisionError::NoUncertainty);
    }
    // 95 % point of the standard normal distribution.
    Ok(Q::from_si(1.644_853_626_951_472_7 * standard.si())?)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use quantity::{Length, Range};

    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn most(reading: Bound<Length>, limit: f64, expanded: f64) -> Outcome {
        decide(reading, None, Some(mm(limit)), mm(expanded)).unwrap()
    }

    /// Source: normal distribution, limit 0.050, u 0.005, y 0.044. *Computed by a general
    /// library (scipy 1.17.1).* Rule: ISO 14253-1, summary. *Published.*
    #[test]
    fn e19_uncertain_with_its_probability() {
        assert_eq!(
            most(Bound::Exactly(mm(0.044)), 0.05, 0.01),
            Outcome::Undecided
        );
        let p = |y: f64| {
            conformance(mm(y), mm(0.05), mm(0.005))
                .unwrap()
                .in_fraction()
        };
        assert!((p(0.044) - 0.88493).abs() < 1e-5);
        assert!((p(0.038) - 0.9918).abs() < 5e-5);
        assert!((p(0.0499) - 0.508).abs() < 5e-4);
        assert!((p(0.062) - 0.0082).abs() < 5e-5);
    }

    /// Source: decision rule of ISO 14253-1, summary. *Published.*
    #[test]
    fn e20_proved_either_way() {
        assert_eq!(
            most(Bound::Exactly(mm(0.038)), 0.05, 0.01),
            Outcome::Within { on_edge: false }
        );
        assert_eq!(
            most(Bound::Exactly(mm(0.062)), 0.05, 0.01),
            Outcome::Outside
        );
        assert_eq!(most(Bound::Exactly(mm(0.06)), 0.05, 0.01), Outcome::Outside);
        assert_eq!(
            most(Bound::Exactly(mm(0.04)), 0.05, 0.01),
            Outcome::Within { on_edge: true }
        );
    }

    #[test]
    fn the_edge_is_within_where_nothing_is_said_of_the_instrument() {
        assert_eq!(
            most(Bound::Exactly(mm(0.05)), 0.05, 0.0),
            Outcome::Within { on_edge: true }
        );
        assert_eq!(
            most(Bound::Exactly(mm(0.0501)), 0.05, 0.0),
            Outcome::Outside
        );
    }

    #[test]
    fn a_blade_that_goes_and_one_that_does_not() {
        let between = |low, high| {
            Bound::Between(Range {
                low: mm(low),
                high: mm(high),
            })
        };
        assert_eq!(
            most(between(0.04, 0.05), 0.05, 0.0),
            Outcome::Within { on_edge: false }
        );
        assert_eq!(most(between(0.05, 0.06), 0.05, 0.0), Outcome::Undecided);
        assert_eq!(most(between(0.06, 0.07), 0.05, 0.0), Outcome::Outside);
        assert_eq!(
            most(Bound::Below(mm(0.05)), 0.05, 0.0),
            Outcome::Within { on_edge: false }
        );
        assert_eq!(most(Bound::Above(mm(0.05)), 0.05, 0.0), Outcome::Outside);
        assert_eq!(most(Bound::Above(mm(0.04)), 0.05, 0.0), Outcome::Undecided);
        let tight = decide(
            Bound::Below(mm(0.04)),
            Some(mm(0.15)),
            Some(mm(0.25)),
            mm(0.0),
        );
        assert_eq!(tight.unwrap(), Outcome::Outside);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(matches!(
            decide(
                Bound::Exactly(mm(1.0)),
                Some(mm(2.0)),
                Some(mm(1.0)),
                mm(0.0)
            ),
            Err(DecisionError::Crossed { .. })
        ));
        assert!(matches!(
            decide(Bound::Exactly(mm(1.0)), None, Some(mm(1.0)), mm(-0.1)),
            Err(DecisionError::Negative { .. })
        ));
    }

    proptest! {
        /// A worse instrument never turns an open case into a decided one, or a case round.
        #[test]
        fn a_worse_instrument_decides_no_more(y in 0.0..0.1f64, u in 0.0..0.02f64, more in 0.0..0.02f64) {
            let fine = most(Bound::Exactly(mm(y)), 0.05, u);
            let coarse = most(Bound::Exactly(mm(y)), 0.05, u + more);
            let same = match (fine, coarse) {
                (Outcome::Within { .. }, Outcome::Within { .. }) | (_, Outcome::Undecided) => true,
                (a, b) => a == b,
            };
            prop_assert!(same, "{fine:?} became {coarse:?}");
        }
    }
}
