//! Compression ratio from volumes, chamber volume by burette, and what a target ratio asks.
//!
//! What a cut does to timing, valves and manifolds stands in [`crate::cut`] and its neighbours.

use quantity::{Area, Length, NotFinite, Quantity, Ratio, Volume};
use thiserror::Error;

use std::f64::consts::PI;

/// Why there is no ratio.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RatioError {
    /// A size that must be above zero.
    #[error("{what} of {shown} is not above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// Its value with unit.
        shown: String,
    },
    /// The pieces leave no room above the piston.
    #[error("the pieces leave {cc:.2} cc above the piston, which is no room at all")]
    NoRoom {
        /// What is left, cubic centimetres.
        cc: f64,
    },
    /// A target that no engine has.
    #[error("a ratio of {ratio} is not above one")]
    Target {
        /// The target.
        ratio: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Everything above the piston at top dead centre, and below it at bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Bore.
    pub bore: Length,
    /// Stroke.
    pub stroke: Length,
    /// Chamber in the head, up to its gasket face.
    pub chamber: Volume,
    /// Bore of the gasket.
    pub gasket_bore: Length,
    /// Thickness of the gasket, tightened.
    pub gasket: Length,
    /// How far the piston stays below the deck at the top; below zero when it stands proud.
    pub deck: Length,
    /// Hollow in the piston.
    pub dish: Volume,
    /// Rise of the piston above its edge.
    pub dome: Volume,
    /// Valve pockets in the piston.
    pub relief: Volume,
    /// Gap round the piston above the top ring, where it is counted.
    pub crevice: Volume,
}

/// Swept volume of one cylinder.
///
/// # Formula
/// V_d = π/4·B²·S
/// # Units
/// Lengths in, volume out.
/// # Range
/// Bore and stroke above zero.
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError::NotPositive`] names the length.
/// # Example
/// ```
/// use quantity::Length;
/// let swept = calc::ratio::swept(Length::mm(86.0)?, Length::mm(86.0)?)?;
/// assert!((swept.in_cc() - 499.557).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn swept(bore: Length, stroke: Length) -> Result<Volume, RatioError> {
    let (bore, stroke) = (positive("a bore", bore)?, positive("a stroke", stroke)?);
    Ok(Volume::from_si(disc(bore) * stroke)?)
}

/// What is left above the piston at top dead centre.
///
/// # Formula
/// V_c = chamber + π/4·B_g²·t + π/4·B²·deck + dish + relief + crevice − dome
/// # Units
/// Lengths and volumes in, volume out.
/// # Range
/// The gasket tightened; the deck gap negative for a piston that stands proud.
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError`] names a size that is none, or the room that is missing.
/// # Example
/// ```
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// use calc::ratio::{Cylinder, clearance_volume};
/// use quantity::{Length, Volume};
/// let none = Volume::cc(0.0)?;
/// let cylinder = Cylinder {
///     bore: Length::mm(86.0)?, stroke: Length::mm(86.0)?, chamber: Volume::cc(45.0)?,
///     gasket_bore: Length::mm(87.5)?, gasket: Length::mm(1.2)?, deck: Length::mm(0.4)?,
///     dish: Volume::cc(3.0)?, dome: none, relief: none, crevice: none,
/// };
/// assert!((clearance_volume(&cylinder)?.in_cc() - 57.5394).abs() < 1e-3);
/// # Ok(()) }
/// ```
pub fn clearance_volume(cylinder: &Cylinder) -> Result<Volume, RatioError> {
    let bore = positive("a bore", cylinder.bore)?;
    let gasket_bore = positive("a gasket bore", cylinder.gasket_bore)?;
    let volume = cylinder.chamber.si()
        + disc(gasket_bore) * cylinder.gasket.si()
        + disc(bore) * cylinder.deck.si()
        + cylinder.dish.si()
        + cylinder.relief.si()
        + cylinder.crevice.si()
        - cylinder.dome.si();
    if volume <= 0.0 {
        return Err(RatioError::NoRoom { cc: volume * 1e6 });
    }
    Ok(Volume::from_si(volume)?)
}

