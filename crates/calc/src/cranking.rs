//! A set of cranking readings: shares of the best, spread, and how much of its gap a wet
//! test closes.
//!
//! What a share or a gap means is decided in `judge`; what an engine of known geometry should
//! read stands in [`crate::compression`].

use quantity::{GaugePressure, NotFinite, Quantity, Ratio};
use thiserror::Error;

/// Why a set of readings gives no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CrankingError {
    /// No cylinder has a reading.
    #[error("there is no reading at all")]
    NoReading,
    /// A gauge cannot show less than nothing.
    #[error("a reading of {pascals} Pa is below zero")]
    Negative {
        /// The reading, pascals.
        pascals: f64,
    },
    /// Every cylinder reads nothing, so no share can be formed.
    #[error("every reading is zero, so there is no best to compare with")]
    AllZero,
    /// The cylinder is not below the best, so there is no gap to close.
    #[error("this cylinder is not below the best one, so it has no gap to close")]
    NoGap,
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A set of readings, one a cylinder, compared with its best.
#[derive(Clone, Debug, PartialEq)]
pub struct Shares {
    /// The highest reading.
    pub best: GaugePressure,
    /// The lowest reading.
    pub lowest: GaugePressure,
    /// Each reading over the best, in the order given; `None` where there is no reading.
    pub of_best: Vec<Option<Ratio>>,
    /// The lowest over the best.
    pub lowest_of_best: Ratio,
    /// (best − lowest)/best.
    pub spread: Ratio,
}

/// Shares of the best and spread of one set of readings.
///
/// # Formula
/// share_i = p_i/p_max; spread = (p_max − p_min)/p_max. The denominator is always the best;
/// other denominators (the mean, the lowest) turn the same set into other verdicts.
/// # Units
/// `readings` in gauge pressure, `None` where a cylinder was not read; returns fractions.
/// # Range
/// Readings of zero and up, at least one above zero.
/// # Source
/// Definition; the rules that use it are *common practice, no source*.
/// # Errors
/// [`CrankingError`] names the reading that cannot be.
/// # Example
/// ```
/// use quantity::GaugePressure;
/// let set = [107.0, 60.0].map(|psi| GaugePressure::psi(psi).ok());
/// let shares = calc::cranking::shares(&set)?;
/// assert!((shares.lowest_of_best.in_percent() - 56.07).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn shares(readings: &[Option<GaugePressure>]) -> Result<Shares, CrankingError> {
    let known = readings.iter().flatten().copied();
    if let Some(below) = known.clone().find(|reading| reading.si() < 0.0) {
        return Err(CrankingError::Negative {
            pascals: below.si(),
        });
    }
    let highest = known
        .clone()
        .reduce(|a, b| if b > a { b } else { a })
        .ok_or(CrankingError::NoReading)?;
    let lowest = known
        .reduce(|a, b| if b < a { b } else { a })
        .ok_or(CrankingError::NoReading)?;
    if highest.si() <= 0.0 {
        return Err(CrankingError::AllZero);
    }
    let share = |reading: GaugePressure| Ratio::fraction(reading.si() / highest.si());
    let of_best = readings
        .iter()
        .map(|reading| reading.map(share).transpose())
        .collect::<Result<_, _>>()?;
    Ok(Shares {
        best: highest,
        lowest,
        of_best,
        lowest_of_best: share(lowest)?,
        spread: Ratio::fraction((highest.si() - lowest.si()) / highest.si())?,
    })
}

/// How much of a cylinder's gap to the best the oil of a wet test closes.
///
/// # Formula
/// (p_wet/r − p_dry)/(p_best − p_dry), with r the rise the same dose of oil gives a sound
/// cylinder (r = 1: uncorrected). Oil takes up room, so every cylinder reads higher wet.
/// # Units
/// Gauge pressures; returns a fraction. Near 1: the air leaves past the rings. Near 0: it
/// leaves by a valve, the gasket or a crack. It may be negative or above 1.
/// # Range
/// `best` above `dry`; `dose_rise` above zero.
/// # Source
/// Definition; its reading is *common practice, no source*.
/// # Errors
/// [`CrankingError::NoGap`] when the cylinder is not below the best.
/// # Example
/// ```
/// use quantity::{GaugePressure, Ratio};
/// let psi = |p| GaugePressure::psi(p);
/// let closed = calc::cranking::gap_closed(psi(70.0)?, psi(120.0)?, psi(130.0)?, Ratio::fraction(1.0)?)?;
/// assert!((closed.in_percent() - 83.3).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gap_closed(
    dry: GaugePressure,
    wet: GaugePressure,
    best: GaugePressure,
    dose_rise: Ratio,
) -> Result<Ratio, CrankingError> {
    if best <= dry || dose_rise.si() <= 0.0 {
        return Err(CrankingError::NoGap);
    }
    let gain = wet.si() / dose_rise.si() - dry.si();
    Ok(Ratio::fraction(gain / (best.si() - dry.si()))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(psi: &[f64]) -> Vec<Option<GaugePressure>> {
        psi.iter().map(|&p| GaugePressure::psi(p).ok()).collect()
    }

    /// Source: worked example with six readings, denominators compared. *Computed: arithmetic.*
    #[test]
    fn one_set_with_its_denominator_named() {
        let found = shares(&set(&[175.0, 170.0, 178.0, 172.0, 140.0, 174.0])).unwrap();
        assert!((found.spread.in_percent() - 21.3).abs() < 0.05);
        assert!((found.lowest_of_best.in_percent() - 78.7).abs() < 0.05);
    }

    #[test]
    fn readings_that_cannot_be_are_refused() {
        assert_eq!(shares(&[None, None]), Err(CrankingError::NoReading));
        assert_eq!(shares(&set(&[0.0, 0.0])), Err(CrankingError::AllZero));
        assert!(matches!(
            shares(&set(&[-1.0, 100.0])),
            Err(CrankingError::Negative { .. })
        ));
    }

    #[test]
    fn the_best_cylinder_has_no_gap() {
        let best = GaugePressure::psi(130.0).unwrap();
        let one = Ratio::fraction(1.0).unwrap();
        assert_eq!(gap_closed(best, best, best, one), Err(CrankingError::NoGap));
    }
}
