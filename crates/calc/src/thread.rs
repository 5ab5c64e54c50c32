//! Screw threads: their designation, geometry and stress area.
//!
//! Metric (ISO 68-1 profile) and unified inch threads. Which pitch goes with a bare `M8`
//! stands in [`pitch`]; limits of size in [`limits`]. Whether `M8x40` names a pitch or a
//! length is settled here only as far as a pitch of 40 mm is refused with that hint.

mod designation;
pub mod limits;
pub mod pitch;

use std::f64::consts::PI;

use quantity::{Angle, Area, Length};

use crate::tightening::{DIAMETER, PITCH, TighteningError};

pub use designation::ThreadFault;
pub use limits::ThreadLimits;

/// Which family a thread belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Series {
    /// ISO metric: `M8x1.25`.
    Metric,
    /// Unified inch: `3/8-16`.
    Unified,
}

/// One thread with its basic geometry, worked out once when it is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    series: Series,
    diameter: Length,
    pitch: Length,
    pitch_diameter: Length,
    minor_diameter: Length,
    root_diameter: Length,
    stress_diameter: Length,
    stress_area: Area,
    root_area: Area,
    lead_angle: Angle,
}

/// Diameter taken off per pitch, for each family.
struct Profile {
    pitch_diameter: f64,
    minor_diameter: f64,
    root_diameter: f64,
    stress_diameter: f64,
}

// H = √3/2 · P; d2 = d − 3H/4, D1 = d − 5H/4, d3 = D1 − H/6, d0 = (d2 + d3)/2.
const METRIC: Profile = Profile {
    pitch_diameter: 0.649_519_053,
    minor_diameter: 1.082_531_755,
    root_diameter: 1.226_869_322,
    stress_diameter: 0.938_194_188,
};

// The root of the older flat-root form, d − 1.299 038/n, which the textbook torque example uses.
const UNIFIED: Profile = Profile {
    pitch_diameter: 0.649_519_053,
    minor_diameter: 1.082_531_755,
    root_diameter: 1.299_038_106,
    stress_diameter: 0.974_3,
};

