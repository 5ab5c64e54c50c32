//! One figure in another unit: what it is, what it is not, and every other way to write it.

use quantity::read::ReadFault;
use quantity::{
    Anything, Bound, GaugePressure, Kind, Length, Quantity, Range, Said, Torque, Unit, Volume,
    read, show, unit,
};
use report::{Align, Cell, Figure, Finding, Report, Source, SourceKind, Table, Weight};

use crate::option;

const COMMAND: &str = "convert";
const TITLE: &str = "One figure, other units";

/// Reads `figure` and writes it in `unit`, or in every unit of its kind.
///
/// `kind` says what the figure must be; without it the unit decides, and a unit that could
/// mean two things is asked about.
#[must_use]
pub fn convert(figure: &str, unit: Option<&str>, kind: Option<&str>) -> Report {
    let kind = match kind.map(|word| (word, Kind::parse(word))) {
        None => None,
        Some((_, Some(kind))) => Some(kind),
        Some((word, None)) => return unknown_kind(word),
    };
    let ends = match ends(figure, kind) {
        Ok(ends) => ends,
        Err(fault) if is_spec(figure) => return spec_instead(figure, &fault),
        Err(fault) => return refused(figure, &fault),
    };
    let kind = ends.low.kind;
    match unit.map(|text| unit::find(kind, text)) {
        None => answer(figure, &ends, None),
        Some(Ok(unit)) => answer(figure, &ends, Some(unit)),
        Some(Err(fault)) => refused("--in", &fault),
    }
}

/// A figure read: one value, the two ends of a range, or a bound.
struct Ends {
    /// The value, or the low end.
    low: Anything,
    high: Option<High>,
    /// `<` or `>` where the figure is only a bound.
    sign: Option<Sign>,
    notes: Vec<String>,
}

/// Which side of a bound the true figure lies on.
#[derive(Clone, Copy)]
enum Sign {
    Below,
    Above,
}

impl Sign {
    const fn written(self) -> &'static str {
        match self {
            Self::Below => "< ",
            Self::Above => "> ",
        }
    }
}

/// The high end of a range, and how a range of its kind is written.
struct High {
    si: f64,
    write: fn(f64, f64, &Unit) -> Option<String>,
}

impl Ends {
    /// In a unit; a range is rounded inward, so that what is shown never leaves the true one.
    fn shown(&self, unit: &'static Unit) -> String {
        let range = self
            .high
            .as_ref()
            .and_then(|high| (high.write)(self.low.si, high.si, unit));
        let sign = self.sign.map_or("", Sign::written);
        range.unwrap_or_else(|| format!("{sign}{}", show::show_si(self.low.si, unit)))
    }
}

fn ends(text: &str, kind: Option<Kind>) -> Result<Ends, ReadFault> {
    let single = match kind {
        Some(kind) => read::read_as(kind, text),
        None => read::read_any(text),
    };
    match single {
        Ok(said) => Ok(Ends {
            low: said.value,
            high: None,
            sign: None,
            notes: said.notes,
        }),
        // The fault of the single reading is the clearer one when neither reading works.
        Err(fault) => range(text, kind).or_else(|| bound(text, kind)).ok_or(fault),
    }
}

fn range(text: &str, kind: Option<Kind>) -> Option<Ends> {
    fn written<Q: Quantity>(low: f64, high: f64, unit: &Unit) -> Option<String> {
        let (low, high) = (Q::from_si(low).ok()?, Q::from_si(high).ok()?);
        Some(show::show_range(Range { low, high }, unit))
    }
    fn of<Q: Quantity>(text: &str, kind: Option<Kind>) -> Option<Ends> {
        if kind.is_some_and(|kind| kind != Q::KIND) {
            return None;
        }
        let Said {
            value: Range { low, high },
            notes,
            ..
        } = read::read_range::<Q>(text).ok()?;
        let unit = unit_in(text, Q::KIND)?;
        let low = Anything {
            kind: Q::KIND,
            si: low.si(),
            unit,
        };
        let high = High {
            si: high.si(),
            write: written::<Q>,
        };
        Some(Ends {
            low,
            high: Some(high),
            sign: None,
            notes,
        })
    }
    of::<Torque>(text, kind)
        .or_else(|| of::<Length>(text, kind))
        .or_else(|| of::<GaugePressure>(text, kind))
        .or_else(|| of::<Volume>(text, kind))
}

