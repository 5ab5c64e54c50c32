//! Roundness of a bore or journal from radii at angles, and what a two-point gauge makes of it.
//!
//! Roundness here is radial, as ISO 12181 has it. The workshop's out-of-round, a difference of
//! diameters, stands in [`crate::bore`].

use libm::{cos, sin};
use nalgebra::{Matrix3, Vector3};
use quantity::{Angle, Length, NotFinite, Quantity};
use thiserror::Error;

use crate::zone::{Row, ZoneError, narrowest};

/// Why there is no roundness.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum RoundnessError {
    /// Too few readings, or all at one angle.
    #[error("{count} readings do not fix a circle; four and more round the bore are needed")]
    TooFew {
        /// How many there are.
        count: usize,
    },
    /// Readings that have no opposite.
    #[error(
        "{count} readings have no opposites; a two-point gauge needs an even number, evenly spaced"
    )]
    Odd {
        /// How many there are.
        count: usize,
    },
    /// The method did not settle.
    #[error("the circle could not be centred: {0}")]
    Unsettled(ZoneError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A radius, or its deviation from any fixed radius, at an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spoke {
    /// Where round the bore.
    pub angle: Angle,
    /// The radius there.
    pub radius: Length,
}

/// How round it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roundness {
    /// Difference of the two concentric circles that hold every reading and lie closest.
    pub minimum_zone: Length,
    /// Peak to valley about the least-squares circle.
    pub least_squares: Length,
}

