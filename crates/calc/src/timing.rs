//! How far an overhead cam comes late when head or block lose height.

use libm::{asin, cos};
use quantity::{Angle, Length, NotFinite, Quantity};
use thiserror::Error;

/// Why the retard cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TimingError {
    /// A radius or distance that is none.
    #[error("{what} of {mm} mm is not above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// Its size, millimetres.
        mm: f64,
    },
    /// Two wheels that reach into each other.
    #[error("wheels whose radii differ by {radii_mm} mm do not fit {apart_mm} mm apart")]
    TooNear {
        /// Difference of the radii, millimetres.
        radii_mm: f64,
        /// Distance of the centres, millimetres.
        apart_mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// How late a cam comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Retard {
    /// At the cam.
    pub cam: Angle,
    /// At the crank: twice as much.
    pub crank: Angle,
}

/// How late the cam comes when the span from block to head gets shorter by a cut.
///
/// # Formula
/// δ_cam = Δ·cos ψ/R, ψ the angle between the pulling span that crosses from block to head and
/// the direction of the cut; δ_crank = 2·δ_cam
/// # Units
/// Cut, pitch radius of the cam wheel (teeth × pitch/2π, not the outside), angle; angles out.
/// # Range
/// Belt or chain with a fixed pulling span. A thicker gasket counts with the opposite sign.
/// Gears do not retard; their mesh tightens.
/// # Source
/// Envelope property of a taut path. *Computed: checked against exact belt length.*
/// # Errors
/// [`TimingError::NotPositive`] for a wheel without radius.
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let late = calc::timing::retard(Length::mm(0.25)?, Length::mm(60.0)?, Angle::degrees(30.0)?)?;
/// assert!((late.cam.in_degrees() - 0.20675).abs() < 1e-5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn retard(cut: Length, radius: Length, lean: Angle) -> Result<Retard, TimingError> {
    let radius = positive("a cam wheel radius", radius)?;
    let cam = cut.si() * cos(lean.in_radians()) / radius;
    Ok(Retard {
        cam: Angle::radians(cam)?,
        crank: Angle::radians(2.0 * cam)?,
    })
}

/// Lean of the pulling span of a straight drive, crank wheel to cam wheel.
///
/// # Formula
/// sin ψ = (R − r)/C
/// # Units
/// Pitch radii and centre distance in, angle out.
/// # Range
/// Two wheels, nothing between them on the pulling side.
/// # Source
/// Geometry of the common tangent.
/// # Errors
/// [`TimingError`] names the size that is none.
/// # Example
/// ```
/// use quantity::Length;
/// let mm = Length::mm;
/// let lean = calc::timing::lean_of_straight_drive(mm(60.0)?, mm(30.0)?, mm(300.0)?)?;
/// assert!((lean.in_degrees() - 5.739).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lean_of_straight_drive(
    cam: Length,
    crank: Length,
    apart: Length,
) -> Result<Angle, TimingError> {
    let (large, small) = (
        positive("a cam wheel radius", cam)?,
        positive("a crank wheel radius", crank)?,
    );
    let apart_m = positive("a centre distance", apart)?;
    let sine = (large - small) / apart_m;
    if sine.abs() >= 1.0 {
        return Err(TimingError::TooNear {
            radii_mm: (large - small).abs() * 1000.0,
            apart_mm: apart.in_mm(),
        });
    }
    Ok(Angle::radians(asin(sine))?)
}

fn positive(what: &'static str, length: Length) -> Result<f64, TimingError> {
    if length.si() <= 0.0 {
        return Err(TimingError::NotPositive {
            what,
            mm: length.in_mm(),
        });
    }
    Ok(length.si())
}

#[cfg(test)]
mod tests {
    use libm::sqrt;

    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn straight(apart: f64, cam: f64, crank: f64, cut: f64) -> Retard {
        let lean = lean_of_straight_drive(mm(cam), mm(crank), mm(apart)).unwrap();
        retard(mm(cut), mm(cam), lean).unwrap()
    }

    /// Source: exact length of the taut path, C 300, R 60, r 30. *Computed by a general library
    /// (scipy 1.17.1, integration).*
    #[test]
    fn e27_straight_drive() {
        let late = straight(300.0, 60.0, 30.0, 0.25);
        assert!((late.cam.in_degrees() - 0.23754).abs() < 2e-5);
        assert!((late.crank.in_degrees() - 0.47507).abs() < 2e-5);
        assert!((straight(300.0, 60.0, 30.0, 1.0).cam.in_degrees() - 0.950_127).abs() < 1e-4);
    }

    /// The same question without the rule: the length of the pulling side of the belt, from the
    /// crank's own mark to the cam's, must not change when the cam comes nearer. Source: *computed
    /// by a general library (Python 3.11 floats): geometry.*
    #[test]
    fn e27_rule_agrees_with_the_length_of_the_belt() {
        let side = |apart: f64| {
            let (large, small): (f64, f64) = (60.0, 30.0);
            let lean = asin((large - small) / apart);
            // Free span, and the wrap up to a mark fixed in the frame.
            sqrt(apart * apart - (large - small) * (large - small)) + lean * (large - small)
        };
        let slack = side(300.0) - side(299.75);
        let late = straight(300.0, 60.0, 30.0, 0.25).cam.in_radians();
        assert!((slack / 60.0 - late).abs() < 1e-7);
    }

    /// Source: jackshaft triangle of a reader's worked example, legs 11.863 and √9.339 in, belt
    /// 14.2 in round the cam wheel, cut 0.040 in. *Public data; computed: rule.*
    #[test]
    fn e28_jackshaft_drive() {
        let inch = |value| Length::inches(value).unwrap();
        let span = sqrt(11.863 * 11.863 + 9.339);
        let lean = Angle::radians(libm::acos(11.863 / span)).unwrap();
        let radius = inch(14.2 / (2.0 * std::f64::consts::PI));
        let late = retard(inch(0.040), radius, lean).unwrap();
        assert!((late.crank.in_degrees() - 1.964).abs() < 0.03);
    }

    #[test]
    fn wheels_that_do_not_fit_are_refused() {
        assert!(matches!(
            lean_of_straight_drive(mm(60.0), mm(10.0), mm(40.0)),
            Err(TimingError::TooNear { .. })
        ));
        assert!(retard(mm(0.2), mm(0.0), Angle::degrees(0.0).unwrap()).is_err());
    }
}
