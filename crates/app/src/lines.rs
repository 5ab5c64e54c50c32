//! Writing into the record: typed lines, all of a sending or none.

mod taken_back;
mod told;

pub use taken_back::{record, undo};

pub(crate) use taken_back::when;
pub(crate) use told::gave_rise_to;

use job::{Act, Entry, EntryId};
use record::NewEntry;
use report::{Finding, Report, Weight};

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
                    told::said(folder, &stored, &mut report);
                    report
                        .findings
                        .extend(replan::changed(folder, &before, &stored));
                    report
                        .findings
                        .extend(judge::gate::battery_step(&before, &folder.state));
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
