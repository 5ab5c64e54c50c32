//! Hours, as the times of the entries tell them: who sat at the job from when to when.

use std::collections::BTreeMap;

use job::{Entry, EntryId};

/// Entries of one person closer together than this are one sitting.
pub const GAP_MINUTES: i64 = 90;

const MINUTE: i64 = 60_000_000;

/// A stretch of work of one person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sitting {
    /// Who.
    pub who: String,
    /// The first entry's time, in microseconds since 1970-01-01T00:00Z.
    pub from: i64,
    /// The last entry's time.
    pub to: i64,
    /// The entries, by time.
    pub entries: Vec<(EntryId, i64)>,
}

impl Sitting {
    /// Whole minutes from the first entry to the last. What was done before the first entry
    /// nobody wrote down, so the true time is longer.
    #[must_use]
    pub const fn minutes(&self) -> i64 {
        (self.to - self.from) / MINUTE
    }
}

/// The sittings of everybody, by the time they began.
#[must_use]
pub fn sittings(entries: &[Entry]) -> Vec<Sitting> {
    let mut by_person: BTreeMap<&str, Vec<(i64, EntryId)>> = BTreeMap::new();
    for entry in entries {
        let own = by_person.entry(&entry.author).or_default();
        own.push((entry.at, entry.id));
    }
    let mut all: Vec<Sitting> = Vec::new();
    for (who, mut times) in by_person {
        times.sort_unstable();
        let mut open: Option<Sitting> = None;
        for (at, id) in times {
            match &mut open {
                Some(sitting) if at - sitting.to <= GAP_MINUTES * MINUTE => {
                    sitting.to = at;
                    sitting.entries.push((id, at));
                }
                _ => {
                    all.extend(open.replace(Sitting {
                        who: who.to_owned(),
                        from: at,
                        to: at,
                        entries: vec![(id, at)],
                    }));
                }
            }
        }
        all.extend(open);
    }
    all.sort_by(|one, other| (one.from, &one.who).cmp(&(other.from, &other.who)));
    all
}

/// How long each entry took, counted from the entry before it in the same sitting. The first
/// entry of a sitting took nobody knows how long.
#[must_use]
pub fn took(sittings: &[Sitting]) -> BTreeMap<EntryId, i64> {
    let mut took = BTreeMap::new();
    for sitting in sittings {
        for pair in sitting.entries.windows(2) {
            took.insert(pair[1].0, (pair[1].1 - pair[0].1) / MINUTE);
        }
    }
    took
}

/// Minutes as a reader wants them: `45 min`, `6 h 10 min`.
#[must_use]
pub fn shown(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(id: u64, author: &str, minute: i64) -> Entry {
        Entry {
            id: EntryId(id),
            client: job::ClientId(id.to_string()),
            author: author.to_owned(),
            at: minute * MINUTE,
            line: "note x".to_owned(),
            act: job::line::read_line("note x").unwrap(),
        }
    }

    #[test]
    fn a_long_pause_parts_two_sittings_and_each_person_has_their_own() {
        let entries = [
            entry(1, "ana", 0),
            entry(2, "rui", 10),
            entry(3, "ana", 90),
            entry(4, "ana", 181),
            entry(5, "ana", 200),
        ];
        let all = sittings(&entries);
        let told: Vec<(&str, i64)> = all
            .iter()
            .map(|it| (it.who.as_str(), it.minutes()))
            .collect();
        assert_eq!(told, [("ana", 90), ("rui", 0), ("ana", 19)]);
        let took = took(&all);
        assert_eq!(took.get(&EntryId(3)), Some(&90));
        assert_eq!(took.get(&EntryId(4)), None, "nobody knows");
        assert_eq!(
            (shown(45), shown(120), shown(370)),
            ("45 min".into(), "2 h".into(), "6 h 10 min".into())
        );
    }
}
