//! Liquid above a piston: how much of it locks the engine, where the piston stops, and what
//! less than that does to the pressure.

use libm::pow;
use quantity::{AbsolutePressure, Angle, Length, NotFinite, Ratio, Volume};
use thiserror::Error;

use crate::compression::{CompressionError, trapped_ratio};
use crate::crank::{CrankError, Cylinder};

/// Why no lock came out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LockError {
    /// Liquid has a volume.
    #[error("{cc} cm³ of liquid is below zero")]
    Negative {
        /// The liquid, cm³.
        cc: f64,
    },
    /// More liquid than the whole cylinder holds.
    #[error(
        "{liquid_cc:.0} cm³ of liquid is more than the {cylinder_cc:.0} cm³ of the whole cylinder"
    )]
    Overfull {
        /// The liquid, cm³.
        liquid_cc: f64,
        /// Swept and clearance volume, cm³.
        cylinder_cc: f64,
    },
    /// The geometry gives no answer.
    #[error(transparent)]
    Crank(#[from] CrankError),
    /// The compression gives no answer.
    #[error(transparent)]
    Compression(#[from] CompressionError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// What an amount of liquid does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lock {
    /// The piston passes the top; the room left is smaller.
    Passes {
        /// Room left at the top.
        room: Volume,
    },
    /// The piston stops.
    Stops {
        /// How far below the top.
        below_top: Length,
        /// Crank angle before the top.
        before_top: Angle,
    },
}

/// What liquid above the piston does, valves shut.
///
/// # Formula
/// Locks when V_L ≥ V_c; then the piston stops x = (V_L − V_c)/A below the top.
/// # Units
/// `liquid` a volume; returns a length and a crank angle, or the room left.
/// # Range
/// Zero up to the whole cylinder. Liquid is taken as incompressible and the valves as shut; an
/// open valve lets some out, so the engine may turn and still hold a dangerous amount.
/// # Source
/// Volume balance and the slider-crank relation.
/// # Errors
/// [`LockError`] names the volume.
/// # Example
/// ```
/// use quantity::{Length, Ratio, Volume};
/// use calc::hydraulic_lock::{Lock, lock};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// assert!(matches!(lock(&cylinder, Volume::cc(40.0)?)?, Lock::Passes { .. }));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lock(cylinder: &Cylinder, liquid: Volume) -> Result<Lock, LockError> {
    if liquid.in_cc() < 0.0 {
        return Err(LockError::Negative { cc: liquid.in_cc() });
    }
    let clearance = cylinder.clearance()?;
    let whole = clearance + cylinder.swept()?;
    if liquid > whole {
        return Err(LockError::Overfull {
            liquid_cc: liquid.in_cc(),
            cylinder_cc: whole.in_cc(),
        });
    }
    if liquid < clearance {
        return Ok(Lock::Passes {
            room: clearance - liquid,
        });
    }
    let above = (liquid - clearance).in_cubic_metres();
    let below_top = Length::metres(above / cylinder.area()?.in_square_metres())?;
    Ok(Lock::Stops {
        below_top,
        before_top: cylinder.angle_at(below_top)?,
    })
}

/// Peak pressure of a compression with liquid that does not quite lock.
///
/// # Formula
/// p = p_air·((V_c + A·x_ivc − V_L)/(V_c − V_L))ⁿ
/// # Units
/// `closes` after the bottom, `exponent` n, `liquid` a volume; returns absolute pressure.
/// # Range
/// Liquid below the room at the top; n 1.0 to 1.4.
/// # Source
/// Polytropic compression with the room taken up by liquid.
/// # Errors
/// [`LockError::Compression`] when there is no room left.
/// # Example
/// ```
/// use quantity::{AbsolutePressure, Angle, Length, Ratio, Volume};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let peak = calc::hydraulic_lock::peak_pressure(&cylinder, Volume::cc(40.0)?,
///     Angle::degrees(50.0)?, Ratio::fraction(1.3)?, AbsolutePressure::kilopascals(101.325)?)?;
/// assert!((peak.in_kilopascals() / 100.0 - 104.5).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn peak_pressure(
    cylinder: &Cylinder,
    liquid: Volume,
    closes: Angle,
    exponent: Ratio,
    air: AbsolutePressure,
) -> Result<AbsolutePressure, LockError> {
    let n = exponent.in_fraction();
    if !(1.0..=1.4).contains(&n) {
        return Err(CompressionError::Exponent { exponent: n }.into());
    }
    let ratio = trapped_ratio(cylinder, closes, -liquid)?;
    Ok(AbsolutePressure::pascals(
        air.in_pascals() * pow(ratio.in_fraction(), n),
    )?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cylinder() -> Cylinder {
        let mm = |value| Length::mm(value).unwrap();
        Cylinder::new(
            mm(86.0),
            mm(86.0),
            mm(143.0),
            Ratio::fraction(10.5).unwrap(),
        )
        .unwrap()
    }

    fn cc(value: f64) -> Volume {
        Volume::cc(value).unwrap()
    }

    /// Source: slider-crank inversion. *Computed by a general library (scipy 1.17.1, brentq).*
    #[test]
    fn e60_where_the_piston_stops() {
        for (liquid, mm, degrees) in [
            (60.0, 1.2765, 12.28),
            (80.0, 4.720, 23.82),
            (150.0, 16.770, 46.39),
        ] {
            let Lock::Stops {
                below_top,
                before_top,
            } = lock(&cylinder(), cc(liquid)).unwrap()
            else {
                panic!("{liquid} cm³ must lock")
            };
            assert!((below_top.in_mm() - mm).abs() < 0.001, "{liquid}");
            assert!((before_top.in_degrees() - degrees).abs() < 0.01, "{liquid}");
        }
    }

    /// Source: polytropic compression with V_c less the liquid, n 1.3. *Computed by a general library (Python 3.11, float64).*
    #[test]
    fn less_than_a_lock_still_multiplies_the_pressure() {
        for (liquid, bar) in [(10.0, 23.3), (20.0, 32.1), (30.0, 50.3), (40.0, 104.5)] {
            let peak = peak_pressure(
                &cylinder(),
                cc(liquid),
                Angle::degrees(50.0).unwrap(),
                Ratio::fraction(1.3).unwrap(),
                AbsolutePressure::kilopascals(101.325).unwrap(),
            )
            .unwrap();
            assert!(
                (peak.in_kilopascals() / 100.0 - bar).abs() < 0.06,
                "{liquid}"
            );
        }
    }

    #[test]
    fn volumes_that_cannot_be_are_refused() {
        assert!(matches!(
            lock(&cylinder(), cc(-1.0)),
            Err(LockError::Negative { .. })
        ));
        assert!(matches!(
            lock(&cylinder(), cc(600.0)),
            Err(LockError::Overfull { .. })
        ));
        assert!(matches!(
            lock(&cylinder(), cc(40.0)),
            Ok(Lock::Passes { .. })
        ));
    }
}
