//! Relative compression from the current of the starter motor: one hump a compression.
//!
//! A model, not a measurement: it shows how the lag of motor and current makes a weak
//! cylinder look better than it is, and its follower in firing order worse. Wear that is
//! alike on all cylinders is invisible to this test.

use libm::pow;
use quantity::{AbsolutePressure, Angle, Duration, NotFinite, Quantity, Ratio, RotationalSpeed};
use std::f64::consts::PI;
use thiserror::Error;

use crate::crank::{CrankError, Cylinder};

/// Samples in one four-stroke cycle, one a crank degree.
const CYCLE: usize = 720;
/// Cycles thrown away until the lag has settled.
const WARM_UP: usize = 3;
/// Current of the motor without load, in the model's units.
const IDLE_CURRENT: f64 = 150.0;
/// Current for one newton metre, in the model's units.
const PER_NEWTON_METRE: f64 = 2.0;
/// The window of a hump opens this far after bottom dead centre, degrees.
const OPENS: usize = 20;
/// The window of a hump shuts this far after top dead centre, degrees.
const SHUTS: usize = 20;

/// Why no humps came out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum HumpsError {
    /// There are no cylinders.
    #[error("a firing order needs at least one cylinder, and each needs its scale")]
    NoCylinders,
    /// The speed must be above zero.
    #[error("a cranking speed of {rpm} rpm is not above zero")]
    Speed {
        /// The speed, rpm.
        rpm: f64,
    },
    /// A lag cannot be shorter than a sample, or the steps would not settle.
    #[error("a lag of {seconds} s is shorter than one crank degree takes")]
    Lag {
        /// The lag, seconds.
        seconds: f64,
    },
    /// The geometry gives no answer.
    #[error(transparent)]
    Crank(#[from] CrankError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// How often a compression comes round.
///
/// # Formula
/// f = speed/60 · N/2 (four-stroke), in events a second
/// # Units
/// `speed`; returns a plain number, per second.
/// # Range
/// Any speed.
/// # Source
/// Arithmetic of the four-stroke cycle.
/// # Errors
/// None in range; [`NotFinite`] by type.
/// # Example
/// ```
/// use quantity::RotationalSpeed;
/// let rate = calc::humps::event_rate(RotationalSpeed::rpm(200.0)?, 6)?;
/// assert!((rate.in_fraction() - 10.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn event_rate(speed: RotationalSpeed, cylinders: u32) -> Result<Ratio, NotFinite> {
    Ratio::fraction(speed.in_rpm() / 60.0 * f64::from(cylinders) / 2.0)
}

/// An engine at the starter, in firing order.
#[derive(Clone, Debug)]
pub struct Cranked {
    /// Geometry of every cylinder.
    pub cylinder: Cylinder,
    /// When the inlet valve seats, after bottom dead centre.
    pub inlet_closes: Angle,
    /// When the exhaust valve opens, after top dead centre.
    pub exhaust_opens: Angle,
    /// Compression exponent.
    pub exponent: Ratio,
    /// The air around.
    pub air: AbsolutePressure,
    /// Cranking speed, taken as steady.
    pub speed: RotationalSpeed,
    /// Lag of the current behind the load.
    pub lag: Duration,
    /// Share of sound gauge pressure of each cylinder, in firing order.
    pub scales: Vec<Ratio>,
}

/// Hump heights over the highest, in firing order.
///
/// # Formula
/// load = −Σ (p − p_air)·A·dx/dθ, p polytropic from inlet closing to exhaust opening and
/// scaled; current = idle + k·load through a first-order lag (Euler, one step a degree);
/// height = peak less the mean of the lowest samples left and right of it, in the window from
/// 20° after the bottom to 20° after the top
/// # Units
/// See [`Cranked`]; returns fractions.
/// # Range
/// Even firing, steady speed, lag not shorter than one crank degree.
/// # Source
/// Model after the processing of US patent 5,663,493 (1997), *published*; the model itself is
/// synthetic and untested on an engine.
/// # Errors
/// [`HumpsError`] names the speed, the lag or the missing cylinders.
/// # Example
/// See the test `e49_lag_hides_a_weak_cylinder_and_blames_its_follower`.
pub fn indices(engine: &Cranked) -> Result<Vec<Ratio>, HumpsError> {
    let count = engine.scales.len();
    if count == 0 {
        return Err(HumpsError::NoCylinders);
    }
    let current = lagged(engine, &load(engine)?)?;
    let spacing = CYCLE as f64 / count as f64;
    let heights: Vec<f64> = (0..count)
        .map(|place| {
            let top = (place as f64 * spacing).round() as usize;
            height(&current, top)
        })
        .collect();
    let highest = heights.iter().copied().fold(f64::MIN, f64::max);
    heights
        .into_iter()
        .map(|height| Ok(Ratio::fraction(height / highest)?))
        .collect()
}

/// Gauge pressure times lever of one sound cylinder, a sample a degree from its firing top.
fn single(engine: &Cranked) -> Result<Vec<f64>, HumpsError> {
    let area = engine.cylinder.area()?.in_square_metres();
    let clearance = engine.cylinder.clearance()?.in_cubic_metres();
    let volume = |angle: Angle| -> Result<f64, HumpsError> {
        Ok(clearance + area * engine.cylinder.below_top(angle)?.in_metres())
    };
    let closes = PI - engine.inlet_closes.in_radians();
    let trapped = volume(Angle::radians(closes)?)?;
    let shut_from = -(PI - engine.inlet_closes.in_radians());
    let shut_to = engine.exhaust_opens.in_radians();
    (0..CYCLE)
        .map(|degree| {
            // −360° … 359° about the firing top.
            let theta = (degree as f64 - 360.0) * PI / 180.0;
            if theta < shut_from || theta > shut_to {
                return Ok(0.0);
            }
            let angle = Angle::radians(theta)?;
            let rise = pow(trapped / volume(angle)?, engine.exponent.si()) - 1.0;
            let lever = engine.cylinder.lever(angle)?.in_metres();
            Ok(-engine.air.in_pascals() * rise * area * lever)
        })
        .collect()
}

