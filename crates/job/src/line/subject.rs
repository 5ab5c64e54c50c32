//! What a line is about: the name before the colon, and what people put there beside it.

use super::detail::PLACES;
use super::fault::LineFault;
use super::item::{begins_item, is_hole};
use super::words::{Clause, Walk, Word, Words};
use crate::act::{Details, Run};

/// The names a line is about, and the clauses of details behind them.
pub(super) struct Subject<'a, 'w> {
    pub names: Vec<String>,
    pub run: Option<Run>,
    pub details: Vec<&'w [Word<'a>]>,
}

const NAME: &str = "the name of the part, joint, hose or lead";

/// Reads names up to the first detail. `after_verb` is the first clause without its verb.
///
/// With a colon, everything before it names something. Without one, the first clause that
/// begins like a detail ends the names: `off runners, 3 bolts M8x40, bag 14`.
pub(super) fn subject<'a, 'w>(
    words: &'w Words<'a>,
    after_verb: &'w [Word<'a>],
    details: &mut Details,
) -> Result<Subject<'a, 'w>, LineFault> {
    let mut subject = Subject {
        names: Vec::new(),
        run: None,
        details: Vec::new(),
    };
    let others = words.head.iter().skip(1).map(Vec::as_slice);
    for clause in std::iter::once(after_verb).chain(others) {
        let ends = words.colon.is_none() && !subject.names.is_empty() && begins_detail(clause);
        if ends || !subject.details.is_empty() {
            subject.details.push(clause);
            continue;
        }
        names(words, clause, details, &mut subject)?;
    }
    subject.details.extend(words.tail.iter().map(Vec::as_slice));
    if subject.names.is_empty() {
        let at = after_verb
            .first()
            .map_or(words.line.len(), |word| word.start);
        return Err(LineFault::at(words.line, at, NAME));
    }
    Ok(subject)
}

fn begins_detail(clause: &[Word<'_>]) -> bool {
    let Some(first) = clause.first() else {
        return false;
    };
    let keys = [
        "photo", "from", "to", "on", "medium", "carries", "bore", "clamp", "zone", "reached",
        "note", "hole", "holes", "in",
    ];
    first.is(&keys)
        || first.is(&PLACES)
        || begins_item(*first)
        || clause.len() == 1 && is_hole(first.text)
}

/// One clause of names: `runners from bulkhead-head bag 14`, `air-duct and wiper-tray`.
fn names<'a>(
    words: &Words<'a>,
    clause: &[Word<'a>],
    details: &mut Details,
    subject: &mut Subject<'a, '_>,
) -> Result<(), LineFault> {
    let mut walk = Walk::over(clause, words.line.len());
    if let Some(run) = walk.peek().and_then(|word| run(word.text))
        && clause.len() > 1
        && subject.names.is_empty()
    {
        subject.run = Some(run);
    }
    let stops = ["from", "to", "and", "+", "in", "on"];
    let places_or_stops: Vec<&str> = stops.iter().chain(&PLACES).copied().collect();
    loop {
        let name = walk.until(&places_or_stops);
        if name.is_empty() {
            return Err(LineFault::at(words.line, walk.place(), NAME));
        }
        if let Some(sign) = name
            .iter()
            .find(|word| !word.text.chars().any(char::is_alphanumeric))
        {
            return Err(LineFault::at(words.line, sign.start, NAME));
        }
        subject.names.push(words.text(name).to_owned());
        if walk.take(&["and", "+"]).is_none() {
            break;
        }
    }
    ports(words, &mut walk, details)
}

/// `from A to B`, `in bag 14`, behind a name.
fn ports(
    words: &Words<'_>,
    walk: &mut Walk<'_, '_>,
    details: &mut Details,
) -> Result<(), LineFault> {
    while let Some(key) = walk.peek() {
        if key.is(&PLACES) {
            details.place = Some(words.text(walk.rest()).to_owned());
            break;
        }
        walk.next();
        if key.is(&["in", "on"])
            && walk.peek().is_none_or(|word| word.is(&PLACES))
            && !walk.is_done()
        {
            continue;
        }
        let keys: Vec<&str> = ["from", "to"].iter().chain(&PLACES).copied().collect();
        let value = words.text(walk.until(&keys)).to_owned();
        if value.is_empty() {
            let expected = format!("a name after `{}`", key.text);
            return Err(LineFault::at(words.line, walk.place(), expected));
        }
        match key.text.to_ascii_lowercase().as_str() {
            "from" => details.from = Some(value),
            "to" | "on" => details.to = Some(value),
            _ => details.place = Some(value),
        }
    }
    Ok(())
}

/// The kind of hose or lead a word says.
pub(crate) fn run(word: &str) -> Option<Run> {
    Some(match word.to_ascii_lowercase().as_str() {
        "hose" => Run::Hose,
        "pipe" | "tube" => Run::Pipe,
        "lead" => Run::Lead,
        "cable" => Run::Cable,
        "connector" => Run::Connector,
        "strap" | "ground" => Run::Ground,
        _ => return None,
    })
}

/// The clauses of a line after its first, as one list, with the tail behind.
pub(super) fn later_clauses<'a>(words: &Words<'a>) -> Vec<Clause<'a>> {
    let head = words.head.iter().skip(1);
    head.chain(&words.tail).cloned().collect()
}
