//! Photos: bytes in, a file in the job folder and a `photo …` line in the record.
//!
//! A photo is kept as it was taken, under the SHA-256 of its bytes; what is drawn smaller from
//! it is upright, says nothing of place, time or camera, and may be deleted at any time.
//!
//! For a page that takes uploads: [`keep`] is the whole way in (body bytes, the words typed
//! beside the picture, a [`Report`] back), [`list()`] tells what there is, and [`original`] and
//! [`smaller`] give bytes out by the job's folder and the photo's name alone, without opening
//! the record. Nothing but [`smaller`] may be shown to other people.

mod list;
mod loose;
mod on_paper;
mod store;
#[cfg(test)]
pub(crate) mod tests;

use std::path::Path;

use files::photo::Photo;
use job::{Act, Entry, FileHash};
use report::{Align, Cell, Figure, Finding, Report, Table, Weight};

use crate::folder::{Folder, Hand};
use crate::lines;

pub use list::list;
pub use loose::loose;
pub(crate) use on_paper::on_paper;
pub use store::{Size, StoreFault, original, smaller};

use store::Staged;

const COMMAND: &str = "photo";
const TITLE: &str = "Photos";

/// A picture on its way in.
#[derive(Clone, Copy, Debug)]
pub struct Sent<'a> {
    /// What the sender calls it: `IMG_0031.jpg`. It is said back in the answer and not kept.
    pub name: &'a str,
    /// Its bytes, as the camera wrote them.
    pub bytes: &'a [u8],
}

/// Keeps pictures and writes a `photo` line for each; all of them or none.
///
/// `words` is what a person would type behind `photo`, without the file, and stands in every
/// line: `of runners hole F, bag 14: the long bolt`, or nothing. Pictures that are in the
/// record with the same words are not put in twice, so a list of files may be sent again; and
/// a sender that tries again with the same [`Hand::client`] is told that it is had already.
///
/// The report has a row for each picture (`entry`, `name`, `file`, `kept`, `taken`) and the
/// figure `photos`, how many lines were added. A picture that is no JPEG or PNG, or words that
/// are not understood, refuse the whole.
#[must_use]
pub fn keep(folder: &mut Folder, hand: &Hand, sent: &[Sent<'_>], words: &str) -> Report {
    let mut staged = Vec::new();
    let mut findings = Vec::new();
    for one in sent {
        match store::stage(folder.path(), one.name, one.bytes) {
            Ok(ready) => staged.push(ready),
            Err(fault) => findings.push(fault.finding(one.name)),
        }
    }
    kept(folder, hand, staged, findings, words)
}

/// As [`keep`], for pictures in files. They are read one after another.
#[must_use]
pub fn keep_files(folder: &mut Folder, hand: &Hand, paths: &[&Path], words: &str) -> Report {
    let mut staged = Vec::new();
    let mut findings = Vec::new();
    for path in paths {
        let name = path.display().to_string();
        let ready = store::read(path).and_then(|bytes| store::stage(folder.path(), &name, &bytes));
        match ready {
            Ok(ready) => staged.push(ready),
            Err(fault) => findings.push(fault.finding(&name)),
        }
    }
    kept(folder, hand, staged, findings, words)
}

/// Lays a picture in a job folder without a line about it, and gives its name.
pub(crate) fn lay(job: &Path, name: &str, bytes: &[u8]) -> Result<FileHash, StoreFault> {
    let settled = store::stage(job, name, bytes)?.settle(job)?;
    Ok(settled.file)
}

/// Parts what was typed behind `photo`: files first, then the words of the line, which begin
/// with a word that only they know (`of`, `hole`, `bag`, `show`, …) or with a colon. A file of
/// such a name is written `./bag`.
#[must_use]
pub fn parted(typed: &[String]) -> (&[String], &[String]) {
    let begins = |word: &String| {
        let first = word.split_whitespace().next().unwrap_or_default();
        first.starts_with(':') || job::line::begins_photo_words(first.trim_end_matches(':'))
    };
    let at = typed.iter().position(begins).unwrap_or(typed.len());
    typed.split_at(at)
}

/// The files first, then the lines: a crash in between leaves a file that nobody speaks of,
/// which [`loose()`] finds, and never a line about a picture that is lost.
fn kept(
    folder: &mut Folder,
    hand: &Hand,
    staged: Vec<Staged>,
    mut findings: Vec<Finding>,
    words: &str,
) -> Report {
    if staged.is_empty() && findings.is_empty() {
        findings.push(Finding::new("photo", "", "no picture was named").next("name a file"));
    }
    let mut fresh: Vec<(&Staged, String)> = Vec::new();
    for one in &staged {
        let line = line(&one.file, words);
        let twice = fresh.iter().any(|(_, other)| *other == line);
        if !twice && had(folder, hand, &line).is_none() {
            fresh.push((one, line));
        }
    }
    let typed: Vec<String> = fresh.iter().map(|(_, line)| line.clone()).collect();
    let new = match lines::prove(folder, hand, &typed) {
        Ok(new) => new,
        Err(more) => {
            findings.extend(more);
            Vec::new()
        }
    };
    findings.extend(typed.first().and_then(|line| other_file(line)));
    if !findings.is_empty() {
        return refused(findings);
    }
    let parts = staged.into_iter().map(|one| one.settle(folder.path()));
    let settled: Vec<Settled> = match parts.collect() {
        Ok(settled) => settled,
        Err(fault) => return refused(vec![fault.finding("")]),
    };
    match folder.append(&new) {
        Ok(stored) => told(folder, hand, &settled, &stored, words),
        Err(fault) => fault.refusal(COMMAND),
    }
}

/// A picture that lies in the job folder.
#[derive(Debug)]
struct Settled {
    name: String,
    file: FileHash,
    photo: Photo,
}

/// The line that is put into the record.
fn line(file: &FileHash, words: &str) -> String {
    let words = words.trim();
    match words.chars().next() {
        None => format!("photo file {file}"),
        Some(':') => format!("photo file {file}{words}"),
        Some(_) => format!("photo file {file} {words}"),
    }
}

/// An entry that says the same of the same picture already: one that counts, or one that this
/// sender sent before and heard no answer to.
fn had<'a>(folder: &'a Folder, hand: &Hand, line: &str) -> Option<&'a Entry> {
    let counts = |entry: &Entry| {
        let mut photos = folder.state.photos.iter();
        photos.any(|photo| photo.entry == entry.id)
    };
    let again = |entry: &Entry| entry.client.0 == hand.client && entry.author == hand.author;
    let mut same = folder.entries.iter().filter(|entry| entry.line == line);
    same.find(|entry| again(entry) || counts(entry))
}

