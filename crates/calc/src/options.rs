//! What a way out costs for the distance it gives: expectations over an uncertain life.
//!
//! Money is in the reader's own currency. What was spent already appears nowhere here; hours
//! and waiting count only where someone prices them.

use libm::{erfc, exp, log, pow, tgamma};
use quantity::{Length, NotFinite, Ratio};
use statrs::function::gamma::gamma_lr;
use thiserror::Error;

/// Why an option has no cost.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum OptionsError {
    /// A figure must be above zero.
    #[error("{what} of {value} is not above zero")]
    NotPositive {
        /// Which figure.
        what: &'static str,
        /// Its value.
        value: f64,
    },
    /// A chance lies between 0 and 1.
    #[error("a chance of {chance} is outside 0 to 1")]
    Chance {
        /// The chance.
        chance: f64,
    },
    /// No chance of failure makes the two cost the same.
    #[error("no chance of failure between 0 and 1 makes the two cost the same")]
    NoBreakEven,
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// An amount of money in the reader's own currency, finite.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Money(f64);

impl Money {
    /// An amount.
    ///
    /// # Errors
    /// [`NotFinite`] for no finite amount.
    pub fn new(amount: f64) -> Result<Self, NotFinite> {
        Ratio::fraction(amount).map(|amount| Self(amount.in_fraction()))
    }

    /// The amount.
    #[must_use]
    pub const fn amount(self) -> f64 {
        self.0
    }
}

/// How long something lasts, as a distribution of distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Life {
    /// Weibull: shape and scale.
    Weibull {
        /// Shape k; above 1 wear, 1 chance, below 1 early failure.
        shape: Ratio,
        /// Scale η; 63 % have failed by then.
        scale: Length,
    },
    /// Lognormal: median and spread of the logarithm.
    Lognormal {
        /// Half have failed by then.
        median: Length,
        /// Standard deviation of the logarithm.
        sigma: Ratio,
    },
}

impl Life {
    fn check(self) -> Result<(), OptionsError> {
        let (a, b) = match self {
            Self::Weibull { shape, scale } => (
                ("a shape", shape.in_fraction()),
                ("a scale", scale.in_metres()),
            ),
            Self::Lognormal { median, sigma } => (
                ("a median", median.in_metres()),
                ("a sigma", sigma.in_fraction()),
            ),
        };
        for (what, value) in [a, b] {
            if value <= 0.0 {
                return Err(OptionsError::NotPositive { what, value });
            }
        }
        Ok(())
    }

