//! Writes quantities: true signs, the unit attached, and no more digits than are worth reading.
//!
//! Everything written here can be read back by [`mod@crate::read`]. Rounding is to the nearest,
//! except in ranges, which are rounded inward so that what is shown never leaves what is meant.

use crate::kind::{Kind, Quantity};
use crate::said::{Bound, Range};
use crate::unit::{self, Unit};

/// Digits that carry meaning in a shown value.
const SIGNIFICANT: i32 = 4;

/// Decimal places beyond which nothing is ever written.
const MOST_DECIMALS: i32 = 12;

/// Writes a quantity in `unit` with up to four significant digits and no trailing zeros.
///
/// Whole numbers keep all their digits. Where `unit` is of another kind the SI unit is written instead.
///
/// ```
/// use quantity::{Torque, show, unit};
/// let torque = Torque::pound_force_feet(13.0).unwrap();
/// assert_eq!(show::show(torque, &unit::NEWTON_METRE), "17.63 N·m");
/// ```
#[must_use]
pub fn show<Q: Quantity>(value: Q, unit: &Unit) -> String {
    let unit = of_kind(Q::KIND, unit);
    show_si(value.si(), &unit)
}

/// Writes an SI value in `unit`, as [`show`] does.
#[must_use]
pub fn show_si(si: f64, unit: &Unit) -> String {
    with_unit(&digits(unit.of_si(si), unit), unit)
}

/// Writes a quantity in `unit` with exactly so many decimals.
#[must_use]
pub fn show_fixed<Q: Quantity>(value: Q, unit: &Unit, decimals: usize) -> String {
    let unit = of_kind(Q::KIND, unit);
    with_unit(
        &signed(format!("{:.decimals$}", unit.of_si(value.si()))),
        &unit,
    )
}

/// Writes a range: exactly where its ends have few decimals in `unit`, else rounded inward.
///
/// ```
/// use quantity::{Torque, read::read_range, show, unit};
/// let range = read_range::<Torque>("18-22 ft-lb").unwrap().value;
/// assert_eq!(show::show_range(range, &unit::POUND_FORCE_FOOT), "18–22 lbf·ft");
/// assert_eq!(show::show_range(range, &unit::NEWTON_METRE), "25–29 N·m");
/// ```
#[must_use]
pub fn show_range<Q: Quantity>(range: Range<Q>, unit: &Unit) -> String {
    let unit = of_kind(Q::KIND, unit);
    let (low, high) = (unit.of_si(range.low.si()), unit.of_si(range.high.si()));
    let decimals = decimals_for(low, high);
    ends(low, high, decimals, &unit)
}

/// Writes a range with so many decimals, the low end rounded up and the high end down.
///
/// Where rounding inward would leave nothing, one more decimal is used until something is left.
#[must_use]
pub fn show_range_fixed<Q: Quantity>(range: Range<Q>, unit: &Unit, decimals: usize) -> String {
    let unit = of_kind(Q::KIND, unit);
    let decimals = i32::try_from(decimals)
        .unwrap_or(MOST_DECIMALS)
        .min(MOST_DECIMALS);
    ends(
        unit.of_si(range.low.si()),
        unit.of_si(range.high.si()),
        decimals,
        &unit,
    )
}

/// Writes a value that may be only a bound: `0.05 mm`, `< 0.04 mm`, `0.05–0.06 mm`.
#[must_use]
pub fn show_bound<Q: Quantity>(bound: Bound<Q>, unit: &Unit) -> String {
    match bound {
        Bound::Exactly(value) => show(value, unit),
        Bound::Below(value) => format!("< {}", show(value, unit)),
        Bound::Above(value) => format!("> {}", show(value, unit)),
        Bound::Between(range) => show_range(range, unit),
    }
}

/// `unit`, or the SI unit of the kind where `unit` measures something else.
fn of_kind(kind: Kind, unit: &Unit) -> Unit {
    debug_assert_eq!(
        kind, unit.kind,
        "a quantity is shown in a unit of its own kind"
    );
    if unit.kind == kind {
        return *unit;
    }
    unit::of_kind(kind)
        .find(|own| own.factor == 1.0 && own.offset == 0.0)
        .copied()
        .unwrap_or(*unit)
}