/// Works out how round a section is.
///
/// # Formula
/// min over r, a, b of (max − min) of ρᵢ − (r + a·cos θᵢ + b·sin θᵢ)
/// # Units
/// Angles and radii in, lengths out.
/// # Range
/// Deviations small against the radius, so that the circle may be taken as linear.
/// # Source
/// ISO 12181, roundness; from secondary texts. *Published.*
/// # Errors
/// [`RoundnessError`] names what the readings lack.
pub fn roundness(spokes: &[Spoke]) -> Result<Roundness, RoundnessError> {
    let few = RoundnessError::TooFew {
        count: spokes.len(),
    };
    if spokes.len() < 4 {
        return Err(few);
    }
    let columns = |spoke: &Spoke| {
        [
            1.0,
            cos(spoke.angle.in_radians()),
            sin(spoke.angle.in_radians()),
        ]
    };
    // About the first radius, so that micrometres keep their digits beside a bore.
    let base = spokes[0].radius.si();
    let (mut normal, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for spoke in spokes {
        let column = Vector3::from(columns(spoke));
        normal += column * column.transpose();
        right += column * (spoke.radius.si() - base);
    }
    let circle = normal.lu().solve(&right).ok_or(few)?;
    let off: Vec<f64> = spokes
        .iter()
        .map(|spoke| spoke.radius.si() - base - Vector3::from(columns(spoke)).dot(&circle))
        .collect();
    let high = off.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let low = off.iter().copied().fold(f64::INFINITY, f64::min);
    let size = high.max(-low);
    let rows: Vec<Row<3>> = spokes
        .iter()
        .zip(&off)
        .map(|(spoke, off)| Row {
            columns: columns(spoke),
            height: if size > 0.0 { off / size } else { 0.0 },
        })
        .collect();
    let band = narrowest(&rows).map_err(|fault| match fault {
        ZoneError::TooFew { .. } | ZoneError::Degenerate { .. } => few,
        ZoneError::NotFinite { .. } | ZoneError::NoProof { .. } => RoundnessError::Unsettled(fault),
    })?;
    let zone = 2.0 * band.half * size;
    Ok(Roundness {
        minimum_zone: Length::from_si(zone)?,
        least_squares: Length::from_si((high - low).max(zone))?,
    })
}

/// Largest less smallest diameter that a two-point gauge finds while it is turned.
///
/// # Formula
/// max − min of ρ(θ) + ρ(θ + 180°). Odd lobes cancel: three lobes of any height read 0.
/// # Units
/// Radii at evenly spaced angles, an even number of them; length out.
/// # Range
/// Four readings and more.
/// # Source
/// Geometry of two-point measurement.
/// # Errors
/// [`RoundnessError::Odd`] where readings have no opposites.
pub fn two_point_spread(radii: &[Length]) -> Result<Length, RoundnessError> {
    let half = radii.len() / 2;
    if radii.len() < 4 || !radii.len().is_multiple_of(2) {
        return Err(RoundnessError::Odd { count: radii.len() });
    }
    let diameters: Vec<f64> = (0..half)
        .map(|at| radii[at].si() + radii[at + half].si())
        .collect();
    let high = diameters.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let low = diameters.iter().copied().fold(f64::INFINITY, f64::min);
    Ok(Length::from_si(high - low)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section(count: u32, radius_mm: impl Fn(f64) -> f64) -> Vec<Spoke> {
        (0..count)
            .map(|at| {
                let angle = 2.0 * std::f64::consts::PI * f64::from(at) / f64::from(count);
                Spoke {
                    angle: Angle::radians(angle).unwrap(),
                    radius: Length::mm(radius_mm(angle)).unwrap(),
                }
            })
            .collect()
    }

    fn seen(spokes: &[Spoke]) -> (f64, f64, f64) {
        let radii: Vec<Length> = spokes.iter().map(|spoke| spoke.radius).collect();
        let round = roundness(spokes).unwrap();
        (
            two_point_spread(&radii).unwrap().in_mm(),
            round.least_squares.in_mm(),
            round.minimum_zone.in_mm(),
        )
    }

    /// Source: r = 43 + 0.01·cos 2θ, 72 points. *Computed by a general library (numpy 2.4.6,
    /// least-squares circle).*
    #[test]
    fn e16_an_oval_bore_reads_twice_its_roundness() {
        let (spread, squares, zone) = seen(&section(72, |angle| 43.0 + 0.01 * cos(2.0 * angle)));
        assert!((spread - 0.040).abs() < 1e-6);
        assert!((squares - 0.020).abs() < 1e-6);
        assert!((zone - 0.020).abs() < 1e-6);
    }

    /// Source: r = 43 + 0.01·cos 3θ, 72 points. *Computed by a general library (numpy 2.4.6,
    /// least-squares circle).*
    #[test]
    fn e17_three_lobes_are_invisible_to_two_points() {
        let (spread, squares, _) = seen(&section(72, |angle| 43.0 + 0.01 * cos(3.0 * angle)));
        assert!(spread.abs() < 1e-6);
        assert!((squares - 0.020).abs() < 1e-6);
    }

    /// Source: twelve radii in micrometres. *Computed by a general library (scipy 1.17.1, least
    /// squares and linear programme, linearised).*
    #[test]
    fn e18_twelve_points() {
        let found = [
            3.0, 7.0, 9.0, 6.0, 1.0, -4.0, -5.0, -2.0, 2.0, 0.0, -6.0, -8.0,
        ];
        let spokes: Vec<Spoke> = found
            .iter()
            .enumerate()
            .map(|(at, &um)| Spoke {
                angle: Angle::degrees(30.0 * at as f64).unwrap(),
                radius: Length::micrometres(43_000.0 + um).unwrap(),
            })
            .collect();
        let (spread, squares, zone) = seen(&spokes);
        assert!((squares * 1000.0 - 14.3094).abs() < 1e-3);
        assert!((zone * 1000.0 - 11.5).abs() < 1e-3);
        assert!((spread * 1000.0 - 23.0).abs() < 1e-6);
    }

    #[test]
    fn three_readings_and_odd_counts_are_refused() {
        let three = section(3, |_| 43.0);
        assert_eq!(roundness(&three), Err(RoundnessError::TooFew { count: 3 }));
        let five: Vec<Length> = section(5, |_| 43.0)
            .iter()
            .map(|spoke| spoke.radius)
            .collect();
        assert_eq!(
            two_point_spread(&five),
            Err(RoundnessError::Odd { count: 5 })
        );
    }
}
