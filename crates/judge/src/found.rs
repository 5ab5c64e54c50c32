//! What a whole job measured, held against the limits of its book: one row a limit, with the
//! first and the last reading, the verdict, and whose limit it is.
//!
//! A limit without a reading is said to be without one. Readings that no limit speaks of are
//! left to the page of proof.

use book::{Amount, Limit, OriginKind, Shop};
use job::{Measured, State};
use report::{Align, Cell, Finding, Report, Source, SourceKind, Table, Verdict, Weight};

use crate::reading::{self, Standing};

const COMMAND: &str = "account";

/// Judges every limit of the book that applies.
#[must_use]
pub fn found(state: &State, shop: Option<&Shop>) -> Report {
    let mut report = Report::new(COMMAND, "What was measured");
    let mut table = Table::new(&[
        ("limit", "what", Align::Left),
        ("before", "first", Align::Left),
        ("after", "last", Align::Left),
        ("bound", "limit", Align::Left),
        ("whose", "whose limit", Align::Left),
        ("verdict", "verdict", Align::Left),
    ]);
    let mut counted = [0_usize; 4];
    let limits = state.known.limits.iter();
    for limit in limits.filter(|limit| state.applies(&limit.when)) {
        let Some(standing) = reading::judge(state, shop, limit) else {
            continue;
        };
        let label = reading::label(limit);
        let verdict = match standing {
            Standing::NotMeasured => {
                let says = format!("{label}: no reading");
                report
                    .findings
                    .push(Finding::new("not-measured", &label, says).weight(Weight::Note));
                Verdict::NotMeasured
            }
            Standing::Judged(held) => {
                report.because.push(held.says);
                held.verdict
            }
            Standing::Unreadable(why) => {
                report.findings.push(unreadable(limit, &label, &why));
                Verdict::NotMeasured
            }
        };
        counted[place(verdict)] += 1;
        let readings: Vec<&Measured> = reading::all(state, limit).collect();
        let words = |reading: &&Measured| reading.values.clone();
        let first = readings.first().filter(|_| readings.len() > 1);
        table.push(vec![
            Cell::from(label),
            Cell::from(first.map(words)),
            Cell::from(readings.last().map(words)),
            Cell::from(numbers(limit)),
            Cell::from(whose(limit)),
            Cell::from(verdict),
        ]);
        report.sources.extend(source(limit));
    }
    report.sources.sort();
    report.sources.dedup();
    report.headline = Some(headline(&table, counted));
    report.rows = table;
    report
}

fn unreadable(limit: &Limit, label: &str, why: &str) -> Finding {
    let says = format!("{label}: its reading cannot be judged: {why}");
    let next = format!("write `read {}: …` with numbers and a unit", limit.id);
    Finding::new("unreadable", label, says).next(next)
}

const fn place(verdict: Verdict) -> usize {
    match verdict {
        Verdict::Within | Verdict::Open => 0,
        Verdict::Outside | Verdict::Closed => 1,
        Verdict::Undecided => 2,
        Verdict::NotMeasured => 3,
    }
}

fn headline(table: &Table, [within, outside, undecided, without]: [usize; 4]) -> String {
    if table.rows.is_empty() {
        return "The book has no limit that could be judged by.".to_owned();
    }
    let said = [
        (within, "within"),
        (outside, "outside"),
        (undecided, "undecided"),
        (without, "not measured"),
    ];
    let parts: Vec<String> = said
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    format!("Of {} limits: {}.", table.rows.len(), parts.join(", "))
}

/// The numbers of a limit in the words of the book.
fn numbers(limit: &Limit) -> String {
    let typed = |fact: &book::Fact<Amount>| fact.typed().map(str::to_owned);
    let span = limit.per.typed().map(|per| format!(" per {per}"));
    let bare = match (typed(&limit.min), typed(&limit.max)) {
        (Some(min), Some(max)) => format!("{min} to {max}"),
        (Some(min), None) => format!("at least {min}"),
        (None, Some(max)) => format!("at most {max}"),
        (None, None) => "-".to_owned(),
    };
    format!("{bare}{}", span.unwrap_or_default())
}

