//! Writing into the record: typed lines, undo.

use job::{Act, Entry, EntryId, State};
use judge::tighten_joint::order::Layout;
use judge::tighten_joint::{Course, slips};
use record::NewEntry;
use report::{Align, Cell, Finding, Report, Table, Weight};

use crate::folder::{Folder, Hand};
use crate::replan;

/// Logs lines, all of them or none. A line that is not understood, or that names what nobody
/// knows, is refused with the way out and nothing is stored.
#[must_use]
pub fn log(folder: &mut Folder, hand: &Hand, lines: &[String]) -> Report {
    log_as(folder, hand, "log", lines)
}

fn log_as(folder: &mut Folder, hand: &Hand, command: &'static str, lines: &[String]) -> Report {
    if let Some(again) = sent_before(folder, hand, command, lines) {
        return again;
    }
    let mut report = Report::new(command, "Into the record");
    match prove(folder, hand, lines) {
        Ok(new) => {
            let before = folder.state.clone();
            match folder.append(&new) {
                Ok(stored) => {
                    said(folder, &stored, &mut report);
                    report
                        .findings
                        .extend(replan::changed(folder, &before, &stored));
                }
                Err(fault) => return fault.refusal(command),
            }
        }
        Err(findings) => {
            report.findings = findings;
            report.refused = true;
            report.headline = Some("Not understood, nothing was stored.".to_owned());
        }
    }
    report
}

/// Reads lines and tries them on the state as it stands. Nothing is stored.
///
/// # Errors
/// What is wrong with them, all in one go: a line that is not understood, or that names what
/// nobody knows.
pub(crate) fn prove(
    folder: &Folder,
    hand: &Hand,
    lines: &[String],
) -> Result<Vec<NewEntry>, Vec<Finding>> {
    let mut trial = folder.state.clone();
    let mut number = folder.next_number();
    let mut new = Vec::new();
    let mut findings = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        match read(hand, at, lines.len(), number, line) {
            Err(finding) => findings.push(*finding),
            Ok((entry, stored)) => {
                findings.extend(nothing_there(folder, number, &entry.act));
                // Names nobody knows are refused before anything is stored.
                findings.extend(
                    trial
                        .refusal(&entry)
                        .map(|finding| finding.detail(line.clone()).weight(Weight::Stop)),
                );
                trial.apply(&entry);
                new.push(stored);
                number = EntryId(number.0 + 1);
            }
        }
    }
    if findings.is_empty() {
        Ok(new)
    } else {
        Err(findings)
    }
}

/// The answer to a line that is in the record already, by the id of its sender: a phone that
/// heard no answer asks again. It is not read a second time, for what it named may be gone.
fn sent_before(
    folder: &Folder,
    hand: &Hand,
    command: &'static str,
    lines: &[String],
) -> Option<Report> {
    let [line] = lines else { return None };
    let had = folder.sent(&hand.client)?;
    if had.line != *line || had.author != hand.author {
        let finding = Finding::new(
            "same-id",
            format!("entry {}", had.id),
            "the id of this line is taken by another entry",
        )
        .detail(line.clone())
        .next("send the line again under an id of its own");
        return Some(Report::refusal(command, "Into the record", finding));
    }
    let mut report = Report::new(command, "Into the record");
    report.headline = Some(format!("Already had it, as entry {}.", had.id));
    Some(report)
}

/// An entry or a gate that a line speaks of and that is not there.
fn nothing_there(folder: &Folder, number: EntryId, act: &Act) -> Option<Finding> {
    let says = match act {
        Act::Undone { entry: Some(id) } | Act::Corrected { entry: id, .. }
            if id.0 == 0 || *id >= number =>
        {
            format!("there is no entry {id} before this one")
        }
        Act::GatePassed { gate, .. } => {
            let own = folder.state.known.gates.iter().map(|gate| gate.id.as_str());
            let mut all = book::GATES.into_iter().chain(own);
            let typed = gate.to_string();
            if all.any(|name| name.eq_ignore_ascii_case(&typed)) {
                return None;
            }
            let finding = Finding::new("gate-unknown", "", format!("there is no gate `{typed}`"));
            let next = "matchmark gate lists them";
            return Some(finding.next(next).weight(Weight::Stop));
        }
        _ => return None,
    };
    let finding = Finding::new("entry-unknown", "", says);
    let next = "matchmark record lists the entries";
    Some(finding.next(next).weight(Weight::Stop))
}

/// Reads one line into an entry and the row that keeps it.
fn read(
    hand: &Hand,
    at: usize,
    of: usize,
    number: EntryId,
    line: &str,
) -> Result<(Entry, NewEntry), Box<Finding>> {
    if line.len() > record::LONGEST_LINE {
        let says = format!(
            "the line has {} bytes, and {} are kept at most",
            line.len(),
            record::LONGEST_LINE
        );
        let finding = Finding::new("line-too-long", "", says);
        return Err(Box::new(finding.next("write it as several lines")));
    }
    let act = job::line::read_line(line).map_err(|fault| Box::new(fault.finding()))?;
    let client = if of == 1 {
        hand.client.clone()
    } else {
        format!("{}-{}", hand.client, at + 1)
    };
    let stored = NewEntry {
        client_id: client.clone(),
        author: hand.author.clone(),
        time_micros: hand.micros,
        zone: None,
        kind: act.kind().to_owned(),
        format_version: job::line::GRAMMAR,
        line: line.to_owned(),
    };
    let entry = Entry {
        id: number,
        client: job::ClientId(client),
        author: hand.author.clone(),
        at: hand.micros,
        line: line.to_owned(),
        act,
    };
    Ok((entry, stored))
}

