//! Bores and journals by diameters, as the workshop means out-of-round and taper.
//!
//! Roundness as ISO 12181 means it is radial and stands in [`crate::roundness`].

use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

/// Why diameters say nothing.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BoreError {
    /// Too few readings for the question.
    #[error("{what} needs two diameters at least, {count} were read")]
    TooFew {
        /// What was asked.
        what: &'static str,
        /// How many there are.
        count: usize,
    },
    /// A diameter that is none.
    #[error("a diameter of {mm} mm is not above zero")]
    NotPositive {
        /// Its size, millimetres.
        mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Out-of-round as the shop means it: largest less smallest diameter at one depth.
///
/// # Formula
/// max − min of the diameters at one depth. An oval of radial height a reads 4a here and 2a as
/// ISO roundness.
/// # Units
/// Diameters in, length out.
/// # Range
/// Two directions and more. Blind to three lobes.
/// # Source
/// *Common practice, no source.*
/// # Errors
/// [`BoreError`] names what is missing.
/// # Example
/// ```
/// use quantity::Length;
/// let out = calc::bore::out_of_round(&[Length::mm(86.062)?, Length::mm(86.031)?])?;
/// assert!((out.in_mm() - 0.031).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn out_of_round(diameters: &[Length]) -> Result<Length, BoreError> {
    spread("out-of-round", diameters)
}

/// Taper as the shop means it: largest less smallest diameter down one direction.
///
/// # Formula
/// max − min of the diameters in one direction
/// # Units
/// Diameters in, length out.
/// # Range
/// Two depths and more.
/// # Source
/// *Common practice, no source.*
/// # Errors
/// [`BoreError`] names what is missing.
/// # Example
/// ```
/// use quantity::Length;
/// let taper = calc::bore::taper(&[Length::mm(86.062)?, Length::mm(86.034)?, Length::mm(86.012)?])?;
/// assert!((taper.in_mm() - 0.050).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn taper(diameters: &[Length]) -> Result<Length, BoreError> {
    spread("taper", diameters)
}

/// How far a ring gap opens over a change of diameter.
///
/// # Formula
/// Δg = π·ΔD
/// # Units
/// Lengths in and out.
/// # Range
/// A ring pushed square with a piston.
/// # Source
/// Circumference of the circle.
/// # Errors
/// [`BoreError::NotFinite`] for lengths beyond all engines.
/// # Example
/// ```
/// use quantity::Length;
/// let opens = calc::bore::ring_gap_change(Length::mm(0.05)?)?;
/// assert!((opens.in_mm() - 0.157).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ring_gap_change(diameter_change: Length) -> Result<Length, BoreError> {
    Ok(Length::from_si(
        std::f64::consts::PI * diameter_change.si(),
    )?)
}

/// Diameter of a worn place from two ring gaps, the other one where the bore is not worn.
///
/// # Formula
/// D = D₀ + (g − g₀)/π
/// # Units
/// Lengths in and out.
/// # Range
/// The same ring in both places; sees odd lobes as little as a two-point gauge but averages
/// them truly.
/// # Source
/// Circumference of the circle.
/// # Errors
/// [`BoreError::NotPositive`] for a bore that is none.
pub fn diameter_by_ring(
    unworn: Length,
    gap_unworn: Length,
    gap: Length,
) -> Result<Length, BoreError> {
    if unworn.si() <= 0.0 {
        return Err(BoreError::NotPositive { mm: unworn.in_mm() });
    }
    Ok(Length::from_si(
        unworn.si() + (gap.si() - gap_unworn.si()) / std::f64::consts::PI,
    )?)
}

fn spread(what: &'static str, diameters: &[Length]) -> Result<Length, BoreError> {
    if diameters.len() < 2 {
        return Err(BoreError::TooFew {
            what,
            count: diameters.len(),
        });
    }
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for diameter in diameters {
        if diameter.si() <= 0.0 {
            return Err(BoreError::NotPositive {
                mm: diameter.in_mm(),
            });
        }
        low = low.min(diameter.si());
        high = high.max(diameter.si());
    }
    Ok(Length::from_si(high - low)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(values: &[f64]) -> Vec<Length> {
        values
            .iter()
            .map(|&value| Length::mm(value).unwrap())
            .collect()
    }

    /// Source: grid of six diameters, thrust and axial at three depths. *Computed: arithmetic.*
    #[test]
    fn out_of_round_and_taper_of_a_grid() {
        for (level, expected) in [
            ([86.062, 86.031], 0.031),
            ([86.034, 86.020], 0.014),
            ([86.012, 86.008], 0.004),
        ] {
            assert!((out_of_round(&mm(&level)).unwrap().in_mm() - expected).abs() < 1e-9);
        }
        assert!((taper(&mm(&[86.062, 86.034, 86.012])).unwrap().in_mm() - 0.050).abs() < 1e-9);
        assert!((taper(&mm(&[86.031, 86.020, 86.008])).unwrap().in_mm() - 0.023).abs() < 1e-9);
    }

    #[test]
    fn a_ring_finds_the_worn_diameter() {
        let one = |value| Length::mm(value).unwrap();
        let worn = diameter_by_ring(
            one(86.0),
            one(0.35),
            one(0.35 + std::f64::consts::PI * 0.05),
        )
        .unwrap();
        assert!((worn.in_mm() - 86.05).abs() < 1e-9);
    }

    #[test]
    fn one_diameter_says_nothing_and_none_is_negative() {
        assert!(matches!(taper(&mm(&[86.0])), Err(BoreError::TooFew { .. })));
        assert!(matches!(
            out_of_round(&mm(&[86.0, -1.0])),
            Err(BoreError::NotPositive { .. })
        ));
    }
}
