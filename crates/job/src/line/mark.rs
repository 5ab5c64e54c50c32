//! `mark 31: arrow 62 40 the long bolt, circle 20 55 dowel`: places pointed out on a photo.

use super::apart::done;
use super::fault::LineFault;
use super::shot::entry;
use super::verb::Sentence;
use super::words::{Clause, Walk, Word};
use crate::act::Act;
use crate::shot::{Sign, Spotted};

/// The shares of a side that are read, in percent.
const WHOLE: std::ops::RangeInclusive<f64> = 0.0..=100.0;

/// How wide a circle may be, in percent of the width: one that can be seen and still shows
/// a place.
const WIDE: std::ops::RangeInclusive<f64> = 1.0..=100.0;

const PLACE: &str = "two shares in percent, from the left edge and from the top: `62 40`";

pub(super) fn mark(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    walk.take(&["photo"]);
    let photo = entry(said, &mut walk).map_err(|fault| {
        fault.because("`mark` points out a place on a photo; words to keep are `note …`")
    })?;
    done(said, &walk, "a colon and the places")?;
    let mut spots: Vec<Spotted> = Vec::new();
    // Where the words of the last one begin, to take commas of its own into them.
    let mut words = 0;
    for clause in &said.words.tail {
        let Some(sign) = clause.first().and_then(sign) else {
            let last = spots.last_mut().filter(|last| last.says.is_some());
            let (Some(last), Some(end)) = (last, clause.last().map(Word::end)) else {
                let at = clause.first().map_or(said.after_verb, |word| word.start);
                return Err(said.fault(at, "`arrow`, `circle` or `number`, and where"));
            };
            last.says = said.words.line.get(words..end).map(str::to_owned);
            continue;
        };
        let (spot, begins) = spot(said, clause, sign)?;
        words = begins;
        spots.push(spot);
    }
    if spots.is_empty() {
        let expected = "a colon and the places: `mark 31: arrow 62 40 the long bolt`";
        return Err(said.fault(said.words.line.len(), expected));
    }
    Ok(Act::Marked { photo, spots })
}

fn sign(word: &Word<'_>) -> Option<Sign> {
    Sign::ALL.into_iter().find(|sign| word.is(&[sign.word()]))
}

/// One place, and the byte its words begin at.
fn spot(
    said: &Sentence<'_, '_>,
    clause: &Clause<'_>,
    sign: Sign,
) -> Result<(Spotted, usize), LineFault> {
    let mut walk = Walk::over(clause, said.after_verb);
    walk.next();
    walk.take(&["at"]);
    let across = share(said, &mut walk, &WHOLE, PLACE)?;
    let down = share(said, &mut walk, &WHOLE, PLACE)?;
    let wide = match walk.take(&["wide"]) {
        Some(wide) if sign != Sign::Circle => {
            return Err(said.fault(wide.start, "the words; only a circle is so wide"));
        }
        Some(_) => {
            let expected = "how wide, in percent of the width: `wide 12`";
            Some(share(said, &mut walk, &WIDE, expected)?)
        }
        None => None,
    };
    let begins = walk.place();
    let says = said.words.text(walk.rest());
    let spot = Spotted {
        sign,
        across,
        down,
        wide,
        says: (!says.is_empty()).then(|| says.to_owned()),
    };
    Ok((spot, begins))
}

/// A number in percent as a share of 1; the sign may stand behind it.
fn share(
    said: &Sentence<'_, '_>,
    walk: &mut Walk<'_, '_>,
    range: &std::ops::RangeInclusive<f64>,
    expected: &str,
) -> Result<f64, LineFault> {
    let at = walk.place();
    let number = walk.next().and_then(|word| {
        let digits = word.text.strip_suffix('%').unwrap_or(word.text);
        let number: f64 = digits.parse().ok()?;
        // Also refuses what is no number at all.
        range.contains(&number).then_some(number)
    });
    walk.take(&["%"]);
    let number = number.ok_or_else(|| said.fault(at, expected))?;
    Ok(number / 100.0)
}
