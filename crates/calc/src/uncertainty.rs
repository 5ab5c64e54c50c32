//! How well a number is known: shares of an uncertainty, and redrawing readings inside their
//! intervals.
//!
//! Drawing starts from a seed handed in, so that the same question has the same answer. What
//! an uncertainty does to a verdict is [`crate::decision`]'s.

use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

/// Why an uncertainty cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum UncertaintyError {
    /// A share below zero.
    #[error("the uncertainty {metres} m is below zero")]
    Negative {
        /// The share, metres.
        metres: f64,
    },
    /// Too few draws to give a 95 % interval.
    #[error("{draws} draws are too few for a 95 % interval; {least} are needed")]
    TooFew {
        /// Draws asked for.
        draws: usize,
        /// Draws it takes.
        least: usize,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Combines independent standard uncertainties.
///
/// # Formula
/// u = √(Σ uᵢ²)
/// # Units
/// Lengths in and out.
/// # Range
/// Uncorrelated shares, each already in the unit of the result.
/// # Source
/// JCGM 100:2008 (GUM), 5.1.2, equation (10), sensitivities of 1. *Published.*
/// # Errors
/// [`UncertaintyError::Negative`] names the first share below zero.
/// # Example
/// ```
/// use quantity::Length;
/// let u = calc::uncertainty::combined(&[Length::mm(0.003)?, Length::mm(0.004)?])?;
/// assert!((u.in_mm() - 0.005).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn combined(shares: &[Length]) -> Result<Length, UncertaintyError> {
    let mut sum = 0.0;
    for share in shares {
        sum += not_negative(*share)? * share.si();
    }
    Ok(Length::from_si(sum.sqrt())?)
}

/// Standard uncertainty of a reading known only to lie within a step: a blade that goes and
/// the next that does not.
///
/// # Formula
/// u = step/√12
/// # Units
/// Full width of the step; returns a standard uncertainty.
/// # Range
/// Every place in the step equally likely.
/// # Source
/// JCGM 100:2008 (GUM), 4.3.7, rectangular distribution. *Published.*
/// # Errors
/// [`UncertaintyError::Negative`] for a step below zero.
/// # Example
/// ```
/// use quantity::Length;
/// let u = calc::uncertainty::of_step(Length::mm(0.01)?)?;
/// assert!((u.in_mm() - 0.00289).abs() < 5e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn of_step(step: Length) -> Result<Length, UncertaintyError> {
    Ok(Length::from_si(not_negative(step)? / 12f64.sqrt())?)
}

/// Standard uncertainty of something known to stay within ± a half width: how straight a
/// straightedge is.
///
/// # Formula
/// u = half/√3
/// # Units
/// Half width; returns a standard uncertainty.
/// # Range
/// Every place within it equally likely.
/// # Source
/// JCGM 100:2008 (GUM), 4.3.7, rectangular distribution. *Published.*
/// # Errors
/// [`UncertaintyError::Negative`] for a half width below zero.
/// # Example
/// ```
/// use quantity::Length;
/// let u = calc::uncertainty::of_half_width(Length::mm(0.007)?)?;
/// assert!((u.in_mm() - 0.00404).abs() < 5e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn of_half_width(half: Length) -> Result<Length, UncertaintyError> {
    Ok(Length::from_si(not_negative(half)? / 3f64.sqrt())?)
}

fn not_negative(length: Length) -> Result<f64, UncertaintyError> {
    if length.si() < 0.0 {
        return Err(UncertaintyError::Negative {
            metres: length.si(),
        });
    }
    Ok(length.si())
}

/// A source of drawn numbers that starts from a seed and is the same on every machine.
///
/// Splitmix64 (Steele, Lea, Flood, OOPSLA 2014), from memory. Good enough to scatter readings,
/// not for secrets.
#[derive(Clone, Debug)]
pub struct Draws {
    state: u64,
}

