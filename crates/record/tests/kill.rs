//! A program killed in the middle of its work loses nothing it acknowledged.
//!
//! The test starts this same test program again as a writer, which appends entries and says
//! each one on its error stream once the store has answered. It is killed at 25 moments
//! drawn from a fixed seed, each round going on in the same record. A killed program is not
//! a power cut: that the disk keeps what it was told to sync is left to SQLite.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on stops there")]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use record::{NewEntry, SqliteStore, Store};

const ROUNDS: u64 = 25;

fn entry(round: &str, count: u64) -> NewEntry {
    NewEntry {
        client_id: format!("{round}-{count}"),
        author: "Ada".to_owned(),
        time_micros: 1_700_000_000_000_000,
        zone: None,
        kind: "note".to_owned(),
        format_version: 1,
        line: format!("note round {round}, count {count}"),
    }
}

/// The writer. It does nothing unless the test below feeds it a path and a round, so it is
/// ignored in a plain run.
#[test]
#[ignore = "the writing half of the test below, which starts it"]
fn writer() {
    let mut orders = std::io::stdin().lines();
    let (Some(Ok(path)), Some(Ok(round))) = (orders.next(), orders.next()) else {
        return;
    };
    let mut store = SqliteStore::open(Path::new(&path)).unwrap();
    let mut said = std::io::stderr();
    for first in (0..).step_by(4) {
        // One alone, then three together, so that both ways of appending are cut short.
        let alone = store.append(&entry(&round, first)).unwrap();
        writeln!(said, "kept {round}-{first} as {}", alone.number()).unwrap();
        let three: Vec<NewEntry> = (first + 1..first + 4).map(|n| entry(&round, n)).collect();
        let together = store.append_all(&three).unwrap();
        for (one, answer) in three.iter().zip(together) {
            writeln!(said, "kept {} as {}", one.client_id, answer.number()).unwrap();
        }
    }
}

fn start(path: &Path, round: u64) -> Child {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["writer", "--exact", "--ignored", "--nocapture"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut orders = child.stdin.take().unwrap();
    writeln!(orders, "{}\n{round}", path.display()).unwrap();
    child
}

/// A small fixed sequence of numbers (Park and Miller, 1988, multiplier 48271).
fn next(seed: &mut u64) -> u64 {
    *seed = *seed * 48_271 % 2_147_483_647;
    *seed
}

#[test]
fn nothing_acknowledged_is_lost_in_25_kills() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.record");
    drop(SqliteStore::create(&path).unwrap());
    let mut seed = 20_240_229;
    let mut acknowledged: Vec<(String, u64)> = Vec::new();
    for round in 0..ROUNDS {
        let mut child = start(&path, round);
        let mut said = BufReader::new(child.stderr.take().unwrap()).lines();
        let wait_for = 1 + next(&mut seed) % 40;
        let mut heard: Vec<String> = Vec::new();
        for _ in 0..wait_for {
            heard.push(
                said.next()
                    .expect("the writer goes on until it is killed")
                    .unwrap(),
            );
        }
        // The writer runs on while this thread dawdles for a while that differs each round.
        for _ in 0..next(&mut seed) % 400_000 {
            std::hint::spin_loop();
        }
        child.kill().unwrap();
        child.wait().unwrap();
        // What it said before it died, and this end had not read yet, counts as well.
        heard.extend(said.map_while(Result::ok));
        acknowledged.extend(heard.iter().filter_map(|line| {
            let (id, number) = line.strip_prefix("kept ")?.split_once(" as ")?;
            Some((id.to_owned(), number.parse().ok()?))
        }));

        let store = SqliteStore::open(&path).unwrap();
        store.prove_sound().unwrap();
        for (id, number) in &acknowledged {
            let kept = store.by_client_id(id).unwrap();
            let kept = kept.unwrap_or_else(|| panic!("entry {id} was acknowledged and is lost"));
            let (round, count) = id.split_once('-').unwrap();
            assert_eq!(kept.number, *number);
            assert_eq!(kept.entry, entry(round, count.parse().unwrap()));
        }
        let numbers: Vec<u64> = store.all().unwrap().iter().map(|one| one.number).collect();
        assert!(
            numbers.iter().copied().eq(1..=store.count().unwrap()),
            "numbers have gaps"
        );
    }
    assert!(
        acknowledged.len() >= 25,
        "only {} acknowledged",
        acknowledged.len()
    );
}
