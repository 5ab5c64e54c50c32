//! Numbers as people write them: `0.05`, `.010`, `2,5`, `1'500`, `2-7/16`, `1 1/2`, `½`, `1.5e-3`.
//!
//! A comma with exactly three digits behind it could part thousands or be a decimal comma;
//! that is asked about, never guessed.

use std::ops::Range;

use super::fault::ReadFault;
use super::scan::Scan;

/// A number and the bytes it was written in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Number {
    pub(crate) value: f64,
    pub(crate) at: Range<usize>,
    /// Half of one unit in the last written decimal place; zero for fractions of an inch.
    pub(crate) half_place: f64,
    /// Whether it was written as a fraction, `7/16` or `½`.
    pub(crate) is_fraction: bool,
    /// Whether a comma in it was taken as the decimal mark.
    pub(crate) decimal_comma: bool,
}

/// What a comma inside a run of digits is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Comma {
    /// A decimal comma, unless three digits follow.
    Decimal,
    /// The border between two items of a list: the number ends before it.
    Parts,
}

/// Reads a number with an optional sign. `None` when no number starts here.
pub(crate) fn number(scan: &mut Scan<'_>, comma: Comma) -> Result<Option<Number>, ReadFault> {
    let start = scan.at();
    let negative = match scan.peek() {
        Some('-' | '−' | '–') => {
            scan.step();
            true
        }
        Some('+') => {
            scan.step();
            false
        }
        _ => false,
    };
    let Some(unsigned) = unsigned(scan, comma)? else {
        scan.go_to(start);
        return Ok(None);
    };
    let value = if negative {
        -unsigned.value
    } else {
        unsigned.value
    };
    Ok(Some(Number {
        value,
        at: start..scan.at(),
        ..unsigned
    }))
}

/// Reads a number without a sign. `None` when no number starts here.
pub(crate) fn unsigned(scan: &mut Scan<'_>, comma: Comma) -> Result<Option<Number>, ReadFault> {
    let start = scan.at();
    let fraction = |value: f64, at: Range<usize>| Number {
        value,
        at,
        half_place: 0.0,
        is_fraction: true,
        decimal_comma: false,
    };
    if let Some(value) = vulgar(scan) {
        refuse_run_on(scan, start)?;
        return Ok(Some(fraction(value, start..scan.at())));
    }
    let Some(decimal) = decimal(scan, comma)? else {
        return Ok(None);
    };
    let part = if decimal.is_whole {
        fraction_behind(scan, start, decimal.value)?
    } else {
        None
    };
    refuse_run_on(scan, start)?;
    let at = start..scan.at();
    Ok(Some(match part {
        Some(value) => fraction(value, at),
        None => Number {
            value: decimal.value,
            at,
            half_place: decimal.half_place,
            is_fraction: false,
            decimal_comma: decimal.decimal_comma,
        },
    }))
}

struct Decimal {
    value: f64,
    is_whole: bool,
    half_place: f64,
    decimal_comma: bool,
}

/// Digits with a decimal mark, thousands marks and an exponent.
fn decimal(scan: &mut Scan<'_>, comma: Comma) -> Result<Option<Decimal>, ReadFault> {
    let start = scan.at();
    let length = extent(scan.rest(), comma);
    let run = &scan.rest()[..length];
    if !run.contains(|sign: char| sign.is_ascii_digit()) {
        return Ok(None);
    }
    let at = start..start + length;
    let (digits, places) = plain_digits(scan.text(), run, at.clone())?;
    scan.advance(length);
    let exponent = exponent(scan);
    let written = digits.clone() + exponent;
    let value: f64 = written
        .parse()
        .map_err(|_| not_a_number(scan.text(), at.clone()))?;
    if !value.is_finite() {
        return Err(ReadFault::too_large(scan.text(), start..scan.at()));
    }
    // `1e-999` would arrive as zero; a zero nobody wrote is no reading.
    if value == 0.0 && digits.contains(|sign: char| matches!(sign, '1'..='9')) {
        return Err(ReadFault::new(
            scan.text(),
            start..scan.at(),
            "the number is too small to be a measurement",
            "check the digits and the unit",
        ));
    }
    let half_place = format!("0.5e-{places}").parse::<f64>().unwrap_or(0.0);
    let half_place = if exponent.is_empty() { half_place } else { 0.0 };
    // Only whole numbers go on into a fraction: `2-7/16`, never `2.5-7/16`.
    let is_whole = places == 0 && exponent.is_empty();
    let decimal_comma = places > 0 && !digits_end_in_point(run);
    Ok(Some(Decimal {
        value,
        is_whole,
        half_place,
        decimal_comma,
    }))
}

