//! What is said after lines were stored: what is new, what is doubted, what contradicts.

use job::{Entry, EntryId, State};
use judge::tighten_joint::order::Layout;
use judge::tighten_joint::{Course, slips};
use report::{Align, Cell, Finding, Report, Table, Weight};

use crate::folder::Folder;

/// What was stored, and what it gave rise to.
pub(super) fn said(folder: &Folder, stored: &[Entry], report: &mut Report) {
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("kind", "", Align::Left),
        ("line", "line", Align::Left),
    ]);
    for entry in stored {
        let number = u32::try_from(entry.id.0).map_or(f64::MAX, f64::from);
        table.push(vec![
            Cell::Number(number, entry.id.to_string()),
            Cell::from(entry.act.kind()),
            Cell::from(entry.line.clone()),
        ]);
    }
    report.rows = table;
    report.findings.extend(gave_rise_to(&folder.state, stored));
    report.findings.extend(same_as_the_last(folder, stored));
    report.headline = Some(match stored {
        [] => "Already had it, nothing was added.".to_owned(),
        [one] => format!("Entry {} is kept.", one.id),
        [first, .., last] => format!("Entries {} to {} are kept.", first.id, last.id),
    });
}

/// What entries that were kept gave rise to: names met first, figures in doubt, slips.
pub(crate) fn gave_rise_to(state: &State, stored: &[Entry]) -> Vec<Finding> {
    let numbers: Vec<EntryId> = stored.iter().map(|entry| entry.id).collect();
    let mut findings: Vec<Finding> = first_met(state, &numbers).into_iter().collect();
    findings.extend(doubted(state, &numbers));
    let fresh = state
        .findings
        .iter()
        .filter(|found| numbers.contains(&found.entry));
    findings.extend(fresh.map(|found| {
        // The line was kept; what it gave rise to is for looking at, not a refusal.
        let weight = if found.contradicts {
            Weight::Look
        } else {
            found.finding.weight.min(Weight::Look)
        };
        found.finding.clone().weight(weight)
    }));
    findings
}

/// Figures of these entries that no such bolt gets, or that are not the book's. The entries
/// are kept: what was done stays written, and is questioned.
fn doubted(state: &State, entries: &[EntryId]) -> Vec<Finding> {
    let mut found = Vec::new();
    for (id, held) in &state.joints {
        let mut own: Vec<EntryId> = held
            .holes
            .values()
            .flat_map(|hole| &hole.tightened)
            .map(|done| done.entry)
            .filter(|entry| entries.contains(entry))
            .collect();
        own.sort();
        own.dedup();
        if own.is_empty() {
            continue;
        }
        if let Ok(Some(course)) = Course::of(state, id, Layout::NotSaid) {
            found.extend(
                own.into_iter()
                    .flat_map(|entry| slips::of_entry(&course, entry)),
            );
        }
    }
    for finding in &mut found {
        finding.weight = finding.weight.min(Weight::Look);
    }
    found
}

/// What these entries were the first to name: kept as new things, and said, so that a slip
/// of the finger does not become a second alternator.
fn first_met(state: &State, entries: &[EntryId]) -> Option<Finding> {
    let named = |id: &str| {
        let part = state.known.parts.iter().find(|part| part.id.as_str() == id);
        let line = state.known.lines.iter().find(|line| line.id.as_str() == id);
        let circuit = || {
            state
                .known
                .circuits
                .iter()
                .find(|one| one.id.as_str() == id)
        };
        match (part, line) {
            // What a thing was held to and nobody named is asked for when the book is written.
            (Some(part), _) if part.fixed => None,
            (Some(part), _) => part.label.clone().or_else(|| Some(id.to_owned())),
            (None, Some(line)) => line.label.clone().or_else(|| Some(id.to_owned())),
            (None, None) => circuit().map(|one| one.label.clone().unwrap_or_else(|| id.to_owned())),
        }
    };
    let new: Vec<String> = state
        .met
        .iter()
        .filter(|(_, entry)| entries.contains(entry))
        .filter_map(|(id, _)| named(id))
        .collect();
    (!new.is_empty()).then(|| {
        Finding::new("first-met", "", format!("new here: {}", new.join(", ")))
            .next("go on; if one has a name already, write `same NEW as OLD`")
            .weight(Weight::Note)
    })
}

/// The same words by the same person as the entry just before: sent twice, or done twice.
fn same_as_the_last(folder: &Folder, stored: &[Entry]) -> Option<Finding> {
    let first = stored.first()?;
    let before = folder.entries.iter().rfind(|entry| entry.id < first.id)?;
    let same = before.line == first.line && before.author == first.author;
    let says = format!("entry {} says the same, word for word", before.id);
    same.then(|| {
        Finding::new("same-as-the-last", format!("entry {}", first.id), says)
            .next(format!("if it happened once: matchmark undo {}", first.id))
            .weight(Weight::Look)
    })
}
