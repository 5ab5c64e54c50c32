//! Torque figures themselves: whether one looks like a slip of unit, and what to say when
//! there is none.
//!
//! How a torque becomes preload stands in [`crate::preload`], what to set on a wrench in
//! [`crate::wrench`] and [`crate::adapter`].

pub mod estimate;
pub mod lookalike;

use quantity::{Force, Length, Ratio, Torque};

use crate::tightening::{DIAMETER, PRELOAD, TORQUE, TighteningError};

/// The nut factor a printed torque amounts to: a check on any table, even an official one.
/// A line out of family with its neighbours is a misprint or another condition.
///
/// # Formula
/// K = T/(F·d)
/// # Units
/// Torque, force, nominal diameter; returns a ratio.
/// # Range
/// A force above zero.
/// # Source
/// Shigley, Mechanical Engineering Design, p. 438, eq. 8-27, solved for K. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for an input; [`TighteningError::NotCovered`] for no force.
/// # Example
/// ```
/// use calc::torque;
/// use quantity::{Force, Length, Torque};
///
/// let k = torque::nut_factor_behind(Torque::newton_metres(24.0)?,
///     Force::kilonewtons(15.0)?, Length::mm(8.0)?)?;
/// assert!((k.in_fraction() - 0.2).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn nut_factor_behind(
    torque: Torque,
    preload: Force,
    diameter: Length,
) -> Result<Ratio, TighteningError> {
    let moment = TORQUE.check(torque)?;
    let force = PRELOAD.check(preload)?;
    if force <= 0.0 {
        return Err(TighteningError::NotCovered {
            what: "the nut factor behind a torque without preload",
            why: "give the preload the torque is meant to bring",
        });
    }
    Ok(Ratio::fraction(
        moment / (force * DIAMETER.check(diameter)?),
    )?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::thread::Thread;

    /// Source: FAA AC 43.13-1B (1998), chapter 7, torque table at its own 40 ksi. *Published.*
    /// K by division: the 7/16-20 line is out of family.
    #[test]
    fn a_back_check_finds_the_odd_line() {
        let k = |size: &str, inch_pounds: f64| {
            let thread = Thread::parse(size).unwrap();
            let square_inches =
                thread.stress_area().in_square_metres() / quantity::INCH / quantity::INCH;
            let force = Force::newtons(40_000.0 * square_inches * quantity::POUND_FORCE).unwrap();
            let torque = Torque::pound_force_inches(inch_pounds).unwrap();
            nut_factor_behind(torque, force, thread.diameter())
                .unwrap()
                .in_fraction()
        };
        for (size, low, high, k_low, k_high) in [
            ("1/4-28", 50.0, 70.0, 0.137, 0.192),
            ("5/16-24", 100.0, 140.0, 0.138, 0.193),
            ("3/8-24", 160.0, 190.0, 0.121, 0.144),
            ("7/16-20", 450.0, 500.0, 0.217, 0.241),
            ("1/2-20", 480.0, 690.0, 0.150, 0.216),
        ] {
            assert!((k(size, low) - k_low).abs() < 0.001, "{size}");
            assert!((k(size, high) - k_high).abs() < 0.001, "{size}");
        }
    }

    #[test]
    fn no_force_no_factor() {
        let torque = Torque::newton_metres(10.0).unwrap();
        let none = Force::newtons(0.0).unwrap();
        assert!(nut_factor_behind(torque, none, Length::mm(8.0).unwrap()).is_err());
    }
}
