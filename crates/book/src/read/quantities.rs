//! Quantities of the book, and which fault a text that is none deserves.

use quantity::{
    Anything, Duration, Kind, NotThis, Quantity, Range, ReadFault, Said, Spec, Torque, read,
    read_any, read_range, spec,
};

use crate::amount::Amount;
use crate::codes;
use crate::effort::Estimate;
use crate::fact::Fact;
use crate::fault::Fault;
use crate::money::{Money, Price};
use crate::read::Reader;
use crate::read::fields::{Fields, said};
use crate::span::Span;
use crate::tree::Value;

impl Fields<'_> {
    /// A size that is more than nothing.
    pub(crate) fn quantity<Q: Quantity>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
    ) -> Fact<Q> {
        self.fact(reader, name, |reader, value| {
            let said = quantity_of::<Q>(reader, value)?;
            more_than_nothing(reader, value, said.value.si()).then_some(said)
        })
    }

    /// A quantity that may be zero or negative: an angle, a position.
    pub(crate) fn signed<Q: Quantity>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
    ) -> Fact<Q> {
        self.fact(reader, name, quantity_of::<Q>)
    }

    /// A range, or one value that stands for both ends.
    pub(crate) fn range<Q: Quantity>(
        &mut self,
        reader: &mut Reader,
        name: &'static str,
    ) -> Fact<Range<Q>> {
        self.fact(reader, name, |reader, value| {
            let said = range_of::<Q>(reader, value)?;
            not_negative(reader, value, said.value.low.si()).then_some(said)
        })
    }

    /// A likely time, a range of times, or both: `25 min, 15..60 min`.
    pub(crate) fn estimate(&mut self, reader: &mut Reader, name: &'static str) -> Fact<Estimate> {
        self.fact(reader, name, estimate_of)
    }

    /// A quantity of whatever kind its unit says.
    pub(crate) fn amount(&mut self, reader: &mut Reader, name: &'static str) -> Fact<Amount> {
        self.fact(reader, name, amount_of)
    }

    /// A price or a range of prices.
    pub(crate) fn price(&mut self, reader: &mut Reader, name: &'static str) -> Fact<Price> {
        self.fact(reader, name, |reader, value| {
            let price = Price::read(&value.text, &reader.currency);
            if price.is_none() {
                reader
                    .faults
                    .add(codes::bad_price::fault(value.span, &value.text));
            }
            price.map(|price| said(price, value))
        })
    }

    /// One amount of money.
    pub(crate) fn money(&mut self, reader: &mut Reader, name: &'static str) -> Fact<Money> {
        self.fact(reader, name, |reader, value| {
            let money = Money::read(&value.text, &reader.currency);
            if money.is_none() {
                reader
                    .faults
                    .add(codes::bad_price::fault(value.span, &value.text));
            }
            money.map(|money| said(money, value))
        })
    }
}

pub(crate) fn quantity_of<Q: Quantity>(reader: &mut Reader, value: &Value) -> Option<Said<Q>> {
    read::<Q>(&value.text)
        .map_err(|fault| reader.faults.add(explain(value, &fault, Q::KIND)))
        .ok()
}

fn range_of<Q: Quantity>(reader: &mut Reader, value: &Value) -> Option<Said<Range<Q>>> {
    if let Ok(said) = read::<Q>(&value.text) {
        return Some(Said {
            value: Range {
                low: said.value,
                high: said.value,
            },
            typed: said.typed,
            notes: said.notes,
        });
    }
    read_range::<Q>(&value.text)
        .map_err(|fault| reader.faults.add(explain(value, &fault, Q::KIND)))
        .ok()
}

/// Reads one stage of a tightening.
pub(crate) fn stage_of(reader: &mut Reader, value: &Value) -> Option<Said<Spec>> {
    spec::read(&value.text)
        .map_err(|fault| reader.faults.add(explain(value, &fault, Torque::KIND)))
        .ok()
}

