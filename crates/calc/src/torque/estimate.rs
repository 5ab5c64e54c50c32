//! An estimate for want of a figure: a range with its assumptions, or a refusal that says
//! what is missing.
//!
//! It never stands in for a maker's figure, and for joints that must hold it does not exist.

use std::fmt;

use quantity::{Force, Length, Quantity, Range, Ratio, Torque};

use crate::fastener::{self, Class, Head};
use crate::preload::{Friction, torque_for};
use crate::strip::{HoleMaterial, hole_strip_load};
use crate::thread::{Series, Thread, limits};
use crate::tightening::TighteningError;

/// Something about the fastener or the joint that rules an estimate out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ruling {
    /// Head, rod, main, flywheel, cam, brake, steering, suspension or restraint.
    CriticalJoint,
    /// The maker tightens it by angle or to yield.
    AngleOrYield,
    /// Aluminium, titanium or plastic, bolt or part.
    SoftOrExotic,
    /// A thread insert.
    Insert,
    /// A stud: nut side and stud side differ.
    Stud,
    /// Tapered, banjo, spark plug, drain or hollow screw.
    SpecialScrew,
    /// Self-locking nut or bolt.
    SelfLocking,
    /// Threadlock on it.
    Threadlocked,
    /// Wax, solid lubricant, or a pair that galls.
    ExtremeFriction,
    /// The thread was repaired.
    RepairedThread,
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Unspecified {
    /// The thread.
    pub thread: Thread,
    /// The mark on the head, if there is one.
    pub class: Option<Class>,
    /// What the hole is cut into, if known.
    pub hole: Option<HoleMaterial>,
    /// Length of thread that meets, if measured.
    pub engagement: Option<Length>,
    /// What is special about it.
    pub rulings: Vec<Ruling>,
}

/// Why there is no estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Refusal {
    /// No mark on the head, or none told.
    ClassUnknown,
    /// Stainless: it galls, and its friction is its own.
    Stainless,
    /// Not M5 to M12 coarse.
    Size,
    /// The material of the hole is not known.
    HoleUnknown,
    /// Engagement not measured in light metal.
    EngagementUnknown,
    /// Less than one diameter engaged.
    EngagementShort,
    /// Something special.
    Ruled(Ruling),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::ClassUnknown => "the strength mark on the bolt head is not known",
            Self::Stainless => "stainless threads gall and have a friction of their own",
            Self::Size => "only coarse M5 to M12 are estimated",
            Self::HoleUnknown => "what the hole is cut into is not known",
            Self::EngagementUnknown => "how much thread meets in the light metal is not measured",
            Self::EngagementShort => "less than one diameter of thread meets",
            Self::Ruled(Ruling::CriticalJoint) => {
                "a joint that must hold gets the maker's figure or none"
            }
            Self::Ruled(Ruling::AngleOrYield) => {
                "it is tightened by angle or to yield, which only the maker can state"
            }
            Self::Ruled(Ruling::SoftOrExotic) => "bolt or part is aluminium, titanium or plastic",
            Self::Ruled(Ruling::Insert) => "the thread is an insert",
            Self::Ruled(Ruling::Stud) => "a stud's two ends want different figures",
            Self::Ruled(Ruling::SpecialScrew) => {
                "tapered, banjo, spark plug, drain and hollow screws have figures of their own"
            }
            Self::Ruled(Ruling::SelfLocking) => {
                "a self-locking thread adds a drag that must be measured"
            }
            Self::Ruled(Ruling::Threadlocked) => "threadlock changes the friction",
            Self::Ruled(Ruling::ExtremeFriction) => {
                "wax, solid lubricant or galling threads are outside the friction reckoned with"
            }
            Self::Ruled(Ruling::RepairedThread) => "a repaired thread holds what its repair holds",
        })
    }
}

/// What sets the limit of an estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// Three quarters of the bolt's proof load.
    Proof,
    /// Three quarters of the load at which the hole strips.
    Strip,
}

/// An estimate. Not a maker's value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The range, rounded to a step one can set.
    pub torque: Range<Torque>,
    /// The middle, rounded likewise.
    pub middle: Torque,
    /// The preload aimed at.
    pub preload: Force,
    /// What limits it.
    pub cause: Cause,
    /// The friction reckoned with.
    pub friction: Range<Ratio>,
}

/// Why [`estimate`] gave none.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EstimateFault {
    /// Every reason at once.
    #[error("no estimate: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Refused(Vec<Refusal>),
    /// An input out of range.
    #[error(transparent)]
    Input(#[from] TighteningError),
}

/// The share of proof or strip load aimed at.
const SHARE: f64 = 0.75;

/// Low, middle and high friction of clean, lightly oiled threads.
const FRICTION: [f64; 3] = [0.10, 0.12, 0.14];

