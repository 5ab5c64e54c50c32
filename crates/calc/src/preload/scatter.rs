//! How much the preload scatters, by the way it is brought about.

use quantity::{Force, Range, Ratio};

use crate::tightening::{PRELOAD, SCATTER, TighteningError};

/// A way of tightening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Method {
    /// By angle or to the yield point.
    AngleOrYield,
    /// Torque wrench, torque found by test on the joint.
    WrenchTested,
    /// Torque wrench, friction estimated.
    WrenchEstimated,
    /// Power driver.
    Driver,
    /// Impact wrench.
    Impact,
}

impl Method {
    /// The scatter of preload, plus or minus, as the table's two ends.
    ///
    /// # Formula
    /// Table look-up.
    /// # Units
    /// Ratios: plus or minus this share.
    /// # Range
    /// Includes the friction a workshop cannot see. The impact wrench has only an upper end
    /// in print, given here twice.
    /// # Source
    /// VDI 2230 (1986), tightening-factor table. *Published.*
    /// # Errors
    /// [`TighteningError::NotFinite`] never happens with these constants; it is passed on.
    /// # Example
    /// ```
    /// use calc::preload::scatter::Method;
    ///
    /// let range = Method::WrenchEstimated.scatter()?;
    /// assert_eq!((range.low.in_percent().round(), range.high.in_percent().round()), (23.0, 28.0));
    /// # Ok::<(), calc::tightening::TighteningError>(())
    /// ```
    pub fn scatter(self) -> Result<Range<Ratio>, TighteningError> {
        let (low, high) = match self {
            Self::AngleOrYield => (5.0, 12.0),
            Self::WrenchTested => (17.0, 23.0),
            Self::WrenchEstimated => (23.0, 28.0),
            Self::Driver => (26.0, 43.0),
            Self::Impact => (60.0, 60.0),
        };
        Ok(Range {
            low: Ratio::percent(low)?,
            high: Ratio::percent(high)?,
        })
    }
}

/// The tightening factor α_A that a scatter amounts to.
///
/// # Formula
/// α_A = F max/F min = (1 + t)/(1 − t)
/// # Units
/// Ratio in, ratio out.
/// # Range
/// 0 ≤ t < 95 %.
/// # Source
/// Definition of α_A; VDI 2230 (1986) prints ±23 % beside 1.6. *Published.*
/// # Errors
/// [`TighteningError::OutOfRange`] for the scatter.
/// # Example
/// ```
/// use calc::preload::scatter;
/// use quantity::Ratio;
///
/// let factor = scatter::tightening_factor(Ratio::percent(60.0)?)?;
/// assert!((factor.in_fraction() - 4.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn tightening_factor(scatter: Ratio) -> Result<Ratio, TighteningError> {
    let t = SCATTER.check(scatter)?;
    Ok(Ratio::fraction((1.0 + t) / (1.0 - t))?)
}

/// The least preload to reckon with when the greatest is known.
///
/// # Formula
/// F min = F max/α_A
/// # Units
/// Force and ratio; returns a force.
/// # Range
/// α_A of 1 to 10.
/// # Source
/// Guide to reference tightening values after VDI 2230. *Public data.*
/// # Errors
/// [`TighteningError::OutOfRange`] for the force or a factor outside 1 to 10.
/// # Example
/// ```
/// use calc::preload::scatter;
/// use quantity::{Force, Ratio};
///
/// let least = scatter::least_preload(Force::kilonewtons(41.9)?, Ratio::fraction(1.8)?)?;
/// assert!((least.in_kilonewtons() - 23.3).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn least_preload(greatest: Force, factor: Ratio) -> Result<Force, TighteningError> {
    let force = PRELOAD.check(greatest)?;
    let alpha = factor.in_fraction();
    if !(1.0..=10.0).contains(&alpha) {
        return Err(TighteningError::OutOfRange {
            what: "the tightening factor",
            value: alpha,
            low: 1.0,
            high: 10.0,
            unit: "",
        });
    }
    Ok(Force::newtons(force / alpha)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: VDI 2230 (1986), ±23 % beside 1.6, *published*; 1.597 by the definition.
    #[test]
    fn t27_scatter_as_a_factor() {
        let factor = tightening_factor(Ratio::percent(23.0).unwrap()).unwrap();
        assert!((factor.in_fraction() - 1.60).abs() < 0.01);
    }

    /// Source: guide to reference tightening values after VDI 2230: M12 8.8, 41.9 kN,
    /// α_A 1.8, 23.3 kN. *Public data.*
    #[test]
    fn t21_least_preload() {
        let least = least_preload(
            Force::kilonewtons(41.9).unwrap(),
            Ratio::fraction(1.8).unwrap(),
        );
        assert!((least.unwrap().in_kilonewtons() - 23.3).abs() < 0.05);
    }

    /// Source: definition of α_A in double precision, *computed by a general library (Python
    /// 3.11 floats)*, beside the printed factors of VDI 2230.
    #[test]
    fn scatters_and_factors_go_together() {
        for (percent, alpha) in [(12.0, 1.27), (17.0, 1.41), (28.0, 1.78), (43.0, 2.51)] {
            let factor = tightening_factor(Ratio::percent(percent).unwrap()).unwrap();
            assert!((factor.in_fraction() - alpha).abs() < 0.005, "{percent}");
        }
    }

    #[test]
    fn a_scatter_of_the_whole_or_a_negative_one_is_refused() {
        for percent in [100.0, 120.0, -5.0] {
            assert!(tightening_factor(Ratio::percent(percent).unwrap()).is_err());
        }
        let force = Force::kilonewtons(1.0).unwrap();
        assert!(least_preload(force, Ratio::fraction(0.9).unwrap()).is_err());
    }
}
