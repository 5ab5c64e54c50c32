//! Reads what people write: `13 ft-lb`, `2-7/16 in`, `18–22 N·m`, `< 0.04 mm`, `107 60 80 105 psi`.
//!
//! Nothing is guessed and nothing is repaired in silence. What cannot be understood, or could
//! mean two things, comes back as a [`ReadFault`] with its place, its reason and a way out.
//! Tightening specs (`30 N·m + 90°`) are read by [`crate::spec`], not here.

mod amount;
mod confusion;
mod expression;
mod fault;
mod hint;
mod list;
mod number;
mod scan;
mod tolerance;

use crate::anything::Anything;
use crate::kind::{Kind, Quantity};
use crate::said::{Bound, Range, Said};
use crate::unit::{self, Unit};

pub(crate) use amount::Amount;
#[cfg(test)]
pub(crate) use amount::lowest;
pub(crate) use expression::{Dash, Expression, Shape, expression, plus_of_two_meanings};
pub use fault::ReadFault;
pub(crate) use scan::Scan;

/// Reads one quantity with its unit. A ratio may stand bare.
///
/// # Errors
/// A [`ReadFault`] when there is no number, no unit, a unit of another kind, two meanings or anything left over.
///
/// # Example
/// ```
/// use quantity::{Length, Torque, read::read};
/// assert_eq!(read::<Torque>("13 ft-lb").unwrap().value.in_pound_force_feet().round(), 13.0);
/// assert_eq!(read::<Length>("2-7/16 in").unwrap().value.in_inches(), 2.4375);
/// assert!(read::<Torque>("35 lbs").is_err());
/// ```
pub fn read<Q: Quantity>(text: &str) -> Result<Said<Q>, ReadFault> {
    one(text, usual(Q::KIND))
}

/// Reads one quantity; a bare number is taken in `unit`.
///
/// # Errors
/// As for [`read`], except that a missing unit is no fault.
pub fn read_in<Q: Quantity>(text: &str, unit: &Unit) -> Result<Said<Q>, ReadFault> {
    one(text, Some(unit))
}

/// Reads a range with two ends: `18-22 N·m`, `0.15..0.25 mm`, `20 ± 2 N·m`, `1/16 to 1/8 in`.
///
/// # Errors
/// A [`ReadFault`] as for [`read`], when there is only one end, or when the high end lies below the low one.
pub fn read_range<Q: Quantity>(text: &str) -> Result<Said<Range<Q>>, ReadFault> {
    two_ends(text, usual(Q::KIND))
}

/// Reads a range; bare numbers are taken in `unit`.
///
/// # Errors
/// As for [`read_range`], except that a missing unit is no fault.
pub fn read_range_in<Q: Quantity>(text: &str, unit: &Unit) -> Result<Said<Range<Q>>, ReadFault> {
    two_ends(text, Some(unit))
}

/// Reads a value that may be only a bound: `0.05 mm`, `< 0.04 mm`, `max 0.1 mm`, `0.05..0.06 mm`.
///
/// # Errors
/// As for [`read`] and [`read_range`].
pub fn read_bound<Q: Quantity>(text: &str) -> Result<Said<Bound<Q>>, ReadFault> {
    bound(text, usual(Q::KIND))
}

/// Reads a value that may be only a bound; bare numbers are taken in `unit`.
///
/// # Errors
/// As for [`read_bound`], except that a missing unit is no fault.
pub fn read_bound_in<Q: Quantity>(text: &str, unit: &Unit) -> Result<Said<Bound<Q>>, ReadFault> {
    bound(text, Some(unit))
}

/// Reads a list of plain values. The unit stands once, at the end, or behind each; `-` is no reading.
///
/// # Errors
/// A [`ReadFault`] as for [`read`], when only some items carry a unit, or when commas could part or point.
///
/// # Example
/// ```
/// use quantity::{GaugePressure, read::read_list};
/// let readings = read_list::<GaugePressure>("107 60 - 105 psi").unwrap().value;
/// assert_eq!(readings.len(), 4);
/// assert!(readings[2].is_none());
/// ```
pub fn read_list<Q: Quantity>(text: &str) -> Result<Said<Vec<Option<Q>>>, ReadFault> {
    list::plain(text, usual(Q::KIND))
}

/// Reads a list of plain values; bare numbers are taken in `unit`.
///
/// # Errors
/// As for [`read_list`], except that a missing unit is no fault.
pub fn read_list_in<Q: Quantity>(
    text: &str,
    unit: &Unit,
) -> Result<Said<Vec<Option<Q>>>, ReadFault> {
    list::plain(text, Some(unit))
}

/// Reads a list whose items may be bounds: `0.05 <0.04 0.05..0.06 mm`.
///
/// # Errors
/// As for [`read_list`].
pub fn read_bound_list<Q: Quantity>(text: &str) -> Result<Said<Vec<Option<Bound<Q>>>>, ReadFault> {
    list::bounds(text, usual(Q::KIND))
}

/// Reads a list whose items may be bounds; bare numbers are taken in `unit`.
///
/// # Errors
/// As for [`read_bound_list`], except that a missing unit is no fault.
pub fn read_bound_list_in<Q: Quantity>(
    text: &str,
    unit: &Unit,
) -> Result<Said<Vec<Option<Bound<Q>>>>, ReadFault> {
    list::bounds(text, Some(unit))
}

