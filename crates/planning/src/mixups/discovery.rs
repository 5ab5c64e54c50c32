//! Loose ends and where they could belong: candidates by sort, key, bore, side and length among
//! what is still open.

use std::collections::BTreeSet;

use job::State;
use report::{Align, Ask, Cell, Figure, Finding, Report, Table, Weight};

use super::fit::{Fit, Plug, Seat};
use super::map::{end_name, is_off, tag};
use crate::answer::{Job, counted};

/// A port a loose end could belong on.
struct Candidate {
    port: String,
    /// The fact it hangs on, where one is missing.
    lacks: Option<&'static str>,
}

/// What a clock and the record say of how long an end is off.
#[derive(Clone, Copy, Debug)]
pub struct Ages<'a> {
    /// Who did what when.
    pub entries: &'a [job::Entry],
    /// Now, in microseconds since 1970-01-01T00:00Z.
    pub now: i64,
}

impl Ages<'_> {
    /// Whole days since an entry; nothing where a clock ran backwards.
    fn days(&self, since: job::EntryId) -> Option<i64> {
        const DAY: i64 = 86_400_000_000;
        let entry = self.entries.iter().find(|entry| entry.id == since)?;
        let age = self.now.checked_sub(entry.at)?;
        (age >= 0).then_some(age / DAY)
    }
}

/// From so many days on nobody remembers where a loose end belonged. *Common practice, no
/// source.*
const FORGOTTEN: i64 = 30;

/// Every end that is off, with its known home or its candidates; and open ports nobody claims.
#[must_use]
pub fn open_ends(job: &Job, state: &State, ages: &Ages<'_>) -> Report {
    let book = job.graph.book();
    let all: Vec<Plug> = (0..book.lines.len())
        .flat_map(|line| [0, 1].map(|end| Plug::of(book, line, end)))
        .collect();
    let off = |plug: &&Plug| is_off(state, &book.lines[plug.line], plug.end);
    let loose: Vec<&Plug> = all.iter().filter(off).collect();
    let spare = spare(book, &all);
    let mut report = Report::new("ends", "Loose ends and where they could belong");
    let mut table = Table::new(&[
        ("end", "loose end", Align::Left),
        ("port", "belongs on", Align::Left),
        ("candidates", "could also sit on", Align::Left),
        ("tag", "tag", Align::Left),
        ("unsure", "", Align::Left),
        ("since", "", Align::Right),
    ]);
    for plug in &loose {
        table.push(row(job, state, plug, &loose, &spare));
    }
    let homeless = loose
        .iter()
        .filter(|plug| book.port(&plug.home.port).is_none())
        .count();
    report.headline = Some(match (loose.len(), homeless) {
        (0, _) => "No end is loose.".to_owned(),
        (count, 0) => format!(
            "{}, each with a home in the book.",
            counted(count, "loose end")
        ),
        (count, _) => format!(
            "{}, {homeless} without a known home.",
            counted(count, "loose end")
        ),
    });
    report
        .figures
        .push(Figure::count("loose", "loose ends", loose.len()));
    report
        .figures
        .push(Figure::count("homeless", "without a known home", homeless));
    report.rows = table;
    photos(&mut report, job, state, &loose);
    old(&mut report, job, state, &loose, ages);
    if !spare.is_empty() && !loose.is_empty() {
        let ports: Vec<String> = spare.iter().map(|seat| seat.port.to_string()).collect();
        let says = format!("ports nobody's end belongs on: {}", ports.join(", "));
        report.findings.push(
            Finding::new("open-ports", "", says)
                .next("cap them while the engine is open; one of them may want a loose end")
                .weight(Weight::Note),
        );
    }
    report
}

/// Ports no end belongs on.
fn spare(book: &book::Book, all: &[Plug]) -> Vec<Seat> {
    let taken: BTreeSet<_> = all.iter().map(|plug| &plug.home.port).collect();
    let ports = book
        .parts
        .iter()
        .flat_map(|part| part.ports.iter().map(|port| (&part.id, port)));
    ports
        .map(|(part, port)| Seat::unused(book, part, port))
        .filter(|seat| !seat.open && !taken.contains(&seat.port))
        .collect()
}

