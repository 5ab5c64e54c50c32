//! How a bolt stretches and what it clamps gives way, and what a measured length says.
//!
//! Three questions that are easily mixed up are kept apart: is it longer than allowed, has
//! it grown for good, how far is it stretched right now.

use std::f64::consts::PI;

use quantity::{Force, Length, Quantity, Stiffness, Stress, TemperatureDifference};

use crate::preload::FLANK;
use crate::thread::Thread;
use crate::tightening::{BOLT_LENGTH, DIAMETER, MODULUS, PRELOAD, STIFFNESS, TighteningError};

/// What the threaded end sits in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// A nut.
    Nut,
    /// A tapped hole.
    Tapped,
}

/// A bolt as a spring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoltSpring {
    /// The thread.
    pub thread: Thread,
    /// Plain shank within the grip, at the thread's nominal diameter.
    pub shank: Length,
    /// Free thread within the grip.
    pub free_thread: Length,
    /// What the end sits in.
    pub end: End,
    /// Modulus of elasticity of the bolt: about 205 GPa for steel.
    pub modulus: Stress,
}

/// The stiffness of a bolt with its head and engaged thread.
///
/// # Formula
/// 1/k = [0.5·d/A + shank/A + free thread/A3 + 0.5·d/A3 + e·d/A]/E, A = π/4·d²,
/// e = 0.4 with a nut, 0.33 in a tapped hole
/// # Units
/// Lengths and a modulus; returns a stiffness.
/// # Range
/// Hexagon heads; elastic.
/// # Source
/// VDI 2230 substitute lengths, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for a length or the modulus.
/// # Example
/// ```
/// use calc::{stretch::{self, BoltSpring, End}, thread::Thread};
/// use quantity::{Length, Stress};
///
/// let bolt = BoltSpring { thread: Thread::parse("M10")?, shank: Length::mm(35.0)?,
///     free_thread: Length::mm(25.0)?, end: End::Nut, modulus: Stress::megapascals(205_000.0)? };
/// let stiffness = stretch::bolt_stiffness(&bolt)?;
/// assert!((1e6 / stiffness.in_newtons_per_mm() - 5.531).abs() < 0.005);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn bolt_stiffness(bolt: &BoltSpring) -> Result<Stiffness, TighteningError> {
    let shank = BOLT_LENGTH.check(bolt.shank)?;
    let free = BOLT_LENGTH.check(bolt.free_thread)?;
    let modulus = MODULUS.check(bolt.modulus)?;
    let d = bolt.thread.diameter().in_metres();
    let area = PI / 4.0 * d * d;
    let root = bolt.thread.root_area().in_square_metres();
    let end = match bolt.end {
        End::Nut => 0.4 * d,
        End::Tapped => 0.33 * d,
    };
    let per_modulus = (0.5 * d + shank + end) / area + (free + 0.5 * d) / root;
    Ok(Stiffness::newtons_per_metre(modulus / per_modulus)?)
}

/// The stiffness of the bare shank and free thread, without head and engaged thread: the
/// textbook form. Stiffer than the whole bolt.
///
/// # Formula
/// k = Ad·At·E/(Ad·lt + At·ld)
/// # Units
/// As [`bolt_stiffness`].
/// # Range
/// Elastic.
/// # Source
/// Shigley, Mechanical Engineering Design, p. 426. *Published.*
/// # Errors
/// As [`bolt_stiffness`]; [`TighteningError::NotCovered`] for a bolt of no length.
/// # Example
/// ```
/// use calc::{stretch::{self, BoltSpring, End}, thread::Thread};
/// use quantity::{Length, Stress};
///
/// let bolt = BoltSpring { thread: Thread::parse("M10")?, shank: Length::mm(35.0)?,
///     free_thread: Length::mm(25.0)?, end: End::Nut, modulus: Stress::megapascals(205_000.0)? };
/// assert!((stretch::shank_stiffness(&bolt)?.in_newtons_per_mm() / 1e3 - 233.8).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn shank_stiffness(bolt: &BoltSpring) -> Result<Stiffness, TighteningError> {
    let shank = BOLT_LENGTH.check(bolt.shank)?;
    let free = BOLT_LENGTH.check(bolt.free_thread)?;
    let modulus = MODULUS.check(bolt.modulus)?;
    if shank + free <= 0.0 {
        return Err(TighteningError::NotCovered {
            what: "the stiffness of a bolt without length",
            why: "give the plain shank and the free thread within the grip",
        });
    }
    let d = bolt.thread.diameter().in_metres();
    let per_modulus =
        shank / (PI / 4.0 * d * d) + free / bolt.thread.stress_area().in_square_metres();
    Ok(Stiffness::newtons_per_metre(modulus / per_modulus)?)
}

