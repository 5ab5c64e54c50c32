//! What a sound cylinder of known geometry should show on a cranking gauge.
//!
//! A sanity band, never a limit: the exponent of a slow, leaky compression is not known to
//! better than about 15 % of the reading. Fit it on the engine's own healthy cylinders.

use libm::pow;
use quantity::{AbsolutePressure, Angle, GaugePressure, NotFinite, Quantity, Ratio, Volume};
use thiserror::Error;

use crate::crank::{CrankError, Cylinder};

/// The lowest exponent in use for cranking. *Common practice, no source.*
pub const EXPONENT_LOW: f64 = 1.20;
/// The highest exponent in use for cranking. *Common practice, no source.*
pub const EXPONENT_HIGH: f64 = 1.30;

/// Why no reading could be predicted.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CompressionError {
    /// The geometry gives no answer.
    #[error(transparent)]
    Crank(#[from] CrankError),
    /// A compression exponent lies between 1 (no heating) and 1.4 (no heat lost).
    #[error("a compression exponent of {exponent} is outside 1.0 to 1.4")]
    Exponent {
        /// The exponent.
        exponent: f64,
    },
    /// The inlet valve closes on the way up, within 120° of the bottom.
    #[error("an inlet valve closing {degrees:.0}° after the bottom is outside 0° to 120°")]
    Closing {
        /// The angle, degrees after the bottom.
        degrees: f64,
    },
    /// More liquid than there is room for.
    #[error("{liquid_cc:.1} cm³ of liquid fill the {room_cc:.1} cm³ above the piston")]
    NoRoom {
        /// The liquid, cm³.
        liquid_cc: f64,
        /// The room at the top, cm³.
        room_cc: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Compression from the closing of the inlet valve: the ratio that counts at the starter.
///
/// # Formula
/// ε = (V_c + A·x_ivc)/V_c
/// # Units
/// `closes` after bottom dead centre (the seat figure, not one at a checking lift);
/// `added_room` (gauge hose ahead of its check valve: positive; oil or liquid: negative);
/// returns a plain ratio.
/// # Range
/// Closing 0° to 120° after the bottom.
/// # Source
/// Slider-crank relation; definition of the ratio.
/// # Errors
/// [`CompressionError`] names the angle or the room.
/// # Example
/// ```
/// use quantity::{Angle, Length, Ratio, Volume};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let ratio = calc::compression::trapped_ratio(&cylinder, Angle::degrees(50.0)?, Volume::cc(0.0)?)?;
/// assert!((ratio.in_fraction() - 9.22804).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn trapped_ratio(
    cylinder: &Cylinder,
    closes: Angle,
    added_room: Volume,
) -> Result<Ratio, CompressionError> {
    let degrees = closes.in_degrees();
    if !(0.0..=120.0).contains(&degrees) {
        return Err(CompressionError::Closing { degrees });
    }
    let from_top = Angle::radians(std::f64::consts::PI - closes.in_radians())?;
    let below = cylinder.below_top(from_top)?.in_metres();
    let clearance = cylinder.clearance()?.in_cubic_metres();
    let room = clearance + added_room.in_cubic_metres();
    if room <= 0.0 {
        return Err(CompressionError::NoRoom {
            liquid_cc: -added_room.in_cc(),
            room_cc: clearance * 1e6,
        });
    }
    let trapped = cylinder.area()?.in_square_metres() * below;
    Ok(Ratio::fraction((room + trapped) / room)?)
}

/// Gauge pressure at the end of a compression.
///
/// # Formula
/// p = p_air·(εⁿ − 1)
/// # Units
/// `trapped` the ratio from inlet closing; `exponent` n; `air` absolute; returns gauge
/// pressure. The temperature of the air cancels.
/// # Range
/// n from 1.0 to 1.4; in use for cranking 1.20 to 1.30 (*common practice, no source*).
/// # Source
/// Polytropic compression; worked check 7.5^1.3: *public data, encyclopaedia article on
/// compression ratio*.
/// # Errors
/// [`CompressionError::Exponent`] names the exponent.
/// # Example
/// ```
/// use quantity::{AbsolutePressure, Ratio};
/// let p = calc::compression::gauge_reading(
///     Ratio::fraction(7.5)?, Ratio::fraction(1.3)?, AbsolutePressure::psi(14.7)?)?;
/// assert!((p.in_psi() - 187.1).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gauge_reading(
    trapped: Ratio,
    exponent: Ratio,
    air: AbsolutePressure,
) -> Result<GaugePressure, CompressionError> {
    let n = exponent.in_fraction();
    if !(1.0..=1.4).contains(&n) {
        return Err(CompressionError::Exponent { exponent: n });
    }
    let rise = pow(trapped.in_fraction(), n) - 1.0;
    Ok(GaugePressure::from_si(air.in_pascals() * rise)?)
}

