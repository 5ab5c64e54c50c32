//! What stands after the name: items, the bag, a photo, the ports of a hose, a note.

use super::fault::LineFault;
use super::item::{begins_item, is_hole, item, names_item};
use super::words::{Clause, Walk, Word, Words};
use crate::act::Details;

/// Words that begin a place to lay things.
pub(super) const PLACES: [&str; 9] = [
    "bag", "tray", "shelf", "box", "tin", "drawer", "jar", "crate", "bench",
];

const DETAIL: &str = "a count and what it is (`3 bolts M8x40`), `bag 14`, `photo 12`, `from PORT`, `to PORT` or `note …`";

/// Reads the details of a line into `details`.
pub(super) fn details(
    words: &Words<'_>,
    clauses: &[Clause<'_>],
    details: &mut Details,
) -> Result<(), LineFault> {
    for clause in clauses {
        let Some(first) = clause.first() else {
            continue;
        };
        if clause.len() == 1 && is_hole(first.text) && continues_holes(details, first.text) {
            continue;
        }
        if first.is(&["note"]) {
            // A note runs to the end of the line, commas and all.
            details.note = Some(
                words
                    .rest(first.end())
                    .trim_start_matches(':')
                    .trim()
                    .to_owned(),
            );
            return Ok(());
        }
        detail(words, clause, details).map_err(|mut fault| {
            let said: Vec<String> = details.items.iter().map(crate::Item::shown).collect();
            fault.understood.splice(0..0, said);
            fault
        })?;
    }
    Ok(())
}

/// `holes A, C, E`: the commas part the names, not the details.
fn continues_holes(details: &mut Details, hole: &str) -> bool {
    match details.items.last_mut() {
        Some(last) if !last.holes.is_empty() => {
            last.holes.push(hole.to_owned());
            true
        }
        Some(_) | None => false,
    }
}

fn detail(words: &Words<'_>, clause: &[Word<'_>], details: &mut Details) -> Result<(), LineFault> {
    // `1 bolt M8x65 bag 14`: the place may end the clause without a comma.
    let split = clause.iter().position(|word| word.is(&PLACES));
    if let Some(at) = split.filter(|&at| at + 1 < clause.len() || at == 0) {
        let starts = at - usize::from(at > 0 && clause[at - 1].is(&["in", "on"]));
        details.place = Some(words.text(&clause[at..]).to_owned());
        if starts == 0 {
            return Ok(());
        }
        return detail(words, &clause[..starts], details);
    }
    let mut walk = Walk::over(clause, words.line.len());
    let Some(first) = walk.peek() else {
        return Ok(());
    };
    let value = || words.text(&clause[1..]).to_owned();
    let slot = match first.text.to_lowercase().as_str() {
        "photo" => &mut details.photo,
        "from" => &mut details.from,
        "to" | "on" if clause.len() > 1 => &mut details.to,
        "medium" | "carries" => &mut details.medium,
        "bore" => &mut details.bore,
        "clamp" => &mut details.clamp,
        "zone" | "reached" => &mut details.zone,
        _ if begins_item(first) || names_item(clause) => {
            if first.is(&["hole", "holes"]) {
                return holes_first(words, walk, details);
            }
            details.items.push(item(words, walk)?);
            return Ok(());
        }
        "hole" | "holes" => return holes_first(words, walk, details),
        _ => return Err(LineFault::at(words.line, first.start, DETAIL)),
    };
    if clause.len() == 1 {
        walk.next();
        let expected = format!("what the {} is", first.text.to_lowercase());
        return Err(LineFault::at(words.line, walk.place(), expected));
    }
    *slot = Some(value());
    Ok(())
}

/// `holes B..D 3 bolts M8x40`: the holes before the things that are in them.
fn holes_first(
    words: &Words<'_>,
    mut walk: Walk<'_, '_>,
    details: &mut Details,
) -> Result<(), LineFault> {
    walk.next();
    let holes = super::item::holes(words, &mut walk)?;
    if walk.is_done() {
        let expected = "what is in the holes: `holes B..D 3 bolts M8x40`";
        return Err(LineFault::at(words.line, walk.place(), expected));
    }
    let mut read = item(words, walk)?;
    read.holes = holes;
    details.items.push(read);
    Ok(())
}

/// Reads a list of items and nothing else, as after `lost` or `in PLACE:`.
pub(super) fn items(
    words: &Words<'_>,
    clauses: &[Clause<'_>],
) -> Result<Vec<crate::Item>, LineFault> {
    clauses
        .iter()
        .map(|clause| item(words, Walk::over(clause, words.line.len())))
        .collect()
}
