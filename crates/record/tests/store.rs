//! What every record promises, proven on both kinds.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on stops there")]

use proptest::prelude::*;
use record::{Appended, MemoryStore, NewEntry, SqliteStore, Store, StoreError};

fn entry(client_id: &str, line: &str) -> NewEntry {
    NewEntry {
        client_id: client_id.to_owned(),
        author: "Ada".to_owned(),
        time_micros: 1_700_000_000_000_000,
        zone: Some("+01:00".to_owned()),
        kind: "off".to_owned(),
        format_version: 1,
        line: line.to_owned(),
    }
}

/// Runs one promise against the record on disk and the one in memory.
fn on_both(promise: impl Fn(&mut dyn Store)) {
    let folder = tempfile::tempdir().unwrap();
    promise(&mut SqliteStore::create(&folder.path().join("job.record")).unwrap());
    promise(&mut MemoryStore::new());
}

#[test]
fn numbers_count_from_one_and_reading_gives_back_what_was_sent() {
    on_both(|store| {
        let sent = [
            entry("a", "off runners: bag 14"),
            entry("b", "note: löse Schraube µ"),
        ];
        assert_eq!(store.append(&sent[0]).unwrap(), Appended::New(1));
        assert_eq!(store.append(&sent[1]).unwrap(), Appended::New(2));
        let read: Vec<NewEntry> = store
            .all()
            .unwrap()
            .into_iter()
            .map(|one| one.entry)
            .collect();
        assert_eq!(read, sent);
        assert_eq!(store.count().unwrap(), 2);
        assert_eq!(store.by_number(2).unwrap().unwrap().entry, sent[1]);
        assert_eq!(store.by_number(0).unwrap(), None);
        assert_eq!(store.by_number(3).unwrap(), None);
        assert_eq!(store.by_client_id("b").unwrap().unwrap().number, 2);
        assert_eq!(store.by_client_id("c").unwrap(), None);
    });
}

#[test]
fn sending_twice_stores_once() {
    on_both(|store| {
        let first = entry("a", "off runners");
        let retried = NewEntry {
            time_micros: 5,
            ..first.clone()
        };
        assert_eq!(store.append(&first).unwrap(), Appended::New(1));
        assert_eq!(store.append(&retried).unwrap(), Appended::AlreadyHad(1));
        assert_eq!(store.count().unwrap(), 1);
        assert_eq!(store.by_number(1).unwrap().unwrap().entry, first);
    });
}

#[test]
fn one_id_for_two_lines_is_refused_not_swallowed() {
    on_both(|store| {
        store.append(&entry("a", "off runners")).unwrap();
        let refused = store.append(&entry("a", "off air-duct")).unwrap_err();
        assert!(matches!(
            refused,
            StoreError::SameIdOtherEntry { number: 1, .. }
        ));
        assert_eq!(store.count().unwrap(), 1);
    });
}

#[test]
fn a_batch_is_kept_whole_or_not_at_all() {
    on_both(|store| {
        let twice_in_one = [entry("a", "off runners"), entry("a", "off runners")];
        assert_eq!(
            store.append_all(&twice_in_one).unwrap(),
            [Appended::New(1), Appended::AlreadyHad(1)]
        );
        let spoiled = [entry("b", "off air-duct"), entry("c", "  ")];
        assert!(matches!(
            store.append_all(&spoiled).unwrap_err(),
            StoreError::Refused { field: "line", .. }
        ));
        assert_eq!(store.count().unwrap(), 1);
        // The number of the entry that was rolled back is given out again: no gaps.
        assert_eq!(
            store.append(&entry("b", "off air-duct")).unwrap(),
            Appended::New(2)
        );
    });
}

#[test]
fn what_cannot_be_kept_is_refused_by_name() {
    on_both(|store| {
        for (field, bad) in [
            ("client id", entry("", "off runners")),
            (
                "author",
                NewEntry {
                    author: " ".to_owned(),
                    ..entry("a", "x")
                },
            ),
            (
                "kind",
                NewEntry {
                    kind: "k".repeat(201),
                    ..entry("a", "x")
                },
            ),
            ("line", entry("a", &"x".repeat(8 * 1024 + 1))),
            (
                "format version",
                NewEntry {
                    format_version: 0,
                    ..entry("a", "x")
                },
            ),
        ] {
            match store.append(&bad) {
                Err(StoreError::Refused { field: named, .. }) => assert_eq!(named, field),
                other => panic!("{field}: {other:?}"),
            }
        }
    });
}

