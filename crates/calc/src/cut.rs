//! What a cut of a head or block face does to distances: squish, valve clearance, lifter
//! preload; and what a tapered cut does to chambers that should be alike.
//!
//! Ratio is [`crate::ratio`]'s, cam timing [`crate::timing`]'s, the inlet manifold of a V
//! [`crate::manifold`]'s.

use quantity::{Angle, Area, Length, NotFinite, Quantity, Volume};
use thiserror::Error;

/// Why the effect of a cut cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CutError {
    /// An angle at or beyond square.
    #[error("{what} of {degrees}° is not between 0° and 90°")]
    Angle {
        /// Which angle.
        what: &'static str,
        /// Its size, degrees.
        degrees: f64,
    },
    /// A size that must be above zero.
    #[error("{what} of {mm} mm is not above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// Its size, millimetres.
        mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Gap between piston edge and head face at top dead centre.
///
/// # Formula
/// squish = gasket + deck gap − cut of the block − cut of the head (where the head face is the
/// squish face)
/// # Units
/// Lengths in and out; deck gap below zero for a proud piston.
/// # Range
/// Cold and still. *Common practice, no source:* not under 0.040 in with steel rods.
/// # Source
/// Geometry.
/// # Errors
/// [`CutError::NotFinite`] for lengths beyond all engines.
/// # Example
/// ```
/// use quantity::Length;
/// let mm = Length::mm;
/// let left = calc::cut::squish(mm(1.2)?, mm(0.4)?, mm(0.25)?)?;
/// assert!((left.in_mm() - 1.35).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn squish(gasket: Length, deck: Length, cut: Length) -> Result<Length, CutError> {
    Ok(Length::from_si(gasket.si() + deck.si() - cut.si())?)
}

/// How much nearer a valve comes to its piston.
///
/// # Formula
/// loss = cut·cos(angle of the valve to the bore)
/// # Units
/// Length and angle in, length out (along the valve).
/// # Range
/// 0° to 90°. A cam drive that retards adds to it on the exhaust side: measure, do not assume.
/// # Source
/// Geometry.
/// # Errors
/// [`CutError::Angle`] for an angle beyond square.
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let loss = calc::cut::valve_clearance_loss(Length::mm(0.25)?, Angle::degrees(60.0)?)?;
/// assert!((loss.in_mm() - 0.125).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn valve_clearance_loss(cut: Length, valve: Angle) -> Result<Length, CutError> {
    Ok(Length::from_si(cut.si() * cosine("a valve angle", valve)?)?)
}

/// How much deeper the plunger of a hydraulic lifter is pushed in a pushrod engine.
///
/// # Formula
/// growth = cut·cos(angle of the pushrod to the bore); every part of the head comes down
/// together, so the rocker ratio does not enter
/// # Units
/// Length and angle in, length out. A thicker gasket counts with the opposite sign.
/// # Range
/// 0° to 90°.
/// # Source
/// Rigid-body shift of the head. *Computed: geometry.*
/// # Errors
/// [`CutError::Angle`] for an angle beyond square.
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let more = calc::cut::lifter_preload_growth(Length::mm(0.25)?, Angle::degrees(0.0)?)?;
/// assert!((more.in_mm() - 0.25).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lifter_preload_growth(cut: Length, pushrod: Angle) -> Result<Length, CutError> {
    Ok(Length::from_si(
        cut.si() * cosine("a pushrod angle", pushrod)?,
    )?)
}

/// How far two chambers of one head differ after a cut that was deeper at one end.
///
/// # Formula
/// ΔV = A_ch·taper·(distance between the two chambers/length of the head)
/// # Units
/// Mouth area, difference of thickness over the whole head, the two distances; volume out.
/// # Range
/// A plane cut.
/// # Source
/// Geometry.
/// # Errors
/// [`CutError::NotPositive`] for a head without length.
/// # Example
/// ```
/// use quantity::{Area, Length};
/// let mm = Length::mm;
/// let spread = calc::cut::taper_spread(Area::square_mm(4900.0)?, mm(0.5)?, mm(300.0)?, mm(400.0)?)?;
/// assert!((spread.in_cc() - 1.8375).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn taper_spread(
    mouth: Area,
    taper: Length,
    apart: Length,
    head: Length,
) -> Result<Volume, CutError> {
    if head.si() <= 0.0 {
        return Err(CutError::NotPositive {
            what: "a head length",
            mm: head.in_mm(),
        });
    }
    Ok(Volume::from_si(
        mouth.si() * taper.si() * apart.si() / head.si(),
    )?)
}

