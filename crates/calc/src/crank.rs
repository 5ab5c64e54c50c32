//! The slider and crank of one cylinder: where the piston stands at a crank angle, and the
//! angle at which it stands somewhere.
//!
//! One cylinder with its pin on the bore axis; a pin offset is not modelled.

use libm::{acos, cos, sin, sqrt};
use quantity::{Angle, Area, Length, NotFinite, Ratio, Volume};
use std::f64::consts::PI;
use thiserror::Error;

/// Why a cylinder's geometry gives no answer.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CrankError {
    /// A size must be above zero.
    #[error("a {what} of {value} {unit} is not above zero")]
    NotPositive {
        /// Which size.
        what: &'static str,
        /// Its value.
        value: f64,
        /// The unit of the value.
        unit: &'static str,
    },
    /// The rod cannot be shorter than half the stroke.
    #[error("a rod of {rod_mm:.2} mm is not longer than half the stroke of {stroke_mm:.2} mm")]
    RodTooShort {
        /// The rod between centres, millimetres.
        rod_mm: f64,
        /// The stroke, millimetres.
        stroke_mm: f64,
    },
    /// A compression ratio must be above 1.
    #[error("a compression ratio of {ratio} is not above 1")]
    Ratio {
        /// The ratio.
        ratio: f64,
    },
    /// The piston never stands there.
    #[error("{mm:.3} mm below the top is outside the stroke")]
    OutsideStroke {
        /// The distance, millimetres.
        mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// One cylinder: bore, stroke, rod between centres, compression ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    bore: Length,
    stroke: Length,
    rod: Length,
    ratio: Ratio,
}

impl Cylinder {
    /// A cylinder, its sizes checked.
    ///
    /// # Errors
    /// [`CrankError`] names the size that cannot be.
    pub fn new(
        bore: Length,
        stroke: Length,
        rod: Length,
        ratio: Ratio,
    ) -> Result<Self, CrankError> {
        for (what, size) in [("bore", bore), ("stroke", stroke), ("rod", rod)] {
            if size.in_metres() <= 0.0 {
                return Err(CrankError::NotPositive {
                    what,
                    value: size.in_mm(),
                    unit: "mm",
                });
            }
        }
        if rod.in_metres() <= stroke.in_metres() / 2.0 {
            return Err(CrankError::RodTooShort {
                rod_mm: rod.in_mm(),
                stroke_mm: stroke.in_mm(),
            });
        }
        if ratio.in_fraction() <= 1.0 {
            return Err(CrankError::Ratio {
                ratio: ratio.in_fraction(),
            });
        }
        Ok(Self {
            bore,
            stroke,
            rod,
            ratio,
        })
    }

    /// Area of the bore, π/4·B².
    ///
    /// # Errors
    /// [`CrankError::NotFinite`] for sizes beyond all engines.
    pub fn area(&self) -> Result<Area, CrankError> {
        let bore = self.bore.in_metres();
        Ok(Area::square_metres(PI / 4.0 * bore * bore)?)
    }

    /// Swept volume, π/4·B²·S.
    ///
    /// # Errors
    /// As [`Self::area`].
    pub fn swept(&self) -> Result<Volume, CrankError> {
        let area = self.area()?.in_square_metres();
        Ok(Volume::cubic_metres(area * self.stroke.in_metres())?)
    }

    /// Volume above the piston at the top, swept/(ratio − 1).
    ///
    /// # Errors
    /// As [`Self::area`].
    pub fn clearance(&self) -> Result<Volume, CrankError> {
        let swept = self.swept()?.in_cubic_metres();
        Ok(Volume::cubic_metres(
            swept / (self.ratio.in_fraction() - 1.0),
        )?)
    }

