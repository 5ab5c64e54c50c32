//! One value, one range, one tolerance or one bound: what stands between two separators.

use std::ops::Range;

use super::amount::{Amount, Found, number_missing};
use super::fault::ReadFault;
use super::number::Comma;
use super::scan::Scan;
use super::tolerance::{Tolerance, tolerance};
use crate::kind::Kind;
use crate::unit::Unit;

/// When a dash between two numbers makes a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dash {
    /// Always: `18 - 22` stands alone.
    Range,
    /// Only without spaces: in a list ` - ` is a missing reading.
    Tight,
}

/// Which side of a bound the truth lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Below,
    Above,
}

#[derive(Clone, Debug)]
enum Tail {
    Alone,
    To(Amount),
    Tolerance { up: Tolerance, down: Tolerance },
}

impl Tail {
    /// Whether it is a tolerance in percent on every side, which needs no unit of its own.
    fn is_share(&self) -> bool {
        matches!(
            self,
            Self::Tolerance {
                up: Tolerance::Percent(_),
                down: Tolerance::Percent(_),
            }
        )
    }
}

/// What was written, with the units still as they were written.
#[derive(Clone, Debug)]
pub(crate) struct Expression {
    side: Option<Side>,
    pub(crate) first: Amount,
    tail: Tail,
    /// Every byte of it.
    pub(crate) at: Range<usize>,
}

/// What it means, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Shape {
    Exactly(f64),
    Below(f64),
    Above(f64),
    /// `nominal` is the value a tolerance was written around.
    Between {
        nominal: Option<f64>,
        low: f64,
        high: f64,
    },
}

/// Reads one expression of `kind`.
///
/// # Errors
/// A fault when no number starts here or the parts do not belong together.
pub(crate) fn expression(
    scan: &mut Scan<'_>,
    kind: Kind,
    dash: Dash,
) -> Result<Expression, ReadFault> {
    expression_with(scan, kind, dash, Comma::Decimal)
}

pub(super) fn expression_with(
    scan: &mut Scan<'_>,
    kind: Kind,
    dash: Dash,
    comma: Comma,
) -> Result<Expression, ReadFault> {
    scan.skip_space();
    let start = scan.at();
    let mut side = side_before(scan);
    scan.skip_space();
    let mut first = match Amount::read(scan, kind, comma)? {
        Some(amount) => amount,
        None => return Err(number_missing(scan)),
    };
    let tail = tail(scan, kind, dash, comma)?;
    if first.unit.is_none() && tail.is_share() {
        // `57 ± 10 % N·m`: the unit stands behind the share, and is that of the value.
        first = Amount::with_unit(scan, kind, first.number)?;
    }
    let mut at = start..scan.at();
    // In a list `0.14 0.17 mm max` could bound the last reading or all of them.
    let behind = if dash == Dash::Range {
        side_behind(scan)
    } else {
        None
    };
    if behind.is_some() {
        at.end = scan.at();
    }
    if side.is_some() && behind.is_some()
        || (side.or(behind).is_some() && !matches!(tail, Tail::Alone))
    {
        return Err(ReadFault::new(
            scan.text(),
            at,
            "a bound and a range stand here at once",
            "write `< 0.05 mm`, or `0.04..0.05 mm`",
        ));
    }
    side = side.or(behind);
    Ok(Expression {
        side,
        first,
        tail,
        at,
    })
}

impl Expression {
    pub(crate) fn has_unit(&self) -> bool {
        self.amounts().any(|amount| amount.unit.is_some())
    }