/// Estimates a torque for a plain bolt nobody states one for.
///
/// # Formula
/// F = 0.75·min(proof load, strip load of the hole); M by the long form at µ 0.10, 0.12, 0.14;
/// rounded to 0.5 N·m up to M6, 2 N·m above
/// # Units
/// Returns torques, a force and the friction range.
/// # Range
/// Coarse M5 to M12 hexagon bolts with a mark, in steel, iron or cast aluminium (shear
/// strength 120 MPa reckoned with), clean and lightly oiled.
/// # Source
/// 75 % of proof load: Shigley, Mechanical Engineering Design, reusable joints. *Published.*
/// Its µ 0.12 values agree with a machine operator's general table for 8.8 into cast
/// aluminium. *Public data.* 75 % of the strip load is this program's own choice.
/// # Errors
/// [`EstimateFault::Refused`] with every reason; [`EstimateFault::Input`].
/// # Example
/// ```
/// use calc::{fastener::Class, strip::HoleMaterial, thread::Thread};
/// use calc::torque::estimate::{Unspecified, estimate};
/// use quantity::Length;
///
/// let found = estimate(&Unspecified { thread: Thread::parse("M8")?, class: Some(Class::C8_8),
///     hole: Some(HoleMaterial::CastAluminium), engagement: Some(Length::mm(12.0)?),
///     rulings: vec![] })?;
/// assert_eq!(found.middle.in_newton_metres(), 20.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn estimate(asked: &Unspecified) -> Result<Estimate, EstimateFault> {
    let refusals = refusals(asked);
    let (Some(class), Some(hole), true) = (asked.class, asked.hole, refusals.is_empty()) else {
        return Err(EstimateFault::Refused(refusals));
    };
    let thread = &asked.thread;
    let proof = fastener::proof_load(thread, class)?;
    let strip = match (hole.usual_shear_strength()?, asked.engagement) {
        (Some(shear), Some(engagement)) => {
            let limits = limits::medium_fit(thread)?;
            Some(hole_strip_load(thread, &limits, engagement, shear)?)
        }
        (Some(_), None) | (None, _) => None,
    };
    let (bears, cause) = match strip {
        Some(strip) if strip < proof => (strip, Cause::Strip),
        Some(_) | None => (proof, Cause::Proof),
    };
    let preload = Force::from_si(SHARE * bears.si()).map_err(TighteningError::from)?;
    let face = fastener::bearing(thread, Head::Hexagon)?.mean_diameter;
    let step = if thread.diameter().in_mm() < 6.5 {
        0.5
    } else {
        2.0
    };
    let at = |friction: f64| -> Result<Torque, TighteningError> {
        let friction = Friction::everywhere(Ratio::fraction(friction)?);
        let torque = torque_for(preload, thread, face, friction)?.in_newton_metres();
        Ok(Torque::newton_metres((torque / step).round() * step)?)
    };
    let [low, middle, high] = FRICTION;
    Ok(Estimate {
        torque: Range {
            low: at(low)?,
            high: at(high)?,
        },
        middle: at(middle)?,
        preload,
        cause,
        friction: Range {
            low: Ratio::fraction(low).map_err(TighteningError::from)?,
            high: Ratio::fraction(high).map_err(TighteningError::from)?,
        },
    })
}

