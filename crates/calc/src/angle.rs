//! Torque and angle: what a turn adds to the preload while the bolt is elastic, and where
//! it stops being so.
//!
//! Past the yield point this model has no answer and says so. It never guesses a preload
//! there.

use std::f64::consts::TAU;

use quantity::{Angle, Force, Length, Stiffness};

use crate::thread::Thread;
use crate::tightening::{PRELOAD, STIFFNESS, TighteningError};

/// The joint that a turn works on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnedJoint {
    /// The thread.
    pub thread: Thread,
    /// The bolt as a spring.
    pub bolt: Stiffness,
    /// What it clamps as a spring.
    pub clamped: Stiffness,
}

impl TurnedJoint {
    /// Way the faces move per newton: 1/k_bolt + 1/k_clamped, in m/N.
    fn give(&self) -> Result<f64, TighteningError> {
        Ok(1.0 / STIFFNESS.check(self.bolt)? + 1.0 / STIFFNESS.check(self.clamped)?)
    }
}

/// How a turn ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turn {
    /// The bolt is still elastic and holds this preload.
    Elastic(Force),
    /// The bolt yields before the turn is done. Its preload is then near the one at yield and
    /// no longer follows the angle.
    PastYield {
        /// How far of the turn it stays elastic.
        yields_after: Angle,
        /// The stretch that stays if all of the rest goes into the bolt.
        lasting_stretch: Length,
    },
}

/// What a turn adds to the preload while everything is elastic.
///
/// # Formula
/// ΔF = (P·θ/360°)/(1/k_bolt + 1/k_clamped)
/// # Units
/// Joint and angle; returns a force, negative for a turn back.
/// # Range
/// Elastic, from a seated joint on. Pitch times angle alone would be a third too high on a
/// short joint, because the clamped parts give way too.
/// # Source
/// Elastic model; bolt and member stiffness after Shigley, Mechanical Engineering Design.
/// # Errors
/// [`TighteningError::OutOfRange`] for a stiffness.
/// # Example
/// ```
/// use calc::{angle::{self, TurnedJoint}, thread::Thread};
/// use quantity::{Angle, Stiffness};
///
/// let joint = TurnedJoint { thread: Thread::parse("M10")?,
///     bolt: Stiffness::newtons_per_mm(180_800.0)?, clamped: Stiffness::newtons_per_mm(1_548_000.0)? };
/// assert!((angle::gain(&joint, Angle::degrees(1.0)?)?.in_newtons() - 674.5).abs() < 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gain(joint: &TurnedJoint, turn: Angle) -> Result<Force, TighteningError> {
    let way = joint.thread.pitch().in_metres() * turn.in_radians() / TAU;
    Ok(Force::newtons(way / joint.give()?)?)
}

/// The turn that adds a preload.
///
/// # Formula
/// θ = 360°·ΔF·(1/k_bolt + 1/k_clamped)/P
/// # Units
/// Joint and force; returns an angle.
/// # Range
/// As [`gain`].
/// # Source
/// As [`gain`].
/// # Errors
/// [`TighteningError::OutOfRange`] for the force or a stiffness.
/// # Example
/// ```
/// use calc::{angle::{self, TurnedJoint}, thread::Thread};
/// use quantity::{Force, Stiffness};
///
/// let joint = TurnedJoint { thread: Thread::parse("M10")?,
///     bolt: Stiffness::newtons_per_mm(180_800.0)?, clamped: Stiffness::newtons_per_mm(1_548_000.0)? };
/// let turn = angle::turn_for(&joint, Force::kilonewtons(25.0)?)?;
/// assert!((turn.in_degrees() - 37.06).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn turn_for(joint: &TurnedJoint, added: Force) -> Result<Angle, TighteningError> {
    let force = PRELOAD.check(added)?;
    Ok(Angle::radians(
        TAU * force * joint.give()? / joint.thread.pitch().in_metres(),
    )?)
}

