//! Lists of readings: the unit stands once, at the end, or behind each; `-` is no reading.
//!
//! Commas are the trouble: `107,60,80` parts three readings, `0,04 0,05` holds two decimals.
//! Where both could be meant, the person is asked.

use super::amount::unit_of;
use super::expression::{Dash, Expression, expression_with};
use super::fault::ReadFault;
use super::number::Comma;
use super::scan::Scan;
use super::{bound_of, typed_quantity};
use crate::kind::{Kind, Quantity};
use crate::said::{Bound, Said};
use crate::unit::Unit;

pub(super) fn plain<Q: Quantity>(
    text: &str,
    fallback: Option<&Unit>,
) -> Result<Said<Vec<Option<Q>>>, ReadFault> {
    read_each(text, Q::KIND, fallback, |found, unit| {
        let si = found.plain(text)?.si(text, Q::KIND, unit)?;
        typed_quantity(text, si)
    })
}

pub(super) fn bounds<Q: Quantity>(
    text: &str,
    fallback: Option<&Unit>,
) -> Result<Said<Vec<Option<Bound<Q>>>>, ReadFault> {
    read_each(text, Q::KIND, fallback, |found, unit| {
        bound_of(text, found.shape(text, Q::KIND, unit)?)
    })
}

fn read_each<V>(
    text: &str,
    kind: Kind,
    fallback: Option<&Unit>,
    value: impl Fn(&Expression, Option<&Unit>) -> Result<V, ReadFault>,
) -> Result<Said<Vec<Option<V>>>, ReadFault> {
    let items = items(text, kind)?;
    let unit = shared_unit(text, &items)?.or(fallback);
    let mut values = Vec::with_capacity(items.len());
    let mut notes: Vec<String> = Vec::new();
    for item in &items {
        let Some(found) = item else {
            values.push(None);
            continue;
        };
        values.push(Some(value(found, unit)?));
        notes.extend(found.notes());
    }
    notes.dedup();
    let missing = values.iter().filter(|value| value.is_none()).count();
    if missing > 0 {
        notes.push(format!(
            "a dash that stands alone was taken as no reading: {missing} of {}",
            values.len()
        ));
    }
    Ok(Said {
        value: values,
        typed: text.to_owned(),
        notes,
    })
}

/// The unit written once behind the last reading, for the bare ones before it.
fn shared_unit(
    text: &str,
    items: &[Option<Expression>],
) -> Result<Option<&'static Unit>, ReadFault> {
    let found: Vec<&Expression> = items.iter().flatten().collect();
    let Some((last, others)) = found.split_last() else {
        return Ok(None);
    };
    if others.iter().all(|item| !item.has_unit()) {
        return Ok(last.unit());
    }
    match found.iter().find(|item| !item.has_unit()) {
        None => Ok(None),
        Some(bare) => Err(ReadFault::new(
            text,
            bare.at.clone(),
            "this reading has no unit, but others in the list have their own",
            "write the unit once, at the end, or behind every reading",
        )),
    }
}

fn items(text: &str, kind: Kind) -> Result<Vec<Option<Expression>>, ReadFault> {
    let mut scan = Scan::new(text)?;
    refuse_fixed_spaces(text)?;
    let comma = comma_of(text)?;
    let mut items: Vec<Option<Expression>> = Vec::new();
    loop {
        items.push(if take_missing(&mut scan) {
            None
        } else {
            Some(expression_with(&mut scan, kind, Dash::Tight, comma)?)
        });
        let spaced = scan.skip_space();
        take_unit_behind_missing(&mut scan, kind, &mut items)?;
        if scan.is_done() {
            return Ok(items);
        }
        if scan.take(',') || scan.take(';') {
            scan.skip_space();
            if scan.is_done() || matches!(scan.peek(), Some(',' | ';')) {
                return Err(ReadFault::new(
                    text,
                    scan.at()..scan.at(),
                    "a reading is missing between the separators",
                    "write `-` where there is no reading",
                ));
            }
            continue;
        }
        let starts_reading = scan.peek().is_some_and(|sign| {
            sign.is_numeric() || matches!(sign, '.' | '<' | '>' | '≤' | '≥' | '-' | '–' | '—' | '−')
        });
        if !spaced || !starts_reading {
            let has_unit = items
                .iter()
                .flatten()
                .next_back()
                .is_some_and(Expression::has_unit);
            scan.finish_for(kind, has_unit)?;
        }
    }
}