impl Draws {
    /// Starts from a seed.
    #[must_use]
    pub const fn from_seed(seed: u64) -> Self {
        Self { state: seed }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut word = self.state;
        word = (word ^ (word >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        word = (word ^ (word >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        word ^ (word >> 31)
    }

    /// A number in 0 to 1, 1 left out, every place equally likely.
    pub fn share(&mut self) -> f64 {
        // The upper 53 bits fill a float's digits exactly.
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A number between two ends, every place equally likely.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A number scattered normally about 0 with standard deviation 1 (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.share())).sqrt();
        radius * libm::cos(2.0 * std::f64::consts::PI * self.share())
    }
}

/// Where redrawn results lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scatter {
    /// Their mean.
    pub mean: Length,
    /// Their standard deviation.
    pub deviation: Length,
    /// 2.5 % lie below this.
    pub low: Length,
    /// 2.5 % lie above this.
    pub high: Length,
}

/// Repeats a calculation with readings drawn anew and gives where the results lie.
///
/// # Formula
/// mean, standard deviation, and the 2.5 % and 97.5 % places of the sorted results
/// # Units
/// `once` returns the result of one drawing.
/// # Range
/// 40 draws and more; 400 give the ends of the interval to about a tenth of its width.
/// # Source
/// JCGM 101:2008, propagation of distributions by drawing; from memory. *Published.*
/// # Errors
/// [`UncertaintyError::TooFew`], or the first fault of `once`.
/// # Example
/// ```
/// use calc::uncertainty::{UncertaintyError, redraw};
/// use quantity::Length;
/// let seen = redraw(400, 1, |draws| Ok::<_, UncertaintyError>(Length::mm(draws.between(0.05, 0.06))?))?;
/// assert!((seen.mean.in_mm() - 0.055).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn redraw<E: From<UncertaintyError>>(
    draws: usize,
    seed: u64,
    mut once: impl FnMut(&mut Draws) -> Result<Length, E>,
) -> Result<Scatter, E> {
    const LEAST: usize = 40;
    if draws < LEAST {
        return Err(UncertaintyError::TooFew {
            draws,
            least: LEAST,
        }
        .into());
    }
    let mut source = Draws::from_seed(seed);
    let mut seen = Vec::with_capacity(draws);
    for _ in 0..draws {
        seen.push(once(&mut source)?.si());
    }
    seen.sort_by(f64::total_cmp);
    let count = seen.iter().map(|_| 1.0).sum::<f64>();
    let mean = seen.iter().sum::<f64>() / count;
    let squares = seen
        .iter()
        .map(|value| (value - mean) * (value - mean))
        .sum::<f64>();
    let tail = draws / 40;
    let length =
        |si: f64| Length::from_si(si).map_err(|fault| E::from(UncertaintyError::from(fault)));
    Ok(Scatter {
        mean: length(mean)?,
        deviation: length((squares / (count - 1.0)).sqrt())?,
        low: length(seen[tail])?,
        high: length(seen[draws - 1 - tail])?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flatness::{FlatnessError, Point, flatness};

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    /// Source: blade step 0.01, straightedge ± 0.007, technique 0.003. *Computed: root sum of
    /// squares.*
    #[test]
    fn budget_of_a_straightedge_and_blades() {
        let u = combined(&[
            of_step(mm(0.01)).unwrap(),
            of_half_width(mm(0.007)).unwrap(),
            mm(0.003),
        ]);
        assert!((u.unwrap().in_mm() - 0.00580).abs() < 5e-6);
        assert!((of_step(mm(0.0127)).unwrap().in_mm() - 0.00367).abs() < 5e-6);
        assert!(combined(&[mm(-1.0)]).is_err());
    }

    #[derive(Debug)]
    struct Any;
    impl From<UncertaintyError> for Any {
        fn from(_: UncertaintyError) -> Self {
            Self
        }
    }
    impl From<FlatnessError> for Any {
        fn from(_: FlatnessError) -> Self {
            Self
        }
    }

    fn noisy(deck: &[(f64, f64, f64)], deviation_um: f64) -> Scatter {
        redraw(1500, 7, |draws| {
            let points: Vec<Point> = deck
                .iter()
                .map(|&(x, y, z)| Point {
                    x: mm(x),
                    y: mm(y),
                    z: mm(z + deviation_um * draws.normal() / 1000.0),
                })
                .collect();
            Ok::<_, Any>(flatness(&points)?.minimum_zone)
        })
        .unwrap()
    }

    fn deck() -> Vec<(f64, f64, f64)> {
        let heights = [0, 22, 31, 20, -4, 10, 37, 52, 41, 17, 14, 38, 46, 33, 6];
        (0..15)
            .map(|at| {
                (
                    105.0 * f64::from(at % 5),
                    75.0 * f64::from(at / 5),
                    f64::from(heights[at as usize]) / 1000.0,
                )
            })
            .collect()
    }

    /// Source: the fifteen stations, flat and as they are, with 5 µm of normal noise. *Computed
    /// by a general library (scipy 1.17.1, linear programme, 3000 draws).* Two random draws of
    /// this size differ by about 0.3 µm in their mean and 1 µm at the ends.
    #[test]
    fn noise_makes_a_face_look_less_flat() {
        let flat: Vec<_> = deck().iter().map(|&(x, y, _)| (x, y, 0.0)).collect();
        let seen = noisy(&flat, 5.0);
        assert!((seen.mean.in_micrometres() - 14.3).abs() < 0.4);
        assert!((seen.low.in_micrometres() - 8.5).abs() < 1.0);
        assert!((seen.high.in_micrometres() - 21.5).abs() < 1.2);
        let real = noisy(&deck(), 5.0);
        assert!((real.mean.in_micrometres() - 50.7).abs() < 0.6);
        assert!((real.deviation.in_micrometres() - 5.4).abs() < 0.5);
    }

    #[test]
    fn the_same_seed_gives_the_same_draws() {
        let once = |seed| {
            redraw(50, seed, |draws| {
                Ok::<_, UncertaintyError>(mm(draws.share()))
            })
            .unwrap()
        };
        assert_eq!(once(3), once(3));
        assert_ne!(once(3), once(4));
        assert!(redraw(5, 1, |_| Ok::<_, UncertaintyError>(mm(1.0))).is_err());
    }
}