    /// The mean life.
    ///
    /// # Formula
    /// Weibull η·Γ(1 + 1/k); lognormal median·exp(σ²/2)
    /// # Units
    /// Returns a distance.
    /// # Range
    /// Parameters above zero.
    /// # Source
    /// Closed forms of the two distributions.
    /// # Errors
    /// [`OptionsError::NotPositive`] names the parameter.
    /// # Example
    /// ```
    /// use calc::options::Life;
    /// use quantity::{Length, Ratio};
    /// let life = Life::Weibull { shape: Ratio::fraction(2.0)?, scale: Length::metres(80_000.0)? };
    /// assert!((life.mean()?.in_metres() - 70_898.15).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn mean(self) -> Result<Length, OptionsError> {
        self.check()?;
        Ok(Length::metres(match self {
            Self::Weibull { shape, scale } => {
                scale.in_metres() * tgamma(1.0 + 1.0 / shape.in_fraction())
            }
            Self::Lognormal { median, sigma } => {
                let sigma = sigma.in_fraction();
                median.in_metres() * exp(sigma * sigma / 2.0)
            }
        })?)
    }

    /// The chance to last a distance.
    ///
    /// # Formula
    /// Weibull exp(−(d/η)^k); lognormal 1 − Φ((ln d − ln median)/σ)
    /// # Units
    /// `distance` of zero and up; returns a chance.
    /// # Range
    /// Parameters above zero.
    /// # Source
    /// Survival functions of the two distributions.
    /// # Errors
    /// [`OptionsError::NotPositive`] names the parameter.
    /// # Example
    /// ```
    /// use calc::options::Life;
    /// use quantity::{Length, Ratio};
    /// let life = Life::Lognormal { median: Length::metres(50.0)?, sigma: Ratio::fraction(0.6)? };
    /// assert!((life.lasts(Length::metres(50.0)?)?.in_fraction() - 0.5).abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn lasts(self, distance: Length) -> Result<Ratio, OptionsError> {
        self.check()?;
        let d = distance.in_metres();
        if d <= 0.0 {
            return Ok(Ratio::fraction(1.0)?);
        }
        Ok(Ratio::fraction(match self {
            Self::Weibull { shape, scale } => exp(-pow(d / scale.in_metres(), shape.in_fraction())),
            Self::Lognormal { median, sigma } => {
                1.0 - normal(log(d / median.in_metres()) / sigma.in_fraction())
            }
        })?)
    }

    /// The mean distance had out of a horizon.
    ///
    /// # Formula
    /// E(min(T, H)): Weibull η·Γ(1 + 1/k)·P(1/k, (H/η)^k); lognormal
    /// mean·Φ((ln H − μ − σ²)/σ) + H·(1 − Φ((ln H − μ)/σ))
    /// # Units
    /// `horizon` above zero; returns a distance.
    /// # Range
    /// Parameters and horizon above zero.
    /// # Source
    /// Closed forms; P the regularised lower incomplete gamma function (statrs 0.19).
    /// # Errors
    /// [`OptionsError::NotPositive`] names the figure.
    /// # Example
    /// ```
    /// use calc::options::Life;
    /// use quantity::{Length, Ratio};
    /// let life = Life::Weibull { shape: Ratio::fraction(2.0)?, scale: Length::metres(80_000.0)? };
    /// assert!((life.mean_within(Length::metres(60_000.0)?)?.in_metres() - 50_419.62).abs() < 0.05);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn mean_within(self, horizon: Length) -> Result<Length, OptionsError> {
        let h = horizon.in_metres();
        if h <= 0.0 {
            return Err(OptionsError::NotPositive {
                what: "a horizon",
                value: h,
            });
        }
        let mean = self.mean()?.in_metres();
        Ok(Length::metres(match self {
            Self::Weibull { shape, scale } => {
                let k = shape.in_fraction();
                mean * gamma_lr(1.0 / k, pow(h / scale.in_metres(), k))
            }
            Self::Lognormal { median, sigma } => {
                let sigma = sigma.in_fraction();
                let z = log(h / median.in_metres()) / sigma;
                mean * normal(z - sigma) + h * (1.0 - normal(z))
            }
        })?)
    }
}

/// One way out, priced.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// What it costs now; nothing that was spent already.
    pub upfront: Money,
    /// How long it lasts.
    pub life: Life,
    /// The chance that it fails at once.
    pub fails_at_once: Ratio,
    /// What the vehicle is worth at the horizon if it still runs.
    pub worth_running: Money,
    /// What it is worth if it does not.
    pub worth_scrap: Money,
}

/// What a way out comes to over a horizon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// Chance to run past the horizon.
    pub runs: Ratio,
    /// Mean distance had.
    pub distance: Length,
    /// Mean cost.
    pub cost: Money,
}

impl Outlook {
    /// Money for a distance: the ratio of the two means.
    ///
    /// # Formula
    /// E(cost)/E(distance) · distance; never the mean of the ratios, which can turn the order
    /// round
    /// # Units
    /// `distance` to price; returns money.
    /// # Range
    /// Mean distance above zero.
    /// # Source
    /// Renewal-reward ratio.
    /// # Errors
    /// [`OptionsError::NotPositive`] when no distance is had at all.
    /// # Example
    /// See the test `e65_cost_for_a_thousand_miles`.
    pub fn for_distance(&self, distance: Length) -> Result<Money, OptionsError> {
        let had = self.distance.in_metres();
        if had <= 0.0 {
            return Err(OptionsError::NotPositive {
                what: "a mean distance",
                value: had,
            });
        }
        Ok(Money::new(self.cost.amount() / had * distance.in_metres())?)
    }
}