fn estimate_of(reader: &mut Reader, value: &Value) -> Option<Said<Estimate>> {
    let (likely, range) = match value.text.split_once(',') {
        Some((likely, range)) if read::<Duration>(likely).is_ok() => (Some(likely), Some(range)),
        _ if read::<Duration>(&value.text).is_ok() => (Some(value.text.as_str()), None),
        _ => (None, Some(value.text.as_str())),
    };
    let range = match range.map(read_range::<Duration>).transpose() {
        Ok(range) => range.map(|range| range.value),
        Err(fault) => {
            reader.faults.add(explain(value, &fault, Duration::KIND));
            return None;
        }
    };
    let likely = match (likely.map(read::<Duration>), range) {
        (Some(Ok(likely)), _) => likely.value,
        (_, Some(range)) => {
            Duration::seconds(f64::midpoint(range.low.si(), range.high.si())).ok()?
        }
        (_, None) => return None,
    };
    let fits = range.is_none_or(|range| (range.low..=range.high).contains(&likely));
    if !fits {
        reader.faults.add(codes::unreadable_quantity::fault(
            value.span,
            "the likely time lies outside its own range",
            "write the likely time first and a range around it: `25 min, 15..60 min`",
        ));
        return None;
    }
    let lowest = range.map_or(likely, |range| range.low);
    not_negative(reader, value, lowest.si()).then(|| said(Estimate { likely, range }, value))
}

pub(crate) fn amount_of(reader: &mut Reader, value: &Value) -> Option<Said<Amount>> {
    let read = match read_any(&value.text) {
        Ok(read) => read,
        Err(fault) => {
            let fault = match is_bare(&value.text) {
                true => codes::missing_unit::fault(
                    value.span,
                    &value.text,
                    "length, pressure or whatever it measures",
                    &format!("{} mm", value.text.trim()),
                ),
                false => place(value, &fault),
            };
            reader.faults.add(fault);
            return None;
        }
    };
    match amount(&read.value) {
        Some(Ok(amount)) => Some(Said {
            value: amount,
            typed: read.typed,
            notes: read.notes,
        }),
        Some(Err(_)) | None => {
            reader.faults.add(codes::wrong_kind::fault(
                value.span,
                &value.text,
                "something measured on an engine",
                &read.value.kind.with_article(),
                "0.05 mm",
            ));
            None
        }
    }
}

fn amount(anything: &Anything) -> Option<Result<Amount, NotThis>> {
    Some(match anything.kind {
        Kind::Length => anything.typed().map(Amount::Length),
        Kind::Angle => anything.typed().map(Amount::Angle),
        Kind::Torque => anything.typed().map(Amount::Torque),
        Kind::GaugePressure => anything.typed().map(Amount::Pressure),
        Kind::Ratio => anything.typed().map(Amount::Ratio),
        Kind::Voltage => anything.typed().map(Amount::Voltage),
        Kind::Current => anything.typed().map(Amount::Current),
        Kind::Resistance => anything.typed().map(Amount::Resistance),
        Kind::Temperature => anything.typed().map(Amount::Temperature),
        Kind::Volume => anything.typed().map(Amount::Volume),
        Kind::Flow => anything.typed().map(Amount::Flow),
        Kind::Mass => anything.typed().map(Amount::Mass),
        Kind::Force => anything.typed().map(Amount::Force),
        Kind::Duration => anything.typed().map(Amount::Duration),
        Kind::RotationalSpeed => anything.typed().map(Amount::Speed),
        Kind::Area
        | Kind::Energy
        | Kind::AbsolutePressure
        | Kind::Stress
        | Kind::TemperatureDifference
        | Kind::Speed
        | Kind::Density
        | Kind::Stiffness => return None,
    })
}

/// Reads a range whose kind its unit says: `0.04..1.00 mm`.
pub(crate) fn amount_range(reader: &mut Reader, value: &Value) -> Option<Said<Range<Amount>>> {
    let high_end = value
        .text
        .rsplit_once("..")
        .map_or(value.text.as_str(), |(_, high)| high);
    let kind = read_any(high_end).map(|high| high.value.kind);
    let ends = kind.ok().and_then(|kind| ends_of_kind(&value.text, kind));
    if ends.is_none() {
        reader.faults.add(codes::unreadable_quantity::fault(
            value.span,
            "this is no range of a scale",
            "write both ends and the unit, as in `0.04..1.00 mm`",
        ));
    }
    ends.map(|ends| said(ends, value))
}