/// The stiffness of what is clamped, as a pair of cones under head and nut.
///
/// # Formula
/// k = π·E·d·tan 30°/(2·ln[((l·tan 30° + D − d)(D + d))/((l·tan 30° + D + d)(D − d))]), D = 1.5·d
/// # Units
/// Diameter, grip, modulus; returns a stiffness.
/// # Range
/// One material; steel about 205 GPa, aluminium about 70 GPa. Gaskets are not springs.
/// # Source
/// Shigley, Mechanical Engineering Design, frustum model, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for an input; [`TighteningError::NotCovered`] for no grip.
/// # Example
/// ```
/// use calc::stretch;
/// use quantity::{Length, Stress};
///
/// let stack = stretch::clamped_stiffness(
///     Length::mm(10.0)?, Length::mm(60.0)?, Stress::megapascals(70_000.0)?)?;
/// assert!((1e6 / stack.in_newtons_per_mm() - 1.892).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn clamped_stiffness(
    diameter: Length,
    grip: Length,
    modulus: Stress,
) -> Result<Stiffness, TighteningError> {
    let d = DIAMETER.check(diameter)?;
    let l = BOLT_LENGTH.check(grip)?;
    let e = MODULUS.check(modulus)?;
    if l <= 0.0 {
        return Err(TighteningError::NotCovered {
            what: "the stiffness of parts without thickness",
            why: "give the grip: what lies between head and thread",
        });
    }
    let face = 1.5 * d;
    // tan 30° is the same number as 1/(2·cos 30°).
    let spread = l * FLANK;
    let ratio = ((spread + face - d) * (face + d)) / ((spread + face + d) * (face - d));
    Ok(Stiffness::newtons_per_metre(
        PI * e * d * FLANK / (2.0 * libm::log(ratio)),
    )?)
}

/// How far a spring of a stiffness stretches under a force.
///
/// # Formula
/// ΔL = F/k
/// # Units
/// Force and stiffness; returns a length.
/// # Range
/// Elastic.
/// # Source
/// Hooke's law.
/// # Errors
/// [`TighteningError::OutOfRange`] for force or stiffness.
/// # Example
/// ```
/// use calc::stretch;
/// use quantity::{Force, Stiffness};
///
/// let stretch = stretch::under(Force::kilonewtons(30.0)?, Stiffness::newtons_per_mm(205_000.0)?)?;
/// assert!((stretch.in_mm() - 0.1463).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn under(force: Force, stiffness: Stiffness) -> Result<Length, TighteningError> {
    let newtons = PRELOAD.check(force)?;
    Ok(Length::metres(newtons / STIFFNESS.check(stiffness)?)?)
}

/// What a settling of the faces takes from the preload. Short stiff joints lose most.
///
/// # Formula
/// F = f/(1/k_bolt + 1/k_clamped)
/// # Units
/// Length and stiffnesses; returns a force.
/// # Range
/// Elastic. Typical settling: thread 3 µm, head 3 µm, each further face 2 µm (VDI 2230
/// embedding table, *from memory*).
/// # Source
/// VDI 2230, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for an input.
/// # Example
/// ```
/// use calc::stretch;
/// use quantity::{Length, Stiffness};
///
/// let lost = stretch::settling_loss(Length::micrometres(11.0)?,
///     Stiffness::newtons_per_mm(180_800.0)?, Stiffness::newtons_per_mm(1_548_000.0)?)?;
/// assert!((lost.in_kilonewtons() - 1.78).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn settling_loss(
    settling: Length,
    bolt: Stiffness,
    clamped: Stiffness,
) -> Result<Force, TighteningError> {
    let way = BOLT_LENGTH.check(settling)?;
    let give = 1.0 / STIFFNESS.check(bolt)? + 1.0 / STIFFNESS.check(clamped)?;
    Ok(Force::newtons(way / give)?)
}