/// Compression ratio.
///
/// # Formula
/// CR = 1 + V_d/V_c
/// # Units
/// Volumes in, ratio out.
/// # Range
/// Both above zero.
/// # Source
/// Definition.
/// # Errors
/// [`RatioError::NotPositive`] names the volume.
/// # Example
/// ```
/// use quantity::Volume;
/// let ratio = calc::ratio::ratio(Volume::cc(499.557)?, Volume::cc(57.5394)?)?;
/// assert!((ratio.in_fraction() - 9.68201).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ratio(swept: Volume, clearance: Volume) -> Result<Ratio, RatioError> {
    for (what, volume) in [("a swept volume", swept), ("a clearance volume", clearance)] {
        if volume.si() <= 0.0 {
            return Err(RatioError::NotPositive {
                what,
                shown: format!("{:.3} cc", volume.in_cc()),
            });
        }
    }
    Ok(Ratio::fraction(1.0 + swept.si() / clearance.si())?)
}

/// The cut that reaches a target ratio; below zero where the chamber must grow instead.
///
/// # Formula
/// Δ = (V_c − V_d/(CR − 1))/A_ch
/// # Units
/// Volumes, target ratio and the area of the chamber mouth in; length out.
/// # Range
/// The mouth keeps its area over the cut: measure again after a deep one.
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError`] names the target or the area.
/// # Example
/// ```
/// use quantity::{Area, Ratio, Volume};
/// let cut = calc::ratio::cut_for(Volume::cc(499.557)?, Volume::cc(57.5394)?, Ratio::fraction(10.0)?, Area::square_mm(4900.0)?)?;
/// assert!((cut.in_mm() - 0.4149).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn cut_for(
    swept: Volume,
    clearance: Volume,
    target: Ratio,
    mouth: Area,
) -> Result<Length, RatioError> {
    let ratio = target.in_fraction();
    if ratio <= 1.0 {
        return Err(RatioError::Target { ratio });
    }
    let mouth = area("a chamber mouth", mouth)?;
    Ok(Length::from_si(
        (clearance.si() - swept.si() / (ratio - 1.0)) / mouth,
    )?)
}

/// What a cut takes out of the chamber.
///
/// # Formula
/// ΔV = A_ch·Δ, A_ch the area of the chamber mouth at the gasket face, not of the bore
/// # Units
/// Area and length in, volume out.
/// # Range
/// As [`cut_for`].
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError::NotPositive`] for a mouth that is none.
/// # Example
/// ```
/// use quantity::{Area, Length};
/// let lost = calc::ratio::chamber_loss(Area::square_mm(4900.0)?, Length::mm(0.25)?)?;
/// assert!((lost.in_cc() - 1.225).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn chamber_loss(mouth: Area, cut: Length) -> Result<Volume, RatioError> {
    Ok(Volume::from_si(area("a chamber mouth", mouth)? * cut.si())?)
}

/// The extra gasket that gives the chamber its volume back. Height needs the whole cut.
///
/// # Formula
/// Δt = A_ch·Δ/(π/4·B_g²)
/// # Units
/// Area and lengths in, length out.
/// # Range
/// As [`cut_for`].
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError::NotPositive`] names the size.
/// # Example
/// ```
/// use quantity::{Area, Length};
/// let more = calc::ratio::gasket_to_undo(Area::square_mm(4900.0)?, Length::mm(0.25)?, Length::mm(87.5)?)?;
/// assert!((more.in_mm() - 0.20372).abs() < 1e-5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gasket_to_undo(mouth: Area, cut: Length, gasket_bore: Length) -> Result<Length, RatioError> {
    let lost = chamber_loss(mouth, cut)?;
    Ok(Length::from_si(
        lost.si() / disc(positive("a gasket bore", gasket_bore)?),
    )?)
}