#[test]
fn since_gives_only_what_came_later_and_no_more_than_asked() {
    on_both(|store| {
        let all: Vec<NewEntry> = (1..=5)
            .map(|n| entry(&n.to_string(), "off runners"))
            .collect();
        store.append_all(&all).unwrap();
        let numbers = |from, most| -> Vec<u64> {
            store
                .since(from, most)
                .unwrap()
                .iter()
                .map(|one| one.number)
                .collect()
        };
        assert_eq!(numbers(0, usize::MAX), [1, 2, 3, 4, 5]);
        assert_eq!(numbers(3, usize::MAX), [4, 5]);
        assert_eq!(numbers(1, 2), [2, 3]);
        assert_eq!(numbers(9, 2), [] as [u64; 0]);
    });
}

#[test]
fn a_backup_opens_and_holds_the_same() {
    on_both(|store| {
        store
            .append_all(&[entry("a", "off runners"), entry("b", "undo")])
            .unwrap();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("copy.record");
        store.back_up(&path).unwrap();
        assert_eq!(
            SqliteStore::open(&path).unwrap().all().unwrap(),
            store.all().unwrap()
        );
        assert!(matches!(
            store.back_up(&path).unwrap_err(),
            StoreError::AlreadyThere { .. }
        ));
    });
}

#[test]
fn paths_that_hold_no_record_are_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.record");
    assert!(matches!(
        SqliteStore::open(&missing),
        Err(StoreError::Missing { .. })
    ));
    assert!(!missing.exists());

    let text = folder.path().join("notes.txt");
    std::fs::write(
        &text,
        "not a database, but long enough to be taken for one".repeat(40),
    )
    .unwrap();
    assert!(matches!(
        SqliteStore::open(&text),
        Err(StoreError::NotARecord { .. })
    ));
    assert!(matches!(
        SqliteStore::create(&text),
        Err(StoreError::AlreadyThere { .. })
    ));

    let other = folder.path().join("other.db");
    rusqlite::Connection::open(&other)
        .unwrap()
        .execute_batch("CREATE TABLE entry (a)")
        .unwrap();
    assert!(matches!(
        SqliteStore::open(&other),
        Err(StoreError::NotARecord { .. })
    ));
}

#[test]
fn a_record_from_a_newer_program_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.record");
    drop(SqliteStore::create(&path).unwrap());
    rusqlite::Connection::open(&path)
        .unwrap()
        .pragma_update(None, "user_version", 99)
        .unwrap();
    assert!(matches!(
        SqliteStore::open(&path),
        Err(StoreError::FromNewer {
            found: 99,
            known: 1,
            ..
        })
    ));
}

#[test]
fn the_file_itself_refuses_change_removal_and_replacement() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.record");
    let mut store = SqliteStore::create(&path).unwrap();
    store.append(&entry("a", "off runners")).unwrap();
    let by_hand = rusqlite::Connection::open(&path).unwrap();
    for sql in [
        "UPDATE entry SET line = 'off air-duct'",
        "DELETE FROM entry",
        "INSERT OR REPLACE INTO entry VALUES (1, 'z', 'Bo', 0, NULL, 'off', 1, 'x')",
        "INSERT OR REPLACE INTO entry VALUES (NULL, 'a', 'Bo', 0, NULL, 'off', 1, 'x')",
    ] {
        let refused = by_hand.execute(sql, []).unwrap_err().to_string();
        assert!(refused.contains("append-only"), "{sql}: {refused}");
    }
    assert_eq!(
        store.by_number(1).unwrap().unwrap().entry,
        entry("a", "off runners")
    );
}

#[test]
fn two_windows_on_one_record_see_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.record");
    let mut left = SqliteStore::create(&path).unwrap();
    let mut right = SqliteStore::open(&path).unwrap();
    left.append(&entry("a", "off runners")).unwrap();
    assert_eq!(right.append(&entry("b", "undo")).unwrap(), Appended::New(2));
    assert_eq!(left.since(1, 10).unwrap()[0].entry.line, "undo");
    assert_eq!(
        left.append(&entry("b", "undo")).unwrap(),
        Appended::AlreadyHad(2)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    /// The two stores answer alike, whatever is sent how often and in whatever batches.
    #[test]
    fn memory_and_disk_answer_alike(
        batches in prop::collection::vec(prop::collection::vec((0_u8..12, 0_u8..2), 0..6), 1..8)
    ) {
        let folder = tempfile::tempdir().unwrap();
        let mut disk = SqliteStore::create(&folder.path().join("job.record")).unwrap();
        let mut memory = MemoryStore::new();
        for batch in batches {
            let sent: Vec<NewEntry> = batch
                .iter()
                .map(|(id, line)| entry(&id.to_string(), ["off a", "off b"][usize::from(*line)]))
                .collect();
            let answers = (disk.append_all(&sent), memory.append_all(&sent));
            prop_assert_eq!(format!("{:?}", answers.0), format!("{:?}", answers.1));
            prop_assert_eq!(disk.all().unwrap(), memory.all().unwrap());
        }
    }
}
