//! Undo, and the record as it reads with what was taken back or corrected.

use job::{Act, Entry, EntryId};
use report::{Align, Cell, Finding, Report, Table};

use super::log_as;
use crate::folder::{Folder, Hand};

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