/// Reads one quantity whose kind is found from its unit.
///
/// A bare number, or a unit that could be of two trades (`35 lb`), is asked about and not guessed.
/// Where kinds share a symbol the first in the table is taken and a note says so.
///
/// # Errors
/// A [`ReadFault`] as for [`read`].
pub fn read_any(text: &str) -> Result<Said<Anything>, ReadFault> {
    let mut scan = Scan::new(text)?;
    let amount = Amount::of_any_kind(&mut scan)?;
    scan.finish(amount.unit.is_some())?;
    anything(text, &amount)
}

/// Reads one quantity of a kind known only at run time, as behind `--as torque`.
///
/// # Errors
/// A [`ReadFault`] as for [`read`].
pub fn read_as(kind: Kind, text: &str) -> Result<Said<Anything>, ReadFault> {
    let mut scan = Scan::new(text)?;
    let found = expression(&mut scan, kind, Dash::Range)?;
    scan.finish_for(kind, found.has_unit())?;
    let amount = found.plain(text)?;
    if amount.unit.is_none() && kind != Kind::Ratio {
        return Err(amount.unit_missing(text, kind));
    }
    anything(text, amount)
}

fn anything(text: &str, amount: &Amount) -> Result<Said<Anything>, ReadFault> {
    let unit = amount.unit.map_or(&unit::FRACTION, |found| found.unit);
    let si = amount.si(text, unit.kind, Some(unit))?;
    Ok(Said {
        value: Anything {
            kind: unit.kind,
            si,
            unit,
        },
        typed: text.to_owned(),
        notes: amount.notes(),
    })
}

/// Reads a text that is a unit and nothing else.
pub(crate) fn unit_alone(kind: Kind, text: &str) -> Result<&'static Unit, ReadFault> {
    if kind == Kind::Ratio && matches!(text.trim(), "" | "1" | "fraction" | "ratio") {
        return Ok(&unit::FRACTION);
    }
    let mut scan = Scan::new(text)?;
    match amount::unit_of(&mut scan, kind, "")? {
        Some(found) => {
            scan.finish(true)?;
            Ok(found.unit)
        }
        None => Err(scan.unknown_unit(kind)),
    }
}

/// The unit a bare number has where none is asked for: only a ratio has one.
fn usual(kind: Kind) -> Option<&'static Unit> {
    (kind == Kind::Ratio).then_some(&unit::FRACTION)
}

fn whole(text: &str, kind: Kind) -> Result<Expression, ReadFault> {
    let mut scan = Scan::new(text)?;
    let found = expression(&mut scan, kind, Dash::Range)?;
    scan.finish_for(kind, found.has_unit())?;
    Ok(found)
}

fn one<Q: Quantity>(text: &str, fallback: Option<&Unit>) -> Result<Said<Q>, ReadFault> {
    let found = whole(text, Q::KIND)?;
    let amount = found.plain(text)?;
    let si = amount.si(text, Q::KIND, fallback)?;
    said(text, typed_quantity(text, si)?, amount.notes())
}

fn two_ends<Q: Quantity>(text: &str, fallback: Option<&Unit>) -> Result<Said<Range<Q>>, ReadFault> {
    let found = whole(text, Q::KIND)?;
    match found.shape(text, Q::KIND, fallback)? {
        Shape::Between { low, high, .. } => {
            let range = Range {
                low: typed_quantity(text, low)?,
                high: typed_quantity(text, high)?,
            };
            said(text, range, found.notes())
        }
        Shape::Exactly(_) | Shape::Below(_) | Shape::Above(_) => Err(ReadFault::whole(
            text,
            "one number stands here, but a range has a low and a high end",
            "write both ends, as in `0.15..0.25 mm`",
        )),
    }
}

fn bound<Q: Quantity>(text: &str, fallback: Option<&Unit>) -> Result<Said<Bound<Q>>, ReadFault> {
    let found = whole(text, Q::KIND)?;
    let value = bound_of(text, found.shape(text, Q::KIND, fallback)?)?;
    said(text, value, found.notes())
}

pub(crate) fn bound_of<Q: Quantity>(text: &str, shape: Shape) -> Result<Bound<Q>, ReadFault> {
    Ok(match shape {
        Shape::Exactly(si) => Bound::Exactly(typed_quantity(text, si)?),
        Shape::Below(si) => Bound::Below(typed_quantity(text, si)?),
        Shape::Above(si) => Bound::Above(typed_quantity(text, si)?),
        Shape::Between { low, high, .. } => Bound::Between(Range {
            low: typed_quantity(text, low)?,
            high: typed_quantity(text, high)?,
        }),
    })
}

pub(crate) fn typed_quantity<Q: Quantity>(text: &str, si: f64) -> Result<Q, ReadFault> {
    Q::from_si(si).map_err(|_| ReadFault::too_large(text, 0..text.len()))
}

fn said<V>(text: &str, value: V, notes: Vec<String>) -> Result<Said<V>, ReadFault> {
    Ok(Said {
        value,
        typed: text.to_owned(),
        notes,
    })
}

#[cfg(test)]
mod tests;