/// What a way out comes to over a horizon.
///
/// # Formula
/// P = (1 − p₀)·P(T > H); E(d) = (1 − p₀)·E(min(T, H)); E(cost) = C₀ − S_run·P − S_scrap·(1 − P)
/// # Units
/// Money and distance; see [`Way`].
/// # Range
/// Chance of instant failure from 0 to 1.
/// # Source
/// Expectations of the model.
/// # Errors
/// [`OptionsError`] names the figure.
/// # Example
/// See the test `e65_cost_for_a_thousand_miles`.
pub fn outlook(way: &Way, horizon: Length) -> Result<Outlook, OptionsError> {
    let p0 = way.fails_at_once.in_fraction();
    if !(0.0..=1.0).contains(&p0) {
        return Err(OptionsError::Chance { chance: p0 });
    }
    let starts = 1.0 - p0;
    let runs = starts * way.life.lasts(horizon)?.in_fraction();
    let distance = starts * way.life.mean_within(horizon)?.in_metres();
    let back = way.worth_running.amount() * runs + way.worth_scrap.amount() * (1.0 - runs);
    Ok(Outlook {
        runs: Ratio::fraction(runs)?,
        distance: Length::metres(distance)?,
        cost: Money::new(way.upfront.amount() - back)?,
    })
}

