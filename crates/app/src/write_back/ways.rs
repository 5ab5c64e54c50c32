//! Ways and bores the record knows better than the book: a part that came off past one that
//! the book has in its way, and a bore that was measured.

use std::collections::BTreeSet;

use book::{Book, Fact, PartId};
use job::{Act, EntryId, Named};
use quantity::{Length, Quantity};
use report::Ask;

use super::learnt::part;
use crate::folder::Folder;

/// Two bores closer than this are one: a calliper's reading of rubber is no better.
const ALIKE_MM: f64 = 0.5;

/// Asks about every part that came off while something the book has in its way was still on.
pub(super) fn past(folder: &Folder) -> Vec<Ask> {
    let Some(book) = &folder.book else {
        return Vec::new();
    };
    let mut away: BTreeSet<PartId> = BTreeSet::new();
    let mut asked: BTreeSet<(PartId, PartId)> = BTreeSet::new();
    let mut asks = Vec::new();
    for entry in job::effective(&folder.entries).entries {
        match &entry.act {
            Act::Off { what, .. } | Act::Lifted { what, .. } | Act::Aside { what, .. } => {
                let parts: Vec<PartId> = what.iter().filter_map(|it| part(folder, it)).collect();
                // What leaves in one line leaves together.
                for id in &parts {
                    away.extend(with(book, id));
                }
                for id in &parts {
                    for over in still_over(folder, book, id, &away) {
                        if asked.insert((id.clone(), over.clone())) {
                            asks.push(ask(entry.id, id, &over));
                        }
                    }
                }
            }
            Act::On { what, .. } => {
                for id in what.iter().filter_map(|it| part(folder, it)) {
                    for gone in with(book, &id) {
                        away.remove(&gone);
                    }
                }
            }
            _ => {}
        }
    }
    asks
}

/// A part and what comes off in one piece with it, all the way down.
fn with(book: &Book, id: &PartId) -> BTreeSet<PartId> {
    let mut all = BTreeSet::new();
    let mut left = vec![id.clone()];
    while let Some(next) = left.pop() {
        // A part met twice is not followed again, so a loop of the book ends here.
        if !all.insert(next.clone()) {
            continue;
        }
        if let Some(part) = book.part(&next) {
            left.extend(part.comes_with.iter().map(|it| it.id.clone()));
        }
    }
    all
}

fn still_over(folder: &Folder, book: &Book, id: &PartId, away: &BTreeSet<PartId>) -> Vec<PartId> {
    let Some(part) = book.part(id) else {
        return Vec::new();
    };
    part.needs_off
        .iter()
        .map(|mention| &mention.id)
        .filter(|over| !away.contains(*over))
        .filter(|over| {
            let over = book.part(over);
            over.is_some_and(|over| folder.state.applies(&over.when))
        })
        .cloned()
        .collect()
}

fn ask(entry: EntryId, part: &PartId, over: &PartId) -> Ask {
    Ask::new(
        format!("{part} came off with {over} still on"),
        format!("the book has {over} in its way, and entry {entry} went past it; the book stands"),
        format!(
            "take {over} out of `needs-off` of {part}, or write the other way as `needs-off-any`"
        ),
    )
}

/// Fills in bores the book leaves open, and asks where one was found that differs.
pub(super) fn bores(book: &mut Book, folder: &Folder) -> Vec<Ask> {
    let mut asks = Vec::new();
    for entry in job::effective(&folder.entries).entries {
        let Act::Off { what, details, .. } = &entry.act else {
            continue;
        };
        let Some(typed) = &details.bore else {
            continue;
        };
        let Ok(found) = quantity::read::<Length>(typed) else {
            continue;
        };
        let ids = what.iter().flat_map(|name| folder.state.names.all(name));
        let ids = ids.filter_map(|named| match named {
            Named::Line(line) | Named::End(line, _) => Some(line),
            Named::Part(_) | Named::Joint(_) | Named::Circuit(_) => None,
        });
        for id in ids {
            let Some(line) = book.lines.iter_mut().find(|line| line.id == *id) else {
                continue;
            };
            if line.bore.is_open() {
                line.bore = Fact::said(found.value, typed.clone());
            } else if let Some(known) = line.bore.known()
                && (known.si() - found.value.si()).abs() * 1000.0 > ALIKE_MM
            {
                let says = line.bore.typed().unwrap_or_default();
                asks.push(Ask::new(
                    format!("bore of {id}: {says} in the book, {typed} in the record"),
                    format!("entry {} found it so; the book's bore stands", entry.id),
                    "change the book if the record is right",
                ));
            }
        }
    }
    asks
}