/// A figure that is only known to lie on one side: `< 0.04 mm`.
fn bound(text: &str, kind: Option<Kind>) -> Option<Ends> {
    fn of<Q: Quantity>(text: &str, kind: Option<Kind>) -> Option<Ends> {
        if kind.is_some_and(|kind| kind != Q::KIND) {
            return None;
        }
        let Said { value, notes, .. } = read::read_bound::<Q>(text).ok()?;
        let (sign, edge) = match value {
            Bound::Below(edge) => (Sign::Below, edge),
            Bound::Above(edge) => (Sign::Above, edge),
            Bound::Exactly(_) | Bound::Between(..) => return None,
        };
        let low = Anything {
            kind: Q::KIND,
            si: edge.si(),
            unit: unit_in(text, Q::KIND)?,
        };
        Some(Ends {
            low,
            high: None,
            sign: Some(sign),
            notes,
        })
    }
    of::<Length>(text, kind)
        .or_else(|| of::<Torque>(text, kind))
        .or_else(|| of::<GaugePressure>(text, kind))
        .or_else(|| of::<Volume>(text, kind))
}

/// The last unit of a kind in a range, for writing it back the way it came: behind the last
/// number, or before a tolerance in percent.
fn unit_in(text: &str, kind: Kind) -> Option<&'static Unit> {
    let between = |sign: char| sign.is_ascii_digit() || matches!(sign, '±' | '%');
    text.rsplit(between).find_map(|piece| {
        let spelled = piece.trim_end_matches(|sign: char| {
            sign.is_whitespace() || matches!(sign, '+' | '-' | '–' | '/' | '.')
        });
        unit::find(kind, spelled.trim()).ok()
    })
}

/// Without a unit asked for, every unit of the kind is listed.
fn answer(figure: &str, ends: &Ends, asked: Option<&'static Unit>) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    let mut value = Figure::number(
        "value",
        ends.low.kind.name(),
        ends.low.si,
        ends.shown(asked.unwrap_or(ends.low.unit)),
    );
    value.unit = ends.low.kind.si_symbol();
    if let Some(high) = &ends.high {
        value.low = Some(ends.low.si);
        value.high = Some(high.si);
    }
    match ends.sign {
        Some(Sign::Below) => value.high = Some(ends.low.si),
        Some(Sign::Above) => value.low = Some(ends.low.si),
        None => {}
    }
    report.headline = Some(format!("{} = {}", figure.trim(), value.shown));
    report.figures.push(value);
    report.findings.extend(
        ends.notes
            .iter()
            .map(|note| Finding::new("reading", "", note.clone()).weight(Weight::Note)),
    );
    if asked.is_none() {
        let mut table = Table::new(&[
            ("unit", "unit", Align::Left),
            ("shown", "the same figure", Align::Left),
        ]);
        for unit in unit::of_kind(ends.low.kind).filter(|unit| !unit.symbol.is_empty()) {
            table.push(vec![Cell::from(unit.symbol), Cell::from(ends.shown(unit))]);
        }
        report.rows = table;
    }
    report.cite(Source::new(
        SourceKind::Published,
        "yard and pound agreement, 1959; 3rd CGPM, 1901; NIST SP 811 (2008), B.8",
    ));
    report
}

fn refused(name: &str, fault: &ReadFault) -> Report {
    let mut report = Report::refusal(COMMAND, TITLE, option::finding(name, fault));
    report.headline = Some("Not understood, nothing was converted.".to_owned());
    report
}

/// Whether the text is a way of tightening, in stages or in units that are printed together.
fn is_spec(text: &str) -> bool {
    quantity::spec::read(text).is_ok()
}

/// A way of tightening is no figure: its stages are not a sum.
fn spec_instead(figure: &str, fault: &ReadFault) -> Report {
    let finding = Finding::new(
        "a-spec",
        figure,
        "this says how to tighten, in more than one figure; only one can be converted",
    )
    .next(format!(
        "matchmark torque \"{figure}\" reads it stage by stage"
    ));
    Report {
        findings: vec![finding],
        ..refused(figure, fault)
    }
}

fn unknown_kind(word: &str) -> Report {
    let finding = Finding::new("unknown-kind", "--as", format!("“{word}” is no kind of figure"))
        .next("write one of: length, area, volume, mass, force, torque, energy, gauge pressure, absolute pressure, stress, temperature, angle, ratio, …");
    Report::refusal(COMMAND, TITLE, finding)
}