/// Every reason against an estimate, in a fixed order.
fn refusals(asked: &Unspecified) -> Vec<Refusal> {
    let mut found: Vec<Refusal> = asked.rulings.iter().copied().map(Refusal::Ruled).collect();
    match asked.class {
        None => found.push(Refusal::ClassUnknown),
        Some(class) if class.is_stainless() => found.push(Refusal::Stainless),
        Some(_) => {}
    }
    let mm = asked.thread.diameter().in_mm();
    let in_size = asked.thread.series() == Series::Metric
        && asked.thread.is_coarse()
        && (4.999..=12.001).contains(&mm);
    if !in_size {
        found.push(Refusal::Size);
    }
    if asked.hole.is_none() {
        found.push(Refusal::HoleUnknown);
    }
    match asked.engagement {
        Some(length) if length.in_mm() < mm - 1e-6 => found.push(Refusal::EngagementShort),
        None if asked.hole == Some(HoleMaterial::CastAluminium) => {
            found.push(Refusal::EngagementUnknown);
        }
        Some(_) | None => {}
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// How firm a torque figure is. Later is firmer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// An estimate of this program.
    Estimate,
    /// A general table of a maker, not for this joint.
    GeneralTable,
    /// The maker's figure for this joint.
    Maker,
}

/// Which of two figures stands: the firmer one; of equals, the one already held.
///
/// # Source
/// A rule of this house: an estimate never replaces a maker's figure.
#[must_use]
pub fn stands(held: (Standing, Torque), offered: (Standing, Torque)) -> (Standing, Torque) {
    if offered.0 > held.0 { offered } else { held }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn asked(size: &str, class: Class, diameters: f64) -> Unspecified {
        let thread = Thread::parse(size).unwrap();
        Unspecified {
            thread,
            class: Some(class),
            hole: Some(HoleMaterial::CastAluminium),
            engagement: Some(Length::mm(diameters * thread.diameter().in_mm()).unwrap()),
            rulings: Vec::new(),
        }
    }

    /// Source: general bolt table of a machine operator's manual, 8.8 and 10.9 into cast
    /// aluminium, dry. *Public data.* Printed to one or two digits; the estimate is rounded
    /// to the same kind of step.
    #[test]
    fn estimates_agree_with_the_general_table() {
        for (size, class, printed) in [
            ("M6", Class::C8_8, 9.0),
            ("M8", Class::C8_8, 20.0),
            ("M10", Class::C8_8, 40.0),
            ("M12", Class::C8_8, 70.0),
            ("M6", Class::C10_9, 12.0),
            ("M8", Class::C10_9, 28.0),
            ("M10", Class::C10_9, 55.0),
            ("M12", Class::C10_9, 100.0),
        ] {
            let found = estimate(&asked(size, class, 2.0)).unwrap();
            assert!(
                found.torque.low.in_newton_metres() <= printed,
                "{size} {class}"
            );
            assert!(
                found.torque.high.in_newton_metres() >= printed,
                "{size} {class}"
            );
            assert!(
                (found.middle.in_newton_metres() / printed - 1.0).abs() < 0.1,
                "{size} {class}"
            );
        }
    }

    /// M8 8.8 with 12 mm in aluminium: 18 to 24, middle 20, limited by proof. Source: 75 % of
    /// proof at µ 0.10, 0.12, 0.14. *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn m8_in_aluminium() {
        let found = estimate(&asked("M8", Class::C8_8, 1.5)).unwrap();
        assert_eq!(found.torque.low.in_newton_metres(), 18.0);
        assert_eq!(found.middle.in_newton_metres(), 20.0);
        assert_eq!(found.torque.high.in_newton_metres(), 24.0);
        assert_eq!(found.cause, Cause::Proof);
    }

    #[test]
    fn a_short_thread_is_limited_by_strip() {
        let short = estimate(&asked("M8", Class::C8_8, 1.0)).unwrap();
        let long = estimate(&asked("M8", Class::C8_8, 2.0)).unwrap();
        assert_eq!(short.cause, Cause::Strip);
        assert!(short.preload < long.preload);
    }

    #[test]
    fn every_reason_is_named_at_once() {
        let mut bad = asked("M8", Class::Stainless70, 0.8);
        bad.rulings = vec![Ruling::Stud, Ruling::CriticalJoint];
        let fault = estimate(&bad).unwrap_err();
        let EstimateFault::Refused(found) = &fault else {
            panic!("{fault}");
        };
        assert_eq!(
            *found,
            [
                Refusal::Stainless,
                Refusal::EngagementShort,
                Refusal::Ruled(Ruling::CriticalJoint),
                Refusal::Ruled(Ruling::Stud),
            ]
        );
        assert!(fault.to_string().contains("maker's figure or none"));
    }

    #[test]
    fn what_is_not_known_is_not_made_up() {
        let known = asked("M8", Class::C8_8, 1.5);
        for bad in [
            Unspecified {
                class: None,
                ..known.clone()
            },
            Unspecified {
                hole: None,
                ..known.clone()
            },
            Unspecified {
                engagement: None,
                ..known.clone()
            },
            Unspecified {
                thread: Thread::parse("M14").unwrap(),
                ..known.clone()
            },
            Unspecified {
                thread: Thread::parse("M8x1").unwrap(),
                ..known.clone()
            },
        ] {
            assert!(
                matches!(estimate(&bad), Err(EstimateFault::Refused(_))),
                "{bad:?}"
            );
        }
        let steel = Unspecified {
            hole: Some(HoleMaterial::Steel),
            engagement: None,
            ..known
        };
        assert!(estimate(&steel).is_ok());
    }

    proptest! {
        /// T-P12: whatever the numbers, an estimate never replaces a firmer figure.
        #[test]
        fn tp12_an_estimate_never_replaces_a_makers_value(held in 1.0..200.0_f64, offered in 1.0..200.0_f64) {
            let held = Torque::newton_metres(held).unwrap();
            let offered = (Standing::Estimate, Torque::newton_metres(offered).unwrap());
            for standing in [Standing::Maker, Standing::GeneralTable] {
                prop_assert_eq!(stands((standing, held), offered), (standing, held));
            }
            let maker = (Standing::Maker, held);
            prop_assert_eq!(stands(offered, maker), maker);
        }
    }
}
