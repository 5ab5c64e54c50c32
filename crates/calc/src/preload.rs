//! Torque and preload: how much of the turning effort becomes clamping force.
//!
//! The long form, its inverse, its shares, the short form with a nut factor, and the range
//! a preload really has. Standard tightening values and how far the bolt is used stand in
//! [`standard`], the scatter of methods in [`scatter`], friction figures in [`friction`].

pub mod friction;
pub mod scatter;
pub mod standard;

use std::f64::consts::{FRAC_1_PI, PI};

use quantity::{Force, Length, Range, Ratio, Torque};

use crate::thread::Thread;
use crate::tightening::{
    BEARING_DIAMETER, DIAMETER, FRICTION, NUT_FACTOR, PRELOAD, SCATTER, TORQUE, TighteningError,
};

pub use friction::Friction;

/// 1/(2·cos 30°): the flank leans by 30°, so friction on it works that much harder.
pub(crate) const FLANK: f64 = 0.577_350_269_189_625_8;

/// The pieces of the long form: metres of lever per newton of preload.
#[derive(Clone, Copy, Debug)]
struct Levers {
    pitch: f64,
    thread: f64,
    head: f64,
}

impl Levers {
    fn of(thread: &Thread, bearing: Length, friction: Friction) -> Result<Self, TighteningError> {
        let in_thread = FRICTION.check(friction.thread)?;
        let under_head = FRICTION.check(friction.head)?;
        let mean = BEARING_DIAMETER.check(bearing)?;
        Ok(Self {
            pitch: 0.5 * FRAC_1_PI * thread.pitch().in_metres(),
            thread: FLANK * thread.pitch_diameter().in_metres() * in_thread,
            head: 0.5 * mean * under_head,
        })
    }

    fn sum(self) -> f64 {
        self.pitch + self.thread + self.head
    }
}

/// The torque that brings a preload, long form.
///
/// # Formula
/// M = F·[P/(2π) + d2·µG/(2·cos 30°) + DKm/2·µK]
///
/// The constants are kept exact. Prints with 0.16 and 0.58 come out 0.2 to 0.3 % higher.
/// # Units
/// Preload, thread, mean bearing diameter, friction in the thread and under the head;
/// returns a torque.
/// # Range
/// 60° threads, turned at the head or, with the nut's face and friction, at the nut. A
/// prevailing torque comes on top.
/// # Source
/// VDI 2230 (2001) and ISO 16047, *from memory*; agrees with the published tightening tables
/// in the tests.
/// # Errors
/// [`TighteningError::OutOfRange`] for preload, friction or bearing diameter.
/// # Example
/// ```
/// use calc::{preload::{self, Friction}, thread::Thread};
/// use quantity::{Force, Length, Ratio};
///
/// let friction = Friction::everywhere(Ratio::fraction(0.12)?);
/// let torque = preload::torque_for(
///     Force::kilonewtons(18.63)?, &Thread::parse("M8")?, Length::mm(10.315)?, friction)?;
/// assert!((torque.in_newton_metres() - 24.5).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn torque_for(
    preload: Force,
    thread: &Thread,
    bearing: Length,
    friction: Friction,
) -> Result<Torque, TighteningError> {
    let force = PRELOAD.check(preload)?;
    let levers = Levers::of(thread, bearing, friction)?;
    Ok(Torque::newton_metres(force * levers.sum())?)
}