/// One loose end against every port that is open now.
fn row(job: &Job, state: &State, plug: &Plug, loose: &[&Plug], spare: &[Seat]) -> Vec<Cell> {
    let book = job.graph.book();
    let line = &book.lines[plug.line];
    let open = loose
        .iter()
        .filter(|other| other.home.port != plug.home.port)
        .map(|other| &other.home);
    let (sure, unsure): (Vec<Candidate>, Vec<Candidate>) = candidates(plug, open.chain(spare))
        .into_iter()
        .partition(|it| it.lacks.is_none());
    let hangs_on = |it: Candidate| format!("{} ({}?)", it.port, it.lacks.unwrap_or_default());
    let since = state.lines.get(&line.id).map(|ends| ends[plug.end].since.0);
    vec![
        Cell::from(end_name(line, plug.end)),
        Cell::from(if book.port(&plug.home.port).is_some() {
            plug.home.port.to_string()
        } else {
            "not known".to_owned()
        }),
        Cell::List(sure.into_iter().map(|it| it.port).collect()),
        Cell::from(tag(state, line, plug.end)),
        Cell::List(unsure.into_iter().map(hangs_on).collect()),
        since.map_or(Cell::None, |entry| {
            Cell::Number(entry as f64, entry.to_string())
        }),
    ]
}

/// Sure ones first, then those that hang on a missing fact.
fn candidates<'s>(plug: &Plug, seats: impl Iterator<Item = &'s Seat>) -> Vec<Candidate> {
    let mut found: Vec<Candidate> = seats
        .filter_map(|seat| {
            let lacks = match plug.onto(seat) {
                Fit::Yes { .. } => None,
                Fit::Unknown(missing) => Some(missing.word()),
                Fit::No => return None,
            };
            Some(Candidate {
                port: seat.port.to_string(),
                lacks,
            })
        })
        .collect();
    found.sort_by(|one, other| (&one.lacks, &one.port).cmp(&(&other.lacks, &other.port)));
    found
}

/// An end without a tag whose part is on no photo either is the one nobody will place in a year.
fn photos(report: &mut Report, job: &Job, state: &State, loose: &[&Plug]) {
    let book = job.graph.book();
    for plug in loose {
        let line = &book.lines[plug.line];
        let seen = |photo: &job::Photo| {
            let shows = photo.of.as_deref().unwrap_or_default();
            [
                line.id.as_str(),
                line.label.as_deref().unwrap_or_default(),
                plug.home.port.part.as_str(),
            ]
            .iter()
            .any(|name| !name.is_empty() && job::folded(shows).contains(&job::folded(name)))
        };
        if tag(state, line, plug.end).is_none()
            && !state.photos.iter().any(seen)
            && book.port(&plug.home.port).is_none()
        {
            report.asks.push(Ask::new(
                format!("home of {}", end_name(line, plug.end)),
                "no tag, no port and no photo: in some months nobody will know",
                format!(
                    "tag N: {} PORT, or a photo of it in its place",
                    end_name(line, plug.end)
                ),
            ));
        }
    }
}

/// The older a loose end without a tag, the sooner it is looked after: memory is the only
/// record of it.
fn old(report: &mut Report, job: &Job, state: &State, loose: &[&Plug], ages: &Ages<'_>) {
    let book = job.graph.book();
    let untagged = |plug: &&&Plug| tag(state, &book.lines[plug.line], plug.end).is_none();
    let aged = loose.iter().filter_map(|plug| {
        let line = &book.lines[plug.line];
        let since = state.lines.get(&line.id)?[plug.end].since;
        Some((*plug, ages.days(since)?))
    });
    let mut aged: Vec<(&Plug, i64)> = aged.collect();
    aged.sort_by_key(|(plug, days)| (std::cmp::Reverse(*days), plug.line, plug.end));
    if let Some((_, oldest)) = aged.first() {
        let days = usize::try_from(*oldest).unwrap_or(usize::MAX);
        report
            .figures
            .push(Figure::count("oldest", "days the oldest is off", days));
    }
    let forgotten: Vec<String> = aged
        .iter()
        .filter(|(plug, days)| *days >= FORGOTTEN && untagged(&plug))
        .map(|(plug, days)| {
            let line = &book.lines[plug.line];
            format!("{} ({days} days)", end_name(line, plug.end))
        })
        .collect();
    if !forgotten.is_empty() {
        report.findings.push(
            Finding::new(
                "off-for-long",
                forgotten.join(", "),
                "off for a month or more, and no tag on it",
            )
            .points_to("in a year nobody knows its home")
            .next("tag these first, the oldest at once: `tag N: END PORT`")
            .weight(Weight::Look),
        );
    }
}
