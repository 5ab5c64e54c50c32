//! What a job taught that its book did not say: how long things took, bolt lengths, remarks.

use std::collections::BTreeMap;

use book::{Book, Estimate, Fact, PartId};
use job::{Act, EntryId, Named};
use quantity::{Duration, Quantity};
use report::Ask;

use crate::folder::Folder;
use crate::sitting;

/// A time the book gives is asked about when the record has more than this many times it. A
/// shorter one is no news: lines are written in a row when the hands are clean again.
const FAR: f64 = 2.0;

/// Below this, entries written in a row say more about typing than about work.
const LEAST_MINUTES: i64 = 2;

/// What was learnt, beside what was written into the book.
#[derive(Debug, Default)]
pub(super) struct Learnt {
    pub asks: Vec<Ask>,
    pub because: Vec<String>,
}

/// Fills in what the book leaves open, and asks where it says otherwise.
pub(super) fn add(book: &mut Book, folder: &Folder) -> Learnt {
    let mut learnt = Learnt::default();
    times(book, folder, &mut learnt);
    lengths(book, folder);
    remarks(book, folder);
    learnt
}

/// One part, its entry, and whether it came off or went on.
type Timed = (PartId, bool);

fn times(book: &mut Book, folder: &Folder, learnt: &mut Learnt) {
    let entries = job::effective(&folder.entries).entries;
    let took = sitting::took(&sitting::sittings(&entries));
    let mut first: BTreeMap<Timed, (EntryId, i64)> = BTreeMap::new();
    for entry in &entries {
        // A line with several things tells no time of one of them.
        let (name, off) = match &entry.act {
            Act::Off { what, .. } if what.len() == 1 => (&what[0], true),
            Act::On { what, .. } if what.len() == 1 => (&what[0], false),
            _ => continue,
        };
        let minutes = took.get(&entry.id).copied();
        if let (Some(part), Some(minutes)) = (part(folder, name), minutes)
            && minutes >= LEAST_MINUTES
        {
            first.entry((part, off)).or_insert((entry.id, minutes));
        }
    }
    let mut filled = 0_usize;
    for ((id, off), (entry, minutes)) in first {
        let Some(part) = book.parts.iter_mut().find(|part| part.id == id) else {
            continue;
        };
        let slot = if off {
            &mut part.effort.off
        } else {
            &mut part.effort.on
        };
        let told = sitting::shown(minutes);
        if slot.is_open() {
            // Seconds are what a duration is kept in; the words say the same in minutes.
            let words = format!("{minutes} min");
            if let Ok(said) = quantity::read::<Duration>(&words) {
                let likely = Estimate {
                    likely: said.value,
                    range: None,
                };
                *slot = Fact::said(likely, words);
                filled += 1;
            }
        } else if let Some(known) = slot.known() {
            let share =
                i32::try_from(minutes).map_or(f64::MAX, f64::from) * 60.0 / known.likely.si();
            if share > FAR {
                let act = if off { "taking off" } else { "putting on" };
                let book_says = slot.typed().unwrap_or_default();
                learnt.asks.push(Ask::new(
                    format!("{act} {id}: {book_says} in the book, {told} in the record"),
                    format!("entry {entry} came that long after the one before it; the book's time stands"),
                    "change the book if the record is right",
                ));
            }
        }
    }
    if filled > 0 {
        learnt.because.push(format!(
            "{filled} times are counted from the entry before, in one sitting, by whoever did it."
        ));
    }
}

/// The part a name of the record means, where it means one.
pub(super) fn part(folder: &Folder, name: &str) -> Option<PartId> {
    let mut means = folder.state.names.all(name).iter();
    means.find_map(|named| match named {
        Named::Part(part) => Some(part.clone()),
        _ => None,
    })
}

/// Lengths that came out of holes the book has no length for.
fn lengths(book: &mut Book, folder: &Folder) {
    for joint in &mut book.joints {
        let Some(held) = folder.state.joints.get(&joint.id) else {
            continue;
        };
        for hole in &mut joint.holes {
            let seen = held.holes.get(&hole.name);
            let seen = seen.and_then(|hole| hole.came_out.as_ref().filter(|_| hole.counted));
            if let Some(length) = seen.and_then(|item| item.length)
                && hole.length.is_open()
            {
                hole.length = Fact::said(length, format!("{} mm", job::mm(length)));
            }
        }
    }
}

/// Remarks about a part go with it, behind what the book says of it already.
fn remarks(book: &mut Book, folder: &Folder) {
    for (_, about, text) in &folder.state.notes {
        let Some(id) = about.as_deref().and_then(|about| part(folder, about)) else {
            continue;
        };
        let Some(part) = book.parts.iter_mut().find(|part| part.id == id) else {
            continue;
        };
        match &mut part.note {
            None => part.note = Some(text.clone()),
            Some(note) if !note.contains(text.as_str()) => {
                note.push_str("; ");
                note.push_str(text);
            }
            Some(_) => {}
        }
    }
}
