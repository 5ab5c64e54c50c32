//! Tolerances behind a value: `± 2 N·m`, `± 5 %`, `+2/-1 N·m`.
//!
//! A plus without its minus is nobody's tolerance; it is left for others to ask about.

use super::amount::{Amount, number_missing};
use super::fault::ReadFault;
use super::number::{self, Comma};
use super::scan::Scan;
use crate::kind::Kind;

/// How far a value may be off on one side.
#[derive(Clone, Debug)]
pub(super) enum Tolerance {
    Percent(f64),
    Amount(Amount),
}

/// `± 2 N·m`, `± 5 %`, `+2/-1 N·m`, `+2 -1 N·m`. A plus without its minus is left alone.
pub(super) fn tolerance(
    scan: &mut Scan<'_>,
    kind: Kind,
) -> Result<Option<(Tolerance, Tolerance)>, ReadFault> {
    let mut ahead = scan.clone();
    ahead.skip_space();
    if ahead.take_any(&["±", "+/-", "+/−", "+-"]) {
        let Some(both) = one_tolerance(&mut ahead, kind)? else {
            return Err(number_missing(&ahead));
        };
        *scan = ahead;
        return Ok(Some((both.clone(), both)));
    }
    // The signs stand close to their numbers, so that `90° + 45-50°` stays two stages.
    let close = |ahead: &Scan<'_>| {
        ahead
            .peek()
            .is_some_and(|sign| sign.is_numeric() || sign == '.')
    };
    if !ahead.take('+') || !close(&ahead) {
        return Ok(None);
    }
    let Ok(Some(up)) = one_tolerance(&mut ahead, kind) else {
        return Ok(None);
    };
    let spaced = ahead.skip_space();
    let slash = ahead.take('/');
    ahead.skip_space();
    let has_unit = matches!(&up, Tolerance::Amount(Amount { unit: Some(_), .. }));
    if !(slash || spaced && !has_unit) || !ahead.take_any(&["-", "−", "–"]) || !close(&ahead) {
        return Ok(None);
    }
    let Ok(Some(down)) = one_tolerance(&mut ahead, kind) else {
        return Ok(None);
    };
    // The unit may stand once, behind the pair.
    let up = match (up, &down) {
        (Tolerance::Amount(up), Tolerance::Amount(down)) if up.unit.is_none() => {
            Tolerance::Amount(Amount {
                unit: down.unit,
                ..up
            })
        }
        (up, _) => up,
    };
    *scan = ahead;
    Ok(Some((up, down)))
}

fn one_tolerance(scan: &mut Scan<'_>, kind: Kind) -> Result<Option<Tolerance>, ReadFault> {
    scan.skip_space();
    let Some(number) = number::unsigned(scan, Comma::Decimal)? else {
        return Ok(None);
    };
    if kind != Kind::Ratio {
        let mut ahead = scan.clone();
        ahead.skip_space();
        if ahead.take('%') {
            *scan = ahead;
            return Ok(Some(Tolerance::Percent(number.value)));
        }
    }
    Amount::with_unit(scan, kind, number).map(|amount| Some(Tolerance::Amount(amount)))
}
