//! The record from its first entry to its last: which entries count, and the state they leave.
//!
//! Undo and correction are entries too:
//!
//! ```text
//! 1 off a      2 off b      3 undo 2      4 undo 3      5 correct 1: off c
//!              └─ skipped by 3 ─┘ └─ skipped by 4: entry 2 counts again
//! └─ says `off c` from 5 on, in its own place
//! ```

use std::collections::{BTreeMap, BTreeSet};

use book::Book;
use report::Finding;

use crate::act::Act;
use crate::entry::{Entry, EntryId};
use crate::state::{EntryFinding, State};

/// The entries that count, in record order, corrections put in place; and what is wrong
/// with undo and correction entries themselves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effective {
    /// The entries that count.
    pub entries: Vec<Entry>,
    /// Undo and correction entries that name nothing they can act on.
    pub findings: Vec<EntryFinding>,
}

/// Works out the state from a book and all entries of the record.
///
/// A pure function: the same book and entries give the same state.
#[must_use]
pub fn replay(book: Option<&Book>, entries: &[Entry]) -> State {
    let threads = Threads::of(entries);
    let mut one_thing: Vec<[String; 2]> = Vec::new();
    loop {
        let state = once(book, entries, &threads, &one_thing);
        let fresh = |pair: &&[String; 2]| !one_thing.contains(pair);
        let more: Vec<[String; 2]> = state.one_thing.iter().filter(fresh).cloned().collect();
        // Each round knows of one pair of names more, and there are no more than entries.
        if more.is_empty() {
            return state;
        }
        one_thing.extend(more);
    }
}

/// One run over all entries, with names that mean one thing from the start.
fn once(
    book: Option<&Book>,
    entries: &[Entry],
    threads: &Threads,
    one_thing: &[[String; 2]],
) -> State {
    let mut state = State::new(book);
    for [one, other] in one_thing {
        state.names.unite(one, other);
    }
    for (entry, act, corrected_by) in threads.acting(entries) {
        state.apply_as(entry, act);
        // A correction that is silent about the film leaves it as it was.
        if let Some(film) = corrected_by.and_then(Entry::film).or_else(|| entry.film()) {
            state.films.insert(entry.id, film);
        }
    }
    state.findings.extend(threads.findings.iter().cloned());
    state.findings.sort_by_key(|it| it.entry);
    state.last = entries.last().map(|entry| entry.id);
    state
}

/// Which entries count.
#[must_use]
pub fn effective(entries: &[Entry]) -> Effective {
    let threads = Threads::of(entries);
    let acting = threads.acting(entries).map(|(entry, act, _)| Entry {
        act: act.clone(),
        ..entry.clone()
    });
    Effective {
        entries: acting.collect(),
        findings: threads.findings.clone(),
    }
}

/// The entry an undo without a number takes back: the last of this person that counts and
/// is not itself an undo.
#[must_use]
pub fn undo_target(entries: &[Entry], author: &str) -> Option<EntryId> {
    let threads = Threads::of(entries);
    let live = threads.live.get(author)?;
    live.last().map(|&at| entries[at].id)
}

/// Later entries that would stand in the air if one were taken back: those that contradict
/// the state only once it is gone.
#[must_use]
pub fn stranded_by(book: Option<&Book>, entries: &[Entry], undone: EntryId) -> Vec<EntryId> {
    let contradicting = |entries: &[Entry]| -> BTreeSet<EntryId> {
        let findings = replay(book, entries).findings;
        findings
            .into_iter()
            .filter(|it| it.contradicts)
            .map(|it| it.entry)
            .collect()
    };
    let before = contradicting(entries);
    let Some(last) = entries.last() else {
        return Vec::new();
    };
    let undo = Entry {
        id: EntryId(last.id.0 + 1),
        act: Act::Undone {
            entry: Some(undone),
        },
        ..last.clone()
    };
    let with_undo: Vec<Entry> = entries.iter().cloned().chain([undo]).collect();
    let after = contradicting(&with_undo);
    after
        .difference(&before)
        .copied()
        .filter(|entry| *entry > undone && *entry <= last.id)
        .collect()
}

/// Who takes back and corrects whom. Entries are known here by their place in the list.
#[derive(Default)]
struct Threads {
    counts: Vec<bool>,
    targets: BTreeMap<usize, usize>,
    corrections: BTreeMap<usize, Vec<usize>>,
    /// Per person, the entries an undo without a number may take back.
    live: BTreeMap<String, BTreeSet<usize>>,
    findings: Vec<EntryFinding>,
}

