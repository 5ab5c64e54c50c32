//! Verbs that say something without moving a part: readings, fluids, notes, tags,
//! checks, names, and what is said about other entries.

use super::apart::{done, name, rest};
use super::fault::LineFault;
use super::reading::measured;
use super::shot::number;
use super::verb::Sentence;
use crate::act::{Act, Flow};

pub(super) fn read(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    Ok(Act::Measured(measured(said.words, said.first)?))
}

pub(super) fn drain(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    Ok(Act::Drained(flow(said)?))
}

pub(super) fn fill(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    Ok(Act::Filled(flow(said)?))
}

fn flow(said: &Sentence<'_, '_>) -> Result<Flow, LineFault> {
    let mut walk = said.walk();
    let digits = |text: &str| text.starts_with(|first: char| first.is_ascii_digit());
    let at = walk.left().iter().position(|word| digits(word.text));
    let names = &walk.left()[..at.unwrap_or(walk.left().len())];
    let circuit = said.words.text(names);
    if circuit.is_empty() {
        return Err(said.fault(walk.place(), "the circuit: coolant, oil, fuel, …"));
    }
    walk.skip(names.len());
    let start = walk.place();
    let amount = said.words.text(walk.rest());
    if !amount.is_empty() {
        quantity::read::read::<quantity::Volume>(amount).map_err(|fault| {
            said.fault(
                start + fault.at.start.min(amount.len()),
                "an amount with its unit: `5.1 L`",
            )
            .because(format!("{} ({})", fault.reason, fault.hint))
        })?;
    }
    Ok(Flow {
        circuit: circuit.to_owned(),
        amount: (!amount.is_empty()).then(|| amount.to_owned()),
        note: rest(said),
    })
}

pub(super) fn note(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let text = said.text().trim_start_matches(':').trim();
    if text.is_empty() {
        return Err(said.fault(said.after_verb, "the words to keep"));
    }
    let about = said.words.text(said.first);
    match said.after_colon() {
        // Only what is said behind a name is about it; replay decides whether it is a name.
        Some(behind) if !about.is_empty() && said.words.head.len() == 1 => Ok(Act::Noted {
            about: Some(about.to_owned()),
            text: behind.to_owned(),
        }),
        Some(_) | None => Ok(Act::Noted {
            about: None,
            text: text.to_owned(),
        }),
    }
}

pub(super) fn tag(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let tag = walk
        .next()
        .filter(|word| word.text.chars().any(char::is_alphanumeric));
    let tag = tag.ok_or_else(|| said.fault(said.after_verb, "the number on the tag"))?;
    let tail = said
        .words
        .tail
        .first()
        .map(Vec::as_slice)
        .unwrap_or_default();
    let rest: Vec<_> = walk.left().iter().chain(tail).copied().collect();
    let rest: Vec<_> = rest
        .into_iter()
        .filter(|word| !word.is(&["on", "and", "=", "at", "->"]))
        .collect();
    match rest[..] {
        [] => Err(said.fault(said.words.line.len(), "the end the tag is on: `bottle-bleed.to`")),
        [end] => Ok(Act::Tagged { tag: tag.text.to_owned(), end: end.text.to_owned(), port: None }),
        [end, port] => Ok(Act::Tagged {
            tag: tag.text.to_owned(),
            end: end.text.to_owned(),
            port: Some(port.text.to_owned()),
        }),
        [_, _, third, ..] => Err(said.fault(
            third.start,
            "one end and one port, each in one word with hyphens: `tag 12: bottle-bleed.to housing.bleed`",
        )),
    }
}

pub(super) fn check(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let check = name(said, &mut walk, &["done", "ok"])?;
    let result = walk.next().map(|word| word.text.to_owned());
    done(said, &walk, "a colon and what was seen")?;
    Ok(Act::Checked {
        check,
        result: rest(said).or(result),
    })
}

pub(super) fn rename(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (from, to) = two_names(said, &["to"], "`to` and the new name")?;
    Ok(Act::Renamed { from, to })
}

pub(super) fn same(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (one, other) = two_names(said, &["as", "=", "and"], "`as` and the other name")?;
    Ok(Act::SameAs { one, other })
}

fn two_names(
    said: &Sentence<'_, '_>,
    between: &[&str],
    expected: &str,
) -> Result<(String, String), LineFault> {
    let mut walk = said.walk();
    let one = name(said, &mut walk, between)?;
    if walk.take(between).is_none() {
        return Err(said.fault(walk.place(), expected));
    }
    let other = name(said, &mut walk, &[])?;
    Ok((one, other))
}

pub(super) fn correct(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    walk.take(&["entry", "number"]);
    let at = walk.place();
    let target = walk.next().and_then(|word| number(word.text));
    let target =
        target.ok_or_else(|| said.fault(at, "the number of the entry: `correct 14: …`"))?;
    let from = match said.words.colon {
        Some(colon) if walk.is_done() => colon,
        Some(_) | None => walk.place(),
    };
    let line = said.words.line;
    let blank = line[from..].len() - line[from..].trim_start().len();
    let begins = from + blank;
    if begins >= line.len() {
        return Err(said.fault(line.len(), "the line as it should have been"));
    }
    let act = super::read_line(&line[begins..]).map_err(|inner| {
        let mut fault = said.fault(begins + inner.stopped_at, inner.expected);
        fault.reason = inner.reason;
        fault.understood = inner.understood;
        fault.examples = inner.examples;
        fault
    })?;
    if matches!(act, Act::Corrected { .. } | Act::Undone { .. }) {
        let fault = said.fault(begins, "what was done, as the entry should have said it");
        return Err(fault.because("an entry cannot be corrected into an undo or a correction"));
    }
    Ok(Act::Corrected {
        entry: target,
        act: Box::new(act),
    })
}

pub(super) fn undo(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    walk.take(&["entry", "number", "last"]);
    let at = walk.place();
    let Some(word) = walk.next() else {
        return Ok(Act::Undone { entry: None });
    };
    let target = number(word.text)
        .ok_or_else(|| said.fault(at, "the number of an entry, or nothing for your last one"))?;
    done(said, &walk, "the end of the line")?;
    Ok(Act::Undone {
        entry: Some(target),
    })
}

pub(super) fn gate(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let gate = name(said, &mut walk, &["passed", "override", "because"])?;
    walk.rest();
    let reason = rest(said).ok_or_else(|| {
        said.fault(
            said.words.line.len(),
            "a colon and the reason; a gate is not passed without one",
        )
    })?;
    Ok(Act::GatePassed { gate, reason })
}

pub(super) fn choose(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let at = walk.place();
    let first = walk
        .next()
        .ok_or_else(|| said.fault(at, "the variant and its value: `choose throttle cable`"))?;
    let (variant, glued) = match first.text.split_once('=') {
        Some((variant, value)) => (variant, value),
        None => (first.text, ""),
    };
    walk.take(&["=", "is"]);
    let behind = said.words.text(walk.rest());
    let value = [glued, behind, said.after_colon().unwrap_or_default()];
    let value = value.into_iter().find(|text| !text.is_empty());
    let value = value.ok_or_else(|| said.fault(walk.place(), "the value that was chosen"))?;
    Ok(Act::Chosen {
        variant: variant.to_owned(),
        value: value.to_owned(),
    })
}

pub(super) fn cause(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    walk.take(&["of"]);
    let of = name(said, &mut walk, &["found"])?;
    walk.rest();
    let found = rest(said).ok_or_else(|| {
        said.fault(
            said.words.line.len(),
            "a colon and the cause that was found",
        )
    })?;
    Ok(Act::Cause { of, found })
}
