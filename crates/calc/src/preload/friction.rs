//! Friction in the thread and under the head, and what a change of lubricant does.
//!
//! Friction is a range in every real workshop. A single number is a choice, and answers
//! built on one say so.

use quantity::{Range, Ratio, Torque};

use crate::tightening::{TORQUE, TighteningError};

/// Friction coefficients of one fastener.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// In the thread, µG.
    pub thread: Ratio,
    /// Under the head or nut that turns, µK.
    pub head: Ratio,
}

impl Friction {
    /// The same coefficient in the thread and under the head.
    #[must_use]
    pub const fn everywhere(coefficient: Ratio) -> Self {
        Self {
            thread: coefficient,
            head: coefficient,
        }
    }
}

/// How the surfaces are, as classes of friction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FrictionClass {
    /// Solid lubricant or wax.
    A,
    /// Oil, grease, wax, coatings as delivered.
    B,
    /// As delivered and slightly oiled, plated without lubricant, adhesive.
    C,
    /// Rough, dry, without lubricant.
    D,
    /// Galling pairs.
    E,
}

impl FrictionClass {
    /// The range of coefficients of the class. Class E has no printed upper end; 0.5 stands
    /// in, the top of published nut factors.
    ///
    /// # Formula
    /// Table look-up.
    /// # Units
    /// Ratios.
    /// # Range
    /// Steel bolts in steel, iron or light metal.
    /// # Source
    /// VDI 2230, friction classes. *Published.*
    /// # Errors
    /// [`TighteningError::NotFinite`] never happens with these constants; it is passed on.
    /// # Example
    /// ```
    /// use calc::preload::friction::FrictionClass;
    ///
    /// let range = FrictionClass::B.range()?;
    /// assert_eq!((range.low.in_fraction(), range.high.in_fraction()), (0.08, 0.16));
    /// # Ok::<(), calc::tightening::TighteningError>(())
    /// ```
    pub fn range(self) -> Result<Range<Ratio>, TighteningError> {
        let (low, high) = match self {
            Self::A => (0.04, 0.10),
            Self::B => (0.08, 0.16),
            Self::C => (0.14, 0.24),
            Self::D => (0.20, 0.35),
            Self::E => (0.30, 0.50),
        };
        Ok(Range {
            low: Ratio::fraction(low)?,
            high: Ratio::fraction(high)?,
        })
    }
}

/// The torque that brings about the same preload after oil came onto threads whose figure
/// was for dry ones.
///
/// # Formula
/// T/(1 + g), g the gain of tension, as a range
/// # Units
/// Torque and a range of ratios; returns a range of torques.
/// # Range
/// A rule for want of the figure of the stated lubricant. A published series of twenty dry
/// and ten lubricated bolts showed no gain at all, only less scatter.
/// # Source
/// Gain of 20 to 30 %: common practice, no source. Counter-example: Shigley, Mechanical
/// Engineering Design, pp. 438–439. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for the torque.
/// # Example
/// ```
/// use calc::preload::friction;
/// use quantity::Torque;
///
/// let range = friction::oiled_instead_of_dry(Torque::pound_force_feet(90.0)?)?;
/// assert_eq!(range.low.in_pound_force_feet().round(), 69.0);
/// assert_eq!(range.high.in_pound_force_feet().round(), 75.0);
/// # Ok::<(), calc::tightening::TighteningError>(())
/// ```
pub fn oiled_instead_of_dry(dry: Torque) -> Result<Range<Torque>, TighteningError> {
    const LEAST_GAIN: f64 = 0.20;
    const MOST_GAIN: f64 = 0.30;
    let torque = TORQUE.check(dry)?;
    Ok(Range {
        low: Torque::newton_metres(torque / (1.0 + MOST_GAIN))?,
        high: Torque::newton_metres(torque / (1.0 + LEAST_GAIN))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Case: a figure of 90 lbf·ft for dry threads, which the builder oils: 69 to 75 lbf·ft.
    /// Source: the gain is *common practice, no source*; the rest is division.
    #[test]
    fn s_o1_oiled_threads() {
        let range = oiled_instead_of_dry(Torque::pound_force_feet(90.0).unwrap()).unwrap();
        assert!((range.low.in_pound_force_feet() - 69.23).abs() < 0.01);
        assert!((range.high.in_pound_force_feet() - 75.0).abs() < 1e-9);
    }

    #[test]
    fn friction_classes_rise() {
        let classes = [
            FrictionClass::A,
            FrictionClass::B,
            FrictionClass::C,
            FrictionClass::D,
            FrictionClass::E,
        ];
        let ranges: Vec<_> = classes.iter().map(|class| class.range().unwrap()).collect();
        assert!(
            ranges
                .windows(2)
                .all(|pair| pair[0].low < pair[1].low && pair[0].high < pair[1].high)
        );
    }
}
