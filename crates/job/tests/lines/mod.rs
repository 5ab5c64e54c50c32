//! Entries from typed lines, for the tests.

use job::line::read_line;
use job::{ClientId, Entry, EntryId};

/// One entry, numbered and signed.
#[track_caller]
pub fn entry(number: u64, author: &str, line: &str) -> Entry {
    let act = read_line(line).unwrap_or_else(|fault| panic!("{line}: {fault}"));
    Entry {
        id: EntryId(number),
        client: ClientId(format!("c{number}")),
        author: author.to_owned(),
        at: 1_700_000_000_000_000,
        line: line.to_owned(),
        act,
    }
}

/// Entries of one person, numbered from 1.
#[track_caller]
pub fn entries<S: AsRef<str>>(lines: &[S]) -> Vec<Entry> {
    (1..)
        .zip(lines)
        .map(|(number, line)| entry(number, "Ada", line.as_ref()))
        .collect()
}
