//! One number with the unit behind it, before the two are put together.

use std::ops::Range;

use super::confusion;
use super::fault::ReadFault;
use super::hint;
use super::number::{self, Comma, Number};
use super::scan::Scan;
use crate::kind::Kind;
use crate::show;
use crate::unit::{self, Unit};

/// A unit found in a text.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found {
    pub(crate) unit: &'static Unit,
    note: Option<&'static str>,
}

/// A number and, where one is written, its unit.
#[derive(Clone, Debug)]
pub(crate) struct Amount {
    pub(crate) number: Number,
    pub(crate) unit: Option<Found>,
    /// Smaller parts behind it in SI: the 30 min of `1 h 30 min`.
    pub(super) more: f64,
    /// Every byte of it.
    pub(crate) at: Range<usize>,
}

impl Amount {
    /// Reads a signed number and the unit of `kind` behind it. `None` when no number starts here.
    pub(crate) fn read(
        scan: &mut Scan<'_>,
        kind: Kind,
        comma: Comma,
    ) -> Result<Option<Self>, ReadFault> {
        let Some(number) = number::number(scan, comma)? else {
            return Ok(None);
        };
        Self::with_unit(scan, kind, number).map(Some)
    }

    /// Reads a number alone, for asking what it is a number of.
    pub(crate) fn bare(scan: &mut Scan<'_>) -> Result<Option<Self>, ReadFault> {
        let Some(number) = number::number(scan, Comma::Decimal)? else {
            return Ok(None);
        };
        let at = number.at.clone();
        Ok(Some(Self {
            number,
            unit: None,
            more: 0.0,
            at,
        }))
    }

    /// Reads the unit of `kind` behind a number already read.
    pub(crate) fn with_unit(
        scan: &mut Scan<'_>,
        kind: Kind,
        number: Number,
    ) -> Result<Self, ReadFault> {
        let typed = &scan.text()[number.at.clone()];
        refuse_fraction(scan.text(), kind, &number)?;
        let start = number.at.start;
        let unit = unit_of(scan, kind, typed)?;
        let mut amount = Self {
            number,
            unit,
            more: 0.0,
            at: start..scan.at(),
        };
        amount.take_smaller_parts(scan)?;
        amount.at.end = scan.at();
        Ok(amount)
    }

    /// Reads a number and a unit of whatever kind.
    pub(crate) fn of_any_kind(scan: &mut Scan<'_>) -> Result<Self, ReadFault> {
        let Some(number) = number::number(scan, Comma::Decimal)? else {
            return Err(number_missing(scan));
        };
        let typed = &scan.text()[number.at.clone()];
        let start = number.at.start;
        let before = scan.at();
        scan.skip_space();
        let found = unit::longest(scan.rest());
        let Some(first) = found.first() else {
            let reached = before..before;
            if scan.is_done() {
                return Err(ReadFault::new(
                    scan.text(),
                    reached,
                    format!("{typed} of what? A number without a unit can be anything"),
                    "write the unit behind it, as in `35 N·m`, `0.05 mm` or `90°`",
                ));
            }
            confusion::refuse_of_any_kind(scan, typed)?;
            scan.finish(false)?;
            return Err(number_missing(scan));
        };
        confusion::refuse_two_trades(scan, typed, first)?;
        refuse_fraction(scan.text(), first.unit.kind, &number)?;
        let at = scan.at()..scan.at() + first.length;
        scan.go_to(at.end);
        let note = if found.iter().skip(1).any(|other| other.note.is_none()) {
            Some(shared_symbol(first.unit.kind))
        } else {
            first.note
        };
        let mut amount = Self {
            number,
            unit: Some(Found {
                unit: first.unit,
                note,
            }),
            more: 0.0,
            at: start..at.end,
        };
        amount.take_smaller_parts(scan)?;
        amount.at.end = scan.at();
        Ok(amount)
    }