impl Thread {
    /// A metric thread from diameter and pitch.
    ///
    /// # Errors
    /// [`TighteningError::OutOfRange`] for a diameter outside 1 to 68 mm, a pitch outside
    /// 0.2 to 6 mm or a pitch above 30 % of the diameter.
    ///
    /// # Example
    /// ```
    /// use calc::thread::Thread;
    /// use quantity::Length;
    ///
    /// let m8 = Thread::metric(Length::mm(8.0)?, Length::mm(1.25)?)?;
    /// assert_eq!(m8.to_string(), "M8x1.25");
    /// assert!((m8.stress_area().in_square_mm() - 36.6).abs() < 0.05);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn metric(diameter: Length, pitch: Length) -> Result<Self, TighteningError> {
        Self::of(Series::Metric, diameter, pitch, &METRIC)
    }

    /// A unified inch thread from diameter and threads per inch.
    ///
    /// # Errors
    /// [`TighteningError::OutOfRange`] as for [`Thread::metric`], with the pitch 25.4 mm
    /// divided by the threads per inch.
    pub fn unified(diameter: Length, threads_per_inch: f64) -> Result<Self, TighteningError> {
        let pitch = Length::inches(1.0 / threads_per_inch)?;
        Self::of(Series::Unified, diameter, pitch, &UNIFIED)
    }

    fn of(
        series: Series,
        diameter: Length,
        pitch: Length,
        profile: &Profile,
    ) -> Result<Self, TighteningError> {
        let d = DIAMETER.check(diameter)?;
        let p = PITCH.check(pitch)?;
        if p > 0.3 * d {
            // M1.6x0.35 is the coarsest common pitch for its diameter, at 22 %.
            return Err(TighteningError::OutOfRange {
                what: "the thread pitch",
                value: p * 1000.0,
                low: 0.2,
                high: (0.3 * d * 1e6).round() / 1000.0,
                unit: "mm",
            });
        }
        let d2 = d - profile.pitch_diameter * p;
        let d3 = d - profile.root_diameter * p;
        let d0 = d - profile.stress_diameter * p;
        Ok(Self {
            series,
            diameter,
            pitch,
            pitch_diameter: Length::metres(d2)?,
            minor_diameter: Length::metres(d - profile.minor_diameter * p)?,
            root_diameter: Length::metres(d3)?,
            stress_diameter: Length::metres(d0)?,
            stress_area: Area::square_metres(PI / 4.0 * d0 * d0)?,
            root_area: Area::square_metres(PI / 4.0 * d3 * d3)?,
            lead_angle: Angle::radians(libm::atan(p / (PI * d2)))?,
        })
    }

    /// The family.
    #[must_use]
    pub const fn series(&self) -> Series {
        self.series
    }

    /// Nominal (major) diameter d.
    #[must_use]
    pub const fn diameter(&self) -> Length {
        self.diameter
    }

    /// Pitch P: the way along the bolt in one turn of a single-start thread.
    #[must_use]
    pub const fn pitch(&self) -> Length {
        self.pitch
    }

    /// Pitch diameter d2.
    ///
    /// # Formula
    /// d2 = d − 0.649 519·P
    /// # Units
    /// Length.
    /// # Range
    /// Basic profile, before tolerances; both families.
    /// # Source
    /// ISO 724 and ASME B1.1 basic profile. *From memory*; the stress areas that follow from
    /// it agree with the published tables in the tests.
    #[must_use]
    pub const fn pitch_diameter(&self) -> Length {
        self.pitch_diameter
    }

    /// Minor diameter D1 of the nut or tapped hole.
    ///
    /// # Formula
    /// D1 = d − 1.082 532·P
    /// # Units
    /// Length.
    /// # Range
    /// Basic profile, before tolerances; both families.
    /// # Source
    /// ISO 724. *From memory.*
    #[must_use]
    pub const fn minor_diameter(&self) -> Length {
        self.minor_diameter
    }

    /// Root diameter d3 of the bolt.
    ///
    /// # Formula
    /// Metric d3 = d − 1.226 869·P; unified d − 1.299 038/n (flat root; a rounded root is larger).
    /// # Units
    /// Length.
    /// # Range
    /// Basic profile, before tolerances.
    /// # Source
    /// ISO 68-1. *From memory.* Unified: Shigley, Mechanical Engineering Design, table 8-2. *Published.*
    #[must_use]
    pub const fn root_diameter(&self) -> Length {
        self.root_diameter
    }

    /// Diameter d0 of the circle whose area is the stress area.
    ///
    /// # Formula
    /// Metric d0 = (d2 + d3)/2 = d − 0.938 194·P; unified d − 0.9743/n.
    /// # Units
    /// Length.
    /// # Range
    /// Basic profile, before tolerances.
    /// # Source
    /// ISO 898-1. *From memory.* Unified: Shigley, Mechanical Engineering Design, table 8-2. *Published.*
    #[must_use]
    pub const fn stress_diameter(&self) -> Length {
        self.stress_diameter
    }

    /// Stress area As: what a bolt's proof load is reckoned on.
    ///
    /// # Formula
    /// As = π/4·d0²
    /// # Units
    /// Area.
    /// # Range
    /// Basic profile. Not the area at the bottom of the thread, which is smaller: see
    /// [`Thread::root_area`].
    /// # Source
    /// ISO 898-1 proof-load table (values), formula from memory. *Published.*
    #[must_use]
    pub const fn stress_area(&self) -> Area {
        self.stress_area
    }

    /// Area A3 at the root of the thread, for the stretch of the threaded length.
    ///
    /// # Formula
    /// A3 = π/4·d3²
    /// # Units
    /// Area.
    /// # Range
    /// Basic profile.
    /// # Source
    /// ISO 68-1 geometry. *From memory.*
    #[must_use]
    pub const fn root_area(&self) -> Area {
        self.root_area
    }

    /// Lead angle φ at the pitch diameter.
    ///
    /// # Formula
    /// φ = atan(P/(π·d2))
    /// # Units
    /// Angle.
    /// # Range
    /// Single-start threads.
    /// # Source
    /// Geometry of the helix.
    #[must_use]
    pub const fn lead_angle(&self) -> Angle {
        self.lead_angle
    }
}

#[cfg(test)]
mod tests;