/// Mouth area of a chamber from its volume poured twice, the plate at two heights.
///
/// # Formula
/// A = (V₂ − V₁)/h
/// # Units
/// Volumes poured under a plate on the face and on a ring of height h; area out.
/// # Range
/// The ring follows the mouth.
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError::NotPositive`] where the second pouring is not the larger.
pub fn mouth_by_two_pourings(
    low: Volume,
    high: Volume,
    height: Length,
) -> Result<Area, RatioError> {
    let height = positive("a ring", height)?;
    let mouth = (high.si() - low.si()) / height;
    area("a chamber mouth", Area::from_si(mouth)?)?;
    Ok(Area::from_si(mouth)?)
}

/// Mouth area guessed from its perimeter, as if it were round.
///
/// # Formula
/// A = P²/(4π)
/// # Units
/// Length in, area out.
/// # Range
/// Round mouths only; a long one is over-stated (a 90 × 60 mm stadium by 6 %).
/// # Source
/// Perimeter trick, *common practice, no source*; geometry of the circle.
/// # Errors
/// [`RatioError::NotPositive`] for no perimeter.
/// # Example
/// ```
/// use quantity::Length;
/// let round = calc::ratio::mouth_by_perimeter(Length::mm(100.0)?)?;
/// assert!((round.in_square_mm() - 795.77).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mouth_by_perimeter(perimeter: Length) -> Result<Area, RatioError> {
    let perimeter = positive("a perimeter", perimeter)?;
    Ok(Area::from_si(perimeter * perimeter / (4.0 * PI))?)
}

/// Area of a stadium: two half circles and the oblong between them.
///
/// # Formula
/// A = π/4·w² + w·(l − w)
/// # Units
/// Overall length and width in, area out.
/// # Range
/// Length not below width.
/// # Source
/// Geometry.
/// # Errors
/// [`RatioError::NotPositive`] names the size.
/// # Example
/// ```
/// use quantity::Length;
/// let mouth = calc::ratio::stadium(Length::mm(90.0)?, Length::mm(60.0)?)?;
/// assert!((mouth.in_square_mm() - 4627.43).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn stadium(length: Length, width: Length) -> Result<Area, RatioError> {
    let width = positive("a width", width)?;
    if length.si() < width {
        return Err(RatioError::NotPositive {
            what: "a length beyond the width",
            shown: format!("{:.3} mm", length.in_mm() - width * 1000.0),
        });
    }
    Ok(Area::from_si(disc(width) + width * (length.si() - width))?)
}

/// Area of a disc of a diameter, metres to square metres.
fn disc(diameter: f64) -> f64 {
    PI / 4.0 * diameter * diameter
}

fn positive(what: &'static str, length: Length) -> Result<f64, RatioError> {
    if length.si() <= 0.0 {
        return Err(RatioError::NotPositive {
            what,
            shown: format!("{:.4} mm", length.in_mm()),
        });
    }
    Ok(length.si())
}