/// What was stored, and what it gave rise to.
fn said(folder: &Folder, stored: &[Entry], report: &mut Report) {
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

/// Takes back an entry: the one named, or the last of this person that is not taken back yet.
/// Undoing an undo brings the entry back.
#[must_use]
pub fn undo(folder: &mut Folder, hand: &Hand, entry: Option<u64>, anyway: bool) -> Report {
    let target = match entry.map(EntryId) {
        Some(named) => match standing(folder, named) {
            Ok(()) => named,
            Err(says) => {
                let finding = Finding::new("nothing-to-undo", "", says)
                    .next("matchmark record lists the entries and what became of them");
                return Report::refusal("undo", "Undo", finding);
            }
        },
        None => match job::undo_target(&folder.entries, &hand.author) {
            Some(last) => last,
            None => {
                let finding = Finding::new(
                    "nothing-to-undo",
                    "",
                    format!("{} has no entry that could be taken back", hand.author),
                )
                .next("name one: matchmark undo NUMBER (matchmark record lists them)");
                return Report::refusal("undo", "Undo", finding);
            }
        },
    };
    let stranded = job::stranded_by(folder.book.as_ref(), &folder.entries, target);
    if !stranded.is_empty() && !anyway {
        return asked(folder, target, &stranded);
    }
    log_as(folder, hand, "undo", &[format!("undo {target}")])
}

/// Whether an entry can be taken back: it is there, and it counts.
fn standing(folder: &Folder, id: EntryId) -> Result<(), String> {
    let Some(entry) = folder.entries.iter().find(|entry| entry.id == id) else {
        return Err(format!("there is no entry {id}"));
    };
    match fate(entry, &job::effective(&folder.entries).entries) {
        Some(TAKEN_BACK) => Err(format!("entry {id} was taken back already")),
        Some(_) | None => Ok(()),
    }
}

/// What became of an entry, where something did.
const TAKEN_BACK: &str = "taken back";
const CORRECTED: &str = "corrected";

fn fate(entry: &Entry, counting: &[Entry]) -> Option<&'static str> {
    if matches!(entry.act, Act::Undone { .. } | Act::Corrected { .. }) {
        return None;
    }
    match counting.iter().find(|one| one.id == entry.id) {
        None => Some(TAKEN_BACK),
        Some(one) if one.act != entry.act => Some(CORRECTED),
        Some(_) => None,
    }
}

/// The entries that would stand in the air, and the question what to do.
fn asked(folder: &Folder, target: EntryId, stranded: &[EntryId]) -> Report {
    let finding = folder
        .entries
        .iter()
        .filter(|entry| stranded.contains(&entry.id))
        .fold(
            Finding::new(
                "undo-strands",
                format!("entry {target}"),
                "later entries rest on it and would stand in the air",
            ),
            |finding, entry| finding.detail(format!("{:>4}  {}", entry.id, entry.line)),
        );
    let mut report = Report::refusal(
        "undo",
        "Undo",
        finding.next("take those back first, or add --anyway"),
    );
    report.headline = Some("Nothing was changed.".to_owned());
    report
}

/// The record, line by line, the last ones last.
#[must_use]
pub fn record(folder: &Folder, last: Option<usize>) -> Report {
    let mut report = Report::new("record", "The record");
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("when", "when (UTC)", Align::Left),
        ("who", "who", Align::Left),
        ("line", "line", Align::Left),
        ("now", "now", Align::Left),
    ]);
    let counting = job::effective(&folder.entries).entries;
    let skip = last.map_or(0, |last| folder.entries.len().saturating_sub(last));
    for entry in folder.entries.iter().skip(skip) {
        let number = u32::try_from(entry.id.0).map_or(f64::MAX, f64::from);
        table.push(vec![
            Cell::Number(number, entry.id.to_string()),
            Cell::from(when(entry.at)),
            Cell::from(entry.author.clone()),
            Cell::from(entry.line.clone()),
            Cell::from(fate(entry, &counting)),
        ]);
    }
    report.headline = Some(match folder.entries.len() {
        0 => "Nothing was logged yet.".to_owned(),
        1 => "One entry.".to_owned(),
        many => format!("{many} entries."),
    });
    report.rows = table;
    report
}

/// A moment as day and time, in UTC so that it reads the same on every machine.
pub(crate) fn when(micros: i64) -> String {
    jiff::Timestamp::from_microsecond(micros).map_or_else(
        |_| micros.to_string(),
        |at| at.strftime("%F %H:%M").to_string(),
    )
}
