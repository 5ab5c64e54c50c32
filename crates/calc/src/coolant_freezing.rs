//! At what temperature a coolant begins to freeze, by kind and strength.
//!
//! | data | freezing points of four water-glycol mixtures |
//! |---|---|
//! | source | CoolProp 8.0.0, incompressible fluids AEG, APG (volume fraction of concentrate) and MEG, MPG (mass fraction of pure glycol) |
//! | kind | computed by a general library |
//! | precision | printed to 0.01 K; agrees with printed supplier tables to about 1 K |
//! | limits | 0 to 60 %; above about 60 % protection gets worse again, so nothing is continued past the table |
//!
//! Between the rows a monotone cubic is laid (Fritsch and Carlson, 1980), so that no wave is
//! added and the curve can be read backwards.

use quantity::{NotFinite, Ratio, Temperature};
use thiserror::Error;

/// Which glycol.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Glycol {
    /// Ethylene glycol: the usual one, poisonous.
    #[default]
    Ethylene,
    /// Propylene glycol: less poisonous.
    Propylene,
}

/// What a percentage is a percentage of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Basis {
    /// Concentrate as sold, which holds some water and additives.
    #[default]
    Concentrate,
    /// Pure glycol.
    Pure,
}

/// Why a strength has no freezing point here.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum FreezingError {
    /// The strength is outside the table.
    #[error(
        "a strength of {percent:.1} % is outside the table of 0 % to 60 %; above it protection gets worse again"
    )]
    Strength {
        /// The strength, per cent.
        percent: f64,
    },
    /// No strength in the table protects that far down.
    #[error("{celsius:.1} °C is colder than the table reaches, {lowest:.1} °C")]
    TooCold {
        /// The temperature, °C.
        celsius: f64,
        /// The coldest of the table, °C.
        lowest: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Fractions of the rows, zero being water.
const FRACTION: [f64; 11] = [
    0.0, 0.10, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50, 0.55, 0.60,
];
/// AEG, volume fraction of concentrate, °C.
const ETHYLENE_CONCENTRATE: [f64; 11] = [
    0.0, -3.62, -8.98, -12.12, -15.70, -19.88, -24.80, -30.54, -37.11, -44.37, -52.02,
];
/// APG, volume fraction of concentrate, °C.
const PROPYLENE_CONCENTRATE: [f64; 11] = [
    0.0, -3.43, -7.38, -9.97, -13.11, -16.91, -21.51, -27.03, -33.66, -41.59, -51.06,
];
/// MEG, mass fraction of pure glycol, °C.
const ETHYLENE_PURE_MASS: [f64; 11] = [
    0.0, -3.36, -7.95, -10.97, -14.58, -18.84, -23.81, -29.52, -35.99, -43.22, -51.20,
];
/// MPG, mass fraction of pure glycol, °C.
const PROPYLENE_PURE_MASS: [f64; 11] = [
    0.0, -2.87, -7.17, -9.79, -12.79, -16.32, -20.57, -25.77, -32.19, -40.16, -50.00,
];

/// Density of water at 20 °C, kg/m³. *From memory: handbook density.*
const WATER: f64 = 998.2;

impl Glycol {
    /// Density of the pure glycol at 20 °C, kg/m³. *From memory: handbook densities.*
    const fn density(self) -> f64 {
        match self {
            Self::Ethylene => 1113.2,
            Self::Propylene => 1036.1,
        }
    }

    /// The glycol in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Ethylene => "ethylene glycol",
            Self::Propylene => "propylene glycol",
        }
    }
}

/// Mass fraction of pure glycol from its volume fraction, volumes before mixing, 20 °C.
///
/// # Formula
/// w = v·ρ_g/(v·ρ_g + (1 − v)·ρ_w)
/// # Units
/// `volume` a fraction; returns a fraction.
/// # Range
/// 0 to 1.
/// # Source
/// Definition; densities *from memory: handbook*.
/// # Errors
/// [`FreezingError::Strength`] names the fraction.
/// # Example
/// ```
/// use quantity::Ratio;
/// use calc::coolant_freezing::{Glycol, mass_fraction};
/// let w = mass_fraction(Glycol::Ethylene, Ratio::fraction(0.5)?)?;
/// assert!((w.in_fraction() - 0.5272).abs() < 5e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mass_fraction(glycol: Glycol, volume: Ratio) -> Result<Ratio, FreezingError> {
    let v = within(volume, 1.0)?;
    let heavy = v * glycol.density();
    Ok(Ratio::fraction(heavy / (heavy + (1.0 - v) * WATER))?)
}