/// How much higher a sound cylinder reads with oil in it, by the room the oil takes.
///
/// # Formula
/// (((V_c + A·x − v)/(V_c − v))ⁿ − 1)/(((V_c + A·x)/V_c)ⁿ − 1)
/// # Units
/// `oil` the dose that stays above the piston; returns wet over dry, a fraction above 1.
/// # Range
/// Dose smaller than the room at the top.
/// # Source
/// Polytropic compression with the room taken up by oil.
/// # Errors
/// [`CompressionError::NoRoom`] when the oil fills the room.
/// # Example
/// ```
/// use quantity::{Angle, Length, Ratio, Volume};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let rise = calc::compression::wet_rise(
///     &cylinder, Angle::degrees(50.0)?, Ratio::fraction(1.3)?, Volume::cc(5.0)?)?;
/// assert!((rise.in_fraction() - 1.131).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn wet_rise(
    cylinder: &Cylinder,
    closes: Angle,
    exponent: Ratio,
    oil: Volume,
) -> Result<Ratio, CompressionError> {
    rise_with_room(cylinder, closes, exponent, -oil)
}

/// The share of its reading a gauge loses to the room in its own hose.
///
/// # Formula
/// As [`wet_rise`], with the room added instead of taken.
/// # Units
/// `hose` the room ahead of the check valve; returns read over true, a fraction below 1.
/// # Range
/// Any room of zero and up.
/// # Source
/// Polytropic compression with added room.
/// # Errors
/// As [`trapped_ratio`].
/// # Example
/// ```
/// use quantity::{Angle, Length, Ratio, Volume};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let read = calc::compression::hose_loss(
///     &cylinder, Angle::degrees(50.0)?, Ratio::fraction(1.3)?, Volume::cc(4.0)?)?;
/// assert!((read.in_fraction() - 0.914).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn hose_loss(
    cylinder: &Cylinder,
    closes: Angle,
    exponent: Ratio,
    hose: Volume,
) -> Result<Ratio, CompressionError> {
    rise_with_room(cylinder, closes, exponent, hose)
}