    /// Takes the smaller parts of `1 h 30 min`, `5 ft 3 in` and `12° 30′`.
    fn take_smaller_parts(&mut self, scan: &mut Scan<'_>) -> Result<(), ReadFault> {
        let Some(mut larger) = self.unit.map(|found| found.unit) else {
            return Ok(());
        };
        while let Some(smaller) = part_of(larger) {
            let mut ahead = scan.clone();
            ahead.skip_space();
            let Some(number) = number::unsigned(&mut ahead, Comma::Decimal)? else {
                break;
            };
            ahead.skip_space();
            let Some(found) = unit::longest(ahead.rest())
                .into_iter()
                .find(|found| found.unit == smaller)
            else {
                break;
            };
            ahead.advance(found.length);
            let limit = larger.factor / smaller.factor;
            if number.value >= limit - 1e-9 {
                return Err(ReadFault::new(
                    scan.text(),
                    number.at.start..ahead.at(),
                    format!(
                        "{} {} make a whole {} or more",
                        number.value, smaller.symbol, larger.symbol
                    ),
                    format!("write all of it in `{}`", smaller.symbol),
                ));
            }
            self.more += number.value * smaller.factor;
            larger = smaller;
            *scan = ahead;
        }
        Ok(())
    }

    /// The value in SI. A bare number is taken in `fallback`.
    pub(crate) fn si(
        &self,
        text: &str,
        kind: Kind,
        fallback: Option<&Unit>,
    ) -> Result<f64, ReadFault> {
        let unit = match (self.unit, fallback) {
            (Some(found), _) => found.unit,
            (None, Some(unit)) => unit,
            (None, None) => return Err(self.unit_missing(text, kind)),
        };
        self.si_at(text, unit, self.number.value)
    }

    /// `value` in `unit`, as SI, refused where nature has nothing so low.
    pub(crate) fn si_at(&self, text: &str, unit: &Unit, value: f64) -> Result<f64, ReadFault> {
        let sign = if value.is_sign_negative() { -1.0 } else { 1.0 };
        let si = unit.to_si(value) + sign * self.more;
        if !si.is_finite() {
            return Err(ReadFault::too_large(text, self.at.clone()));
        }
        match lowest(unit.kind) {
            Some(limit) if si < limit => Err(below_lowest(text, self, unit)),
            _ => Ok(si),
        }
    }

    pub(crate) fn unit_missing(&self, text: &str, kind: Kind) -> ReadFault {
        let typed = &text[self.number.at.clone()];
        // Four are enough to see the pattern; the whole table is behind the manual.
        let examples: Vec<String> = hint::usual(kind)
            .iter()
            .map(|unit| format!("`{typed} {}`", unit.symbol))
            .collect();
        ReadFault::new(
            text,
            self.number.at.end..self.number.at.end,
            format!("{typed} of what? The unit is missing"),
            format!("write one of {}", examples.join(", ")),
        )
    }

    /// What the answer must say about how this was read.
    pub(crate) fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if self.number.decimal_comma {
            notes.push(format!(
                "the comma was taken as a decimal comma: {}",
                self.number.value
            ));
        }
        if let Some(Found {
            unit,
            note: Some(note),
        }) = self.unit
        {
            // The echo stands in the one unit of the kind that no spelling can blur.
            let echo = match unit.kind {
                Kind::Torque => &unit::NEWTON_METRE,
                Kind::Volume => &unit::LITRE,
                _ => unit,
            };
            notes.push(format!(
                "{note}: {}",
                show::show_si(unit.to_si(self.number.value), echo)
            ));
        }
        notes
    }
}

/// Refuses `60/80 psi`: gauges and wrenches are not read in fractions, so it must be two values.
fn refuse_fraction(text: &str, kind: Kind, number: &Number) -> Result<(), ReadFault> {
    let usual = matches!(
        kind,
        Kind::Length
            | Kind::Area
            | Kind::Volume
            | Kind::Mass
            | Kind::Angle
            | Kind::Ratio
            | Kind::Duration
    );
    if usual || !number.is_fraction {
        return Ok(());
    }
    Err(ReadFault::new(
        text,
        number.at.clone(),
        format!(
            "{} is not written as a fraction; this could be two values parted by a slash",
            kind.with_article()
        ),
        "write a decimal number, or part two values by a space",
    ))
}