/// Words that name a file of their own would take the place of the picture that was sent.
fn other_file(line: &str) -> Option<Finding> {
    let first = line.split_whitespace().nth(2)?;
    match job::line::read_line(line) {
        Ok(Act::Photographed(shot)) if shot.file.as_ref().map(FileHash::as_str) != Some(first) => {
            let says = "the words beside a picture name another file";
            let next = "leave `file …` out: the picture brings its own";
            Some(Finding::new("photo-words", line, says).next(next))
        }
        Ok(_) | Err(_) => None,
    }
}

fn refused(findings: Vec<Finding>) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    report.findings = findings
        .into_iter()
        .map(|finding| finding.weight(Weight::Stop))
        .collect();
    report.refused = true;
    report.headline = Some("Nothing was stored.".to_owned());
    report
}

fn told(
    folder: &Folder,
    hand: &Hand,
    settled: &[Settled],
    stored: &[Entry],
    words: &str,
) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("name", "picture", Align::Left),
        ("file", "", Align::Left),
        ("kept", "", Align::Left),
        ("taken", "taken", Align::Left),
        ("pixels", "pixels", Align::Right),
        ("located", "", Align::Left),
    ]);
    for one in settled {
        let typed = line(&one.file, words);
        let new = stored.iter().find(|entry| entry.line == typed);
        let entry = new.or_else(|| had(folder, hand, &typed));
        table.push(vec![
            Cell::from(entry.and_then(|entry| usize::try_from(entry.id.0).ok())),
            Cell::from(one.name.clone()),
            Cell::from(one.file.to_string()),
            Cell::from(if new.is_some() { "new" } else { "had already" }),
            Cell::from(one.photo.taken.map(|taken| taken.shown())),
            Cell::from(format!("{} × {}", one.photo.width, one.photo.height)),
            Cell::Flag(one.photo.located),
        ]);
    }
    report.rows = table;
    report.figures = vec![Figure::count("photos", "photos added", stored.len())];
    report.headline = Some(match stored {
        [] => "Already had it, nothing was added.".to_owned(),
        [one] => format!("One photo is kept, entry {}.", one.id),
        [first, .., last] => format!(
            "{} photos are kept, entries {} to {}.",
            stored.len(),
            first.id,
            last.id
        ),
    });
    report.findings = lines::gave_rise_to(&folder.state, stored);
    report.findings.extend(located(settled));
    report
}

/// A picture that says where it was taken is kept so; what leaves the house is told.
fn located(settled: &[Settled]) -> Option<Finding> {
    let count = settled.iter().filter(|one| one.photo.located).count();
    let says = match count {
        0 => return None,
        1 => "one picture says where it was taken".to_owned(),
        many => format!("{many} pictures say where they were taken"),
    };
    let next = "nothing to do: it stays in the job folder; papers, pages and how-tos leave it out";
    Some(
        Finding::new("photo-located", "", says)
            .next(next)
            .weight(Weight::Note),
    )
}