fn rise_with_room(
    cylinder: &Cylinder,
    closes: Angle,
    exponent: Ratio,
    room: Volume,
) -> Result<Ratio, CompressionError> {
    // The air cancels in the quotient; one atmosphere keeps the numbers readable.
    let air = AbsolutePressure::kilopascals(101.325)?;
    let with = gauge_reading(trapped_ratio(cylinder, closes, room)?, exponent, air)?;
    let none = Volume::cubic_metres(0.0)?;
    let without = gauge_reading(trapped_ratio(cylinder, closes, none)?, exponent, air)?;
    Ok(Ratio::fraction(with.si() / without.si())?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use quantity::Length;

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

    fn deg(value: f64) -> Angle {
        Angle::degrees(value).unwrap()
    }

    fn n(value: f64) -> Ratio {
        Ratio::fraction(value).unwrap()
    }

    fn cc(value: f64) -> Volume {
        Volume::cc(value).unwrap()
    }

    fn reading(closes: f64, exponent: f64, air_kpa: f64, room: f64) -> GaugePressure {
        let ratio = trapped_ratio(&cylinder(), deg(closes), cc(room)).unwrap();
        let air = AbsolutePressure::kilopascals(air_kpa).unwrap();
        gauge_reading(ratio, n(exponent), air).unwrap()
    }

    /// Source: slider-crank and polytropic compression. *Computed by a general library (Python 3.11
    /// floats).*
    #[test]
    fn e37_e38_expected_reading_of_the_check_cylinder() {
        let ratio = trapped_ratio(&cylinder(), deg(50.0), cc(0.0)).unwrap();
        assert!((ratio.in_fraction() - 9.22804).abs() < 1e-4);
        let p = reading(50.0, 1.30, 101.325, 0.0);
        assert!((p.in_kilopascals() - 1719.9).abs() < 0.1);
        assert!((p.in_psi() - 249.4).abs() < 0.1);
    }

    /// Source: the same table at other closings and exponents. *Computed: float64.*
    #[test]
    fn expected_readings_by_closing_and_exponent() {
        for (closes, exponent, psi) in [
            (30.0, 1.20, 219.4),
            (40.0, 1.25, 236.4),
            (60.0, 1.35, 256.7),
            (70.0, 1.20, 164.0),
        ] {
            let got = reading(closes, exponent, 101.325, 0.0).in_psi();
            assert!((got - psi).abs() < 0.1, "{closes}° n {exponent}: {got}");
        }
    }

    /// Source: encyclopaedia article on compression ratio, 7.5:1 with n 1.3. *Public data.*
    #[test]
    fn e39_seven_and_a_half_to_one() {
        let air = AbsolutePressure::psi(14.7).unwrap();
        let p = gauge_reading(n(7.5), n(1.3), air).unwrap();
        assert!((p.in_psi() - 187.1).abs() < 0.1);
    }

    /// Source: room of the gauge hose added to the clearance. *Computed by a general library
    /// (Python 3.11 floats).*
    #[test]
    fn e42_four_cc_of_hose() {
        let share = |room| {
            (hose_loss(&cylinder(), deg(50.0), n(1.3), cc(room))
                .unwrap()
                .in_fraction()
                - 1.0)
                * 100.0
        };
        assert!((share(4.0) - -8.6).abs() < 0.1);
        assert!((share(20.0) - -32.5).abs() < 0.1);
    }

    /// Source: room taken by the oil of a wet test. *Computed by a general library (Python 3.11
    /// floats).*
    #[test]
    fn e43_wet_rise_without_any_leak() {
        let rise = |oil| {
            (wet_rise(&cylinder(), deg(50.0), n(1.3), cc(oil))
                .unwrap()
                .in_fraction()
                - 1.0)
                * 100.0
        };
        assert!((rise(5.0) - 13.1).abs() < 0.1);
        assert!((rise(15.0) - 51.4).abs() < 0.1);
    }

    #[test]
    fn out_of_range_inputs_are_refused_with_their_value() {
        assert_eq!(
            trapped_ratio(&cylinder(), deg(130.0), cc(0.0))
                .unwrap_err()
                .to_string(),
            "an inlet valve closing 130° after the bottom is outside 0° to 120°"
        );
        assert!(matches!(
            trapped_ratio(&cylinder(), deg(50.0), cc(-60.0)),
            Err(CompressionError::NoRoom { .. })
        ));
        let air = AbsolutePressure::kilopascals(100.0).unwrap();
        assert!(matches!(
            gauge_reading(n(9.0), n(1.5), air),
            Err(CompressionError::Exponent { .. })
        ));
    }

    proptest! {
        /// E-P2: the reading falls with height and with dead room.
        #[test]
        fn ep2_reading_falls_with_height_and_dead_room(low in 0.0..4000.0f64, up in 1.0..1000.0f64, room in 0.0..20.0f64, more in 0.1..5.0f64) {
            let air = |m: f64| crate::altitude::standard_pressure(Length::metres(m).unwrap()).unwrap().in_kilopascals();
            prop_assert!(reading(50.0, 1.3, air(low + up), room) < reading(50.0, 1.3, air(low), room));
            prop_assert!(reading(50.0, 1.3, air(low), room + more) < reading(50.0, 1.3, air(low), room));
        }
    }
}