/// Volume fraction of pure glycol from its mass fraction, volumes before mixing, 20 °C.
///
/// # Formula
/// v = (w/ρ_g)/(w/ρ_g + (1 − w)/ρ_w)
/// # Units
/// `mass` a fraction; returns a fraction.
/// # Range
/// 0 to 1.
/// # Source
/// Definition; densities *from memory: handbook*.
/// # Errors
/// [`FreezingError::Strength`] names the fraction.
/// # Example
/// ```
/// use quantity::Ratio;
/// use calc::coolant_freezing::{Glycol, volume_fraction};
/// let v = volume_fraction(Glycol::Propylene, Ratio::fraction(0.5)?)?;
/// assert!((v.in_fraction() - 0.4907).abs() < 5e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn volume_fraction(glycol: Glycol, mass: Ratio) -> Result<Ratio, FreezingError> {
    let w = within(mass, 1.0)?;
    let glycol_volume = w / glycol.density();
    Ok(Ratio::fraction(
        glycol_volume / (glycol_volume + (1.0 - w) / WATER),
    )?)
}

/// The temperature at which the first ice forms.
///
/// # Formula
/// The table of this file, monotone cubic between its rows; pure glycol through
/// [`mass_fraction`]
/// # Units
/// `strength` a volume fraction of what `basis` says; returns a temperature.
/// # Range
/// 0 to 60 % (pure glycol: 60 % by mass).
/// # Source
/// CoolProp 8.0.0. *Computed by a general library.* The supplier's table wins.
/// # Errors
/// [`FreezingError::Strength`] names the strength.
/// # Example
/// ```
/// use quantity::Ratio;
/// use calc::coolant_freezing::{Basis, Glycol, freezes_at};
/// let cold = freezes_at(Glycol::Ethylene, Basis::Concentrate, Ratio::percent(50.0)?)?;
/// assert!((cold.in_celsius() - -37.1).abs() < 0.2);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn freezes_at(
    glycol: Glycol,
    basis: Basis,
    strength: Ratio,
) -> Result<Temperature, FreezingError> {
    let (fraction, rows) = match basis {
        Basis::Concentrate => (strength, concentrate_rows(glycol)),
        Basis::Pure => (mass_fraction(glycol, strength)?, pure_rows(glycol)),
    };
    let x = within(fraction, 0.60).map_err(|_| FreezingError::Strength {
        percent: strength.in_percent(),
    })?;
    Ok(Temperature::celsius(monotone_cubic(rows, x))?)
}

/// The strength of concentrate that first forms ice at a temperature.
///
/// # Formula
/// [`freezes_at`] read backwards, by bisection: the curve falls all the way
/// # Units
/// `coldest` a temperature; returns a volume fraction of concentrate.
/// # Range
/// 0 °C down to the end of the table.
/// # Source
/// As [`freezes_at`].
/// # Errors
/// [`FreezingError::TooCold`] names the temperature.
/// # Example
/// ```
/// use quantity::Temperature;
/// use calc::coolant_freezing::{Glycol, strength_for};
/// let strength = strength_for(Glycol::Ethylene, Temperature::celsius(-25.0)?)?;
/// assert!((strength.in_percent() - 40.2).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn strength_for(glycol: Glycol, coldest: Temperature) -> Result<Ratio, FreezingError> {
    let rows = concentrate_rows(glycol);
    let lowest = rows[rows.len() - 1];
    let celsius = coldest.in_celsius();
    if celsius < lowest {
        return Err(FreezingError::TooCold { celsius, lowest });
    }
    let (mut weak, mut strong) = (0.0, 0.60);
    for _ in 0..60 {
        let middle = f64::midpoint(weak, strong);
        if monotone_cubic(rows, middle) > celsius {
            weak = middle;
        } else {
            strong = middle;
        }
    }
    Ok(Ratio::fraction(if celsius >= 0.0 { 0.0 } else { strong })?)
}

const fn concentrate_rows(glycol: Glycol) -> &'static [f64; 11] {
    match glycol {
        Glycol::Ethylene => &ETHYLENE_CONCENTRATE,
        Glycol::Propylene => &PROPYLENE_CONCENTRATE,
    }
}

const fn pure_rows(glycol: Glycol) -> &'static [f64; 11] {
    match glycol {
        Glycol::Ethylene => &ETHYLENE_PURE_MASS,
        Glycol::Propylene => &PROPYLENE_PURE_MASS,
    }
}

fn within(share: Ratio, most: f64) -> Result<f64, FreezingError> {
    // A strength that was itself computed may miss the end of the table by rounding.
    let fraction = share.in_fraction();
    if (-1e-12..=most + 1e-12).contains(&fraction) {
        Ok(fraction.clamp(0.0, most))
    } else {
        Err(FreezingError::Strength {
            percent: share.in_percent(),
        })
    }
}

/// Fritsch–Carlson interpolation over [`FRACTION`]; `x` lies inside it.
fn monotone_cubic(rows: &[f64; 11], x: f64) -> f64 {
    let at = FRACTION
        .iter()
        .rposition(|&from| from <= x)
        .unwrap_or(0)
        .min(FRACTION.len() - 2);
    let width = FRACTION[at + 1] - FRACTION[at];
    let (left, right) = (tangent(rows, at), tangent(rows, at + 1));
    let t = (x - FRACTION[at]) / width;
    let (t2, t3) = (t * t, t * t * t);
    (2.0 * t3 - 3.0 * t2 + 1.0) * rows[at]
        + (t3 - 2.0 * t2 + t) * width * left
        + (3.0 * t2 - 2.0 * t3) * rows[at + 1]
        + (t3 - t2) * width * right
}

