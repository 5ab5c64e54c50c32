//! At what temperature a coolant boils under its cap, by Raoult's law.
//!
//! The cap's pressure is a gauge pressure: the air around is added, so a high workshop boils
//! earlier by the same cap.

use libm::{pow, sqrt};
use quantity::{AbsolutePressure, GaugePressure, NotFinite, Quantity, Ratio, Temperature};
use thiserror::Error;

use crate::coolant_freezing::{FreezingError, Glycol, mass_fraction};

/// Molar mass of water, g/mol.
const WATER_MOLAR: f64 = 18.015;
/// The lowest temperature searched, K.
const COLDEST_K: f64 = 280.0;
/// The highest temperature searched, K.
const HOTTEST_K: f64 = 470.0;

/// Why no boiling point came out.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum BoilingError {
    /// The strength cannot be.
    #[error(transparent)]
    Strength(#[from] FreezingError),
    /// A cap holds pressure in.
    #[error("a cap pressure of {pascals} Pa is below zero")]
    Cap {
        /// The cap, gauge pascals.
        pascals: f64,
    },
    /// The pressure lies outside the vapour-pressure equations.
    #[error("at {pascals:.0} Pa absolute the boiling point is outside 7 °C to 197 °C")]
    Pressure {
        /// The pressure, pascals absolute.
        pascals: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The boiling point of a coolant.
///
/// # Formula
/// T with x_w·p_w(T) + x_g·p_g(T) = p_air + p_cap; mole fractions from the mass fraction;
/// solved by bisection, both vapour pressures rising with T
/// # Units
/// `pure` volume fraction of pure glycol before mixing; `cap` gauge; `air` absolute; returns a
/// temperature.
/// # Range
/// 280 K to 470 K. Within 0.3 K of activity models for ethylene glycol; ±2 K for propylene.
/// # Source
/// Raoult's law; water [`water_vapour`]; glycol by Antoine's equation, constants of the NIST
/// Chemistry WebBook (Jones and Tamplin, 1952; Stull, 1947), *from memory*, held to the normal
/// boiling points 197.3 °C and 188.2 °C by test.
/// # Errors
/// [`BoilingError`] names the strength or the pressure.
/// # Example
/// ```
/// use quantity::{AbsolutePressure, GaugePressure, Ratio};
/// use calc::coolant_freezing::Glycol;
/// let hot = calc::coolant_boiling::boils_at(Glycol::Ethylene, Ratio::percent(50.0)?,
///     GaugePressure::psi(15.0)?, AbsolutePressure::kilopascals(101.325)?)?;
/// assert!((hot.in_celsius() - 129.7).abs() < 0.6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn boils_at(
    glycol: Glycol,
    pure: Ratio,
    cap: GaugePressure,
    air: AbsolutePressure,
) -> Result<Temperature, BoilingError> {
    if cap.si() < 0.0 {
        return Err(BoilingError::Cap { pascals: cap.si() });
    }
    let share = mole_fraction(glycol, pure)?;
    let outside = air.in_pascals() + cap.si();
    let vapour = |kelvin: f64| (1.0 - share) * water_pa(kelvin) + share * glycol_pa(glycol, kelvin);
    let (mut cold, mut hot) = (COLDEST_K, HOTTEST_K);
    if vapour(cold) > outside || vapour(hot) < outside {
        return Err(BoilingError::Pressure { pascals: outside });
    }
    for _ in 0..80 {
        let middle = f64::midpoint(cold, hot);
        if vapour(middle) < outside {
            cold = middle;
        } else {
            hot = middle;
        }
    }
    Ok(Temperature::kelvins(f64::midpoint(cold, hot))?)
}

/// Vapour pressure of water.
///
/// # Formula
/// IAPWS-IF97 region 4, saturation equation
/// # Units
/// Temperature; returns absolute pressure.
/// # Range
/// 273.15 K to 647.096 K.
/// # Source
/// IAPWS R7-97 (2012), equation (30) and table 34. *Published; constants from memory, held to
/// the check values of table 35 by test.*
/// # Errors
/// [`BoilingError::NotFinite`] outside the range.
/// # Example
/// ```
/// use quantity::Temperature;
/// let p = calc::coolant_boiling::water_vapour(Temperature::kelvins(500.0)?)?;
/// assert!((p.in_kilopascals() - 2638.89776).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn water_vapour(temperature: Temperature) -> Result<AbsolutePressure, BoilingError> {
    Ok(AbsolutePressure::pascals(water_pa(
        temperature.in_kelvins(),
    ))?)
}

fn water_pa(kelvin: f64) -> f64 {
    const N: [f64; 10] = [
        0.116_705_214_527_67e4,
        -0.724_213_167_032_06e6,
        -0.170_738_469_400_92e2,
        0.120_208_247_024_70e5,
        -0.323_255_503_223_33e7,
        0.149_151_086_135_30e2,
        -0.482_326_573_615_91e4,
        0.405_113_405_420_57e6,
        -0.238_555_575_678_49,
        0.650_175_348_447_98e3,
    ];
    let theta = kelvin + N[8] / (kelvin - N[9]);
    let a = theta * theta + N[0] * theta + N[1];
    let b = N[2] * theta * theta + N[3] * theta + N[4];
    let c = N[5] * theta * theta + N[6] * theta + N[7];
    let root = 2.0 * c / (-b + sqrt(b * b - 4.0 * a * c)); // eq. (30)
    1e6 * pow(root, 4.0)
}

