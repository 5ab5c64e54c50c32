//! How long it takes until oil or fuel has filled the way it must go.

use libm::ceil;
use quantity::{Duration, Flow, NotFinite, Ratio, RotationalSpeed, Volume};
use std::f64::consts::PI;
use thiserror::Error;

/// Why no priming time came out.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PrimeError {
    /// A figure must be above zero.
    #[error("{what} of {value} {unit} is not above zero")]
    NotPositive {
        /// Which figure.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A pump delivers no more than it displaces.
    #[error("a pump efficiency of {percent} % is above 100 %")]
    Efficiency {
        /// The efficiency, per cent.
        percent: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Turns and time to fill filter and galleries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OilPrime {
    /// Turns of the crank (or of the drill that drives the pump).
    pub turns: Ratio,
    /// Time at the speed given.
    pub time: Duration,
}

/// Turns and time until the oil pump has filled filter and galleries.
///
/// # Formula
/// turns = V/(displacement per turn · η); t = turns/speed
/// # Units
/// `volume` of filter and galleries, `per_turn` displaced, `efficiency` a fraction, `speed`.
/// # Range
/// All above zero, efficiency up to 1; a pump that has lost its prime delivers nothing at first.
/// # Source
/// Volume balance.
/// # Errors
/// [`PrimeError`] names the figure.
/// # Example
/// ```
/// use quantity::{Ratio, RotationalSpeed, Volume};
/// let prime = calc::prime::oil(
///     Volume::litres(0.75)?, Volume::cc(12.0)?, Ratio::fraction(0.8)?, RotationalSpeed::rpm(200.0)?)?;
/// assert!((prime.turns.in_fraction() - 78.125).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn oil(
    volume: Volume,
    per_turn: Volume,
    efficiency: Ratio,
    speed: RotationalSpeed,
) -> Result<OilPrime, PrimeError> {
    above_zero("a volume to fill", volume.in_litres(), "L")?;
    above_zero("a displacement", per_turn.in_cc(), "cm³ a turn")?;
    above_zero("a pump efficiency", efficiency.in_percent(), "%")?;
    above_zero("a speed", speed.in_rpm(), "rpm")?;
    if efficiency.in_fraction() > 1.0 {
        return Err(PrimeError::Efficiency {
            percent: efficiency.in_percent(),
        });
    }
    let turns = volume.in_cubic_metres() / (per_turn.in_cubic_metres() * efficiency.in_fraction());
    let per_second = speed.in_radians_per_second() / (2.0 * PI);
    Ok(OilPrime {
        turns: Ratio::fraction(turns)?,
        time: Duration::seconds(turns / per_second)?,
    })
}

/// Time until the fuel pump has filled line, filter and rail.
///
/// # Formula
/// t = V/Q
/// # Units
/// `volume` of line, filter and rail; `flow` at working pressure, not free flow.
/// # Range
/// Both above zero. Air in the line compresses, so the pressure rises late.
/// # Source
/// Volume balance.
/// # Errors
/// [`PrimeError`] names the figure.
/// # Example
/// ```
/// use quantity::{Flow, Volume};
/// let time = calc::prime::fuel(Volume::litres(0.6)?, Flow::litres_per_hour(100.0)?)?;
/// assert!((time.in_seconds() - 21.6).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn fuel(volume: Volume, flow: Flow) -> Result<Duration, PrimeError> {
    above_zero("a volume to fill", volume.in_litres(), "L")?;
    above_zero("a flow", flow.in_litres_per_hour(), "L/h")?;
    Ok(Duration::seconds(
        volume.in_cubic_metres() / flow.in_cubic_metres_per_second(),
    )?)
}

/// How many key-on pulses of the pump a time takes.
///
/// # Formula
/// n = ⌈t/t_pulse⌉
/// # Units
/// Times; returns a count.
/// # Range
/// Pulse above zero; about 2 s on many cars (*common practice, no source*).
/// # Source
/// Arithmetic.
/// # Errors
/// [`PrimeError`] names the pulse.
/// # Example
/// ```
/// use quantity::Duration;
/// let pulses = calc::prime::key_pulses(Duration::seconds(21.6)?, Duration::seconds(2.0)?)?;
/// assert_eq!(pulses, 11);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn key_pulses(time: Duration, pulse: Duration) -> Result<u32, PrimeError> {
    above_zero("a key-on pulse", pulse.in_seconds(), "s")?;
    let count = ceil(time.in_seconds().max(0.0) / pulse.in_seconds());
    Ok(count.min(f64::from(u32::MAX)) as u32)
}

fn above_zero(what: &'static str, value: f64, unit: &'static str) -> Result<(), PrimeError> {
    if value > 0.0 {
        Ok(())
    } else {
        Err(PrimeError::NotPositive { what, value, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: volume balance; duty 15 s on, 2 min off: SAE J1375, as quoted, *published*.
    /// *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e61_oil_prime_and_its_bursts() {
        let prime = oil(
            Volume::litres(0.75).unwrap(),
            Volume::cc(12.0).unwrap(),
            Ratio::fraction(0.8).unwrap(),
            RotationalSpeed::rpm(200.0).unwrap(),
        )
        .unwrap();
        assert!((prime.turns.in_fraction() - 78.1).abs() < 0.1);
        assert!((prime.time.in_seconds() - 23.4).abs() < 0.1);
        let bursts =
            crate::starter::bursts(prime.time, crate::starter::Duty::petrol().unwrap()).unwrap();
        assert_eq!(bursts.count, 2);
        assert!((bursts.whole.in_seconds() - 143.0).abs() < 0.5);
    }

    /// Source: volume balance. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e62_fuel_prime_and_key_pulses() {
        let pulse = Duration::seconds(2.0).unwrap();
        for (litres, per_hour, seconds, pulses) in [(0.6, 100.0, 21.6, 11), (0.35, 80.0, 15.75, 8)]
        {
            let time = fuel(
                Volume::litres(litres).unwrap(),
                Flow::litres_per_hour(per_hour).unwrap(),
            )
            .unwrap();
            assert!((time.in_seconds() - seconds).abs() < 0.05);
            assert_eq!(key_pulses(time, pulse).unwrap(), pulses);
        }
    }

    #[test]
    fn figures_that_cannot_be_are_refused() {
        let litre = Volume::litres(1.0).unwrap();
        let speed = RotationalSpeed::rpm(200.0).unwrap();
        let of = |efficiency| oil(litre, litre, Ratio::fraction(efficiency).unwrap(), speed);
        assert!(matches!(of(1.1), Err(PrimeError::Efficiency { .. })));
        assert!(matches!(
            of(0.0),
            Err(PrimeError::NotPositive {
                what: "a pump efficiency",
                ..
            })
        ));
        assert!(fuel(litre, Flow::litres_per_hour(0.0).unwrap()).is_err());
        assert!(
            key_pulses(
                Duration::seconds(1.0).unwrap(),
                Duration::seconds(0.0).unwrap()
            )
            .is_err()
        );
    }
}