/// Whose limit it is, with the place where it stands.
fn whose(limit: &Limit) -> String {
    let owner = limit.source.kind.map_or("nobody says", OriginKind::word);
    match &limit.source.at {
        Some(at) => format!("{owner}, {at}"),
        None => owner.to_owned(),
    }
}

fn source(limit: &Limit) -> Option<Source> {
    let kind = match limit.source.kind? {
        OriginKind::Maker => SourceKind::Maker,
        OriginKind::Shop => SourceKind::Shop,
        OriginKind::Published => SourceKind::Published,
        OriginKind::CommonPractice => SourceKind::CommonPractice,
        OriginKind::Invented | OriginKind::None => return None,
    };
    let title = limit
        .source
        .at
        .clone()
        .unwrap_or_else(|| "the build book".to_owned());
    Some(Source::new(kind, title))
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry, EntryId};

    const BOOK: &str = "part head fixed=#true\n\
        limit head-flat \"Head, flatness\" of=head max=\"0.05 mm\" source=maker at=\"head section\"\n\
        limit deck-flat of=head max=\"0.05 mm\" source=common-practice\n";

    fn state(lines: &[&str]) -> State {
        let (book, faults) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        let entries: Vec<Entry> = (1..)
            .zip(lines)
            .map(|(number, line)| entry(number, line))
            .collect();
        job::replay(Some(&book), &entries)
    }

    fn entry(number: u64, line: &str) -> Entry {
        Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: line.to_owned(),
            act: job::line::read_line(line).unwrap(),
        }
    }

    #[test]
    fn first_and_last_reading_stand_beside_the_limit_and_its_owner() {
        let report = found(
            &state(&["read head-flat: 0.09 mm", "read head-flat: 0.02 mm"]),
            None,
        );
        assert_eq!(report.rows.rows.len(), 2);
        let row = &report.rows.rows[0];
        assert_eq!(row[1], Cell::from("0.09 mm"));
        assert_eq!(row[2], Cell::from("0.02 mm"));
        assert_eq!(row[3], Cell::from("at most 0.05 mm"));
        assert_eq!(row[4], Cell::from("maker, head section"));
        assert_eq!(row[5], Cell::from(Verdict::Within));
        assert_eq!(
            report.headline.as_deref(),
            Some("Of 2 limits: 1 within, 1 not measured.")
        );
        assert!(report.finds("not-measured"));
    }

    /// 151 against at least 150 by hand; the wet reading and the first one do not decide.
    #[test]
    fn a_limit_of_compression_takes_the_last_dry_cranking() {
        let (book, faults) = book::read("limit compression min=\"150 psi\" source=maker\n");
        assert!(faults.is_empty(), "{faults:?}");
        let lines = [
            "read cranking dry: 92 95 psi",
            "read cranking wet: 90 92 psi",
            "read cranking dry: 151 155 psi",
        ];
        let entries: Vec<Entry> = (1..)
            .zip(lines)
            .map(|(number, line)| entry(number, line))
            .collect();
        let report = found(&job::replay(Some(&book), &entries), None);
        let row = &report.rows.rows[0];
        assert_eq!(row[1], Cell::from("92 95 psi"));
        assert_eq!(row[2], Cell::from("151 155 psi"));
        assert_eq!(row[5], Cell::from(Verdict::Within));
    }

    #[test]
    fn outside_stays_outside_and_words_are_no_reading() {
        let outside = found(&state(&["read head-flat: 0.09 mm"]), None);
        assert_eq!(outside.rows.rows[0][5], Cell::from(Verdict::Outside));
        assert!(!outside.because.is_empty());
        let words = found(&state(&["read head-flat: fairly flat"]), None);
        assert!(words.finds("unreadable"));
    }
}