/// The digits of a value: four that count, more only where they stand before the point.
fn digits(value: f64, unit: &Unit) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let most = if unit.offset == 0.0 {
        MOST_DECIMALS
    } else {
        SIGNIFICANT
    };
    let size = magnitude(value);
    if size >= 15 || (size < SIGNIFICANT - MOST_DECIMALS && unit.offset == 0.0) {
        return signed(format!("{value:.3e}"));
    }
    let decimals = (SIGNIFICANT - 1 - size).clamp(0, most);
    trimmed(&format!(
        "{value:.*}",
        usize::try_from(decimals).unwrap_or(0)
    ))
}

/// The power of ten a value reaches: 0 for 1 to 9.99, −2 for 0.05.
fn magnitude(value: f64) -> i32 {
    let mut size = 0;
    let mut left = value.abs();
    while left >= 10.0 {
        left /= 10.0;
        size += 1;
    }
    while left > 0.0 && left < 1.0 {
        left *= 10.0;
        size -= 1;
    }
    size
}

fn trimmed(number: &str) -> String {
    let short = if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    };
    signed(short.to_owned())
}

/// Writes the true minus sign, and no minus before a zero.
fn signed(number: String) -> String {
    match number.strip_prefix('-') {
        Some(size) if size.contains(|sign: char| matches!(sign, '1'..='9')) => format!("−{size}"),
        Some(size) => size.to_owned(),
        None => number,
    }
}

/// Attaches the unit: `90°` without a space, `50 %` and `20 °C` with one.
fn with_unit(number: &str, unit: &Unit) -> String {
    match unit.symbol {
        "" => number.to_owned(),
        symbol @ ("°" | "′") => format!("{number}{symbol}"),
        symbol => format!("{number} {symbol}"),
    }
}

/// The fewest decimals that show both ends exactly, else enough to lose at most half the range.
fn decimals_for(low: f64, high: f64) -> i32 {
    let size = magnitude(high.abs().max(low.abs()));
    let most = (SIGNIFICANT - 1 - size).clamp(0, MOST_DECIMALS);
    let exact = (0..=most).find(|&decimals| {
        [low, high]
            .iter()
            .all(|&end| is_whole(end * power_of_ten(decimals)))
    });
    exact.unwrap_or_else(|| {
        let span = high - low;
        if span > 0.0 {
            (-magnitude(span / 4.0)).clamp(0, MOST_DECIMALS)
        } else {
            most
        }
    })
}

fn ends(low: f64, high: f64, decimals: i32, unit: &Unit) -> String {
    if low == high {
        return with_unit(&digits(low, unit), unit);
    }
    let mut decimals = decimals;
    loop {
        let scale = power_of_ten(decimals);
        let (first, last) = (
            inward(low * scale, f64::ceil),
            inward(high * scale, f64::floor),
        );
        if first <= last || decimals >= MOST_DECIMALS {
            let places = usize::try_from(decimals).unwrap_or(0);
            let low = trimmed(&format!("{:.places$}", first / scale));
            let high = trimmed(&format!("{:.places$}", last.max(first) / scale));
            // A dash beside a minus sign cannot be read at arm's length.
            let dash = if low.starts_with('−') || high.starts_with('−') {
                " to "
            } else {
                "–"
            };
            return with_unit(&format!("{low}{dash}{high}"), unit);
        }
        decimals += 1;
    }
}

/// Rounds with `round`, unless the value is already whole but for float noise.
fn inward(scaled: f64, round: fn(f64) -> f64) -> f64 {
    if is_whole(scaled) {
        scaled.round()
    } else {
        round(scaled)
    }
}

fn is_whole(scaled: f64) -> bool {
    (scaled - scaled.round()).abs() <= 1e-9 * scaled.abs().max(1.0)
}

fn power_of_ten(exponent: i32) -> f64 {
    libm::pow(10.0, f64::from(exponent))
}

#[cfg(test)]
mod tests;
