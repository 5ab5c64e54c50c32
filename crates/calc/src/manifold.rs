//! How the inlet manifold of a V engine must follow when heads or decks are cut.

use libm::{cos, sin};
use quantity::{Angle, Length, NotFinite, Quantity, Ratio};
use thiserror::Error;

/// Why a manifold cannot follow.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ManifoldError {
    /// An angle between the banks that no V has.
    #[error("a bank angle of {degrees}° is not between 0° and 180°")]
    Bank {
        /// The angle, degrees.
        degrees: f64,
    },
    /// Flanges that lie flat: no cut on them brings the ports back.
    #[error("flanges that lie {degrees}° from each other cannot bring the ports back by any cut")]
    Flat {
        /// Angle between the flange planes, degrees.
        degrees: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// What each millimetre off the heads asks of the manifold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Follow {
    /// To be taken off each pair of flange faces.
    pub flange: Ratio,
    /// How far the manifold then drops: to be taken off the block's end rails or its seals.
    pub rail: Ratio,
}

/// What must come off flanges and rails so that the manifold seals and its ports line up.
///
/// # Formula
/// flange = sin θ/cos ε, rail = cos(θ − ε)/cos ε; θ half the bank angle, ε = θ + δ, δ the tilt
/// of the flange from square to the deck
/// # Units
/// Angles in; millimetres per millimetre cut out.
/// # Range
/// ε below 90°.
/// # Source
/// Shift of the head by the cut, no sliding allowed along the flange. *Computed: geometry.*
/// # Errors
/// [`ManifoldError`] names the angle.
/// # Example
/// ```
/// use quantity::Angle;
/// let follow = calc::manifold::follow(Angle::degrees(90.0)?, Angle::degrees(10.0)?)?;
/// assert!((follow.flange.in_fraction() - 1.2328).abs() < 1e-5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn follow(bank: Angle, tilt: Angle) -> Result<Follow, ManifoldError> {
    let (half, lean) = angles(bank, tilt)?;
    Ok(Follow {
        flange: Ratio::fraction(sin(half) / cos(lean))?,
        rail: Ratio::fraction(cos(half - lean) / cos(lean))?,
    })
}

/// How far the ports slide along their face when nothing is machined.
///
/// # Formula
/// slide = c·cos(θ − ε)
/// # Units
/// Cut and angles in, length out.
/// # Range
/// As [`follow`].
/// # Source
/// As [`follow`].
/// # Errors
/// As [`follow`].
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let slide = calc::manifold::slide(Length::mm(0.5)?, Angle::degrees(90.0)?, Angle::degrees(0.0)?)?;
/// assert!((slide.in_mm() - 0.5).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn slide(cut: Length, bank: Angle, tilt: Angle) -> Result<Length, ManifoldError> {
    let (half, lean) = angles(bank, tilt)?;
    Ok(Length::from_si(cut.si() * cos(half - lean))?)
}

fn angles(bank: Angle, tilt: Angle) -> Result<(f64, f64), ManifoldError> {
    let degrees = bank.in_degrees();
    if !(degrees > 0.0 && degrees < 180.0) {
        return Err(ManifoldError::Bank { degrees });
    }
    let half = bank.in_radians() / 2.0;
    let lean = half + tilt.in_radians();
    if cos(lean) < 1e-3 {
        return Err(ManifoldError::Flat {
            degrees: 2.0 * lean.to_degrees(),
        });
    }
    Ok((half, lean))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn factors(bank: f64, tilt: f64) -> (f64, f64) {
        let seen = follow(Angle::degrees(bank).unwrap(), Angle::degrees(tilt).unwrap()).unwrap();
        (seen.flange.in_fraction(), seen.rail.in_fraction())
    }

    /// Source: formula of the module. *Computed by a general library (Python 3.11 floats):
    /// geometry.* The pair 1.23 / 1.71: *common practice, no source.*
    #[test]
    fn e29_ninety_degrees_with_flanges_tilted_ten() {
        let (flange, rail) = factors(90.0, 10.0);
        assert!((flange - 1.23280).abs() < 1e-5);
        assert!((rail - 1.71696).abs() < 1e-5);
    }

    /// Source: formula of the module. *Computed by a general library (Python 3.11 floats):
    /// geometry.*
    #[test]
    fn e30_sixty_degrees_with_square_flanges() {
        let (flange, rail) = factors(60.0, 0.0);
        assert!((flange - 0.57735).abs() < 1e-5);
        assert!((rail - 1.15470).abs() < 1e-5);
    }

    #[test]
    fn flat_flanges_and_no_v_are_refused() {
        let degrees = |value| Angle::degrees(value).unwrap();
        assert!(matches!(
            follow(degrees(90.0), degrees(45.0)),
            Err(ManifoldError::Flat { .. })
        ));
        assert!(matches!(
            follow(degrees(180.0), degrees(0.0)),
            Err(ManifoldError::Bank { .. })
        ));
    }
}
