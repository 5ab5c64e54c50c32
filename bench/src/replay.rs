//! Replay of a large record into a state, beside the reading of its lines alone.

use anyhow::Context;
use job::{ClientId, Entry, EntryId};

use crate::clock::Watch;

/// Parts that go off and on again and again in the made-up record.
const PARTS: usize = 250;

/// Times the replay of so many made-up entries on a job that began without a book.
pub fn bench(count: usize) -> anyhow::Result<()> {
    let lines = record(count);
    let watch = Watch::start();
    let entries = lines
        .iter()
        .enumerate()
        .map(|(at, line)| entry(at, line))
        .collect::<anyhow::Result<Vec<Entry>>>()?;
    let reading = watch.seconds();
    let watch = Watch::start();
    let state = job::replay(None, &entries);
    let replaying = watch.seconds();
    anyhow::ensure!(
        state.findings.is_empty(),
        "the made-up record contradicts itself: {}",
        state.findings[0].finding.says
    );
    println!("  reading the lines alone: {reading:.3} s");
    println!(
        "{} entries into a state in {:.3} s, {:.1} times the reading of their lines",
        entries.len(),
        reading + replaying,
        (reading + replaying) / reading
    );
    Ok(())
}

fn entry(at: usize, line: &str) -> anyhow::Result<Entry> {
    let act = job::line::read_line(line).with_context(|| line.to_owned())?;
    let number = u64::try_from(at)? + 1;
    Ok(Entry {
        id: EntryId(number),
        client: ClientId(format!("made-up-{number}")),
        author: "bench".to_owned(),
        at: i64::try_from(number)?,
        line: line.to_owned(),
        act,
    })
}

/// Parts off and on, readings, rags in and out, notes and undos.
fn record(count: usize) -> Vec<String> {
    let round = |round: usize| {
        let part = round % PARTS;
        [
            format!("off part-{part}: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65, bag {part}"),
            "read cranking dry 205 210 208 210 212 210 psi".to_owned(),
            format!("in port {part}: 3 rags"),
            format!("out port {part}: 3 rags"),
            format!("note part-{part}: looks like the last one"),
            "undo".to_owned(),
            format!("on part-{part}: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65"),
            format!("tight part-{part} 12 Nm"),
        ]
    };
    (0..).flat_map(round).take(count).collect()
}