fn area(what: &'static str, area: Area) -> Result<f64, RatioError> {
    if area.si() <= 0.0 {
        return Err(RatioError::NotPositive {
            what,
            shown: format!("{:.2} mm²", area.in_square_mm()),
        });
    }
    Ok(area.si())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn cc(value: f64) -> Volume {
        Volume::cc(value).unwrap()
    }

    fn mouth() -> Area {
        Area::square_mm(4900.0).unwrap()
    }

    fn engine() -> Cylinder {
        Cylinder {
            bore: mm(86.0),
            stroke: mm(86.0),
            chamber: cc(45.0),
            gasket_bore: mm(87.5),
            gasket: mm(1.2),
            deck: mm(0.4),
            dish: cc(3.0),
            dome: cc(0.0),
            relief: cc(0.0),
            crevice: cc(0.0),
        }
    }

    fn of(cylinder: &Cylinder) -> f64 {
        let swept = swept(cylinder.bore, cylinder.stroke).unwrap();
        ratio(swept, clearance_volume(cylinder).unwrap())
            .unwrap()
            .in_fraction()
    }

    /// Source: 86 × 86, chamber 45 cc, gasket 87.5 × 1.20, deck 0.40, dish 3. *Computed by a
    /// general library (Python 3.11 floats): geometry.*
    #[test]
    fn e22_ratio_before_cut() {
        assert!((of(&engine()) - 9.68201).abs() < 1e-5);
        let dome = Cylinder {
            dish: cc(0.0),
            dome: cc(3.0),
            ..engine()
        };
        assert!((of(&dome) - 10.6927).abs() < 1e-4);
        let proud = Cylinder {
            deck: mm(-0.2),
            ..engine()
        };
        assert!((of(&proud) - 10.2418).abs() < 1e-4);
    }

    /// Source: the same engine, 0.25 mm off a mouth of 4900 mm². *Computed by a general library
    /// (Python 3.11 floats): geometry.*
    #[test]
    fn e23_ratio_after_cut() {
        let lost = chamber_loss(mouth(), mm(0.25)).unwrap();
        let cut = Cylinder {
            chamber: cc(45.0) - lost,
            ..engine()
        };
        assert!((of(&cut) - 9.87087).abs() < 1e-5);
        let bore = Area::square_mm(PI / 4.0 * 86.0 * 86.0).unwrap();
        let wrong = Cylinder {
            chamber: cc(45.0) - chamber_loss(bore, mm(0.25)).unwrap(),
            ..engine()
        };
        assert!((of(&wrong) - 9.90680).abs() < 1e-5);
    }

    /// Source: the same engine. *Computed by a general library (Python 3.11 floats): geometry.*
    #[test]
    fn e24_cut_for_a_target() {
        let swept = swept(mm(86.0), mm(86.0)).unwrap();
        let clearance = clearance_volume(&engine()).unwrap();
        let cut = cut_for(swept, clearance, Ratio::fraction(10.0).unwrap(), mouth()).unwrap();
        assert!((cut.in_mm() - 0.41490).abs() < 1e-5);
    }

    /// Source: the same engine. *Computed by a general library (Python 3.11 floats): geometry.*
    #[test]
    fn e25_gasket_that_restores_volume() {
        let more = gasket_to_undo(mouth(), mm(0.25), mm(87.5)).unwrap();
        assert!((more.in_mm() - 0.20372).abs() < 1e-5);
    }

    /// Source: stadium of 90 × 60. *Computed by a general library (Python 3.11 floats): geometry.*
    /// Constant 12.87 of the perimeter trick: *common practice, no source.*
    #[test]
    fn e26_perimeter_trick_over_states_a_long_mouth() {
        let truth = stadium(mm(90.0), mm(60.0)).unwrap().in_square_mm();
        assert!((truth - 4627.43).abs() < 0.01);
        let perimeter = PI * 60.0 + 2.0 * 30.0;
        let round = mouth_by_perimeter(mm(perimeter)).unwrap().in_square_mm();
        assert!((round - 4913.91).abs() < 0.01);
        // Inches per cc = 1/((P/π)²·12.87), turned back into an area.
        let inches = perimeter / 25.4 / PI;
        let trick = inches * inches * 12.87 * 1000.0 / 25.4;
        assert!((trick - 4913.77).abs() < 0.01);
    }

    /// Source: six heads and an overbore of a reader's worked example, cubic inches. *Public
    /// data; ratios printed beside the inputs.*
    #[test]
    fn o07_six_heads() {
        let cubic_inch = |value: f64| Volume::from_si(value * 0.0254 * 0.0254 * 0.0254).unwrap();
        let printed = [
            (17.9, 3.77),
            (15.6, 4.24),
            (16.6, 4.015),
            (13.7, 4.76),
            (12.8, 5.07),
            (12.2, 5.31),
        ];
        for (chamber, expected) in printed {
            let clearance = cubic_inch(chamber + 0.92 - 2.86);
            let seen = ratio(cubic_inch(44.2), clearance).unwrap().in_fraction();
            assert!((seen - expected).abs() < 0.006, "{chamber}: {seen}");
        }
        let over = ratio(cubic_inch(45.65), cubic_inch(17.9 + 0.92 - 2.86))
            .unwrap()
            .in_fraction();
        assert!((over - 3.86).abs() < 0.005);
    }

    #[test]
    fn mouth_from_two_pourings() {
        let mouth = mouth_by_two_pourings(cc(45.0), cc(54.8), mm(2.0)).unwrap();
        assert!((mouth.in_square_mm() - 4900.0).abs() < 1e-6);
        assert!(mouth_by_two_pourings(cc(45.0), cc(44.0), mm(2.0)).is_err());
    }

    #[test]
    fn an_engine_without_room_is_refused() {
        let full = Cylinder {
            dome: cc(80.0),
            ..engine()
        };
        assert!(matches!(
            clearance_volume(&full),
            Err(RatioError::NoRoom { .. })
        ));
        assert!(swept(mm(0.0), mm(86.0)).is_err());
        assert!(matches!(
            cut_for(cc(500.0), cc(50.0), Ratio::fraction(1.0).unwrap(), mouth()),
            Err(RatioError::Target { .. })
        ));
    }
}
