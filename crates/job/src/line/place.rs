//! `place head: A 0 0, B 92.5 0, C 46 31 mm`: where holes or ports sit on a face.

use quantity::Length;

use super::apart::{done, name};
use super::fault::LineFault;
use super::verb::Sentence;
use super::words::{Clause, Word};
use crate::act::{Act, Spot};

/// The farthest a hole is from the corner it is measured from, in millimetres. An engine is
/// smaller; a number beyond it has slipped a unit.
const FARTHEST_MM: f64 = 5_000.0;

pub(super) fn place(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let what = name(said, &mut walk, &[])?;
    done(said, &walk, "a colon and the positions")?;
    let clauses = &said.words.tail;
    let Some(last) = clauses.last() else {
        let expected = "a colon and the positions: `place head: A 0 0, B 92.5 0 mm`";
        return Err(said
            .fault(said.words.line.len(), expected)
            .because("`place` says where holes sit; where a part lies is `stow NAME: shelf 2`"));
    };
    let unit = unit_of(said, last)?;
    let mut spots: Vec<Spot> = Vec::new();
    for clause in clauses {
        let spot = spot(said, clause, unit)?;
        if let Some(same) = spots
            .iter()
            .find(|one| one.name.eq_ignore_ascii_case(&spot.name))
        {
            let expected = "each hole once";
            let fault = said.fault(clause[0].start, expected);
            return Err(fault.because(format!("{} has a position already", same.name)));
        }
        if let Some(same) = spots.iter().find(|one| (one.x, one.y) == (spot.x, spot.y)) {
            let fault = said.fault(clause[0].start, "a place of its own for each");
            return Err(fault.because(format!("{} sits there already", same.name)));
        }
        spots.push(spot);
    }
    Ok(Act::Placed { what, spots })
}

/// The unit, once at the end.
fn unit_of<'a>(said: &Sentence<'a, '_>, last: &Clause<'a>) -> Result<Word<'a>, LineFault> {
    let unit = last.last().filter(|_| last.len() > 3).copied();
    unit.ok_or_else(|| {
        let end = last.last().map_or(said.words.line.len(), Word::end);
        said.fault(end, "the unit, once at the end: `mm`, `in`")
    })
}

fn spot(said: &Sentence<'_, '_>, clause: &Clause<'_>, unit: Word<'_>) -> Result<Spot, LineFault> {
    let expected = "a name and two numbers, to the right and up: `B 92.5 0`";
    let (name, x, y) = match clause[..] {
        [name, x, y] => (name, x, y),
        [name, x, y, last] if last.start == unit.start => (name, x, y),
        [_, _, _, extra, ..] => {
            return Err(said.fault(extra.start, "a comma, or the end of the line"));
        }
        _ => {
            let end = clause.last().map_or(said.words.line.len(), Word::end);
            return Err(said.fault(end, expected));
        }
    };
    if !name.text.starts_with(char::is_alphabetic) {
        return Err(said.fault(name.start, expected));
    }
    Ok(Spot {
        name: name.text.to_owned(),
        x: length(said, x, unit)?,
        y: length(said, y, unit)?,
    })
}

fn length(said: &Sentence<'_, '_>, number: Word<'_>, unit: Word<'_>) -> Result<Length, LineFault> {
    let typed = format!("{} {}", number.text, unit.text);
    let read = quantity::read::<Length>(&typed).map_err(|fault| {
        let at = if fault.at.start > number.text.len() {
            unit.start
        } else {
            number.start
        };
        said.fault(at, "a length: a number, and the unit once at the end")
            .because(format!("{} ({})", fault.reason, fault.hint))
    })?;
    if read.value.in_mm().abs() > FARTHEST_MM {
        let fault = said.fault(number.start, "a distance on the face of one part");
        return Err(fault.because(format!("{typed} is more than {} m", FARTHEST_MM / 1000.0)));
    }
    Ok(read.value)
}