/// What a reading against a limit amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthVerdict {
    /// Within the limit, doubt included.
    Within,
    /// Beyond it, doubt included.
    Beyond,
    /// The doubt straddles the limit: measure better.
    CannotTell,
}

/// Whether a free bolt is too long to be used again, by the maker's limit. A maker that says
/// *replace* is never overruled by a length.
///
/// # Formula
/// within if L + U ≤ limit, beyond if L − U > limit, else cannot tell
/// # Units
/// Lengths.
/// # Range
/// The bolt free and at room temperature.
/// # Source
/// ISO 14253-1 decision rule, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for a length.
/// # Example
/// ```
/// use calc::stretch::{self, LengthVerdict};
/// use quantity::Length;
///
/// let verdict = stretch::against_limit(
///     Length::mm(100.99)?, Length::mm(0.02)?, Length::mm(101.0)?)?;
/// assert_eq!(verdict, LengthVerdict::CannotTell);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn against_limit(
    reading: Length,
    uncertainty: Length,
    limit: Length,
) -> Result<LengthVerdict, TighteningError> {
    let length = BOLT_LENGTH.check(reading)?;
    let doubt = BOLT_LENGTH.check(uncertainty)?;
    let limit = BOLT_LENGTH.check(limit)?;
    Ok(if length + doubt <= limit {
        LengthVerdict::Within
    } else if length - doubt > limit {
        LengthVerdict::Beyond
    } else {
        LengthVerdict::CannotTell
    })
}

/// A lasting growth in length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// After minus before.
    pub length: Length,
    /// Doubt of the difference, plus or minus.
    pub uncertainty: Length,
}

/// How much a bolt has grown for good between two free readings.
///
/// # Formula
/// L_after − L_before, doubt √2·U
/// # Units
/// Lengths.
/// # Range
/// Same temperature, same instrument, both readings free of load.
/// # Source
/// JCGM 100:2008 (GUM), 5.1.2, for two readings of one doubt. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for a length.
/// # Example
/// ```
/// use calc::stretch;
/// use quantity::Length;
///
/// let growth = stretch::lasting_growth(
///     Length::mm(80.000)?, Length::mm(80.030)?, Length::micrometres(2.0)?)?;
/// assert!((growth.uncertainty.in_micrometres() - 2.83).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lasting_growth(
    before: Length,
    after: Length,
    uncertainty: Length,
) -> Result<Growth, TighteningError> {
    let change = BOLT_LENGTH.check(after)? - BOLT_LENGTH.check(before)?;
    let doubt = BOLT_LENGTH.check(uncertainty)?;
    Ok(Growth {
        length: Length::metres(change)?,
        uncertainty: Length::metres(std::f64::consts::SQRT_2 * doubt)?,
    })
}

