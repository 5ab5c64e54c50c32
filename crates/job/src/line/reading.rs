//! Numbers found, and the unit behind them: `205 210 - 210 psi`, `<0.04 mm`, `0.05..0.06 mm`.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use quantity::unit::UNITS;

use super::fault::LineFault;
use super::words::{Walk, Word, Words};
use crate::act::Measured;

const INSTRUMENT: [&str; 3] = ["gauge", "with", "instrument"];

/// Reads what stands after `read`.
pub(super) fn measured(words: &Words<'_>, after_verb: &[Word<'_>]) -> Result<Measured, LineFault> {
    let mut conditions: Vec<&[Word<'_>]> = Vec::new();
    let mut head = Walk::over(after_verb, words.line.len());
    let (of, values) = if words.colon.is_some() {
        let of = head.rest();
        let clauses = &words.tail;
        let values = clauses.first().map(Vec::as_slice).unwrap_or_default();
        conditions.extend(clauses.iter().skip(1).map(Vec::as_slice));
        (of, values)
    } else {
        conditions.extend(words.head.iter().skip(1).map(Vec::as_slice));
        split_values(head.left())
    };
    if of.is_empty() {
        let expected = "what was measured: `read cranking dry 205 210 psi`";
        return Err(LineFault::at(words.line, head.place(), expected));
    }
    let mut walk = Walk::over(values, words.line.len());
    let values = walk.until(&INSTRUMENT);
    let mut measured = Measured {
        of: words.text(of).to_owned(),
        values: words.text(values).to_owned(),
        numbers: false,
        instrument: instrument(words, &mut walk)?,
        conditions: Vec::new(),
    };
    for clause in conditions {
        let mut walk = Walk::over(clause, words.line.len());
        if walk.peek().is_some_and(|word| word.is(&INSTRUMENT)) {
            measured.instrument = instrument(words, &mut walk)?;
        } else {
            measured.conditions.push(words.text(clause).to_owned());
        }
    }
    measured.numbers = numbers(words, values, walk.place())?;
    Ok(measured)
}

fn instrument(words: &Words<'_>, walk: &mut Walk<'_, '_>) -> Result<Option<String>, LineFault> {
    if walk.take(&INSTRUMENT).is_none() {
        return Ok(None);
    }
    let name = words.text(walk.rest());
    if name.is_empty() {
        return Err(LineFault::at(
            words.line,
            walk.place(),
            "the name of the gauge",
        ));
    }
    Ok(Some(name.to_owned()))
}

/// Parts `cylinder 3 loss 15 %` into the name and the run of numbers it ends in.
fn split_values<'a, 'w>(clause: &'w [Word<'a>]) -> (&'w [Word<'a>], &'w [Word<'a>]) {
    let end = clause
        .iter()
        .position(|word| word.is(&INSTRUMENT))
        .unwrap_or(clause.len());
    let unit = (0..end)
        .rev()
        .find(|&at| is_number(clause[at].text))
        .map_or(end, |last| last + 1);
    let first = (0..unit)
        .rev()
        .take_while(|&at| is_number(clause[at].text))
        .last()
        .unwrap_or(end);
    clause.split_at(first)
}

/// A value, a bound, a dash for no reading; a unit may hang on it: `205`, `<0.04`, `-`, `12psi`.
fn is_number(text: &str) -> bool {
    matches!(text, "-" | "–")
        || text
            .trim_start_matches(['<', '>', '-', '−', '+', '±', '≤', '≥'])
            .starts_with(|first: char| first.is_ascii_digit())
}

/// Whether the values are numbers. Numbers without a unit are a fault; words are words.
fn numbers(words: &Words<'_>, values: &[Word<'_>], end: usize) -> Result<bool, LineFault> {
    if values.is_empty() {
        let expected = "the readings with their unit: `205 210 - 210 psi`";
        return Err(LineFault::at(words.line, end, expected));
    }
    let count = values
        .iter()
        .take_while(|word| is_number(word.text))
        .count();
    if count == 0 {
        return Ok(false);
    }
    let last = values[count - 1];
    let hanging = last.text.trim_start_matches(|sign: char| {
        !sign.is_alphabetic() && !matches!(sign, '%' | '°' | 'µ' | '"')
    });
    let behind = words.text(&values[count..]);
    let unit = if behind.is_empty() { hanging } else { behind };
    if unit.is_empty() {
        let expected = "the unit, once at the end: psi, bar, mm, %, … (`count` for a plain count)";
        return Err(LineFault::at(words.line, last.end(), expected));
    }
    if is_unit(unit) {
        return Ok(true);
    }
    // `read oil level: 3 fingers below full` is an observation, and stays one in words.
    if words.colon.is_some() && behind.contains(' ') {
        return Ok(false);
    }
    let at = values.get(count).map_or(last.start, |word| word.start);
    let fault = LineFault::at(
        words.line,
        at,
        "a unit: psi, bar, kPa, mm, in, N·m, %, V, rpm, °C, …",
    );
    Err(fault.because(format!("`{unit}` is no unit that is known here")))
}

/// Every spelling of every unit, folded; made once, since every reading asks.
static SPELLINGS: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    UNITS
        .iter()
        .flat_map(|unit| {
            unit.spellings
                .iter()
                .chain(unit.doubtful)
                .chain([&unit.symbol])
        })
        .map(|spelling| folded_unit(spelling))
        .chain(["count".to_owned()])
        .collect()
});

/// Whether a text spells a unit of any kind, joiners and case aside.
fn is_unit(text: &str) -> bool {
    SPELLINGS.contains(&folded_unit(text))
}

fn folded_unit(text: &str) -> String {
    text.chars()
        .filter(|sign| !sign.is_whitespace() && !matches!(sign, '·' | '-' | '.' | '*'))
        .flat_map(char::to_lowercase)
        .map(|sign| if sign == 'μ' { 'µ' } else { sign })
        .collect()
}