/// Takes a dash that stands alone.
fn take_missing(scan: &mut Scan<'_>) -> bool {
    let mut ahead = scan.clone();
    let met = ahead.take_any(&["-", "–", "—"]);
    let alone = ahead
        .peek()
        .is_none_or(|sign| sign.is_whitespace() || matches!(sign, ',' | ';'));
    if met && alone {
        *scan = ahead;
    }
    met && alone
}

/// Takes the unit of a list whose last reading is missing: `107 60 - psi`.
fn take_unit_behind_missing(
    scan: &mut Scan<'_>,
    kind: Kind,
    items: &mut [Option<Expression>],
) -> Result<(), ReadFault> {
    if !matches!(items.last(), Some(None)) || scan.is_done() {
        return Ok(());
    }
    let mut ahead = scan.clone();
    let Some(found) = unit_of(&mut ahead, kind, "")? else {
        return Ok(());
    };
    ahead.skip_space();
    if ahead.is_done()
        && let Some(last) = items.iter_mut().flatten().next_back()
        && !last.has_unit()
    {
        last.give_unit(found);
        *scan = ahead;
    }
    Ok(())
}

/// Refuses a no-break space between digits: it parts thousands in one text and readings in the next.
fn refuse_fixed_spaces(text: &str) -> Result<(), ReadFault> {
    let mut before = None;
    let mut signs = text.char_indices().peekable();
    while let Some((place, sign)) = signs.next() {
        let fixed = matches!(sign, '\u{A0}' | '\u{2009}' | '\u{202F}');
        let digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
        if fixed && digit(before) && digit(signs.peek().map(|(_, next)| *next)) {
            return Err(ReadFault::new(
                text,
                place..place + sign.len_utf8(),
                "this narrow or fixed space could part thousands or part two readings",
                "write plain spaces between readings and none inside a number",
            ));
        }
        before = Some(sign);
    }
    Ok(())
}

/// Settles what commas between digits mean in this list.
fn comma_of(text: &str) -> Result<Comma, ReadFault> {
    let tight: Vec<usize> = tight_commas(text);
    if tight.is_empty() || text.contains(';') {
        return Ok(Comma::Decimal);
    }
    let ask = |place: usize| {
        ReadFault::new(
            text,
            place..place + 1,
            "this comma could be a decimal comma or part two readings",
            "write decimal points, and part the readings by spaces or `;`",
        )
    };
    let with_digits: Vec<&str> = text
        .split_whitespace()
        .filter(|word| word.contains(|sign: char| sign.is_ascii_digit()))
        .collect();
    let first = tight[0];
    if with_digits.len() > 1 {
        // `0,04 0,05 mm`: every reading has its comma and none stands beside a space.
        let all_decimal = with_digits
            .iter()
            .all(|word| tight_commas(word).len() == 1 && !word.ends_with(','));
        return if all_decimal {
            Ok(Comma::Decimal)
        } else {
            Err(ask(first))
        };
    }
    let run = with_digits.first().copied().unwrap_or_default();
    let groups: Vec<&str> = run
        .split(',')
        .map(|group| group.trim_start_matches(|sign: char| !sign.is_ascii_digit()))
        .collect();
    let digits = |group: &&str| {
        group.len()
            - group
                .trim_start_matches(|sign: char| sign.is_ascii_digit())
                .len()
    };
    let like_decimals = tight.len() == 1
        || groups
            .iter()
            .any(|group| group.len() > 1 && group.starts_with('0') && !group.starts_with("0."));
    let like_thousands = groups.first().is_some_and(|group| digits(group) < 3)
        && groups.iter().skip(1).all(|group| digits(group) == 3);
    if like_decimals || like_thousands {
        Err(ask(first))
    } else {
        Ok(Comma::Parts)
    }
}

/// Byte places of the commas that stand between two digits.
fn tight_commas(text: &str) -> Vec<usize> {
    let signs = text.as_bytes();
    (1..signs.len().saturating_sub(1))
        .filter(|&place| {
            signs[place] == b','
                && signs[place - 1].is_ascii_digit()
                && signs[place + 1].is_ascii_digit()
        })
        .collect()
}
