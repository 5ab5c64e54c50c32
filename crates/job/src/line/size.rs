//! Sizes of fasteners: `M8x40`, `M8x1.25x40`, `1/4-20x3/4`, `13 mm`.
//!
//! After a metric size, a number that is a standard pitch of that diameter is the pitch;
//! any other is the length. Both may stand: `M8x1.25x40`.

use calc::thread::Thread;
use quantity::Length;

use crate::item::ThreadSize;

/// A size that was read: thread and length, as far as they were told.
pub(super) struct Size {
    pub thread: ThreadSize,
    pub length: Option<Length>,
}

/// The shortest length a bolt, stud or screw can have.
const SHORTEST_MM: f64 = 3.0;
/// The longest.
const LONGEST_MM: f64 = 600.0;

/// Reads a size if the word looks like one. `None`: it is another sort of word.
/// The error is the offset in the word and the reason.
pub(super) fn size(word: &str) -> Option<Result<Size, (usize, String)>> {
    let metric = word.strip_prefix(['M', 'm']);
    match metric {
        Some(rest) if rest.starts_with(|first: char| first.is_ascii_digit()) => {
            Some(metric_size(word))
        }
        Some(_) | None => inch_size(word),
    }
}

/// The pieces of a word between the signs that stand for `by`, with their offsets.
fn pieces(word: &str) -> Vec<(usize, &str)> {
    let mut from = 0;
    let mut pieces = Vec::new();
    for (at, sign) in word.char_indices() {
        if matches!(sign, 'x' | 'X' | '×' | '*') {
            pieces.push((from, &word[from..at]));
            from = at + sign.len_utf8();
        }
    }
    pieces.push((from, &word[from..]));
    pieces
}

fn metric_size(word: &str) -> Result<Size, (usize, String)> {
    let pieces = pieces(word);
    let diameter = plain(&pieces[0].1[1..]).ok_or((1, "this is no thread size".to_owned()))?;
    let size = format!("M{diameter}");
    if !(1.0..=68.0).contains(&diameter) {
        return Err((1, format!("{size} is no size of a fastener")));
    }
    let (pitch, length) = match pieces[1..] {
        [] => (None, None),
        [(_, text)] if is_pitch(&size, text) => (Some(text), None),
        [second] => (None, Some(second)),
        [(_, pitch), third] if is_pitch(&size, pitch) => (Some(pitch), Some(third)),
        [(at, pitch), _] => {
            return Err((
                at,
                format!("{pitch} mm is no pitch of {size}; write SIZExPITCHxLENGTH"),
            ));
        }
        [_, _, (at, _), ..] => {
            return Err((at, "a size has at most a pitch and a length".to_owned()));
        }
    };
    let length = length
        .map(|(at, text)| metric_length(&size, text).map_err(|reason| (at, reason)))
        .transpose()?;
    let pitch = pitch.and_then(plain).map(|pitch| pitch.to_string());
    Ok(Size {
        thread: ThreadSize { size, pitch },
        length,
    })
}

fn is_pitch(size: &str, text: &str) -> bool {
    // The thread table alone decides: M8x1 is a fine thread, M8x40 is a length.
    plain(text).is_some() && Thread::parse(&format!("{size}x{text}")).is_ok_and(|it| it.is_common())
}

fn metric_length(size: &str, text: &str) -> Result<Length, String> {
    let number = text.strip_suffix("mm").unwrap_or(text);
    let value = plain(number).ok_or_else(|| format!("`{text}` is neither a pitch nor a length"))?;
    if !(SHORTEST_MM..=LONGEST_MM).contains(&value) {
        return Err(format!(
            "{text} is neither a standard pitch of {size} nor a length in millimetres"
        ));
    }
    Length::mm(value).map_err(|fault| fault.to_string())
}

fn inch_size(word: &str) -> Option<Result<Size, (usize, String)>> {
    let (size, rest) = word.split_once('-')?;
    let nominal = size.strip_prefix('#').unwrap_or(size);
    fraction(nominal)?;
    let pieces = pieces(rest);
    let pitch = pieces[0].1.trim_end_matches("UNC").trim_end_matches("UNF");
    plain(pitch)?;
    let designation = format!("{size}-{pitch}");
    if let Err(fault) = Thread::parse(&designation) {
        return Some(Err((0, fault.to_string())));
    }
    let after = size.len() + 1;
    let length = match pieces[1..] {
        [] => Ok(None),
        [(at, text)] => match fraction(text.trim_end_matches(['"', '″'])) {
            Some(inches) if (0.1..=24.0).contains(&inches) => Length::inches(inches)
                .map(Some)
                .map_err(|fault| (after + at, fault.to_string())),
            Some(_) | None => Err((after + at, format!("`{text}` is no length in inches"))),
        },
        [_, (at, _), ..] => Err((after + at, "nothing stands after the length".to_owned())),
    };
    Some(length.map(|length| Size {
        thread: ThreadSize {
            size: size.to_owned(),
            pitch: Some(pitch.to_owned()),
        },
        length,
    }))
}

/// A plain decimal: digits and at most one dot. `f64` alone would also take `inf` and `1e3`.
pub(super) fn plain(text: &str) -> Option<f64> {
    let digits = text
        .chars()
        .all(|sign| sign.is_ascii_digit() || sign == '.');
    let begins = text.starts_with(|first: char| first.is_ascii_digit());
    (digits && begins && text.len() <= 12).then(|| text.parse().ok())?
}

/// A decimal or a fraction: `0.75`, `3/4`, `1-1/4` (with a hyphen inside a word).
fn fraction(text: &str) -> Option<f64> {
    if let Some((whole, part)) = text.split_once('-') {
        return Some(plain(whole)? + fraction(part)?);
    }
    match text.split_once('/') {
        Some((over, under)) => {
            let under = plain(under).filter(|under| *under > 0.0)?;
            Some(plain(over)? / under)
        }
        None => plain(text),
    }
}

/// A length beside a fastener, in one word (`13mm`) or two (`13 mm`). Gives the words used.
pub(super) fn length(first: &str, second: Option<&str>) -> Option<(Length, usize)> {
    let split = first.find(|sign: char| !(sign.is_ascii_digit() || matches!(sign, '.' | '/')));
    let (number, unit, words) = match split {
        Some(at) => (&first[..at], &first[at..], 1),
        None => (first, second?, 2),
    };
    let value = fraction(number)?;
    let length = match unit.to_ascii_lowercase().as_str() {
        "mm" => Length::mm(value),
        "cm" => Length::mm(value * 10.0),
        "in" | "inch" | "inches" | "\"" => Length::inches(value),
        _ => return None,
    };
    Some((length.ok()?, words))
}
