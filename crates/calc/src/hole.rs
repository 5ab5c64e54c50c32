//! A bolt in a blind hole: does it bottom before it clamps, and how much thread meets.
//!
//! A bolt that bottoms turns the wrench as a tight one does, and the part stays loose.

use quantity::Length;

use crate::tightening::{BOLT_LENGTH, TighteningError};

/// A bolt over its hole, as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Length of the bolt under its head.
    pub bolt: Length,
    /// Depth of the hole. With `grip`, from the joint face with the part off; without,
    /// from where the head or its washer sits down to the bottom.
    pub depth: Length,
    /// Thickness of each washer under the head.
    pub washers: Vec<Length>,
    /// Thickness of what is clamped between the head (or washer) and the joint face.
    pub grip: Option<Length>,
}

/// What the lengths add up to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Room between the end of the bolt and the bottom once the part is clamped. Negative:
    /// it bottoms, and the head stands off by that much.
    pub clearance: Length,
    /// How far the bolt reaches into the hole behind the joint face, if the grip is known. No
    /// more than the hole is deep. Negative: the bolt does not reach.
    pub engagement: Option<Length>,
    /// The longest bolt that just touches.
    pub longest: Length,
}

/// Room at the bottom of a blind hole, and engagement.
///
/// # Formula
/// clearance = depth + grip + Σ washers − bolt; engagement = min(bolt − grip − Σ washers, depth)
/// # Units
/// Lengths.
/// # Range
/// Depth by probe in a clean, dry hole. Dirt or liquid takes room the sum does not see.
/// # Source
/// Addition.
/// # Errors
/// [`TighteningError::OutOfRange`] for a negative or absurd length.
/// # Example
/// ```
/// use calc::hole::{self, Fit};
/// use quantity::Length;
///
/// let fit = Fit { bolt: Length::inches(2.5)?, depth: Length::inches(2.4375)?,
///     washers: vec![], grip: None };
/// assert!((hole::clearance(&fit)?.clearance.in_mm() + 1.5875).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn clearance(fit: &Fit) -> Result<Clearance, TighteningError> {
    let bolt = BOLT_LENGTH.check(fit.bolt)?;
    let depth = BOLT_LENGTH.check(fit.depth)?;
    let mut above = 0.0;
    for washer in &fit.washers {
        above += BOLT_LENGTH.check(*washer)?;
    }
    if let Some(grip) = fit.grip {
        above += BOLT_LENGTH.check(grip)?;
    }
    let engagement = match fit.grip {
        Some(_) => Some(Length::metres((bolt - above).min(depth))?),
        None => None,
    };
    Ok(Clearance {
        clearance: Length::metres(depth + above - bolt)?,
        engagement,
        longest: Length::metres(depth + above)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    /// Case: bolt 2-1/2 in, hole through part and thread 2-7/16 in: it bottoms by 1/16 in.
    /// Source: reader's worked example, *public data*; subtraction.
    #[test]
    fn o11_bolt_longer_than_its_hole() {
        let fit = Fit {
            bolt: Length::inches(2.5).unwrap(),
            depth: Length::inches(2.4375).unwrap(),
            washers: vec![],
            grip: None,
        };
        let found = clearance(&fit).unwrap();
        assert!((found.clearance.in_inches() + 1.0 / 16.0).abs() < 1e-12);
        assert_eq!(found.engagement, None);
    }

    #[test]
    fn washers_and_grip_lift_the_bolt() {
        let fit = Fit {
            bolt: mm(40.0),
            depth: mm(24.0),
            washers: vec![mm(1.5), mm(0.8)],
            grip: Some(mm(22.0)),
        };
        let found = clearance(&fit).unwrap();
        assert!((found.clearance.in_mm() - 8.3).abs() < 1e-9);
        assert!((found.engagement.unwrap().in_mm() - 15.7).abs() < 1e-9);
        assert!((found.longest.in_mm() - 48.3).abs() < 1e-9);
    }

    #[test]
    fn a_bolt_that_bottoms_engages_no_more_than_the_hole() {
        let fit = Fit {
            bolt: mm(60.0),
            depth: mm(24.0),
            washers: vec![],
            grip: Some(mm(22.0)),
        };
        assert_eq!(clearance(&fit).unwrap().engagement, Some(mm(24.0)));
    }

    #[test]
    fn a_negative_length_is_refused() {
        let fit = Fit {
            bolt: mm(40.0),
            depth: mm(-1.0),
            washers: vec![],
            grip: None,
        };
        assert!(clearance(&fit).is_err());
    }

    proptest! {
        /// What is not engaged and not above is room: the three parts make up the hole.
        #[test]
        fn room_and_engagement_fill_the_hole(depth in 1.0..60.0_f64, grip in 0.0..60.0_f64, reach in 0.0..1.0_f64) {
            let bolt = grip + reach * depth;
            let fit = Fit { bolt: mm(bolt), depth: mm(depth), washers: vec![], grip: Some(mm(grip)) };
            let found = clearance(&fit).unwrap();
            let sum = found.clearance.in_mm() + found.engagement.unwrap().in_mm();
            prop_assert!((sum - depth).abs() < 1e-9);
        }
    }
}