/// The preload a torque brings: the inverse of [`torque_for`].
///
/// # Formula
/// F = M/[P/(2π) + d2·µG/(2·cos 30°) + DKm/2·µK]
/// # Units
/// As [`torque_for`]; returns a force.
/// # Range
/// As [`torque_for`], and only while the bolt stays below its yield point.
/// # Source
/// As [`torque_for`].
/// # Errors
/// [`TighteningError::OutOfRange`] for torque, friction or bearing diameter.
/// # Example
/// ```
/// use calc::{preload::{self, Friction}, thread::Thread};
/// use quantity::{Length, Ratio, Torque};
///
/// let friction = Friction::everywhere(Ratio::fraction(0.12)?);
/// let force = preload::preload_from(
///     Torque::newton_metres(24.5)?, &Thread::parse("M8")?, Length::mm(10.315)?, friction)?;
/// assert!((force.in_kilonewtons() - 18.6).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn preload_from(
    torque: Torque,
    thread: &Thread,
    bearing: Length,
    friction: Friction,
) -> Result<Force, TighteningError> {
    let moment = TORQUE.check(torque)?;
    let levers = Levers::of(thread, bearing, friction)?;
    Ok(Force::newtons(moment / levers.sum())?)
}

/// Where the torque goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shares {
    /// Turned into clamping force by the pitch.
    pub pitch: Torque,
    /// Lost to friction in the thread.
    pub thread: Torque,
    /// Lost to friction under the head.
    pub head: Torque,
}

/// The shares of a tightening torque.
///
/// # Formula
/// The three terms of [`torque_for`], one by one.
/// # Units
/// As [`torque_for`]; returns torques.
/// # Range
/// As [`torque_for`].
/// # Source
/// As [`torque_for`].
/// # Errors
/// As [`torque_for`].
/// # Example
/// ```
/// use calc::{preload::{self, Friction}, thread::Thread};
/// use quantity::{Force, Length, Ratio};
///
/// let shares = preload::shares(Force::kilonewtons(15.0)?, &Thread::parse("M8")?,
///     Length::mm(10.3)?, Friction::everywhere(Ratio::fraction(0.12)?))?;
/// assert!(shares.head > shares.thread && shares.thread > shares.pitch);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn shares(
    preload: Force,
    thread: &Thread,
    bearing: Length,
    friction: Friction,
) -> Result<Shares, TighteningError> {
    let force = PRELOAD.check(preload)?;
    let levers = Levers::of(thread, bearing, friction)?;
    Ok(Shares {
        pitch: Torque::newton_metres(force * levers.pitch)?,
        thread: Torque::newton_metres(force * levers.thread)?,
        head: Torque::newton_metres(force * levers.head)?,
    })
}

/// The nut factor K that the long form amounts to. It is not a friction coefficient, and
/// its ratio to one is not constant, because the pitch term does not scale with friction.
///
/// # Formula
/// K = [P/(2π) + d2·µG/(2·cos 30°) + DKm/2·µK]/d
/// # Units
/// As [`torque_for`]; returns a ratio.
/// # Range
/// As [`torque_for`].
/// # Source
/// As [`torque_for`].
/// # Errors
/// As [`torque_for`].
/// # Example
/// ```
/// use calc::{preload::{self, Friction}, thread::Thread};
/// use quantity::{Length, Ratio};
///
/// let k = preload::nut_factor(&Thread::parse("M8")?, Length::mm(10.315)?,
///     Friction::everywhere(Ratio::fraction(0.12)?))?;
/// assert!((k.in_fraction() - 0.164).abs() < 0.002);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn nut_factor(
    thread: &Thread,
    bearing: Length,
    friction: Friction,
) -> Result<Ratio, TighteningError> {
    let levers = Levers::of(thread, bearing, friction)?;
    Ok(Ratio::fraction(
        levers.sum() / thread.diameter().in_metres(),
    )?)
}

