//! Thread strip: how much thread must meet so that the bolt breaks before the hole tears.
//!
//! The shear areas of the worst pair 6g and 6H allows. The shorter length another guideline
//! gives is not held, because its text was not at hand; this form is the careful one.

use std::f64::consts::PI;

use quantity::{Area, Force, Length, Range, Ratio, Stress};

use crate::preload::FLANK;
use crate::thread::{Thread, ThreadLimits};
use crate::tightening::{BOLT_LENGTH, PRELOAD, STRENGTH, TighteningError};

/// What the threaded hole is cut into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HoleMaterial {
    /// Steel of at least 360 MPa.
    Steel,
    /// Grey iron of at least 220 MPa.
    GreyIron,
    /// Cast aluminium.
    CastAluminium,
}

impl HoleMaterial {
    /// Engagement that serves a class 8.8 coarse bolt, as multiples of its diameter.
    ///
    /// # Formula
    /// Table look-up.
    /// # Units
    /// Ratios: engagement over diameter.
    /// # Range
    /// M6 to M16, class 8.8, coarse. Fine threads want a quarter more.
    /// # Source
    /// Steel and grey iron: fastener catalogue, trial-based engagement table, *public data*,
    /// upper end for steel common practice (1.25 d). Aluminium: Roloff/Matek,
    /// Maschinenelemente, as reprinted, light metals 1.2 to 2.5 d by alloy. *Published.*
    /// # Errors
    /// [`TighteningError::NotFinite`] never happens with these constants; it is passed on.
    /// # Example
    /// ```
    /// use calc::strip::HoleMaterial;
    ///
    /// assert_eq!(HoleMaterial::Steel.engagement_in_diameters()?.low.in_fraction(), 1.0);
    /// # Ok::<(), calc::tightening::TighteningError>(())
    /// ```
    pub fn engagement_in_diameters(self) -> Result<Range<Ratio>, TighteningError> {
        let (low, high) = match self {
            Self::Steel => (1.0, 1.25),
            Self::GreyIron => (1.0, 1.3),
            Self::CastAluminium => (1.2, 2.5),
        };
        Ok(Range {
            low: Ratio::fraction(low)?,
            high: Ratio::fraction(high)?,
        })
    }

    /// The shear strength reckoned with where nothing better is known: a typical value, not a
    /// promise. Only for cast aluminium, where strip decides.
    ///
    /// # Formula
    /// 0.6·Rm with Rm 200 MPa
    /// # Units
    /// Stress.
    /// # Range
    /// Castings run from 100 to 150 MPa.
    /// # Source
    /// Shear-to-tensile ratio 0.5 to 0.6 for castings: handbook ratios, *from memory*.
    /// # Errors
    /// [`TighteningError::NotFinite`] never happens with these constants; it is passed on.
    /// # Example
    /// ```
    /// use calc::strip::HoleMaterial;
    ///
    /// let shear = HoleMaterial::CastAluminium.usual_shear_strength()?;
    /// assert_eq!(shear.map(|shear| shear.in_megapascals().round()), Some(120.0));
    /// # Ok::<(), calc::tightening::TighteningError>(())
    /// ```
    pub fn usual_shear_strength(self) -> Result<Option<Stress>, TighteningError> {
        match self {
            Self::CastAluminium => Ok(Some(Stress::megapascals(120.0)?)),
            Self::Steel | Self::GreyIron => Ok(None),
        }
    }
}

/// Shear area of the hole's thread per length of engagement, in m.
fn hole_area_per_length(thread: &Thread, limits: &ThreadLimits) -> f64 {
    let p = thread.pitch().in_metres();
    let d = limits.bolt_major_min.in_metres();
    let overlap = d - limits.hole_pitch_max.in_metres();
    PI / p * d * (0.5 * p + FLANK * overlap)
}

/// Shear area of the bolt's thread per length of engagement, in m.
fn bolt_area_per_length(thread: &Thread, limits: &ThreadLimits) -> f64 {
    let p = thread.pitch().in_metres();
    let d1 = limits.hole_minor_max.in_metres();
    let overlap = limits.bolt_pitch_min.in_metres() - d1;
    PI / p * d1 * (0.5 * p + FLANK * overlap)
}

/// The area that shears when the thread of the hole tears out.
///
/// # Formula
/// AS_n = π·LE/P·d_min·[P/2 + tan 30°·(d_min − D2_max)]
/// # Units
/// Thread, limits of size, engagement; returns an area.
/// # Range
/// 60° threads, engaged over full thread forms.
/// # Source
/// FED-STD-H28 / Alexander, *from memory*; agrees with the example of the book chapter
/// doi 10.1201/9781482273786-99.
/// # Errors
/// [`TighteningError::OutOfRange`] for the engagement.
/// # Example
/// ```
/// use calc::{strip, thread::{Thread, limits}};
/// use quantity::Length;
///
/// let m8 = Thread::parse("M8")?;
/// let area = strip::hole_shear_area(&m8, &limits::medium_fit(&m8)?, Length::mm(10.0)?)?;
/// assert!((area.in_square_mm() - 168.3).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn hole_shear_area(
    thread: &Thread,
    limits: &ThreadLimits,
    engagement: Length,
) -> Result<Area, TighteningError> {
    let length = BOLT_LENGTH.check(engagement)?;
    Ok(Area::square_metres(
        length * hole_area_per_length(thread, limits),
    )?)
}

