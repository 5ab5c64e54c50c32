//! What the tightening formulas share: the fault they refuse with and the named ranges
//! their inputs must keep.
//!
//! The ranges only keep slips of unit and keyboard out. They are not limits a bolt is
//! judged by; those stand with their sources in [`crate::fastener`].

use quantity::{NotFinite, Quantity, Unit, unit};

/// Why a tightening formula gave no number.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum TighteningError {
    /// An input is outside the range the formula is meant for.
    #[error(
        "{what} is {value}{}; it must lie between {low} and {high}{}",
        behind(unit),
        behind(unit)
    )]
    OutOfRange {
        /// The input.
        what: &'static str,
        /// Its value in `unit`.
        value: f64,
        /// The lowest value taken.
        low: f64,
        /// The highest value taken.
        high: f64,
        /// The unit of the three numbers.
        unit: &'static str,
    },
    /// The tables and formulas here do not reach this far.
    #[error("{what}: {why}")]
    NotCovered {
        /// What was asked for.
        what: &'static str,
        /// Why there is no answer and what would give one.
        why: &'static str,
    },
    /// A result left the finite numbers.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A unit as it stands behind a number; a bare number has none.
fn behind(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    }
}

/// A named range of one input, with the reason for its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InputRange {
    /// The input as messages call it.
    pub what: &'static str,
    /// The unit of the two ends.
    pub unit: Unit,
    /// The lowest value taken.
    pub low: f64,
    /// The highest value taken.
    pub high: f64,
    /// Why the ends stand where they do.
    pub why: &'static str,
}

impl InputRange {
    const fn new(what: &'static str, unit: Unit, low: f64, high: f64, why: &'static str) -> Self {
        Self {
            what,
            unit,
            low,
            high,
            why,
        }
    }

    /// The SI value, if it lies in the range.
    ///
    /// # Errors
    /// [`TighteningError::OutOfRange`] with the value and both ends in the unit of the range.
    pub fn check<Q: Quantity>(&self, value: Q) -> Result<f64, TighteningError> {
        let in_unit = self.unit.of_si(value.si());
        if (self.low..=self.high).contains(&in_unit) {
            return Ok(value.si());
        }
        Err(TighteningError::OutOfRange {
            what: self.what,
            value: (in_unit * 1e6).round() / 1e6,
            low: self.low,
            high: self.high,
            unit: self.unit.symbol,
        })
    }
}

/// Nominal diameter of a thread.
pub const DIAMETER: InputRange = InputRange::new(
    "the thread diameter",
    unit::MILLIMETRE,
    1.0,
    68.0,
    "screws of an engine bay and its tools; M1 to M68 is the span of ISO 261's common sizes",
);

/// Pitch of a thread.
pub const PITCH: InputRange = InputRange::new(
    "the thread pitch",
    unit::MILLIMETRE,
    0.2,
    6.0,
    "0.25 mm belongs to M1, 6 mm to M64; inch threads lie in between",
);

/// Friction coefficient in the thread or under the head.
pub const FRICTION: InputRange = InputRange::new(
    "the friction coefficient",
    unit::FRACTION,
    0.01,
    0.6,
    "below 0.04 no lubricant reaches, above 0.5 stainless threads gall; percentages typed as whole numbers fall outside",
);

/// Nut factor K of the short form.
pub const NUT_FACTOR: InputRange = InputRange::new(
    "the nut factor",
    unit::FRACTION,
    0.05,
    0.8,
    "published mean factors run from 0.086 to 0.52",
);

/// Clamping force of one fastener.
pub const PRELOAD: InputRange = InputRange::new(
    "the preload",
    unit::KILONEWTON,
    0.0,
    2000.0,
    "an M64 12.9 stays below 2 MN",
);

/// Tightening torque.
pub const TORQUE: InputRange = InputRange::new(
    "the torque",
    unit::NEWTON_METRE,
    0.0,
    5000.0,
    "no wrench of a one-bay workshop reaches further",
);

/// A strength or yield limit.
pub const STRENGTH: InputRange = InputRange::new(
    "the strength",
    unit::MEGAPASCAL,
    10.0,
    2500.0,
    "soft plastic to spring steel; values in psi or Pa fall outside",
);

/// Modulus of elasticity.
pub const MODULUS: InputRange = InputRange::new(
    "the modulus of elasticity",
    unit::MEGAPASCAL,
    1000.0,
    500_000.0,
    "plastics to hard metal",
);

/// Mean diameter of the face under the head or nut.
pub const BEARING_DIAMETER: InputRange = InputRange::new(
    "the mean bearing diameter",
    unit::MILLIMETRE,
    1.0,
    150.0,
    "from the washer face of M1 to that of M64",
);

/// Length of a bolt, grip, engagement or washer stack.
pub const BOLT_LENGTH: InputRange = InputRange::new(
    "the length",
    unit::MILLIMETRE,
    0.0,
    1000.0,
    "through-bolts of an engine stay below a metre",
);

/// Length of a wrench or an adapter.
pub const LEVER: InputRange = InputRange::new(
    "the lever length",
    unit::MILLIMETRE,
    0.0,
    2000.0,
    "hand wrenches end below two metres",
);

/// Stiffness of a bolt or of what it clamps.
pub const STIFFNESS: InputRange = InputRange::new(
    "the stiffness",
    unit::NEWTON_PER_MILLIMETRE,
    1.0,
    1e8,
    "a spring washer to a solid block",
);

/// Scatter of preload or accuracy of a tool, plus or minus.
pub const SCATTER: InputRange = InputRange::new(
    "the scatter",
    unit::PERCENT,
    0.0,
    95.0,
    "at 100 % the lowest preload is nothing and no factor exists",
);

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{Length, Ratio};

    #[test]
    fn a_range_names_value_limit_and_unit() {
        let fault = DIAMETER.check(Length::inches(8.0).unwrap()).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the thread diameter is 203.2 mm; it must lie between 1 and 68 mm"
        );
        let fault = FRICTION.check(Ratio::fraction(0.0).unwrap()).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the friction coefficient is 0; it must lie between 0.01 and 0.6"
        );
    }

    #[test]
    fn a_percentage_typed_as_a_friction_coefficient_is_refused() {
        assert!(FRICTION.check(Ratio::fraction(12.0).unwrap()).is_err());
        assert!(FRICTION.check(Ratio::percent(12.0).unwrap()).is_ok());
    }

    #[test]
    fn a_negative_friction_coefficient_is_refused() {
        assert!(FRICTION.check(Ratio::fraction(-0.1).unwrap()).is_err());
    }
}