/// Slope at a row: the weighted harmonic mean of the slopes beside it, which keeps the curve
/// from passing its own rows.
fn tangent(rows: &[f64; 11], at: usize) -> f64 {
    let width = |k: usize| FRACTION[k + 1] - FRACTION[k];
    let slope = |k: usize| (rows[k + 1] - rows[k]) / width(k);
    if at == 0 {
        return slope(0);
    }
    if at == rows.len() - 1 {
        return slope(at - 1);
    }
    let (before, after) = (width(at - 1), width(at));
    let (a, b) = (2.0 * after + before, after + 2.0 * before);
    (a + b) / (a / slope(at - 1) + b / slope(at))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cold(glycol: Glycol, basis: Basis, percent: f64) -> f64 {
        freezes_at(glycol, basis, Ratio::percent(percent).unwrap())
            .unwrap()
            .in_celsius()
    }

    /// Source: CoolProp 8.0.0, fluids AEG and APG. *Computed by a general library (CoolProp
    /// 8.0.0).*
    #[test]
    fn e51_half_and_half_freezes() {
        assert!((cold(Glycol::Ethylene, Basis::Concentrate, 50.0) - -37.1).abs() < 0.2);
        assert!((cold(Glycol::Propylene, Basis::Concentrate, 50.0) - -33.7).abs() < 0.2);
    }

    /// Source: w = v·ρ_g/(v·ρ_g + (1−v)·ρ_w). *Computed by a general library (Python 3.11 floats):
    /// arithmetic.* The freezing point of 50 % pure: CoolProp 8.0.0, MEG. *Computed by a general
    /// library (CoolProp 8.0.0).*
    #[test]
    fn e52_half_by_volume_is_more_by_mass() {
        let w = mass_fraction(Glycol::Ethylene, Ratio::percent(50.0).unwrap()).unwrap();
        assert!((w.in_fraction() - 0.5272).abs() < 5e-4);
        assert!((cold(Glycol::Ethylene, Basis::Pure, 50.0) - -39.84).abs() < 0.2);
    }

    /// Source: ASHRAE Handbook, glycol example: 1000 gal at 30 % by mass hold 277.6 gal.
    /// *Published.*
    #[test]
    fn e53_thousand_gallons_at_thirty_per_cent_by_mass() {
        let v = volume_fraction(Glycol::Ethylene, Ratio::percent(30.0).unwrap()).unwrap();
        assert!((1000.0 * v.in_fraction() - 277.6).abs() < 0.1);
    }

    /// Source: CoolProp 8.0.0, AEG at 31.25 %. *Computed by a general library (CoolProp 8.0.0).*
    #[test]
    fn e57_freezing_of_ready_mix_on_trapped_water() {
        assert!((cold(Glycol::Ethylene, Basis::Concentrate, 31.25) - -16.7).abs() < 0.3);
    }

    /// Source: CoolProp 8.0.0, strengths for given temperatures. *Computed by a general library.*
    #[test]
    fn strength_for_a_winter() {
        for (celsius, ethylene, propylene) in [
            (-18.0, 32.9, 36.3),
            (-25.0, 40.2, 43.3),
            (-30.0, 44.6, 47.3),
            (-37.0, 49.9, 52.2),
        ] {
            let of = |glycol| {
                strength_for(glycol, Temperature::celsius(celsius).unwrap())
                    .unwrap()
                    .in_percent()
            };
            assert!((of(Glycol::Ethylene) - ethylene).abs() < 0.11, "{celsius}");
            assert!(
                (of(Glycol::Propylene) - propylene).abs() < 0.11,
                "{celsius}"
            );
        }
    }

    #[test]
    fn nothing_is_continued_past_the_table() {
        let seventy = Ratio::percent(70.0).unwrap();
        assert!(matches!(
            freezes_at(Glycol::Ethylene, Basis::Concentrate, seventy),
            Err(FreezingError::Strength { .. })
        ));
        assert!(matches!(
            strength_for(Glycol::Ethylene, Temperature::celsius(-60.0).unwrap()),
            Err(FreezingError::TooCold { .. })
        ));
        assert!(cold(Glycol::Ethylene, Basis::Concentrate, 0.0).abs() < 1e-12);
    }

    #[test]
    fn the_curve_falls_all_the_way() {
        let mut last = 1.0;
        for tenth in 0..=600 {
            let now = monotone_cubic(&PROPYLENE_CONCENTRATE, f64::from(tenth) / 1000.0);
            assert!(now < last);
            last = now;
        }
    }
}