/// How much a steel bolt seems to grow when it is merely warmer.
///
/// # Formula
/// ΔL = 11.5·10⁻⁶/K·L·ΔT
/// # Units
/// Length and temperature difference; returns a length.
/// # Range
/// Plain and alloy steel, workshop temperatures.
/// # Source
/// Handbook expansion of steel, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for the length.
/// # Example
/// ```
/// use calc::stretch;
/// use quantity::{Length, TemperatureDifference};
///
/// let growth = stretch::thermal_growth(Length::mm(100.0)?, TemperatureDifference::kelvins(10.0)?)?;
/// assert!((growth.in_micrometres() - 11.5).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn thermal_growth(
    length: Length,
    warmer_by: TemperatureDifference,
) -> Result<Length, TighteningError> {
    const STEEL_PER_KELVIN: f64 = 11.5e-6;
    Ok(Length::metres(
        STEEL_PER_KELVIN * BOLT_LENGTH.check(length)? * warmer_by.si(),
    )?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn mpa(value: f64) -> Stress {
        Stress::megapascals(value).unwrap()
    }

    fn example() -> BoltSpring {
        BoltSpring {
            thread: Thread::parse("M10").unwrap(),
            shank: mm(35.0),
            free_thread: mm(25.0),
            end: End::Nut,
            modulus: mpa(205_000.0),
        }
    }

    /// Source: VDI 2230 substitute lengths, *from memory*; double precision.
    #[test]
    fn t30_give_of_an_m10() {
        let stiffness = bolt_stiffness(&example()).unwrap();
        assert!((1e6 / stiffness.in_newtons_per_mm() - 5.531).abs() < 0.005);
    }

    /// Source: Shigley form in double precision. *Computed by a general library (Python 3.11
    /// floats).*
    #[test]
    fn bare_shank_and_clamped_stack() {
        let bare = shank_stiffness(&example()).unwrap();
        assert!((1e6 / bare.in_newtons_per_mm() - 4.277).abs() < 0.001);
        for (modulus, give) in [(205_000.0, 0.646), (70_000.0, 1.892)] {
            let stack = clamped_stiffness(mm(10.0), mm(60.0), mpa(modulus)).unwrap();
            assert!((1e6 / stack.in_newtons_per_mm() - give).abs() < 0.001);
        }
    }

    /// Source: Hooke's law in double precision: 30 kN on 50 mm of 50 mm², and 11 µm of
    /// settling. *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn stretch_and_settling() {
        let rod = Stiffness::newtons_per_mm(50.0 * 205_000.0 / 50.0).unwrap();
        let stretch = under(Force::kilonewtons(30.0).unwrap(), rod).unwrap();
        assert!((stretch.in_mm() - 0.1463).abs() < 5e-5);
        let stack = clamped_stiffness(mm(10.0), mm(60.0), mpa(205_000.0)).unwrap();
        let bolt = bolt_stiffness(&example()).unwrap();
        let lost = settling_loss(mm(0.011), bolt, stack).unwrap();
        assert!((lost.in_kilonewtons() - 1.78).abs() < 0.005);
        let short = BoltSpring {
            shank: mm(0.0),
            free_thread: mm(15.0),
            ..example()
        };
        let stack = clamped_stiffness(mm(10.0), mm(15.0), mpa(205_000.0)).unwrap();
        let lost = settling_loss(mm(0.011), bolt_stiffness(&short).unwrap(), stack).unwrap();
        assert!((lost.in_kilonewtons() - 3.92).abs() < 0.01);
    }

    #[test]
    fn a_reading_near_the_limit_decides_nothing() {
        let verdict = |reading| against_limit(mm(reading), mm(0.02), mm(101.0)).unwrap();
        assert_eq!(verdict(100.97), LengthVerdict::Within);
        assert_eq!(verdict(101.01), LengthVerdict::CannotTell);
        assert_eq!(verdict(101.03), LengthVerdict::Beyond);
    }

    /// Source: expansion of steel; 100 mm and 60 mm by 10 K. *From memory.*
    #[test]
    fn warmth_looks_like_growth() {
        let ten = TemperatureDifference::kelvins(10.0).unwrap();
        assert!((thermal_growth(mm(60.0), ten).unwrap().in_micrometres() - 6.9).abs() < 1e-9);
        let growth = lasting_growth(mm(80.01), mm(80.0), mm(0.002)).unwrap();
        assert!(growth.length < mm(0.0));
    }

    #[test]
    fn a_joint_without_grip_has_no_stiffness() {
        assert!(clamped_stiffness(mm(10.0), mm(0.0), mpa(70_000.0)).is_err());
        let none = BoltSpring {
            shank: mm(0.0),
            free_thread: mm(0.0),
            ..example()
        };
        assert!(shank_stiffness(&none).is_err());
    }
}
