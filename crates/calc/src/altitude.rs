//! What the height of the workshop does to the air around, and so to a gauge reading.
//!
//! Only the standard atmosphere stands here. Whether a reading or a limit is corrected, and
//! that it happens once, is decided in `judge`.

use libm::pow;
use quantity::{AbsolutePressure, Length, NotFinite, Quantity, Ratio};
use thiserror::Error;

/// Sea-level pressure of the standard atmosphere, pascals.
const SEA_LEVEL_PA: f64 = 101_325.0;
/// Relative fall of temperature per metre: 0.0065 K/m over 288.15 K.
const LAPSE_PER_M: f64 = 0.006_5 / 288.15;
/// g·M/(R·L) of the standard atmosphere.
const PRESSURE_EXPONENT: f64 = 5.255_88;
/// The lowest height the formula is used at, metres.
const LOWEST_M: f64 = -500.0;
/// The top of the first layer, metres.
const HIGHEST_M: f64 = 11_000.0;

/// Why the air at a height could not be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum AltitudeError {
    /// The height is outside the first layer of the standard atmosphere.
    #[error("a height of {metres:.0} m is outside -500 m to 11000 m")]
    OutOfRange {
        /// The height, metres.
        metres: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Air pressure at a height in the standard atmosphere.
///
/// # Formula
/// p = 101.325 kPa · (1 − (0.0065/288.15)·z)^5.25588
/// # Units
/// `height` above sea level; returns absolute pressure.
/// # Range
/// −500 m to 11 000 m. Weather moves the real pressure by about 3 % either way, so a
/// barometer beside the readings is better than any formula.
/// # Source
/// US Standard Atmosphere, 1976, formula as tabulated. *Published.*
/// # Errors
/// [`AltitudeError::OutOfRange`] names the height.
/// # Example
/// ```
/// use quantity::Length;
/// let air = calc::altitude::standard_pressure(Length::metres(3000.0)?)?;
/// assert!((air.in_kilopascals() - 70.12).abs() < 0.02);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn standard_pressure(height: Length) -> Result<AbsolutePressure, AltitudeError> {
    let pa = SEA_LEVEL_PA * pow(temperature_share(height)?, PRESSURE_EXPONENT);
    Ok(AbsolutePressure::from_si(pa)?)
}

/// Air pressure at a height over that at sea level: what a gauge reading scales with.
///
/// # Formula
/// p(z)/p(0). The same compression of thinner air keeps the ratio of pressures, so the whole
/// gauge reading scales with the pressure outside.
/// # Units
/// `height` above sea level; returns a fraction.
/// # Range
/// As [`standard_pressure`].
/// # Source
/// US Standard Atmosphere, 1976. *Published.*
/// # Errors
/// As [`standard_pressure`].
/// # Example
/// ```
/// use quantity::Length;
/// let ratio = calc::altitude::pressure_ratio(Length::metres(1000.0)?)?;
/// assert!((ratio.in_fraction() - 0.887).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pressure_ratio(height: Length) -> Result<Ratio, AltitudeError> {
    Ok(Ratio::fraction(
        standard_pressure(height)?.in_pascals() / SEA_LEVEL_PA,
    )?)
}

/// Air density at a height over that at sea level: what much-copied correction tables use.
///
/// # Formula
/// (1 − (0.0065/288.15)·z)^4.25588
/// # Units
/// `height` above sea level; returns a fraction.
/// # Range
/// As [`standard_pressure`]. Shown beside the pressure ratio only to name the difference; it
/// under-corrects a cranking reading.
/// # Source
/// US Standard Atmosphere, 1976. *Published.* Its use on gauge readings: *common practice, no
/// source*.
/// # Errors
/// As [`standard_pressure`].
/// # Example
/// ```
/// use quantity::Length;
/// let ratio = calc::altitude::density_ratio(Length::metres(1676.4)?)?;
/// assert!((ratio.in_fraction() - 0.849).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn density_ratio(height: Length) -> Result<Ratio, AltitudeError> {
    Ok(Ratio::fraction(pow(
        temperature_share(height)?,
        PRESSURE_EXPONENT - 1.0,
    ))?)
}

/// The third correction in circulation: one per cent off for every 250 ft.
///
/// # Formula
/// 1 − z/25 000 ft
/// # Units
/// `height` above sea level; returns a fraction.
/// # Range
/// As [`standard_pressure`]; it over-corrects, about 9 points at 7000 ft.
/// # Source
/// *Common practice, no source.*
/// # Errors
/// As [`standard_pressure`].
/// # Example
/// ```
/// use quantity::Length;
/// let ratio = calc::altitude::one_per_cent_rule(Length::metres(7000.0 * 0.3048)?)?;
/// assert!((ratio.in_fraction() - 0.72).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn one_per_cent_rule(height: Length) -> Result<Ratio, AltitudeError> {
    temperature_share(height)?;
    let feet = height.in_metres() / quantity::FOOT;
    Ok(Ratio::fraction(1.0 - feet / 25_000.0)?)
}

/// Temperature at a height over that at sea level, after checking the height.
fn temperature_share(height: Length) -> Result<f64, AltitudeError> {
    let metres = height.in_metres();
    if !(LOWEST_M..=HIGHEST_M).contains(&metres) {
        return Err(AltitudeError::OutOfRange { metres });
    }
    Ok(1.0 - LAPSE_PER_M * metres)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, want: f64, tolerance: f64) {
        assert!((got - want).abs() <= tolerance, "got {got}, want {want}");
    }

    /// Source: ISA formula with 1976 constants. *Computed by a general library (fluids 1.3.1).*
    #[test]
    fn e40_isa_1609_m_and_3000_m() {
        let at = |m: f64| standard_pressure(Length::metres(m).unwrap()).unwrap();
        near(at(1609.344).in_kilopascals(), 83.43, 0.02);
        near(at(3000.0).in_kilopascals(), 70.12, 0.02);
    }

    /// Source: US Standard Atmosphere, 1976, table: 12.230 psia at 5000 ft. *Published.*
    #[test]
    fn e41_isa_5000_ft() {
        let air = standard_pressure(Length::metres(1524.0).unwrap()).unwrap();
        near(air.in_psi(), 12.230, 0.005);
    }

    /// Source: table of ratios by ATMOSPHERE_1976. *Computed by a general library (fluids 1.3.1).*
    #[test]
    fn pressure_and_density_ratios_by_thousands_of_feet() {
        let printed = [
            (0.0, 1.0, 1.0),
            (1000.0, 0.964, 0.971),
            (4000.0, 0.864, 0.888),
            (5500.0, 0.817, 0.849),
            (8000.0, 0.743, 0.786),
        ];
        for (feet, pressure, density) in printed {
            let height = Length::metres(feet * 0.3048).unwrap();
            near(
                pressure_ratio(height).unwrap().in_fraction(),
                pressure,
                6e-4,
            );
            near(density_ratio(height).unwrap().in_fraction(), density, 6e-4);
        }
    }

    #[test]
    fn a_height_in_space_is_refused_with_its_value() {
        let fault = standard_pressure(Length::metres(12_000.0).unwrap()).unwrap_err();
        assert_eq!(fault, AltitudeError::OutOfRange { metres: 12_000.0 });
        assert!(fault.to_string().contains("12000 m"));
    }
}
