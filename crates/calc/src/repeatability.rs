//! Whether a difference between readings is larger than what the gauge itself scatters.
//!
//! Repeatability is the standard deviation of one person reading one cylinder again and
//! again. It speaks about differences on one gauge, never about how true the gauge is.

use libm::{erfc, exp, sqrt};
use quantity::{NotFinite, Ratio};
use thiserror::Error;

/// Why nothing can be said about a difference.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum RepeatabilityError {
    /// A scatter must be above zero.
    #[error("a repeatability of {percent} % is not above zero")]
    NotPositive {
        /// The repeatability, per cent.
        percent: f64,
    },
    /// Too few readings to say anything.
    #[error("{count} readings are too few; {least} are needed")]
    TooFew {
        /// How many there are.
        count: usize,
        /// How many it takes.
        least: usize,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The smallest difference between two readings that is likely real.
///
/// # Formula
/// 1.96·√(2/k)·s_r, k repeats of each reading (95 %, normal scatter)
/// # Units
/// `repeatability` as a fraction of the reading; `repeats` of each; returns a fraction of the
/// reading.
/// # Range
/// Repeatability above zero; at least one repeat.
/// # Source
/// Difference of two normal means. *Computed: normal distribution.*
/// # Errors
/// [`RepeatabilityError`] names the scatter or the count.
/// # Example
/// ```
/// use quantity::Ratio;
/// let real = calc::repeatability::real_difference(Ratio::percent(3.0)?, 1)?;
/// assert!((170.0 * real.in_fraction() - 14.1).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn real_difference(repeatability: Ratio, repeats: u32) -> Result<Ratio, RepeatabilityError> {
    let scatter = above_zero(repeatability)?;
    if repeats == 0 {
        return Err(RepeatabilityError::TooFew { count: 0, least: 1 });
    }
    // 97.5 % point of the standard normal distribution.
    let z = 1.959_963_984_540_054;
    Ok(Ratio::fraction(
        z * sqrt(2.0 / f64::from(repeats)) * scatter,
    )?)
}

/// How often sound cylinders, all alike, spread wider than a rule allows by scatter alone.
///
/// # Formula
/// P(range > w) = 1 − n·∫ φ(x)·(Φ(x) − Φ(x − w))^(n−1) dx, w = allowed spread/s_r
/// (x the highest of n; studentized range with infinite degrees of freedom)
/// # Units
/// `cylinders` a count, `allowed` and `repeatability` as fractions of the reading; returns a
/// probability.
/// # Range
/// Two cylinders and more; repeatability above zero. Simpson's rule on ±8 standard
/// deviations, 1600 steps: good to 1e-9.
/// # Source
/// Distribution of the range of a normal sample. Checked against scipy 1.17.1.
/// # Errors
/// [`RepeatabilityError`] names the scatter or the count.
/// # Example
/// ```
/// use quantity::Ratio;
/// let alarm = calc::repeatability::false_alarm(6, Ratio::percent(10.0)?, Ratio::percent(2.0)?)?;
/// assert!((alarm.in_percent() - 0.55).abs() < 0.02);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn false_alarm(
    cylinders: u32,
    allowed: Ratio,
    repeatability: Ratio,
) -> Result<Ratio, RepeatabilityError> {
    let width = allowed.in_fraction() / above_zero(repeatability)?;
    if cylinders < 2 {
        return Err(RepeatabilityError::TooFew {
            count: cylinders as usize,
            least: 2,
        });
    }
    let others = f64::from(cylinders - 1);
    let density = |x: f64| {
        let phi = exp(-0.5 * x * x) / sqrt(2.0 * std::f64::consts::PI);
        phi * libm::pow(normal(x) - normal(x - width), others)
    };
    let inside = f64::from(cylinders) * simpson(density, -8.0, 8.0, 1600);
    Ok(Ratio::fraction((1.0 - inside).clamp(0.0, 1.0))?)
}

/// How many scatters one reading lies from the mean of the others.
///
/// # Formula
/// z = (x − mean of others)/(s_r·√(1 + 1/(n − 1)))
/// # Units
/// `reading`, `others` and `scatter` in one unit of the caller's; returns a plain number.
/// # Range
/// At least one other; scatter above zero. Beyond 2 is unusual, beyond 3 hardly chance.
/// # Source
/// Leave-one-out difference with known scatter. *Computed: normal distribution.*
/// # Errors
/// [`RepeatabilityError`] names the scatter or the count.
/// # Example
/// ```
/// let others = [175.0, 170.0, 178.0, 172.0, 174.0];
/// let z = calc::repeatability::scatters_from_others(140.0, &others, 5.0)?;
/// assert!((z - -6.17).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn scatters_from_others(
    reading: f64,
    others: &[f64],
    scatter: f64,
) -> Result<f64, RepeatabilityError> {
    let scatter = above_zero(Ratio::fraction(scatter)?)?;
    let count = u32::try_from(others.len()).map_or(f64::MAX, f64::from);
    if others.is_empty() {
        return Err(RepeatabilityError::TooFew { count: 0, least: 1 });
    }
    let mean = others.iter().sum::<f64>() / count;
    let z = (reading - mean) / (scatter * sqrt(1.0 + 1.0 / count));
    Ok(Ratio::fraction(z)?.in_fraction())
}

fn above_zero(repeatability: Ratio) -> Result<f64, RepeatabilityError> {
    let scatter = repeatability.in_fraction();
    if scatter > 0.0 {
        Ok(scatter)
    } else {
        Err(RepeatabilityError::NotPositive {
            percent: repeatability.in_percent(),
        })
    }
}

/// Φ, the standard normal distribution.
fn normal(x: f64) -> f64 {
    0.5 * erfc(-x / std::f64::consts::SQRT_2)
}

/// Simpson's rule with an even number of equal steps.
fn simpson(f: impl Fn(f64) -> f64, from: f64, to: f64, steps: u32) -> f64 {
    let step = (to - from) / f64::from(steps);
    let inner: f64 = (1..steps)
        .map(|at| {
            let weight = if at % 2 == 1 { 4.0 } else { 2.0 };
            weight * f(from + step * f64::from(at))
        })
        .sum();
    (f(from) + inner + f(to)) * step / 3.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn percent(value: f64) -> Ratio {
        Ratio::percent(value).unwrap()
    }

    /// Source: studentized range, infinite degrees of freedom. *Computed by a general library
    /// (scipy 1.17.1).*
    #[test]
    fn e45_false_alarm_of_the_ten_per_cent_rule() {
        let alarm = |s: f64| {
            false_alarm(6, percent(10.0), percent(s))
                .unwrap()
                .in_fraction()
        };
        assert!((alarm(3.0) - 0.1716).abs() < 0.002);
        assert!((alarm(2.0) - 0.0055).abs() < 0.0005);
        assert!((alarm(5.0) - 0.718).abs() < 0.002);
    }

    /// Source: 170 psi, 3 %, one and three readings each. *Computed: normal distribution.*
    #[test]
    fn difference_of_single_and_repeated_readings() {
        let real = |k| 170.0 * real_difference(percent(3.0), k).unwrap().in_fraction();
        assert!((real(1) - 14.1).abs() < 0.05);
        assert!((real(3) - 8.2).abs() < 0.05);
    }

    #[test]
    fn no_scatter_and_no_readings_are_refused() {
        assert!(matches!(
            real_difference(percent(0.0), 1),
            Err(RepeatabilityError::NotPositive { .. })
        ));
        assert!(matches!(
            false_alarm(1, percent(10.0), percent(2.0)),
            Err(RepeatabilityError::TooFew { count: 1, least: 2 })
        ));
    }
}