/// Whether the last mark of a run is a point.
fn digits_end_in_point(run: &str) -> bool {
    run.chars().rfind(|sign| is_mark(*sign)) == Some('.')
}

/// How far digits and marks between digits reach: `1'500.25` whole, `18..22` only `18`.
fn extent(rest: &str, comma: Comma) -> usize {
    let signs: Vec<(usize, char)> = rest
        .char_indices()
        .take_while(|(_, sign)| sign.is_ascii_digit() || is_mark(*sign))
        .collect();
    let is_digit = |index: usize| {
        signs
            .get(index)
            .is_some_and(|(_, sign)| sign.is_ascii_digit())
    };
    let mut end = 0;
    for (index, (offset, sign)) in signs.iter().enumerate() {
        let inside = match sign {
            '0'..='9' => true,
            '.' if index == 0 => is_digit(1),
            ',' if comma == Comma::Parts => false,
            _ => index > 0 && is_digit(index - 1) && is_digit(index + 1),
        };
        if !inside {
            break;
        }
        end = offset + sign.len_utf8();
    }
    end
}

/// Signs that may stand between the digits of one number.
fn is_mark(sign: char) -> bool {
    matches!(
        sign,
        '.' | ',' | '\'' | '’' | '\u{A0}' | '\u{2009}' | '\u{202F}'
    )
}

/// Turns digits with marks into digits with at most one decimal point; says how many decimals there are.
fn plain_digits(text: &str, run: &str, at: Range<usize>) -> Result<(String, usize), ReadFault> {
    let marks: Vec<char> = run.chars().filter(|sign| is_mark(*sign)).collect();
    let groups: Vec<&str> = run.split(is_mark).collect();
    let decimal = match marks.last() {
        None => false,
        Some(last @ ('.' | ',')) => {
            let alone = marks.len() == 1;
            let repeated = marks.iter().filter(|mark| *mark == last).count() > 1;
            let could_be_thousands =
                groups[0].len() <= 3 && !groups[0].starts_with('0') && groups[1].len() == 3;
            if *last == ',' && alone && could_be_thousands && !groups[0].is_empty() {
                return Err(comma_of_two_meanings(text, &groups, at));
            }
            !repeated
        }
        Some(_) => false,
    };
    let whole_groups = if decimal {
        &groups[..groups.len() - 1]
    } else {
        &groups[..]
    };
    let whole_marks = if decimal {
        &marks[..marks.len() - 1]
    } else {
        &marks[..]
    };
    let grouped_well = whole_marks
        .iter()
        .all(|mark| Some(mark) == whole_marks.first())
        && (whole_marks.is_empty()
            || (1..=3).contains(&whole_groups[0].len()) && !whole_groups[0].starts_with('0'))
        && whole_groups.iter().skip(1).all(|group| group.len() == 3)
        && !(decimal && !whole_marks.is_empty() && whole_marks.first() == marks.last());
    if !grouped_well {
        return Err(not_a_number(text, at));
    }
    let whole = whole_groups.concat();
    let decimals = if decimal {
        groups[groups.len() - 1]
    } else {
        ""
    };
    let whole = if whole.is_empty() { "0" } else { &whole };
    Ok((
        if decimal {
            format!("{whole}.{decimals}")
        } else {
            whole.to_owned()
        },
        decimals.len(),
    ))
}

fn comma_of_two_meanings(text: &str, groups: &[&str], at: Range<usize>) -> ReadFault {
    let (whole, three) = (groups[0], groups[1]);
    ReadFault::new(
        text,
        at,
        format!(
            "the comma could be a decimal comma or part thousands: {whole}.{three} or {whole}{three}"
        ),
        format!("write `{whole}.{three}` or `{whole}{three}`"),
    )
}

fn not_a_number(text: &str, at: Range<usize>) -> ReadFault {
    let reason = format!("`{}` is no number", &text[at.clone()]);
    ReadFault::new(
        text,
        at,
        reason,
        "write digits with one decimal point, as in `1500.25`",
    )
}

/// Takes `e-3` or `E+2` behind a number; empty when there is none.
fn exponent<'t>(scan: &mut Scan<'t>) -> &'t str {
    let rest = scan.rest();
    let Some(after) = rest.strip_prefix(['e', 'E']) else {
        return "";
    };
    let digits = after.strip_prefix(['+', '-']).unwrap_or(after);
    let count = digits.len()
        - digits
            .trim_start_matches(|sign: char| sign.is_ascii_digit())
            .len();
    let length = rest.len() - digits.len() + count;
    if count == 0 || digits[count..].starts_with(char::is_alphabetic) {
        return "";
    }
    scan.advance(length);
    &rest[..length]
}