/// The load of all cylinders over one cycle, newton metres.
fn load(engine: &Cranked) -> Result<Vec<f64>, HumpsError> {
    let one = single(engine)?;
    let count = engine.scales.len();
    let mut sum = vec![0.0; CYCLE];
    for (place, scale) in engine.scales.iter().enumerate() {
        let top = (place as f64 * CYCLE as f64 / count as f64).round() as usize;
        for (degree, slot) in sum.iter_mut().enumerate() {
            let own = (degree + CYCLE + 360 - top) % CYCLE;
            *slot += scale.in_fraction() * one[own];
        }
    }
    Ok(sum)
}

/// The current of the last cycle, after the lag.
fn lagged(engine: &Cranked, load: &[f64]) -> Result<Vec<f64>, HumpsError> {
    let rpm = engine.speed.in_rpm();
    if rpm <= 0.0 {
        return Err(HumpsError::Speed { rpm });
    }
    let step = 1.0 / (6.0 * rpm); // seconds a crank degree
    let lag = engine.lag.in_seconds();
    if lag < step {
        return Err(HumpsError::Lag { seconds: lag });
    }
    let wanted = |degree: usize| IDLE_CURRENT + PER_NEWTON_METRE * load[degree % CYCLE];
    let mut current = wanted(0);
    let mut last = Vec::with_capacity(CYCLE);
    for sample in 0..(WARM_UP + 1) * CYCLE {
        current += (wanted(sample) - current) * step / lag;
        if sample >= WARM_UP * CYCLE {
            last.push(current);
        }
    }
    Ok(last)
}

/// The height of the hump whose compression ends at `top`.
fn height(current: &[f64], top: usize) -> f64 {
    let window: Vec<f64> = (0..=(180 - OPENS + SHUTS))
        .map(|degree| current[(top + CYCLE + degree + OPENS - 180) % CYCLE])
        .collect();
    let lowest = |samples: &[f64]| samples.iter().copied().fold(f64::MAX, f64::min);
    let mut peak = 0;
    for (at, sample) in window.iter().enumerate() {
        if *sample > window[peak] {
            peak = at;
        }
    }
    window[peak] - f64::midpoint(lowest(&window[..=peak]), lowest(&window[peak..]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Length;

    fn engine(scales: [f64; 4]) -> Cranked {
        let mm = |value| Length::mm(value).unwrap();
        let degrees = |value| Angle::degrees(value).unwrap();
        let ratio = |value| Ratio::fraction(value).unwrap();
        Cranked {
            cylinder: Cylinder::new(mm(86.0), mm(86.0), mm(143.0), ratio(10.5)).unwrap(),
            inlet_closes: degrees(50.0),
            exhaust_opens: degrees(130.0),
            exponent: ratio(1.3),
            air: AbsolutePressure::kilopascals(101.325).unwrap(),
            speed: RotationalSpeed::rpm(200.0).unwrap(),
            lag: Duration::seconds(0.010).unwrap(),
            scales: scales.map(ratio).to_vec(),
        }
    }

    /// Source: the model of this file, firing order 1-3-4-2, cylinder 3 at 0.80. *Computed by a
    /// general library (numpy 2.4.6).* Twenty per cent missing looks like fifteen, and the
    /// follower looks five per cent weak though it is sound.
    #[test]
    fn e49_lag_hides_a_weak_cylinder_and_blames_its_follower() {
        let found = indices(&engine([1.0, 0.80, 1.0, 1.0])).unwrap();
        for (got, want) in found.iter().zip([1.000, 0.853, 0.947, 1.000]) {
            assert!((got.in_fraction() - want).abs() < 0.005, "{found:?}");
        }
    }

    /// Source: the same model, peak load of one cylinder 123.05 N·m. *Computed by a general
    /// library (numpy 2.4.6).*
    #[test]
    fn peak_load_of_one_cylinder() {
        let peak = single(&engine([1.0; 4]))
            .unwrap()
            .into_iter()
            .fold(f64::MIN, f64::max);
        assert!((peak - 123.05).abs() < 0.05, "{peak}");
    }

    /// Source: speed/60·N/2. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e50_event_rate() {
        for (cylinders, rate) in [(3, 5.0), (4, 20.0 / 3.0), (6, 10.0), (8, 40.0 / 3.0)] {
            let got = event_rate(RotationalSpeed::rpm(200.0).unwrap(), cylinders).unwrap();
            assert!((got.in_fraction() - rate).abs() < 1e-9);
        }
    }

    #[test]
    fn wear_alike_on_all_cylinders_is_invisible() {
        for index in indices(&engine([0.7; 4])).unwrap() {
            assert!((index.in_fraction() - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn what_cannot_crank_is_refused() {
        let mut none = engine([1.0; 4]);
        none.scales.clear();
        assert_eq!(indices(&none), Err(HumpsError::NoCylinders));
        let mut still = engine([1.0; 4]);
        still.speed = RotationalSpeed::rpm(0.0).unwrap();
        assert!(matches!(indices(&still), Err(HumpsError::Speed { .. })));
        let mut quick = engine([1.0; 4]);
        quick.lag = Duration::seconds(1e-5).unwrap();
        assert!(matches!(indices(&quick), Err(HumpsError::Lag { .. })));
    }
}
