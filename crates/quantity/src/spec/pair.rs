//! One value printed in several units, and whether the figures agree.
//!
//! A misprint is named and never averaged away: `166 lbf·ft (255 N·m)` holds a transposed digit.

use crate::kind::Kind;
use crate::kind::Quantity;
use crate::kinds::Torque;
use crate::read::{Expression, ReadFault, Shape, typed_quantity};

/// One of the figures printed side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Printed {
    /// The figure as it was typed, with its unit.
    pub typed: String,
    /// The low end, or the value itself.
    pub low: Torque,
    /// The high end, or the value itself.
    pub high: Torque,
    /// Half a unit in its last printed place.
    pub half_place: Torque,
}

/// Two figures for the same value.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedPair {
    /// The step they belong to, counted from 0.
    pub step: usize,
    /// The figure printed first, which the others were worked out from.
    pub first: Printed,
    /// The figure printed beside it.
    pub second: Printed,
    /// Whether rounding alone explains the difference.
    pub agrees: bool,
}

impl PrintedPair {
    /// Holds two figures against each other.
    ///
    /// They agree if they differ by less than half a unit in the last place of the one plus half a
    /// unit in the last place of the other. Only the first is held against each of the rest: two
    /// figures both rounded from it may lie further apart than their own last places allow.
    pub(super) fn new(step: usize, first: Printed, second: Printed) -> Self {
        let room = first.half_place.si() + second.half_place.si();
        // Rounding of the conversion itself must not turn a borderline pair.
        let room = room * (1.0 + 1e-9);
        let near = |one: Torque, other: Torque| (one.si() - other.si()).abs() < room;
        let agrees = near(first.low, second.low) && near(first.high, second.high);
        Self {
            step,
            first,
            second,
            agrees,
        }
    }

    /// The pair in one sentence.
    #[must_use]
    pub fn says(&self) -> String {
        let (first, second) = (&self.first.typed, &self.second.typed);
        if self.agrees {
            return format!("{first} and {second} agree");
        }
        let (one, other) = (
            self.first.in_newton_metres(),
            self.second.in_newton_metres(),
        );
        // A figure that stands in newton metres already is not said twice.
        let meant = |typed: &str, shown: String| {
            if typed.contains(crate::unit::NEWTON_METRE.symbol) {
                typed.to_owned()
            } else {
                format!("{typed} ({shown})")
            }
        };
        format!(
            "{} and {} do not agree: one of the two is a misprint",
            meant(first, one),
            meant(second, other)
        )
    }
}

impl Printed {
    fn in_newton_metres(&self) -> String {
        let bound = if self.low == self.high {
            crate::Bound::Exactly(self.low)
        } else {
            crate::Bound::Between(crate::Range {
                low: self.low,
                high: self.high,
            })
        };
        crate::show::show_bound(bound, &crate::unit::NEWTON_METRE)
    }
}

/// Makes a printed figure from what was read.
pub(super) fn printed(text: &str, found: &Expression) -> Result<Printed, ReadFault> {
    let (low, high) = match found.shape(text, Kind::Torque, None)? {
        Shape::Exactly(value) | Shape::Below(value) | Shape::Above(value) => (value, value),
        Shape::Between { low, high, .. } => (low, high),
    };
    let factor = found.unit().map_or(0.0, |unit| unit.factor);
    Ok(Printed {
        typed: text[found.at.clone()].trim().to_owned(),
        low: typed_quantity(text, low)?,
        high: typed_quantity(text, high)?,
        half_place: typed_quantity(text, found.first.number.half_place * factor)?,
    })
}