/// Depth at the deep side of a face that is cut at an angle.
///
/// # Formula
/// depth = width·tan(angle)
/// # Units
/// Length and angle in, length out.
/// # Range
/// 0° to 90°. The trade's 0.0175·width·degrees is 0.23 % high at 2°.
/// # Source
/// Geometry; the constant: *common practice, no source*.
/// # Errors
/// [`CutError::Angle`] for an angle beyond square.
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let depth = calc::cut::angle_cut_depth(Length::inches(6.0)?, Angle::degrees(2.0)?)?;
/// assert!((depth.in_inches() - 0.20952).abs() < 1e-5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn angle_cut_depth(width: Length, angle: Angle) -> Result<Length, CutError> {
    cosine("an angle of cut", angle)?;
    Ok(Length::from_si(width.si() * libm::tan(angle.in_radians()))?)
}

/// How far a face leans that was cut deeper at one side.
///
/// # Formula
/// angle = atan(difference of thickness/width)
/// # Units
/// Lengths in, angle out, never below zero.
/// # Range
/// Width above zero.
/// # Source
/// Geometry.
/// # Errors
/// [`CutError::NotPositive`] for no width.
/// # Example
/// ```
/// use quantity::Length;
/// let lean = calc::cut::lean_of_wedge(Length::mm(0.2)?, Length::mm(150.0)?)?;
/// assert!((lean.in_degrees() - 0.0764).abs() < 1e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lean_of_wedge(across: Length, width: Length) -> Result<Angle, CutError> {
    if width.si() <= 0.0 {
        return Err(CutError::NotPositive {
            what: "a width",
            mm: width.in_mm(),
        });
    }
    Ok(Angle::radians(libm::atan2(across.si().abs(), width.si()))?)
}

fn cosine(what: &'static str, angle: Angle) -> Result<f64, CutError> {
    let degrees = angle.in_degrees();
    if !(0.0..90.0).contains(&degrees) {
        return Err(CutError::Angle { what, degrees });
    }
    Ok(libm::cos(angle.in_radians()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: a head 0.020 in thinner at one end, bores of 2.9 and 3.2 in, end cylinders three
    /// quarters of the head apart. *Public data (inputs); computed: geometry.*
    #[test]
    fn o06_a_tapered_cut_makes_end_cylinders_differ() {
        let taper = Length::inches(0.020).unwrap();
        let head = Length::mm(400.0).unwrap();
        for (bore, whole, between) in [(2.9, 2.2, 1.6), (3.2, 2.6, 2.0)] {
            let area =
                Area::square_mm(std::f64::consts::PI / 4.0 * bore * bore * 25.4 * 25.4).unwrap();
            let all = taper_spread(area, taper, head, head).unwrap().in_cc();
            let ends = taper_spread(area, taper, Length::mm(300.0).unwrap(), head)
                .unwrap()
                .in_cc();
            assert!((all - whole).abs() < 0.05, "{all}");
            assert!((ends - between).abs() < 0.05, "{ends}");
        }
    }

    #[test]
    fn angles_beyond_square_and_heads_without_length_are_refused() {
        let mm = |value| Length::mm(value).unwrap();
        let square = Angle::degrees(90.0).unwrap();
        assert!(matches!(
            valve_clearance_loss(mm(0.2), square),
            Err(CutError::Angle { .. })
        ));
        let mouth = Area::square_mm(4900.0).unwrap();
        assert!(taper_spread(mouth, mm(0.5), mm(300.0), mm(0.0)).is_err());
    }
}