/// Turns a seated joint further and stops at yield.
///
/// # Formula
/// F = F0 + gain(θ) while F ≤ F_yield; beyond it the rest of the way is lasting stretch
/// # Units
/// Joint, preload at the start, angle, preload at yield; returns a [`Turn`].
/// # Range
/// F_yield by stretch and twist together: the standard value at full use,
/// [`crate::preload::standard::tightening`] with a share of 100 %.
/// # Source
/// Elastic model of [`gain`].
/// # Errors
/// [`TighteningError::OutOfRange`] for a force or stiffness; [`TighteningError::NotCovered`]
/// when the bolt is past yield before the turn, or for a turn back.
/// # Example
/// ```
/// use calc::{angle::{self, Turn, TurnedJoint}, thread::Thread};
/// use quantity::{Angle, Force, Stiffness};
///
/// let joint = TurnedJoint { thread: Thread::parse("M10")?,
///     bolt: Stiffness::newtons_per_mm(180_800.0)?, clamped: Stiffness::newtons_per_mm(1_548_000.0)? };
/// let end = angle::turn(&joint, Force::kilonewtons(12.25)?, Angle::degrees(90.0)?,
///     Force::kilonewtons(32.9)?)?;
/// assert!(matches!(end, Turn::PastYield { .. }));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn turn(
    joint: &TurnedJoint,
    start: Force,
    turn: Angle,
    at_yield: Force,
) -> Result<Turn, TighteningError> {
    let from = PRELOAD.check(start)?;
    let limit = PRELOAD.check(at_yield)?;
    if turn.in_radians() < 0.0 {
        return Err(TighteningError::NotCovered {
            what: "a turn back",
            why: "friction turns round when loosening; tighten again from the seating torque",
        });
    }
    if from > limit {
        return Err(TighteningError::NotCovered {
            what: "a turn from past the yield point",
            why: "the seating torque alone already yields this bolt; check size, class and torque",
        });
    }
    let end = from + gain(joint, turn)?.in_newtons();
    if end <= limit {
        return Ok(Turn::Elastic(Force::newtons(end)?));
    }
    let yields_after = turn_for(joint, Force::newtons(limit - from)?)?;
    let rest = turn.in_radians() - yields_after.in_radians();
    Ok(Turn::PastYield {
        yields_after,
        lasting_stretch: Length::metres(joint.thread.pitch().in_metres() * rest / TAU)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stretch::{BoltSpring, End, bolt_stiffness, clamped_stiffness};
    use proptest::prelude::*;
    use quantity::Stress;

    fn kn(value: f64) -> Force {
        Force::kilonewtons(value).unwrap()
    }

    fn degrees(value: f64) -> Angle {
        Angle::degrees(value).unwrap()
    }

    fn m10(shank: f64, stack_mpa: f64) -> TurnedJoint {
        let thread = Thread::parse("M10").unwrap();
        let bolt = BoltSpring {
            thread,
            shank: Length::mm(shank).unwrap(),
            free_thread: Length::mm(25.0).unwrap(),
            end: End::Nut,
            modulus: Stress::megapascals(205_000.0).unwrap(),
        };
        let grip = Length::mm(shank + 25.0).unwrap();
        let stack = Stress::megapascals(stack_mpa).unwrap();
        TurnedJoint {
            thread,
            bolt: bolt_stiffness(&bolt).unwrap(),
            clamped: clamped_stiffness(thread.diameter(), grip, stack).unwrap(),
        }
    }

    /// Source: inputs of Shigley, Mechanical Engineering Design, p. 439, *published*; the
    /// elastic form in double precision.
    #[test]
    fn t29_angle_of_the_textbook_joint() {
        let pounds_per_inch = |value: f64| {
            Stiffness::newtons_per_metre(value * quantity::POUND_FORCE / quantity::INCH).unwrap()
        };
        let joint = TurnedJoint {
            thread: Thread::parse("3/4-16").unwrap(),
            bolt: pounds_per_inch(6.5e6),
            clamped: pounds_per_inch(13.8e6),
        };
        let force = Force::newtons(25_000.0 * quantity::POUND_FORCE).unwrap();
        assert!((turn_for(&joint, force).unwrap().in_degrees() - 32.59).abs() < 0.02);
    }

    /// Source: elastic form in double precision, steel and aluminium stack. *Computed by a
    /// general library (Python 3.11 floats).*
    #[test]
    fn t31_newtons_per_degree() {
        for (stack, per_degree, for_25, for_90) in [
            (205_000.0, 674.5, 37.06, 60.7),
            (70_000.0, 561.3, 44.54, 50.5),
        ] {
            let joint = m10(35.0, stack);
            assert!((gain(&joint, degrees(1.0)).unwrap().in_newtons() - per_degree).abs() < 1.0);
            assert!((turn_for(&joint, kn(25.0)).unwrap().in_degrees() - for_25).abs() < 0.05);
            assert!((gain(&joint, degrees(90.0)).unwrap().in_kilonewtons() - for_90).abs() < 0.06);
        }
    }

    /// T-P11. Source: as above: from 12.25 kN the short steel joint yields after 30.6°, the
    /// aluminium one after 36.8°, the long one (10.9, 43.5 kN) after 80.7°; +90° +90° would
    /// leave about 0.62 mm. *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn tp11_the_turn_stops_at_yield_and_says_so() {
        for (joint, at_yield, expected) in [
            (m10(35.0, 205_000.0), 32.9, 30.6),
            (m10(35.0, 70_000.0), 32.9, 36.8),
            (m10(85.0, 70_000.0), 43.5, 80.7),
        ] {
            let end = turn(&joint, kn(12.25), degrees(90.0), kn(at_yield)).unwrap();
            let Turn::PastYield { yields_after, .. } = end else {
                panic!("elastic: {end:?}");
            };
            assert!(
                (yields_after.in_degrees() - expected).abs() < 0.15,
                "{yields_after:?}"
            );
        }
        let end = turn(&m10(35.0, 205_000.0), kn(12.25), degrees(180.0), kn(32.9)).unwrap();
        let Turn::PastYield {
            lasting_stretch, ..
        } = end
        else {
            panic!("elastic: {end:?}");
        };
        assert!((lasting_stretch.in_mm() - 0.62).abs() < 0.005);
    }

    /// Source: as above, long bolt, +60° from 12.25 kN: 35.5 kN.
    #[test]
    fn an_elastic_turn_ends_in_a_preload() {
        let end = turn(&m10(85.0, 70_000.0), kn(12.25), degrees(60.0), kn(43.5)).unwrap();
        let Turn::Elastic(force) = end else {
            panic!("past yield: {end:?}");
        };
        assert!((force.in_kilonewtons() - 35.5).abs() < 0.05);
    }

    #[test]
    fn a_turn_back_or_from_past_yield_is_refused() {
        let joint = m10(35.0, 70_000.0);
        assert!(turn(&joint, kn(10.0), degrees(-90.0), kn(30.0)).is_err());
        assert!(turn(&joint, kn(31.0), degrees(10.0), kn(30.0)).is_err());
    }

    proptest! {
        /// Two turns end where one of their sum ends, while elastic.
        #[test]
        fn turns_add_up(a in 0.0..20.0_f64, b in 0.0..20.0_f64) {
            let joint = m10(85.0, 70_000.0);
            let Turn::Elastic(first) = turn(&joint, kn(5.0), degrees(a), kn(40.0)).unwrap() else {
                return Err(TestCaseError::fail("past yield"));
            };
            let twice = turn(&joint, first, degrees(b), kn(40.0)).unwrap();
            let once = turn(&joint, kn(5.0), degrees(a + b), kn(40.0)).unwrap();
            let (Turn::Elastic(twice), Turn::Elastic(once)) = (twice, once) else {
                return Err(TestCaseError::fail("past yield"));
            };
            prop_assert!((twice.in_newtons() - once.in_newtons()).abs() < 1e-6);
        }
    }
}