    /// The last unit written, which earlier bare numbers of the same expression share.
    pub(crate) fn unit(&self) -> Option<&'static Unit> {
        self.amounts()
            .filter_map(|amount| amount.unit)
            .last()
            .map(|found| found.unit)
    }

    /// Gives the last number a unit that was written further on.
    pub(super) fn give_unit(&mut self, found: Found) {
        let last = match &mut self.tail {
            Tail::To(second) => second,
            Tail::Alone | Tail::Tolerance { .. } => &mut self.first,
        };
        last.unit = Some(found);
    }

    fn amounts(&self) -> impl Iterator<Item = &Amount> {
        let others: Vec<&Amount> = match &self.tail {
            Tail::Alone => Vec::new(),
            Tail::To(amount) => vec![amount],
            Tail::Tolerance { up, down } => [up, down]
                .into_iter()
                .filter_map(|tolerance| match tolerance {
                    Tolerance::Amount(amount) => Some(amount),
                    Tolerance::Percent(_) => None,
                })
                .collect(),
        };
        std::iter::once(&self.first).chain(others)
    }

    pub(crate) fn notes(&self) -> Vec<String> {
        let mut notes: Vec<String> = Vec::new();
        for note in self.amounts().flat_map(Amount::notes) {
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
        notes
    }

    /// The amount, where exactly one plain value stands.
    pub(crate) fn plain(&self, text: &str) -> Result<&Amount, ReadFault> {
        let (what, hint) = match (self.side, &self.tail) {
            (None, Tail::Alone) => return Ok(&self.first),
            (Some(_), _) => ("a bound", "write the value itself"),
            (None, Tail::To(_)) => (
                "a range",
                "write one value; a mixed number is written without spaces, as in `2-7/16`",
            ),
            (None, Tail::Tolerance { .. }) => {
                ("a tolerance", "write one value without its tolerance")
            }
        };
        Err(ReadFault::new(
            text,
            self.at.clone(),
            format!("{what} stands here, and one value is asked for"),
            hint,
        ))
    }

    /// What it means in SI. Bare numbers are taken in `fallback`.
    pub(crate) fn shape(
        &self,
        text: &str,
        kind: Kind,
        fallback: Option<&Unit>,
    ) -> Result<Shape, ReadFault> {
        let shared = self.unit();
        match &self.tail {
            Tail::Alone => {
                let si = self.first.si(text, kind, fallback)?;
                Ok(match self.side {
                    None => Shape::Exactly(si),
                    Some(Side::Below) => Shape::Below(si),
                    Some(Side::Above) => Shape::Above(si),
                })
            }
            Tail::To(second) => {
                if self.first.unit.is_some() {
                    self.unit_behind(text, second)?;
                }
                let low = self.first.si(text, kind, shared.or(fallback))?;
                let high = second.si(text, kind, fallback)?;
                self.in_order(text, None, low, high)
            }
            Tail::Tolerance { up, down } => {
                let unit = match shared.or(fallback) {
                    Some(unit) => unit,
                    None => return Err(self.first.unit_missing(text, kind)),
                };
                let middle = self.first.number.value;
                let above = middle + self.reach(text, up, unit)?;
                let below = middle - self.reach(text, down, unit)?;
                let nominal = self.first.si_at(text, unit, middle)?;
                self.in_order(
                    text,
                    Some(nominal),
                    self.first.si_at(text, unit, below)?,
                    self.first.si_at(text, unit, above)?,
                )
            }
        }
    }

    /// How far a tolerance reaches, in `unit`.
    fn reach(&self, text: &str, tolerance: &Tolerance, unit: &Unit) -> Result<f64, ReadFault> {
        match tolerance {
            Tolerance::Percent(percent) => Ok((self.first.number.value * percent / 100.0).abs()),
            Tolerance::Amount(amount) => {
                if self.first.unit.is_some() {
                    self.unit_behind(text, amount)?;
                }
                let own = amount.unit.map_or(unit, |found| found.unit);
                // A tolerance is a difference: only the size of the unit counts, not where its zero lies.
                Ok(amount.number.value * own.factor / unit.factor)
            }
        }
    }

    /// The unit of the second number is never taken over from the first.
    fn unit_behind(&self, text: &str, second: &Amount) -> Result<(), ReadFault> {
        if second.unit.is_some() {
            return Ok(());
        }
        Err(ReadFault::new(
            text,
            second.number.at.end..second.number.at.end,
            "the first number has a unit and the second has none",
            "write the unit behind the last number, or behind both",
        ))
    }

    fn in_order(
        &self,
        text: &str,
        nominal: Option<f64>,
        low: f64,
        high: f64,
    ) -> Result<Shape, ReadFault> {
        if low <= high {
            return Ok(Shape::Between { nominal, low, high });
        }
        Err(ReadFault::new(
            text,
            self.at.clone(),
            "the high end lies below the low end",
            match self.unit().map(|unit| unit.kind) {
                Some(Kind::Angle) => {
                    "write the low end first, as in `85-95°`; turning back is written `loosen 45°`"
                }
                Some(Kind::Length) => {
                    "write the low end first, as in `0.15..0.25 mm`; a mixed number is written `2-7/16`"
                }
                _ => "write the low end first, as in `18-22 N·m`",
            },
        ))
    }
}

