//! How long a starter motor may turn before it must rest.

use libm::ceil;
use quantity::{Duration, NotFinite};
use thiserror::Error;

/// Why a cranking time gives no bursts.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum StarterError {
    /// A time was below zero, or a burst had no length.
    #[error("{what} of {seconds} s cannot be")]
    Time {
        /// Which time.
        what: &'static str,
        /// The time, seconds.
        seconds: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// On for so long, then rest for so long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// Longest burst.
    pub on: Duration,
    /// Rest between bursts.
    pub rest: Duration,
}

/// Cranking parted into bursts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bursts {
    /// How many bursts.
    pub count: u32,
    /// From first turn to last, rests between included.
    pub whole: Duration,
}

impl Duty {
    /// 15 s on, 2 min rest: petrol engines.
    ///
    /// # Source
    /// SAE J1375, practice as quoted. *Published.* Many makers say 10 s (*common practice, no
    /// source*); the smaller one holds.
    ///
    /// # Errors
    /// None for these figures; [`NotFinite`] by type.
    pub fn petrol() -> Result<Self, NotFinite> {
        Ok(Self {
            on: Duration::seconds(15.0)?,
            rest: Duration::minutes(2.0)?,
        })
    }

    /// 30 s on, 2 min rest: diesel engines.
    ///
    /// # Source
    /// SAE J1375, practice as quoted. *Published.*
    ///
    /// # Errors
    /// None for these figures; [`NotFinite`] by type.
    pub fn diesel() -> Result<Self, NotFinite> {
        Ok(Self {
            on: Duration::seconds(30.0)?,
            rest: Duration::minutes(2.0)?,
        })
    }
}

/// Parts a cranking time into bursts.
///
/// # Formula
/// n = ⌈t/t_on⌉; whole = t + (n − 1)·t_rest
/// # Units
/// Times; returns a count and a time.
/// # Range
/// Times of zero and up, bursts longer than nothing.
/// # Source
/// Arithmetic on the duty.
/// # Errors
/// [`StarterError::Time`] names the time.
/// # Example
/// ```
/// use quantity::Duration;
/// let bursts = calc::starter::bursts(Duration::seconds(23.4)?, calc::starter::Duty::petrol()?)?;
/// assert_eq!(bursts.count, 2);
/// assert!((bursts.whole.in_seconds() - 143.4).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn bursts(cranking: Duration, duty: Duty) -> Result<Bursts, StarterError> {
    let time = cranking.in_seconds();
    let fault = |what, seconds| Err(StarterError::Time { what, seconds });
    if time < 0.0 {
        return fault("a cranking time", time);
    }
    if duty.on.in_seconds() <= 0.0 {
        return fault("a burst", duty.on.in_seconds());
    }
    if duty.rest.in_seconds() < 0.0 {
        return fault("a rest", duty.rest.in_seconds());
    }
    let count = ceil(time / duty.on.in_seconds());
    if count > f64::from(u32::MAX) {
        return fault("a cranking time", time);
    }
    let rests = (count - 1.0).max(0.0) * duty.rest.in_seconds();
    Ok(Bursts {
        count: count as u32,
        whole: Duration::seconds(time + rests)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_crank_is_one_burst_without_rest() {
        let duty = Duty::petrol().unwrap();
        let of = |s| bursts(Duration::seconds(s).unwrap(), duty).unwrap();
        assert_eq!((of(15.0).count, of(15.1).count, of(0.0).count), (1, 2, 0));
        assert!((of(15.0).whole.in_seconds() - 15.0).abs() < 1e-12);
    }

    #[test]
    fn times_that_cannot_be_are_refused() {
        let seconds = |s| Duration::seconds(s).unwrap();
        let duty = Duty {
            on: seconds(0.0),
            rest: seconds(1.0),
        };
        assert!(bursts(seconds(1.0), duty).is_err());
        assert!(bursts(seconds(-1.0), Duty::diesel().unwrap()).is_err());
    }
}
