//! Clearances by the trade's rules: ring gap, bearing oil clearance, piston to wall.
//!
//! The rules are fallbacks; a maker's figure always wins, and `judge` shows which one decided.

use quantity::{Length, NotFinite, Quantity, Range, Ratio};
use thiserror::Error;

/// Why there is no clearance.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ClearanceError {
    /// A size that must be above zero.
    #[error("{what} of {mm} mm is not above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// Its size, millimetres.
        mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The hole less what runs in it.
///
/// # Formula
/// c = D − d
/// # Units
/// Lengths in and out; below zero is an interference.
/// # Range
/// Both at one temperature.
/// # Source
/// Definition.
/// # Errors
/// [`ClearanceError::NotPositive`] names the size.
/// # Example
/// ```
/// use quantity::Length;
/// let free = calc::clearance::between(Length::mm(86.03)?, Length::mm(85.98)?)?;
/// assert!((free.in_mm() - 0.05).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn between(hole: Length, shaft: Length) -> Result<Length, ClearanceError> {
    Ok(Length::from_si(
        positive("a hole", hole)? - positive("a shaft", shaft)?,
    )?)
}

/// Ring gap by the street rule.
///
/// # Formula
/// g = f·bore, f from 0.0040 to 0.0045 for a top ring
/// # Units
/// Bore and a factor without unit (inch per inch is millimetre per millimetre); length out.
/// # Range
/// Measured where the bore is tightest, at the bottom of a worn one.
/// # Source
/// *Common practice, no source.*
/// # Errors
/// [`ClearanceError::NotPositive`] for no bore.
/// # Example
/// ```
/// use quantity::{Length, Ratio};
/// let gap = calc::clearance::ring_gap(Length::mm(86.0)?, Ratio::fraction(0.004)?)?;
/// assert!((gap.in_mm() - 0.344).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ring_gap(bore: Length, factor: Ratio) -> Result<Length, ClearanceError> {
    Ok(Length::from_si(
        positive("a bore", bore)? * factor.in_fraction(),
    )?)
}

/// Oil clearance of a plain bearing by the rule of thumb, tight to loose.
///
/// # Formula
/// c = d/1000; tight 0.0005 in less, loose 0.0005 in more
/// # Units
/// Journal diameter in; the middle and the two ends out.
/// # Range
/// Journals of car engines.
/// # Source
/// *Common practice, no source.*
/// # Errors
/// [`ClearanceError::NotPositive`] for no journal.
/// # Example
/// ```
/// use quantity::Length;
/// let (usual, _) = calc::clearance::bearing(Length::mm(60.0)?)?;
/// assert!((usual.in_mm() - 0.060).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn bearing(journal: Length) -> Result<(Length, Range<Length>), ClearanceError> {
    let usual = positive("a journal", journal)? / 1000.0;
    let half_thou = 0.0005 * quantity::INCH;
    let range = Range {
        low: Length::from_si((usual - half_thou).max(0.0))?,
        high: Length::from_si(usual + half_thou)?,
    };
    Ok((Length::from_si(usual)?, range))
}

fn positive(what: &'static str, length: Length) -> Result<f64, ClearanceError> {
    if length.si() <= 0.0 {
        return Err(ClearanceError::NotPositive {
            what,
            mm: length.in_mm(),
        });
    }
    Ok(length.si())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(value: f64) -> Length {
        Length::inches(value).unwrap()
    }

    /// Source: 4.00 in bore. *Common practice, no source.*
    #[test]
    fn e35_ring_gap_of_a_four_inch_bore() {
        for (factor, gap) in [(0.004, 0.016), (0.0045, 0.018)] {
            let seen = ring_gap(inch(4.0), Ratio::fraction(factor).unwrap()).unwrap();
            assert!((seen.in_inches() - gap).abs() < 1e-9);
        }
    }

    /// Source: journal of 2.5 in. *Common practice, no source.*
    #[test]
    fn e36_bearing_clearance_usual_loose_and_tight() {
        let (usual, range) = bearing(inch(2.5)).unwrap();
        assert!((usual.in_inches() - 0.0025).abs() < 1e-9);
        assert!((range.high.in_inches() - 0.0030).abs() < 1e-9);
        assert!((range.low.in_inches() - 0.0020).abs() < 1e-9);
    }

    #[test]
    fn sizes_that_are_none_are_refused() {
        assert!(between(inch(1.0), inch(0.0)).is_err());
        assert!(bearing(inch(-1.0)).is_err());
        assert!(ring_gap(inch(0.0), Ratio::fraction(0.004).unwrap()).is_err());
    }
}
