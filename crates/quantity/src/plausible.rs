//! Plausible ranges, each a named thing with its reason.
//!
//! A value outside is not forbidden by nature; it is so rare in this trade that a slip of the
//! unit is far likelier. The ranges are wide on purpose and are never limits to judge a part by.

use crate::kind::{Kind, Quantity};
use crate::show::{show, show_si};
use crate::unit::{self, Unit};

/// The range an input lies in unless its unit slipped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plausible {
    /// What is measured, as it stands in a message.
    pub name: &'static str,
    /// The unit the ends are given and shown in.
    pub unit: Unit,
    /// The low end in `unit`.
    pub low: f64,
    /// The high end in `unit`.
    pub high: f64,
    /// Why these ends.
    pub why: &'static str,
}

/// A value outside its plausible range.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{shown} is no plausible {name}: it lies between {low} and {high} ({why}); check the unit")]
pub struct Implausible {
    /// What was measured.
    pub name: &'static str,
    /// The value as shown.
    pub shown: String,
    /// The low end as shown.
    pub low: String,
    /// The high end as shown.
    pub high: String,
    /// Why these ends.
    pub why: &'static str,
}

impl Plausible {
    /// The kind of quantity it is about.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        self.unit.kind
    }

    /// Holds a value against the range; both ends belong to it.
    ///
    /// ```
    /// use quantity::{Length, plausible};
    /// assert!(plausible::BORE.check(Length::mm(88.0).unwrap()).is_ok());
    /// assert!(plausible::BORE.check(Length::inches(88.0).unwrap()).is_err());
    /// ```
    ///
    /// # Errors
    /// [`Implausible`] when the value lies outside, or is of another kind than the range.
    pub fn check<Q: Quantity>(&self, value: Q) -> Result<(), Implausible> {
        let (low, high) = (self.unit.to_si(self.low), self.unit.to_si(self.high));
        // Ends typed in another unit must not fail by the last bit.
        let slack = 1e-9 * (high - low);
        if Q::KIND == self.kind() && (low - slack..=high + slack).contains(&value.si()) {
            return Ok(());
        }
        let own = unit::of_kind(Q::KIND).find(|unit| unit.factor == 1.0 && unit.offset == 0.0);
        let shown = if Q::KIND == self.kind() {
            show(value, &self.unit)
        } else {
            own.map_or_else(String::new, |unit| show(value, unit))
        };
        Err(Implausible {
            name: self.name,
            shown,
            low: show_si(low, &self.unit),
            high: show_si(high, &self.unit),
            why: self.why,
        })
    }
}

macro_rules! ranges {
    ($($name:ident = $words:literal, $low:literal to $high:literal $unit:ident, $why:literal;)*) => {
        $(
            #[doc = concat!("A plausible ", $words, ": ", $why, ". *Common practice, no source.*")]
            pub const $name: Plausible = Plausible { name: $words, unit: unit::$unit, low: $low, high: $high, why: $why };
        )*

        /// Every range of this table.
        pub const ALL: &[Plausible] = &[$($name),*];
    };
}

ranges! {
    TIGHTENING_TORQUE = "tightening torque", 0.1 to 2000.0 NEWTON_METRE, "from a carburettor screw to a crank bolt with a multiplier";
    TIGHTENING_ANGLE = "tightening angle", 5.0 to 720.0 DEGREE, "less cannot be set by hand and two turns stretch anything";
    WRENCH_LENGTH = "wrench length", 50.0 to 2000.0 MILLIMETRE, "from a pocket wrench to a bar with a pipe on it";
    BORE = "bore", 20.0 to 300.0 MILLIMETRE, "from a model engine to a large marine one";
    STROKE = "stroke", 20.0 to 400.0 MILLIMETRE, "from a model engine to a large marine one";
    ROD_LENGTH = "rod length", 40.0 to 800.0 MILLIMETRE, "one and a half to two and a half strokes";
    COMPRESSION_RATIO = "compression ratio", 3.0 to 30.0 FRACTION, "from a side-valve engine to an old diesel";
    GASKET_THICKNESS = "gasket thickness", 0.05 to 8.0 MILLIMETRE, "from a shim to a thick composite";
    VALVE_CLEARANCE = "valve clearance", 0.0 to 2.0 MILLIMETRE, "more is a part left out or a unit slip";
    OUT_OF_FLAT = "error of form", 0.0 to 5.0 MILLIMETRE, "more is seen without a gauge";
    ENGINE_SPEED = "engine speed", 1.0 to 25_000.0 REVOLUTION_PER_MINUTE, "from a turn by hand to a racing engine";
    ALTITUDE = "height above the sea", -430.0 to 6000.0 METRE, "from the lowest shore to the highest road";
    COOLANT_CAPACITY = "coolant capacity", 0.2 to 300.0 LITRE, "from a motorcycle to a locomotive";
    CRANKING_PRESSURE = "cranking pressure", 0.0 to 60.0 BAR, "a diesel at the starter stays under it";
    OIL_VOLUME = "oil volume", 0.05 to 300.0 LITRE, "from a mower to a locomotive";
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::{Length, Ratio, Torque};

    #[test]
    fn every_range_has_its_low_end_first_and_a_reason() {
        for range in ALL {
            assert!(range.low < range.high, "{}", range.name);
            assert!(!range.why.is_empty());
        }
    }

    #[test]
    fn a_slip_of_the_unit_is_caught() {
        assert!(STROKE.check(Length::mm(86.0).unwrap()).is_ok());
        assert!(STROKE.check(Length::inches(86.0).unwrap()).is_err());
        assert!(
            COMPRESSION_RATIO
                .check(Ratio::percent(10.5).unwrap())
                .is_err()
        );
        assert!(
            TIGHTENING_TORQUE
                .check(Torque::newton_metres(35_000.0).unwrap())
                .is_err()
        );
        assert!(VALVE_CLEARANCE.check(Length::mm(-0.1).unwrap()).is_err());
    }

    #[test]
    fn both_ends_belong_to_the_range() {
        assert!(BORE.check(Length::mm(20.0).unwrap()).is_ok());
        assert!(BORE.check(Length::mm(300.0).unwrap()).is_ok());
        assert!(BORE.check(Length::mm(300.1).unwrap()).is_err());
    }

    #[test]
    fn the_message_names_value_ends_and_reason() {
        let fault = BORE.check(Length::inches(88.0).unwrap()).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "2235 mm is no plausible bore: it lies between 20 mm and 300 mm (from a model engine to a large marine one); check the unit"
        );
        let other = BORE
            .check(Torque::newton_metres(88.0).unwrap())
            .unwrap_err();
        assert!(other.to_string().starts_with("88 N·m"), "{other}");
    }
}