/// Antoine's equation, log10(p/bar) = A − B/(T + C).
fn glycol_pa(glycol: Glycol, kelvin: f64) -> f64 {
    let (a, b, c) = match glycol {
        Glycol::Ethylene => (4.970_12, 1914.951, -84.996),
        Glycol::Propylene => (6.079_36, 2692.187, -17.94),
    };
    1e5 * pow(10.0, a - b / (kelvin + c))
}

fn mole_fraction(glycol: Glycol, pure: Ratio) -> Result<f64, BoilingError> {
    let w = mass_fraction(glycol, pure)?.in_fraction();
    let molar = match glycol {
        Glycol::Ethylene => 62.068,
        Glycol::Propylene => 76.094,
    };
    let moles = w / molar;
    Ok(moles / (moles + (1.0 - w) / WATER_MOLAR))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hot(glycol: Glycol, percent: f64, psi: f64, air_kpa: f64) -> f64 {
        boils_at(
            glycol,
            Ratio::percent(percent).unwrap(),
            GaugePressure::psi(psi).unwrap(),
            AbsolutePressure::kilopascals(air_kpa).unwrap(),
        )
        .unwrap()
        .in_celsius()
    }

    /// Source: IAPWS R7-97 (2012), table 35. *Published, check values from memory.*
    #[test]
    fn water_at_the_check_values_of_the_standard() {
        for (kelvin, megapascals) in [
            (300.0, 0.353_658_941e-2),
            (500.0, 0.263_889_776e1),
            (600.0, 0.123_443_146e2),
        ] {
            let p = water_vapour(Temperature::kelvins(kelvin).unwrap()).unwrap();
            assert!(
                (p.in_pascals() / 1e6 / megapascals - 1.0).abs() < 1e-8,
                "{kelvin} K"
            );
        }
    }

    /// Source: normal boiling points of the pure glycols, 197.3 °C and 188.2 °C. *From memory:
    /// handbook.*
    #[test]
    fn pure_glycols_boil_where_handbooks_say() {
        assert!((glycol_pa(Glycol::Ethylene, 273.15 + 197.3) / 101_325.0 - 1.0).abs() < 0.02);
        assert!((glycol_pa(Glycol::Propylene, 273.15 + 188.2) / 101_325.0 - 1.0).abs() < 0.02);
    }

    /// Source: Raoult with CoolProp 8.0.0 water and thermo 0.6.1 glycol. *Computed by a general
    /// library (CoolProp 8.0.0).*
    #[test]
    fn e54_ethylene_half_and_half_boils() {
        assert!((hot(Glycol::Ethylene, 50.0, 0.0, 101.325) - 107.8).abs() < 0.6);
        assert!((hot(Glycol::Ethylene, 50.0, 15.0, 101.325) - 129.7).abs() < 0.6);
    }

    /// Source: Raoult with CoolProp 8.0.0 water and thermo 0.6.1 glycol. *Computed by a general
    /// library (CoolProp 8.0.0)*; group methods disagree for propylene, hence 2 K.
    #[test]
    fn e55_propylene_half_and_half_boils() {
        assert!((hot(Glycol::Propylene, 50.0, 0.0, 101.325) - 106.0).abs() < 2.0);
        assert!((hot(Glycol::Propylene, 50.0, 15.0, 101.325) - 127.7).abs() < 2.0);
    }

    /// Source: the same table: water, 33 % and 70 %, and the air at 1600 m. *Computed by a
    /// general library.*
    #[test]
    fn boiling_by_strength_cap_and_height() {
        for (percent, psi, air, celsius) in [
            (0.0, 0.0, 101.325, 99.97),
            (0.0, 15.0, 101.325, 120.95),
            (33.0, 7.0, 101.325, 115.63),
            (70.0, 15.0, 101.325, 138.82),
            (50.0, 0.0, 83.52, 102.24),
            (50.0, 15.0, 83.52, 126.74),
        ] {
            let got = hot(Glycol::Ethylene, percent, psi, air);
            assert!((got - celsius).abs() < 0.6, "{percent} % {psi} psi: {got}");
        }
    }

    #[test]
    fn pressures_that_cannot_be_are_refused() {
        let air = AbsolutePressure::kilopascals(101.325).unwrap();
        let half = Ratio::percent(50.0).unwrap();
        let boil = |psi| {
            boils_at(
                Glycol::Ethylene,
                half,
                GaugePressure::psi(psi).unwrap(),
                air,
            )
        };
        assert!(matches!(boil(-1.0), Err(BoilingError::Cap { .. })));
        assert!(matches!(boil(900.0), Err(BoilingError::Pressure { .. })));
    }
}