impl Threads {
    fn of(entries: &[Entry]) -> Self {
        let mut threads = Self::default();
        let places: BTreeMap<EntryId, usize> = entries
            .iter()
            .enumerate()
            .map(|(at, entry)| (entry.id, at))
            .collect();
        for (at, entry) in entries.iter().enumerate() {
            threads.counts.push(true);
            match &entry.act {
                Act::Undone { entry: target } => threads.undo(entries, &places, at, *target),
                Act::Corrected { entry: target, .. } => {
                    threads.correct(entries, &places, at, *target)
                }
                _ => threads.lives(entries, at),
            }
        }
        threads
    }

    /// The entries that count, each with what it says now and the entry that made it say so.
    fn acting<'e>(
        &self,
        entries: &'e [Entry],
    ) -> impl Iterator<Item = (&'e Entry, &'e Act, Option<&'e Entry>)> {
        let plain = |act: &Act| !matches!(act, Act::Undone { .. } | Act::Corrected { .. });
        let counting = entries
            .iter()
            .enumerate()
            .filter(move |(at, entry)| self.counts[*at] && plain(&entry.act));
        counting.map(|(at, entry)| {
            let corrections = self
                .corrections
                .get(&at)
                .map(Vec::as_slice)
                .unwrap_or_default();
            // The last correction that was not itself taken back has the word.
            let last = corrections
                .iter()
                .rfind(|&&correction| self.counts[correction]);
            let last = last.map(|&last| &entries[last]);
            match last.map(|last| &last.act) {
                Some(Act::Corrected { act, .. }) => (entry, act.as_ref(), last),
                Some(_) | None => (entry, &entry.act, None),
            }
        })
    }

    fn lives(&mut self, entries: &[Entry], at: usize) {
        if !matches!(entries[at].act, Act::Undone { .. }) {
            self.live
                .entry(entries[at].author.clone())
                .or_default()
                .insert(at);
        }
    }

    fn undo(
        &mut self,
        entries: &[Entry],
        places: &BTreeMap<EntryId, usize>,
        at: usize,
        target: Option<EntryId>,
    ) {
        let place = match target {
            Some(id) => places.get(&id).copied().filter(|place| *place < at),
            None => self
                .live
                .get(&entries[at].author)
                .and_then(|live| live.last().copied()),
        };
        let Some(place) = place else {
            let says = match target {
                Some(id) => format!("there is no entry {id} before it"),
                None => format!("{} has nothing left to take back", entries[at].author),
            };
            return self.refuse(entries[at].id, "undo-of-nothing", says);
        };
        if !self.counts[place] {
            let says = format!("entry {} was taken back already", entries[place].id);
            return self.refuse(entries[at].id, "undone-already", says);
        }
        self.targets.insert(at, place);
        self.set(entries, place, false);
    }

    /// Makes an entry count or not. What an undo had taken back counts again without it.
    fn set(&mut self, entries: &[Entry], place: usize, counts: bool) {
        let (mut place, mut counts) = (place, counts);
        loop {
            self.counts[place] = counts;
            if counts {
                self.lives(entries, place);
            } else if let Some(live) = self.live.get_mut(&entries[place].author) {
                live.remove(&place);
            }
            match self.targets.get(&place) {
                Some(&next) => (place, counts) = (next, !counts),
                None => return,
            }
        }
    }

    fn correct(
        &mut self,
        entries: &[Entry],
        places: &BTreeMap<EntryId, usize>,
        at: usize,
        target: EntryId,
    ) {
        let mut place = places.get(&target).copied().filter(|place| *place < at);
        // Correcting a correction corrects what it corrected.
        while let Some(found) = place
            && let Act::Corrected { entry, .. } = &entries[found].act
        {
            place = places
                .get(entry)
                .copied()
                .filter(|earlier| *earlier < found);
        }
        match place {
            Some(place) if matches!(entries[place].act, Act::Undone { .. }) => {
                self.refuse(
                    entries[at].id,
                    "undo-not-correctable",
                    format!("entry {target} is an undo; take it back instead: `undo {target}`"),
                );
            }
            Some(place) if !self.counts[place] => {
                self.refuse(
                    entries[at].id,
                    "undone-already",
                    format!("entry {target} was taken back"),
                );
            }
            Some(place) => {
                self.corrections.entry(place).or_default().push(at);
                self.lives(entries, at);
            }
            None => self.refuse(
                entries[at].id,
                "undo-of-nothing",
                format!("there is no entry {target} before it"),
            ),
        }
    }

    /// An undo or correction that can act on nothing stays in the record and does nothing.
    fn refuse(&mut self, entry: EntryId, code: &'static str, says: String) {
        self.findings.push(EntryFinding {
            entry,
            contradicts: true,
            finding: Finding::new(code, format!("entry {entry}"), says),
        });
    }
}
