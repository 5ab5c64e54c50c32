//! Standard tightening values, and how far a bolt is used at a preload.
//!
//! Tables by one "90 % of yield" rule part by 9 to 10 %, because twisting is reckoned
//! elastic in the older ones and plastic in the newer. Both are right under their own
//! convention, so the convention is an input with a name, never a hidden constant.

use std::f64::consts::PI;

use quantity::{Force, Length, Ratio, Stress, Torque};

use super::{FLANK, Friction, torque_for};
use crate::thread::Thread;
use crate::tightening::{FRICTION, PRELOAD, STRENGTH, TighteningError};

/// How the twist left in the shank by thread friction counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Twist {
    /// Plastic over the whole section, κ = 1.5: VDI 2230 since the editions of 2001–2003.
    Plastic,
    /// Elastic, greatest at the rim, κ = 2.0: older editions and many printed tables.
    Elastic,
}

impl Twist {
    /// κ in the formula of the standard values.
    const fn kappa(self) -> f64 {
        match self {
            Self::Plastic => 1.5,
            Self::Elastic => 2.0,
        }
    }
}

/// A standard tightening value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standard {
    /// Preload F_M.
    pub preload: Force,
    /// Torque M_A that brings it at the same friction.
    pub torque: Torque,
}

/// The preload and torque that use a bolt to a share of its yield point, stretch and twist
/// taken together.
///
/// # Formula
/// F = As·ν·Rp0.2/√(1 + 3·[κ·(d2/d0)·(P/(π·d2) + µG/cos 30°)]²), M by
/// [`torque_for`]
/// # Units
/// Thread, mean bearing diameter, yield stress, friction, share ν; returns force and torque.
/// # Range
/// Full-shank bolts. ν = 0.9 in the printed tables; ν = 1 gives the preload at yield.
/// # Source
/// VDI 2230 (2001), *from memory*; agrees with its tightening tables for fine threads and for
/// stainless class 70 to the printed digit.
/// # Errors
/// [`TighteningError::OutOfRange`] for friction, yield stress, bearing or a share outside 5 to 100 %.
/// # Example
/// ```
/// use calc::{preload::{Friction, standard::{self, Twist}}, thread::Thread};
/// use quantity::{Length, Ratio, Stress};
///
/// let value = standard::tightening(&Thread::parse("M8x1")?, Length::mm(10.315)?,
///     Stress::megapascals(640.0)?, Friction::everywhere(Ratio::fraction(0.12)?),
///     Twist::Plastic, Ratio::percent(90.0)?)?;
/// assert!((value.preload.in_kilonewtons() - 20.2).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn tightening(
    thread: &Thread,
    bearing: Length,
    yield_point: Stress,
    friction: Friction,
    twist: Twist,
    share: Ratio,
) -> Result<Standard, TighteningError> {
    let in_thread = FRICTION.check(friction.thread)?;
    let rp = STRENGTH.check(yield_point)?;
    let nu = share.in_fraction();
    if !(0.05..=1.0).contains(&nu) {
        return Err(TighteningError::OutOfRange {
            what: "the share of the yield point",
            value: share.in_percent(),
            low: 5.0,
            high: 100.0,
            unit: "%",
        });
    }
    let d2 = thread.pitch_diameter().in_metres();
    let d0 = thread.stress_diameter().in_metres();
    let slope = thread.pitch().in_metres() / (PI * d2);
    let shear = twist.kappa() * d2 / d0 * (slope + 2.0 * FLANK * in_thread);
    let area = thread.stress_area().in_square_metres();
    let preload = Force::newtons(area * nu * rp / (1.0 + 3.0 * shear * shear).sqrt())?;
    Ok(Standard {
        preload,
        torque: torque_for(preload, thread, bearing, friction)?,
    })
}

/// How far a preload uses the bolt while it is being tightened: combined stress over yield.
/// Friction under the head never enters.
///
/// # Formula
/// σ = F/As; MG = F·(P/(2π) + d2·µG/(2·cos 30°)); τ = 12·MG/(π·d0³) (plastic) or
/// 16·MG/(π·d0³) (elastic); √(σ² + 3τ²)/Rp0.2
/// # Units
/// Preload, thread, friction in the thread, yield stress; returns a ratio.
/// # Range
/// During tightening. Part of the twist springs back afterwards.
/// # Source
/// von Mises; VDI 2230 (2001), *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for preload, friction or yield stress.
/// # Example
/// ```
/// use calc::{preload::standard::{self, Twist}, thread::Thread};
/// use quantity::{Force, Ratio, Stress};
///
/// let used = standard::utilisation(Force::kilonewtons(18.6)?, &Thread::parse("M8")?,
///     Ratio::fraction(0.12)?, Stress::megapascals(640.0)?, Twist::Plastic)?;
/// assert!((used.in_fraction() - 0.90).abs() < 0.005);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn utilisation(
    preload: Force,
    thread: &Thread,
    thread_friction: Ratio,
    yield_point: Stress,
    twist: Twist,
) -> Result<Ratio, TighteningError> {
    let force = PRELOAD.check(preload)?;
    let mu = FRICTION.check(thread_friction)?;
    let rp = STRENGTH.check(yield_point)?;
    let stretch = force / thread.stress_area().in_square_metres();
    let moment = force
        * (thread.pitch().in_metres() / (2.0 * PI)
            + FLANK * thread.pitch_diameter().in_metres() * mu);
    let d0 = thread.stress_diameter().in_metres();
    // 8·κ is 12 for plastic and 16 for elastic twist.
    let shear = 8.0 * twist.kappa() * moment / (PI * d0 * d0 * d0);
    Ok(Ratio::fraction(
        (stretch * stretch + 3.0 * shear * shear).sqrt() / rp,
    )?)
}