fn ends_of_kind(text: &str, kind: Kind) -> Option<Range<Amount>> {
    fn ends<Q: Quantity>(text: &str, make: fn(Q) -> Amount) -> Option<Range<Amount>> {
        let range = read_range::<Q>(text).ok()?.value;
        Some(Range {
            low: make(range.low),
            high: make(range.high),
        })
    }
    match kind {
        Kind::Length => ends(text, Amount::Length),
        Kind::Angle => ends(text, Amount::Angle),
        Kind::Torque => ends(text, Amount::Torque),
        Kind::GaugePressure => ends(text, Amount::Pressure),
        Kind::Ratio => ends(text, Amount::Ratio),
        Kind::Voltage => ends(text, Amount::Voltage),
        Kind::Current => ends(text, Amount::Current),
        Kind::Resistance => ends(text, Amount::Resistance),
        Kind::Temperature => ends(text, Amount::Temperature),
        Kind::Volume => ends(text, Amount::Volume),
        Kind::Flow => ends(text, Amount::Flow),
        Kind::Mass => ends(text, Amount::Mass),
        Kind::Force => ends(text, Amount::Force),
        Kind::Duration => ends(text, Amount::Duration),
        Kind::RotationalSpeed => ends(text, Amount::Speed),
        _ => None,
    }
}

fn more_than_nothing(reader: &mut Reader, value: &Value, si: f64) -> bool {
    let fits = si > 0.0;
    if !fits {
        reader.faults.add(codes::unreadable_quantity::fault(
            value.span,
            &format!("`{}` is not more than nothing", value.text),
            "check the sign and the digits, or write `\"?\"` while nobody knows it",
        ));
    }
    fits
}

fn not_negative(reader: &mut Reader, value: &Value, si: f64) -> bool {
    let fits = si >= 0.0;
    if !fits {
        reader.faults.add(codes::unreadable_quantity::fault(
            value.span,
            &format!("`{}` is less than nothing", value.text),
            "check the sign and the digits",
        ));
    }
    fits
}

/// Which fault a text deserves that is no quantity of this kind.
fn explain(value: &Value, fault: &ReadFault, wanted: Kind) -> Fault {
    if is_bare(&value.text) {
        let example = format!("{} {}", value.text.trim(), usual_unit(wanted));
        return codes::missing_unit::fault(value.span, &value.text, wanted.name(), &example);
    }
    match read_any(&value.text) {
        Ok(other) if wanted == Kind::Torque && other.value.kind == Kind::Energy => {
            codes::torque_as_energy::fault(value.span, &value.text)
        }
        Ok(other) if other.value.kind != wanted => codes::wrong_kind::fault(
            value.span,
            &value.text,
            &wanted.with_article(),
            &other.value.kind.with_article(),
            &format!("12 {}", usual_unit(wanted)),
        ),
        _ => place(value, fault),
    }
}

/// A fault of the quantity reader, put where it stands in the file.
fn place(value: &Value, fault: &ReadFault) -> Fault {
    let plain = value.span.end - value.span.start == value.text.len() + 2;
    let whole = fault.at.is_empty() || fault.text != value.text || !plain;
    let span = if whole {
        value.span
    } else {
        let start = value.span.start + 1;
        Span::new(start + fault.at.start, start + fault.at.end)
    };
    codes::unreadable_quantity::fault(span, &fault.reason, &fault.hint)
}

fn is_bare(text: &str) -> bool {
    let plain = text.trim().trim_start_matches(['+', '-']);
    plain.starts_with(|c: char| c.is_ascii_digit()) && plain.parse::<f64>().is_ok()
}

const fn usual_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "mm",
        Kind::Volume => "L",
        Kind::Torque => "N·m",
        Kind::GaugePressure => "bar",
        Kind::Angle => "°",
        Kind::Duration => "min",
        Kind::Ratio => "%",
        Kind::Temperature => "°C",
        other => other.si_symbol(),
    }
}