fn tail(scan: &mut Scan<'_>, kind: Kind, dash: Dash, comma: Comma) -> Result<Tail, ReadFault> {
    if let Some((up, down)) = tolerance(scan, kind)? {
        return Ok(Tail::Tolerance { up, down });
    }
    if !take_range(scan, dash) {
        return Ok(Tail::Alone);
    }
    scan.skip_space();
    match Amount::read(scan, kind, comma)? {
        Some(second) => Ok(Tail::To(second)),
        None => {
            let at = scan.at()..scan.at();
            Err(ReadFault::new(
                scan.text(),
                at,
                "the high end of the range is missing",
                "write both ends, as in `18-22 N·m`",
            ))
        }
    }
}

fn take_range(scan: &mut Scan<'_>, dash: Dash) -> bool {
    let mut ahead = scan.clone();
    let spaced = ahead.skip_space();
    let is_dash = ahead.rest().starts_with(DASHES);
    if !take_range_sign(&mut ahead) {
        return false;
    }
    // In a list a dash with a space on either side is a reading nobody took.
    let apart = spaced || ahead.peek().is_none_or(char::is_whitespace);
    if dash == Dash::Tight && is_dash && apart {
        return false;
    }
    *scan = ahead;
    true
}

const DASHES: [char; 6] = ['-', '–', '—', '−', '‐', '‑'];

/// Takes a sign or word that stands between the ends of a range.
pub(super) fn take_range_sign(scan: &mut Scan<'_>) -> bool {
    if scan.take_any(&["...", "..", "…", "~", "〜", "∼"]) || scan.take_word(&["to"]) {
        return true;
    }
    // The arrow of `20 -> 40 N·m` parts stages.
    !scan.rest().starts_with("->") && DASHES.into_iter().any(|dash| scan.take(dash))
}

fn side_before(scan: &mut Scan<'_>) -> Option<Side> {
    if scan.take_any(&["<=", "<", "≤", "⩽"]) {
        return Some(Side::Below);
    }
    if scan.take_any(&[">=", ">", "≥", "⩾"]) {
        return Some(Side::Above);
    }
    side_word(scan)
}

fn side_behind(scan: &mut Scan<'_>) -> Option<Side> {
    let before = scan.at();
    scan.skip_space();
    let side = side_word(scan);
    if side.is_none() {
        scan.go_to(before);
    }
    side
}

fn side_word(scan: &mut Scan<'_>) -> Option<Side> {
    const BELOW: &[&str] = &[
        "max",
        "maximum",
        "at most",
        "up to",
        "less than",
        "under",
        "below",
    ];
    const ABOVE: &[&str] = &["min", "minimum", "at least", "more than", "over", "above"];
    let side = if scan.take_word(BELOW) {
        Side::Below
    } else if scan.take_word(ABOVE) {
        Side::Above
    } else {
        return None;
    };
    if scan.rest().starts_with('.')
        && !scan.rest()[1..].starts_with(|sign: char| sign.is_ascii_digit())
    {
        scan.take('.');
    }
    Some(side)
}

/// The fault for `10 + 3 N·m`: a plus between two numbers of one kind.
pub(crate) fn plus_of_two_meanings(scan: &Scan<'_>) -> ReadFault {
    let at = scan.at()..scan.at() + scan.peek().map_or(0, char::len_utf8);
    ReadFault::new(
        scan.text(),
        at,
        "the plus could be a ± that lost its line, or one value on top of another",
        "write `10 ± 3 N·m` for a tolerance, `10 N·m, 13 N·m` for two stages, or `10 N·m + 90°` for an angle",
    )
}