/// The chance of instant failure at which one way costs as much for a distance as another.
///
/// # Formula
/// Root in p₀ of cost/distance of `way` = that of `other`, by bisection
/// # Units
/// Returns a chance.
/// # Range
/// Exists only where the first way is cheaper when it never fails and dearer when it mostly does.
/// # Source
/// Definition of break-even.
/// # Errors
/// [`OptionsError::NoBreakEven`] where there is none.
/// # Example
/// See the test `e66_break_even_of_the_repair`.
pub fn break_even(way: &Way, other: &Way, horizon: Length) -> Result<Ratio, OptionsError> {
    let mile = Length::metres(1.0)?;
    let bar = outlook(other, horizon)?.for_distance(mile)?.amount();
    let dearer = |p0: f64| -> Result<bool, OptionsError> {
        let tried = Way {
            fails_at_once: Ratio::fraction(p0)?,
            ..*way
        };
        Ok(outlook(&tried, horizon)?.for_distance(mile)?.amount() > bar)
    };
    let (mut low, mut high) = (0.0, 1.0 - 1e-9);
    if dearer(low)? || !dearer(high)? {
        return Err(OptionsError::NoBreakEven);
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if dearer(middle)? {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(Ratio::fraction(f64::midpoint(low, high))?)
}

/// Φ, the standard normal distribution.
fn normal(x: f64) -> f64 {
    0.5 * erfc(-x / std::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use quantity::FOOT;

    const MILE: f64 = 5280.0 * FOOT;

    fn miles(value: f64) -> Length {
        Length::metres(value * MILE).unwrap()
    }

    fn ratio(value: f64) -> Ratio {
        Ratio::fraction(value).unwrap()
    }

    fn weibull(shape: f64, scale: f64) -> Life {
        Life::Weibull {
            shape: ratio(shape),
            scale: miles(scale),
        }
    }

    fn way(upfront: f64, life: Life, p0: f64, running: f64, scrap: f64) -> Way {
        let money = |amount| Money::new(amount).unwrap();
        Way {
            upfront: money(upfront),
            life,
            fails_at_once: ratio(p0),
            worth_running: money(running),
            worth_scrap: money(scrap),
        }
    }

    fn lognormal() -> Life {
        Life::Lognormal {
            median: miles(50_000.0),
            sigma: ratio(0.6),
        }
    }

    fn ways() -> [Way; 4] {
        [
            way(2200.0, weibull(2.0, 80_000.0), 0.15, 2500.0, 400.0),
            way(3400.0, lognormal(), 0.0, 2800.0, 400.0),
            way(6500.0, weibull(2.5, 140_000.0), 0.0, 4000.0, 400.0),
            way(7800.0, weibull(2.2, 120_000.0), 0.0, 4500.0, 700.0),
        ]
    }

    /// Source: closed form. *Computed by a general library (scipy 1.17.1).*
    #[test]
    fn e63_weibull_within_a_horizon() {
        let got = weibull(2.0, 80_000.0)
            .mean_within(miles(60_000.0))
            .unwrap()
            .in_metres()
            / MILE;
        assert!((got - 50_419.62).abs() < 0.05, "{got}");
    }

    /// Source: closed form. *Computed by a general library (scipy 1.17.1).*
    #[test]
    fn e64_lognormal_within_a_horizon() {
        let life = lognormal();
        let got = life.mean_within(miles(60_000.0)).unwrap().in_metres() / MILE;
        assert!((got - 45_797.37).abs() < 0.05, "{got}");
        assert!((life.mean().unwrap().in_metres() / MILE - 59_860.87).abs() < 0.01);
    }

    /// Source: closed form, Monte Carlo agreeing; money figures invented. *Computed by a general
    /// library (scipy 1.17.1).*
    #[test]
    fn e65_cost_for_a_thousand_miles() {
        let expected = [
            (0.48432, 42_856.68, 782.94, 18.269),
            (0.38061, 45_797.37, 2086.53, 45.560),
            (0.88671, 58_008.99, 2907.86, 50.128),
            (0.80442, 56_169.43, 4043.22, 71.983),
        ];
        for (way, (runs, distance, cost, thousand)) in ways().iter().zip(expected) {
            let seen = outlook(way, miles(60_000.0)).unwrap();
            assert!((seen.runs.in_fraction() - runs).abs() < 1e-5);
            assert!((seen.distance.in_metres() / MILE - distance).abs() < 0.05);
            assert!((seen.cost.amount() - cost).abs() < 0.01);
            let price = seen.for_distance(miles(1000.0)).unwrap().amount();
            assert!((price - thousand).abs() < 0.005, "{price}");
        }
    }

    /// Source: brentq. *Computed by a general library (scipy 1.17.1).*
    #[test]
    fn e66_break_even_of_the_repair() {
        let [repair, used, _, other] = ways();
        let horizon = miles(60_000.0);
        let against = |other| break_even(&repair, other, horizon).unwrap().in_fraction();
        assert!((against(&used) - 0.48478).abs() < 1e-4);
        assert!((against(&other) - 0.6270).abs() < 1e-4);
        assert_eq!(
            break_even(&other, &repair, horizon),
            Err(OptionsError::NoBreakEven)
        );
    }

    /// Source: survival functions. *Computed by a general library (scipy 1.17.1).* The cheapest
    /// way is the riskiest.
    #[test]
    fn chance_to_run_ten_thousand_miles() {
        let [repair, used, ..] = ways();
        let runs = |way: &Way| outlook(way, miles(10_000.0)).unwrap().runs.in_fraction();
        assert!((runs(&repair) - 0.8368).abs() < 1e-4);
        assert!((runs(&used) - 0.9963).abs() < 1e-4);
    }

    #[test]
    fn figures_that_cannot_be_are_refused() {
        let horizon = miles(1.0);
        assert!(matches!(
            weibull(0.0, 1.0).mean(),
            Err(OptionsError::NotPositive {
                what: "a shape",
                ..
            })
        ));
        let sure = way(1.0, weibull(1.0, 1.0), 1.5, 0.0, 0.0);
        assert!(matches!(
            outlook(&sure, horizon),
            Err(OptionsError::Chance { .. })
        ));
        assert!(weibull(1.0, 1.0).mean_within(miles(0.0)).is_err());
        assert!(Money::new(f64::NAN).is_err());
    }

    proptest! {
        /// E-P6: what is had out of a horizon is neither more than it nor more than the mean.
        #[test]
        fn ep6_no_more_than_mean_or_horizon(shape in 0.5..5.0f64, scale in 1e3..3e5f64, h in 1e3..3e5f64) {
            let life = weibull(shape, scale);
            let had = life.mean_within(miles(h)).unwrap().in_metres();
            let most = life.mean().unwrap().in_metres().min(h * MILE);
            prop_assert!(had <= most * (1.0 + 1e-9));
        }
    }
}
