//! The demo's book and life hold what they promise. All of it is invented.

use app::demo::{BOOK, LIFE, SHOP};
use job::{ClientId, Entry, EntryId, State};

fn book() -> book::Book {
    let (book, faults) = book::read(BOOK);
    assert!(
        faults.is_empty(),
        "{}",
        book::show_faults(&faults, "post-van.kdl", BOOK)
    );
    book
}

/// The entries of the first chapters, numbered through.
fn entries(chapters: usize) -> Vec<Entry> {
    let rows = LIFE
        .iter()
        .take(chapters)
        .flat_map(|chapter| chapter.entries().unwrap_or_else(|fault| panic!("{fault}")));
    (1..)
        .zip(rows)
        .map(|(number, row)| Entry {
            id: EntryId(number),
            client: ClientId(row.client_id),
            author: row.author,
            at: row.time_micros,
            act: job::line::read_line(&row.line).unwrap_or_else(|fault| panic!("{fault}")),
            line: row.line,
        })
        .collect()
}

fn state(chapters: usize) -> State {
    job::replay(Some(&book()), &entries(chapters))
}

fn codes(state: &State) -> Vec<&'static str> {
    job::outstanding::outstanding(state)
        .iter()
        .map(|row| row.kind.code())
        .collect()
}

#[test]
fn the_book_is_as_large_as_a_real_one() {
    let book = book();
    let holes: usize = book.joints.iter().map(|joint| joint.holes.len()).sum();
    let ways = book
        .parts
        .iter()
        .filter(|part| !part.needs_off_any.is_empty())
        .count();
    assert!(book.parts.len() >= 60, "{} parts", book.parts.len());
    assert!(book.joints.len() >= 75, "{} joints", book.joints.len());
    assert!(holes >= 330, "{holes} fasteners");
    assert!(book.lines.len() * 2 >= 55, "{} lines", book.lines.len());
    assert_eq!(book.circuits.len(), 4);
    assert!(book.rules.len() >= 15 && ways >= 3 && book.variants.len() == 1);
    assert!(book.invented, "the book says that it is invented");
    let (_, faults) = book::read_shop(SHOP);
    assert!(faults.is_empty());
}

#[test]
fn every_line_of_the_life_fits_the_state() {
    let state = state(LIFE.len());
    let odd: Vec<String> = state
        .findings
        .iter()
        .map(|found| {
            format!(
                "{}: {} {}",
                found.entry, found.finding.code, found.finding.says
            )
        })
        .collect();
    let expected = ["wrong-length"];
    let unexpected: Vec<&String> = odd
        .iter()
        .filter(|line| !expected.iter().any(|code| line.contains(code)))
        .collect();
    assert!(unexpected.is_empty(), "{unexpected:#?}");
}

#[test]
fn the_forgotten_seal_is_seen_before_anything_covers_it() {
    let state = state(3);
    let rows = job::outstanding::outstanding(&state);
    let missing: Vec<&str> = rows
        .iter()
        .filter(|row| row.kind.code() == "seal-missing")
        .map(|row| row.what.as_str())
        .collect();
    assert_eq!(missing.len(), 1, "{missing:?}");
    assert!(missing[0].contains("water channel ring"), "{missing:?}");
    assert!(!codes(&self::state(4)).contains(&"seal-missing"));
}

#[test]
fn the_wrong_bolt_and_the_rag_keep_the_fire_gate_closed() {
    let found = codes(&state(5));
    assert!(
        found.contains(&"wrong-length") && found.contains(&"put-in-not-out"),
        "{found:?}"
    );
    let blocked = judge_fire(5);
    assert_eq!(blocked.verdict, Some(report::Verdict::Closed));
}

#[test]
fn in_the_end_nothing_is_outstanding_and_the_gate_is_open() {
    let state = state(LIFE.len());
    let rows: Vec<String> = job::outstanding::outstanding(&state)
        .iter()
        .map(|row| format!("{} {}", row.kind.code(), row.what))
        .collect();
    assert!(rows.is_empty(), "{rows:#?}");
    let gate = judge_fire(LIFE.len());
    assert_eq!(
        gate.verdict,
        Some(report::Verdict::Open),
        "{:#?}",
        gate.findings
    );
}

fn judge_fire(chapters: usize) -> report::Report {
    let (shop, _) = book::read_shop(SHOP);
    judge::gate::gate(&state(chapters), Some(&shop), "fire")
}