/// The unit of `kind` that starts here. `None` when nothing here is a unit; `typed` is the number before it.
pub(crate) fn unit_of(
    scan: &mut Scan<'_>,
    kind: Kind,
    typed: &str,
) -> Result<Option<Found>, ReadFault> {
    let before = scan.at();
    scan.skip_space();
    let matches = unit::longest(scan.rest());
    let length = matches.first().map_or(0, |found| found.length);
    confusion::refuse(scan, kind, typed, length)?;
    if let Some(found) = matches.iter().find(|found| found.unit.kind == kind) {
        scan.advance(length);
        return Ok(Some(Found {
            unit: found.unit,
            note: found.note,
        }));
    }
    if let Some(other) = matches.first() {
        let at = scan.at()..scan.at() + length;
        return Err(confusion::other_kind(
            scan.text(),
            at,
            kind,
            other.unit,
            typed,
        ));
    }
    scan.go_to(before);
    Ok(None)
}

/// The fault for a place where a number should be.
pub(crate) fn number_missing(scan: &Scan<'_>) -> ReadFault {
    if scan.rest().starts_with('*') {
        let at = scan.at()..scan.at() + 1;
        return ReadFault::new(
            scan.text(),
            at,
            "a star stands before the number: the table it comes from says what it means, this line does not",
            "find the star's meaning (often lbf·in) and write that unit behind the number",
        );
    }
    let at = if scan.is_done() {
        scan.at()..scan.at()
    } else {
        scan.word()
    };
    let reason = if scan.is_done() {
        "a number is missing here".to_owned()
    } else {
        format!("`{}` is no number", &scan.text()[at.clone()])
    };
    ReadFault::new(
        scan.text(),
        at,
        reason,
        "write digits and a unit, as in `35 N·m` or `0.05 mm`",
    )
}

/// The unit that may follow behind a larger one as a part of it.
fn part_of(larger: &Unit) -> Option<&'static Unit> {
    const PARTS: &[(Unit, Unit)] = &[
        (unit::DAY, unit::HOUR),
        (unit::HOUR, unit::MINUTE),
        (unit::MINUTE, unit::SECOND),
        (unit::FOOT_UNIT, unit::INCH_UNIT),
        (unit::DEGREE, unit::ARC_MINUTE),
        (unit::ARC_MINUTE, unit::ARC_SECOND),
    ];
    PARTS
        .iter()
        .find(|(whole, _)| whole == larger)
        .map(|(_, part)| part)
}

/// The lowest value that can stand on paper for a kind, in SI; `None` where signs are ordinary.
///
/// A torque of a joint has no sign: turning back is written as loosening.
pub(crate) const fn lowest(kind: Kind) -> Option<f64> {
    match kind {
        Kind::Torque
        | Kind::Mass
        | Kind::Area
        | Kind::AbsolutePressure
        | Kind::Temperature
        | Kind::Duration
        | Kind::Density
        | Kind::Resistance => Some(0.0),
        Kind::Length
        | Kind::Volume
        | Kind::Force
        | Kind::Energy
        | Kind::GaugePressure
        | Kind::Stress
        | Kind::TemperatureDifference
        | Kind::Angle
        | Kind::Ratio
        | Kind::RotationalSpeed
        | Kind::Speed
        | Kind::Flow
        | Kind::Stiffness
        | Kind::Voltage
        | Kind::Current => None,
    }
}

fn below_lowest(text: &str, amount: &Amount, unit: &Unit) -> ReadFault {
    let hint = match unit.kind {
        Kind::Torque => {
            "a range is written `18-22 N·m`; turning back is written `loosen 90°`".to_owned()
        }
        Kind::Temperature => format!("nothing is colder than {}", show::show_si(0.0, unit)),
        Kind::AbsolutePressure => {
            "below the air around is written as a gauge pressure, without `abs`".to_owned()
        }
        other => format!(
            "write the {} without the minus sign, or check which way it was measured",
            other.name()
        ),
    };
    ReadFault::new(
        text,
        amount.at.clone(),
        format!("{} cannot be this low", unit.kind.with_article()),
        hint,
    )
}

/// What is said when kinds share a symbol and the first of them was taken.
fn shared_symbol(kind: Kind) -> &'static str {
    match kind {
        Kind::GaugePressure => {
            "taken as a gauge pressure, above the air around; it could also be a stress in a material"
        }
        Kind::Temperature => {
            "taken as a temperature on a scale; it could also be a difference between two"
        }
        Kind::Torque => "the slash was taken as a joiner, a torque, not as a spring rate",
        _ => "several kinds of quantity share this unit; the first was taken",
    }
}