/// The area that shears when the thread of the bolt tears off.
///
/// # Formula
/// AS_s = π·LE/P·D1_max·[P/2 + tan 30°·(d2_min − D1_max)]
/// # Units
/// As [`hole_shear_area`].
/// # Range
/// As [`hole_shear_area`].
/// # Source
/// FED-STD-H28 / Alexander, *from memory*.
/// # Errors
/// As [`hole_shear_area`].
/// # Example
/// ```
/// use calc::{strip, thread::{Thread, limits}};
/// use quantity::Length;
///
/// let m8 = Thread::parse("M8")?;
/// let area = strip::bolt_shear_area(&m8, &limits::medium_fit(&m8)?, Length::mm(10.0)?)?;
/// assert!((area.in_square_mm() - 121.6).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn bolt_shear_area(
    thread: &Thread,
    limits: &ThreadLimits,
    engagement: Length,
) -> Result<Area, TighteningError> {
    let length = BOLT_LENGTH.check(engagement)?;
    Ok(Area::square_metres(
        length * bolt_area_per_length(thread, limits),
    )?)
}

/// The load at which the thread of the hole tears out.
///
/// # Formula
/// F = τB·AS_n
/// # Units
/// As [`hole_shear_area`], with a shear strength; returns a force.
/// # Range
/// As [`hole_shear_area`].
/// # Source
/// As [`hole_shear_area`].
/// # Errors
/// [`TighteningError::OutOfRange`] for engagement or strength.
/// # Example
/// ```
/// use calc::{strip, thread::{Thread, limits}};
/// use quantity::{Length, Stress};
///
/// let m8 = Thread::parse("M8")?;
/// let load = strip::hole_strip_load(&m8, &limits::medium_fit(&m8)?, Length::mm(8.0)?,
///     Stress::megapascals(120.0)?)?;
/// assert!((load.in_kilonewtons() - 16.2).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn hole_strip_load(
    thread: &Thread,
    limits: &ThreadLimits,
    engagement: Length,
    shear_strength: Stress,
) -> Result<Force, TighteningError> {
    let strength = STRENGTH.check(shear_strength)?;
    let area = hole_shear_area(thread, limits, engagement)?;
    Ok(Force::newtons(strength * area.in_square_metres())?)
}

/// The engagement at which the hole just bears a force.
///
/// # Formula
/// LE = F/(τB·AS_n per length)
/// # Units
/// Force, thread, limits of size, shear strength; returns a length.
/// # Range
/// As [`hole_shear_area`]. With the breaking load of the bolt, the bolt breaks first.
/// # Source
/// As [`hole_shear_area`].
/// # Errors
/// [`TighteningError::OutOfRange`] for force or strength.
/// # Example
/// ```
/// use calc::{strip, thread::{Thread, limits}};
/// use quantity::{Force, Stress};
///
/// let m8 = Thread::parse("M8")?;
/// let needed = strip::engagement_for(Force::newtons(29_200.0)?, &m8,
///     &limits::medium_fit(&m8)?, Stress::megapascals(120.0)?)?;
/// assert!((needed.in_mm() / 8.0 - 1.8).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn engagement_for(
    force: Force,
    thread: &Thread,
    limits: &ThreadLimits,
    shear_strength: Stress,
) -> Result<Length, TighteningError> {
    let newtons = PRELOAD.check(force)?;
    let strength = STRENGTH.check(shear_strength)?;
    Ok(Length::metres(
        newtons / (strength * hole_area_per_length(thread, limits)),
    )?)
}