/// A fraction behind a whole number: `7/16`, or `2-7/16`, `2 7/16`, `2½` with the whole in front.
fn fraction_behind(
    scan: &mut Scan<'_>,
    start: usize,
    whole: f64,
) -> Result<Option<f64>, ReadFault> {
    let after_whole = scan.at();
    if is_slash(scan.peek()) {
        scan.step();
        return match denominator(scan, start)? {
            Some(below) if whole < below => Ok(Some(whole / below)),
            Some(_) => Err(ReadFault::new(
                scan.text(),
                start..scan.at(),
                "a fraction larger than one could be two values parted by a slash",
                "write a mixed number, as in `2-7/16`, or part two values by a space",
            )),
            None => {
                scan.go_to(after_whole);
                Ok(None)
            }
        };
    }
    if let Some(part) = vulgar(scan) {
        return Ok(Some(whole + part));
    }
    // `2-7/16` and `2 7/16` are one number; `18-22` is a range and `2 - 7/16` is not ours to join.
    let joined = match scan.peek() {
        Some('-' | ' ' | '\u{A0}' | '‑' | '‐') => {
            scan.step();
            true
        }
        _ => false,
    };
    if joined {
        if let Some(part) = vulgar(scan) {
            return Ok(Some(whole + part));
        }
        if let Some(above) = whole_number(scan)
            && is_slash(scan.peek())
        {
            scan.step();
            if let Some(below) = denominator(scan, start)? {
                if above >= below {
                    return Err(ReadFault::new(
                        scan.text(),
                        start..scan.at(),
                        "a fraction behind a whole number must be smaller than one",
                        "write the mixed number again, as in `2-7/16`, or a range as in `1/16 to 1/8`",
                    ));
                }
                return Ok(Some(whole + above / below));
            }
        }
    }
    scan.go_to(after_whole);
    Ok(None)
}

fn is_slash(sign: Option<char>) -> bool {
    matches!(sign, Some('/' | '⁄'))
}

/// The number under the stroke. `None` when no digits follow, so that `18 /` stays someone else's.
fn denominator(scan: &mut Scan<'_>, start: usize) -> Result<Option<f64>, ReadFault> {
    match whole_number(scan) {
        Some(0.0) => Err(ReadFault::new(
            scan.text(),
            start..scan.at(),
            "nothing can be divided by zero",
            "write the fraction again, as in `7/16`",
        )),
        found => Ok(found),
    }
}

/// At most nine digits, so that it is exact in every step.
fn whole_number(scan: &mut Scan<'_>) -> Option<f64> {
    let rest = scan.rest();
    let count = rest.len()
        - rest
            .trim_start_matches(|sign: char| sign.is_ascii_digit())
            .len();
    if count == 0 || count > 9 {
        return None;
    }
    let value = rest[..count].parse().ok()?;
    scan.advance(count);
    Some(value)
}

/// One sign that is a whole fraction.
fn vulgar(scan: &mut Scan<'_>) -> Option<f64> {
    let value = match scan.peek()? {
        '½' => 1.0 / 2.0,
        '¼' => 1.0 / 4.0,
        '¾' => 3.0 / 4.0,
        '⅛' => 1.0 / 8.0,
        '⅜' => 3.0 / 8.0,
        '⅝' => 5.0 / 8.0,
        '⅞' => 7.0 / 8.0,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅙' => 1.0 / 6.0,
        '⅚' => 5.0 / 6.0,
        _ => return None,
    };
    scan.step();
    Some(value)
}

/// Refuses a number that runs straight on into another mark or digit: `1.2.3`, `12⅛5`, `5.`, `٣`.
fn refuse_run_on(scan: &Scan<'_>, start: usize) -> Result<(), ReadFault> {
    let rest = scan.rest();
    let mut ahead = rest.chars();
    let (next, then) = (ahead.next(), ahead.next());
    let runs_on = match next {
        Some(sign) if sign.is_numeric() => true,
        Some('.') => then.is_none_or(|sign| sign.is_whitespace() || sign.is_ascii_digit()),
        _ => false,
    };
    if !runs_on {
        return Ok(());
    }
    let tail = rest
        .find(|sign: char| !(sign.is_numeric() || is_mark(sign)))
        .unwrap_or(rest.len());
    Err(not_a_number(scan.text(), start..scan.at() + tail))
}