    /// How far the piston stands below the top at a crank angle.
    ///
    /// # Formula
    /// x = l + a − a·cos θ − √(l² − a²·sin² θ), a = S/2
    /// # Units
    /// `from_top` crank angle from top dead centre, either way; returns a length.
    /// # Range
    /// Any angle; pin on the bore axis.
    /// # Source
    /// Slider-crank relation of mechanics.
    /// # Errors
    /// As [`Self::area`].
    /// # Example
    /// ```
    /// use quantity::{Angle, Length, Ratio};
    /// let cylinder = calc::crank::Cylinder::new(
    ///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
    /// let x = cylinder.below_top(Angle::degrees(180.0)?)?;
    /// assert!((x.in_mm() - 86.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn below_top(&self, from_top: Angle) -> Result<Length, CrankError> {
        let a = self.stroke.in_metres() / 2.0;
        let l = self.rod.in_metres();
        let theta = from_top.in_radians();
        let side = a * sin(theta);
        Ok(Length::metres(
            l + a - a * cos(theta) - sqrt(l * l - side * side),
        )?)
    }

    /// How fast the piston falls with the crank: metres of travel per radian.
    ///
    /// # Formula
    /// dx/dθ = a·sin θ + a²·sin θ·cos θ/√(l² − a²·sin² θ)
    /// # Units
    /// `from_top` crank angle; returns the lever arm of the gas force, a length.
    /// # Range
    /// Any angle.
    /// # Source
    /// Derivative of [`Self::below_top`].
    /// # Errors
    /// As [`Self::area`].
    /// # Example
    /// ```
    /// use quantity::{Angle, Length, Ratio};
    /// let cylinder = calc::crank::Cylinder::new(
    ///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
    /// assert!(cylinder.lever(Angle::degrees(0.0)?)?.in_mm().abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn lever(&self, from_top: Angle) -> Result<Length, CrankError> {
        let a = self.stroke.in_metres() / 2.0;
        let l = self.rod.in_metres();
        let theta = from_top.in_radians();
        let side = a * sin(theta);
        Ok(Length::metres(
            side + a * side * cos(theta) / sqrt(l * l - side * side),
        )?)
    }

    /// The crank angle from the top at which the piston stands a distance below it.
    ///
    /// # Formula
    /// cos θ = (a² + d² − l²)/(2·a·d), d = l + a − x (law of cosines, no search needed)
    /// # Units
    /// `below_top` a length from 0 to the stroke; returns 0 to π.
    /// # Range
    /// The stroke.
    /// # Source
    /// Inverse of [`Self::below_top`].
    /// # Errors
    /// [`CrankError::OutsideStroke`] names the distance.
    /// # Example
    /// ```
    /// use quantity::{Length, Ratio};
    /// let cylinder = calc::crank::Cylinder::new(
    ///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
    /// let angle = cylinder.angle_at(Length::mm(1.2765)?)?;
    /// assert!((angle.in_degrees() - 12.28).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn angle_at(&self, below_top: Length) -> Result<Angle, CrankError> {
        let x = below_top.in_metres();
        // A distance that was itself computed may miss the dead centres by rounding.
        let rounding = 1e-12 * self.stroke.in_metres();
        if !(-rounding..=self.stroke.in_metres() + rounding).contains(&x) {
            return Err(CrankError::OutsideStroke {
                mm: below_top.in_mm(),
            });
        }
        let a = self.stroke.in_metres() / 2.0;
        let l = self.rod.in_metres();
        let d = l + a - x;
        // Rounding may carry the cosine a hair past ±1 at the two dead centres.
        let cosine = ((a * a + d * d - l * l) / (2.0 * a * d)).clamp(-1.0, 1.0);
        Ok(Angle::radians(acos(cosine))?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The cylinder most check rows use: 86 × 86 mm, rod 143 mm, ratio 10.5.
    fn cylinder() -> Cylinder {
        let mm = |value| Length::mm(value).unwrap();
        Cylinder::new(
            mm(86.0),
            mm(86.0),
            mm(143.0),
            Ratio::fraction(10.5).unwrap(),
        )
        .unwrap()
    }

    /// Source: π/4·B²·S and swept/(ratio − 1). *Computed: arithmetic.*
    #[test]
    fn swept_and_clearance_of_the_check_cylinder() {
        assert!((cylinder().swept().unwrap().in_cc() - 499.557).abs() < 1e-3);
        assert!((cylinder().clearance().unwrap().in_cc() - 52.585).abs() < 1e-3);
    }

    /// Source: slider-crank relation. *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn e37_piston_fifty_degrees_after_bottom() {
        let x = cylinder()
            .below_top(Angle::degrees(130.0).unwrap())
            .unwrap();
        assert!((x.in_mm() - 74.4854).abs() < 1e-4);
    }

    #[test]
    fn angle_and_distance_undo_each_other() {
        for degrees in [0.0, 5.0, 46.39, 90.0, 130.0, 180.0] {
            let angle = Angle::degrees(degrees).unwrap();
            let back = cylinder()
                .angle_at(cylinder().below_top(angle).unwrap())
                .unwrap();
            assert!((back.in_degrees() - degrees).abs() < 1e-5, "{degrees}");
        }
    }

    #[test]
    fn sizes_that_cannot_be_are_refused() {
        let mm = |value| Length::mm(value).unwrap();
        let ratio = |value| Ratio::fraction(value).unwrap();
        let make = |b, s, r, c| Cylinder::new(mm(b), mm(s), mm(r), ratio(c));
        assert!(matches!(
            make(0.0, 86.0, 143.0, 10.5),
            Err(CrankError::NotPositive { what: "bore", .. })
        ));
        assert!(matches!(
            make(86.0, 86.0, 43.0, 10.5),
            Err(CrankError::RodTooShort { .. })
        ));
        assert!(matches!(
            make(86.0, 86.0, 143.0, 1.0),
            Err(CrankError::Ratio { .. })
        ));
        assert!(cylinder().angle_at(mm(86.1)).is_err());
    }
}