/// The torque for a preload by the short form.
///
/// # Formula
/// T = K·F·d
/// # Units
/// Nut factor, force, nominal diameter; returns a torque.
/// # Range
/// As good as K, which is measured on the joint or guessed.
/// # Source
/// Shigley, Mechanical Engineering Design, p. 438, eq. 8-27. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for K, the force or the diameter.
/// # Example
/// ```
/// use calc::preload;
/// use quantity::{Force, Length, Ratio};
///
/// let torque = preload::torque_short(
///     Ratio::fraction(0.2)?, Force::kilonewtons(15.0)?, Length::mm(8.0)?)?;
/// assert!((torque.in_newton_metres() - 24.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn torque_short(
    nut_factor: Ratio,
    preload: Force,
    diameter: Length,
) -> Result<Torque, TighteningError> {
    let k = NUT_FACTOR.check(nut_factor)?;
    let force = PRELOAD.check(preload)?;
    Ok(Torque::newton_metres(
        k * force * DIAMETER.check(diameter)?,
    )?)
}

/// The nut factor by the power-screw form of the textbook, with a collar of 1.25·d.
///
/// # Formula
/// K = dm/(2d)·(tan λ + f·sec α)/(1 − f·tan λ·sec α) + 0.625·fc, dm = (d + dr)/2,
/// tan λ = P/(π·dm), α = 30°
/// # Units
/// Thread and friction; returns a ratio.
/// # Range
/// 60° threads, plain hexagon heads.
/// # Source
/// Shigley, Mechanical Engineering Design, p. 438, eq. 8-26. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for the friction.
/// # Example
/// ```
/// use calc::{preload::{self, Friction}, thread::Thread};
/// use quantity::Ratio;
///
/// let k = preload::nut_factor_textbook(
///     &Thread::parse("3/4-16")?, Friction::everywhere(Ratio::fraction(0.15)?))?;
/// assert!((k.in_fraction() - 0.19).abs() < 0.005);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn nut_factor_textbook(thread: &Thread, friction: Friction) -> Result<Ratio, TighteningError> {
    let f = FRICTION.check(friction.thread)?;
    let collar = FRICTION.check(friction.head)?;
    let d = thread.diameter().in_metres();
    let mean = 0.5 * (d + thread.root_diameter().in_metres());
    let slope = thread.pitch().in_metres() / (PI * mean);
    let secant = 2.0 * FLANK; // sec 30°
    let screw = (slope + f * secant) / (1.0 - f * slope * secant);
    Ok(Ratio::fraction(mean / (2.0 * d) * screw + 0.625 * collar)?)
}

/// The range a preload really has after tightening to a torque.
///
/// # Formula
/// low = F(M, µ high)·(1 − t), high = F(M, µ low)·(1 + t)
/// # Units
/// Torque, thread, bearing diameter, a range of friction (thread and head alike), scatter t
/// of everything the friction range does not carry; returns a range of forces.
/// # Range
/// As [`preload_from`]. With friction as one guessed number, t is the scatter of the
/// method; with friction as a range, t is the wrench alone, or friction counts twice.
/// # Source
/// The long form at its ends, with the scatter of VDI 2230 (1986). *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for any input.
/// # Example
/// ```
/// use calc::{preload, thread::Thread};
/// use quantity::{Length, Range, Ratio, Torque};
///
/// let friction = Range { low: Ratio::fraction(0.10)?, high: Ratio::fraction(0.16)? };
/// let range = preload::range(Torque::newton_metres(25.0)?, &Thread::parse("M8")?,
///     Length::mm(10.315)?, friction, Ratio::percent(4.0)?)?;
/// assert!(range.high.in_kilonewtons() > 1.4 * range.low.in_kilonewtons());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn range(
    torque: Torque,
    thread: &Thread,
    bearing: Length,
    friction: Range<Ratio>,
    scatter: Ratio,
) -> Result<Range<Force>, TighteningError> {
    let t = SCATTER.check(scatter)?;
    let at = |friction, share: f64| -> Result<Force, TighteningError> {
        let force = preload_from(torque, thread, bearing, Friction::everywhere(friction))?;
        Ok(Force::newtons(force.in_newtons() * share)?)
    };
    Ok(Range {
        low: at(friction.high, 1.0 - t)?,
        high: at(friction.low, 1.0 + t)?,
    })
}

#[cfg(test)]
mod tests;