/// The engagement for full bolt strength from the tensile strengths of the two materials.
///
/// # Formula
/// LE = 2·As/(π·D1_max·[½ + tan 30°·(d2_min − D1_max)/P]); J = AS_s·Rm bolt/(AS_n·Rm hole);
/// the answer is LE, or J·LE where J > 1
/// # Units
/// Thread, limits of size, tensile strengths; returns a length.
/// # Range
/// As [`hole_shear_area`].
/// # Source
/// Machinery's Handbook, 24th ed., formula as restated. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for a strength.
/// # Example
/// ```
/// use calc::{strip, thread::{Thread, limits}};
/// use quantity::Stress;
///
/// let m8 = Thread::parse("M8")?;
/// let needed = strip::engagement_for_full_strength(&m8, &limits::medium_fit(&m8)?,
///     Stress::megapascals(830.0)?, Stress::megapascals(240.0)?)?;
/// assert!((needed.in_mm() - 15.0).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn engagement_for_full_strength(
    thread: &Thread,
    limits: &ThreadLimits,
    bolt_tensile: Stress,
    hole_tensile: Stress,
) -> Result<Length, TighteningError> {
    let bolt = STRENGTH.check(bolt_tensile)?;
    let hole = STRENGTH.check(hole_tensile)?;
    let bolt_area = bolt_area_per_length(thread, limits);
    let equal = 2.0 * thread.stress_area().in_square_metres() / bolt_area;
    let factor = bolt_area * bolt / (hole_area_per_length(thread, limits) * hole);
    Ok(Length::metres(equal * factor.max(1.0))?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fastener::{self, Class};
    use crate::thread::limits::{LimitsFrom, medium_fit};

    fn m(size: u8) -> (Thread, ThreadLimits) {
        let thread = Thread::parse(&format!("M{size}")).unwrap();
        let limits = medium_fit(&thread).unwrap();
        (thread, limits)
    }

    fn mpa(value: f64) -> Stress {
        Stress::megapascals(value).unwrap()
    }

    /// Source: book chapter, doi 10.1201/9781482273786-99, abstract: M10x1.5-6g, 10.9, 69 600 N,
    /// 130 MPa, 21.6 mm. *Published.* Its 9.968 mm is the greatest, not the least major
    /// diameter; with the least, 9.732 mm, the answer is 24.93 mm (the trap).
    #[test]
    fn t28_engagement_of_the_published_example() {
        let (m10, limits) = m(10);
        let as_printed = ThreadLimits {
            bolt_major_min: Length::mm(9.968).unwrap(),
            ..limits
        };
        let force = Force::newtons(69_600.0).unwrap();
        let printed = engagement_for(force, &m10, &as_printed, mpa(130.0)).unwrap();
        assert!((printed.in_mm() - 21.6).abs() < 0.06);
        let careful = engagement_for(force, &m10, &limits, mpa(130.0)).unwrap();
        assert!((careful.in_mm() - 24.93).abs() < 0.01);
    }

    /// Source: the area formulas with the ISO 965 limits in double precision, *computed by a
    /// general library (Python 3.11 floats)*.
    #[test]
    fn shear_areas_per_millimetre() {
        for (size, hole, bolt) in [
            (5, 10.00, 7.07),
            (6, 12.19, 8.65),
            (8, 16.83, 12.16),
            (10, 21.48, 15.58),
            (12, 26.12, 18.98),
        ] {
            let (thread, limits) = m(size);
            let one = Length::mm(1.0).unwrap();
            let in_hole = hole_shear_area(&thread, &limits, one).unwrap();
            let on_bolt = bolt_shear_area(&thread, &limits, one).unwrap();
            assert!((in_hole.in_square_mm() - hole).abs() < 0.006, "M{size}");
            assert!((on_bolt.in_square_mm() - bolt).abs() < 0.006, "M{size}");
        }
    }

    /// Source: as above: an M8 of 830 MPa in aluminium of 240 MPa wants 15.0 mm.
    #[test]
    fn steel_bolt_in_aluminium() {
        let (m8, limits) = m(8);
        let needed = engagement_for_full_strength(&m8, &limits, mpa(830.0), mpa(240.0)).unwrap();
        assert!((needed.in_mm() - 15.0).abs() < 0.05);
    }

    /// Source: as above: an 8.8 bolt breaks first from 2.2 d at 100 MPa to 1.2 d at 180 MPa.
    #[test]
    fn the_bolt_breaks_first_from_here() {
        for (shear, multiple) in [(100.0, 2.2), (120.0, 1.8), (150.0, 1.45), (180.0, 1.2)] {
            for size in [6, 8, 10, 12] {
                let (thread, limits) = m(size);
                let strength = fastener::strength(&thread, Class::C8_8).unwrap().tensile;
                let area = thread.stress_area().in_square_metres();
                let breaks = Force::newtons(strength.in_pascals() * area).unwrap();
                let needed = engagement_for(breaks, &thread, &limits, mpa(shear)).unwrap();
                assert!(
                    (needed.in_mm() / f64::from(size) - multiple).abs() < 0.051,
                    "M{size}"
                );
            }
        }
    }

    #[test]
    fn a_stronger_hole_material_never_wants_less_than_equal_material() {
        let (m8, limits) = m(8);
        let equal = engagement_for_full_strength(&m8, &limits, mpa(800.0), mpa(800.0)).unwrap();
        let harder = engagement_for_full_strength(&m8, &limits, mpa(800.0), mpa(1600.0)).unwrap();
        assert_eq!(equal, harder);
        assert_eq!(limits.from, LimitsFrom::Table);
    }
}
