//! Which units a hint offers.

use crate::kind::Kind;
use crate::unit::{self, Unit};

/// The units a hint offers first: the ones of the shop, or else the first of the table.
pub(super) fn usual(kind: Kind) -> Vec<&'static Unit> {
    const TORQUE: &[&Unit] = &[
        &unit::NEWTON_METRE,
        &unit::POUND_FORCE_FOOT,
        &unit::POUND_FORCE_INCH,
        &unit::KILOGRAM_FORCE_METRE,
    ];
    const LENGTH: &[&Unit] = &[&unit::MILLIMETRE, &unit::INCH_UNIT, &unit::MICROMETRE];
    const VOLUME: &[&Unit] = &[&unit::LITRE, &unit::CUBIC_CENTIMETRE, &unit::US_QUART];
    const PRESSURE: &[&Unit] = &[&unit::KILOPASCAL, &unit::BAR, &unit::POUND_PER_SQUARE_INCH];
    const ABSOLUTE: &[&Unit] = &[
        &unit::KILOPASCAL_ABSOLUTE,
        &unit::BAR_ABSOLUTE,
        &unit::POUND_PER_SQUARE_INCH_ABSOLUTE,
    ];
    const ANGLE: &[&Unit] = &[&unit::DEGREE, &unit::TURN];
    const TEMPERATURE: &[&Unit] = &[&unit::DEGREE_CELSIUS, &unit::DEGREE_FAHRENHEIT];
    match kind {
        Kind::Torque => TORQUE.to_vec(),
        Kind::Length => LENGTH.to_vec(),
        Kind::Volume => VOLUME.to_vec(),
        Kind::GaugePressure => PRESSURE.to_vec(),
        Kind::AbsolutePressure => ABSOLUTE.to_vec(),
        Kind::Angle => ANGLE.to_vec(),
        Kind::Temperature => TEMPERATURE.to_vec(),
        other => unit::of_kind(other)
            .filter(|unit| !unit.symbol.is_empty())
            .take(4)
            .collect(),
    }
}

/// The units a hint may offer for a kind.
pub(super) fn offer(kind: Kind) -> String {
    format!("units of {}: {}", kind.name(), symbols(kind))
}

/// The symbols of a kind in one line, for hints.
pub(super) fn symbols(kind: Kind) -> String {
    let symbols: Vec<&str> = unit::of_kind(kind)
        .map(|unit| unit.symbol)
        .filter(|symbol| !symbol.is_empty())
        .collect();
    symbols.join(", ")
}
