//! Mix-ups of the demo and of a made-up vehicle, beside the reading of its book and beside a
//! bare comparison of every end with every other.

use std::fmt::Write as _;

use anyhow::Context;
use book::Book;
use job::State;
use planning::answer::Job;

use crate::clock::Watch;

/// Times the question on both books. `holes` and `ends` are those of the made-up one.
pub fn bench(ends: usize, holes: usize) -> anyhow::Result<()> {
    let demo = timed("demo", app::demo::BOOK)?;
    let text = vehicle(ends, holes)?;
    let large = timed("made up", &text)?;
    println!(
        "mixups: demo {:.1} ms; {} ends and {} holes {:.3} s, {:.1} times the reading of their book, {:.0} times a bare comparison of all ends",
        demo.seconds * 1e3,
        large.ends,
        large.holes,
        large.seconds,
        large.seconds / large.reading,
        large.seconds / large.bare
    );
    Ok(())
}

struct Run {
    ends: usize,
    holes: usize,
    reading: f64,
    bare: f64,
    seconds: f64,
}

fn timed(name: &str, text: &str) -> anyhow::Result<Run> {
    let watch = Watch::start();
    let (book, faults) = book::read(text);
    let reading = watch.seconds();
    anyhow::ensure!(
        faults.is_empty(),
        "{}",
        book::show_faults(&faults, name, text)
    );
    let ends = 2 * book.lines.len();
    let holes = book.joints.iter().map(|joint| joint.holes.len()).sum();
    let watch = Watch::start();
    let alike = compared(&book);
    let bare = watch.seconds();
    let state = job::replay(Some(&book), &[]);
    let watch = Watch::start();
    let rows = asked(&state)?;
    let seconds = watch.seconds();
    println!(
        "{name}: {ends} ends, {holes} holes; {rows} rows in {seconds:.4} s; reading {reading:.4} s; {alike} pairs alike by bore and side in {bare:.4} s"
    );
    Ok(Run {
        ends,
        holes,
        reading,
        bare,
        seconds,
    })
}

fn asked(state: &State) -> anyhow::Result<usize> {
    let report = planning::mixups::mixups(&Job::of(state), state, None, true);
    anyhow::ensure!(!report.refused, "{}", report.title);
    Ok(report.rows.rows.len())
}

/// The plain way: every end with every other, by bore and side of the engine alone.
fn compared(book: &Book) -> usize {
    let seats: Vec<(Option<f64>, Option<&str>)> = book
        .lines
        .iter()
        .flat_map(|line| [0, 1].map(|end| (line, end)))
        .map(|(line, end)| {
            let port = &line.ends[end].port.id;
            let part = book.part(&port.part);
            let zone = part.and_then(|part| part.zone.as_ref());
            let bore = line.bore_at(end).known().map(|bore| bore.in_mm());
            (bore, zone.map(|zone| zone.id.as_str()))
        })
        .collect();
    let mut alike = 0;
    for (at, one) in seats.iter().enumerate() {
        for other in &seats[at + 1..] {
            let bores = one.0.zip(other.0);
            let near = bores.is_some_and(|(one, other)| (one - other).abs() <= 1.0);
            alike += usize::from(near && one.1 == other.1);
        }
    }
    alike
}

/// A made-up vehicle with so many ends, of four media and two bores on two sides, and so many
/// holes of two lengths.
fn vehicle(ends: usize, holes: usize) -> anyhow::Result<String> {
    const MEDIA: [&str; 4] = ["coolant", "vacuum", "crankcase", "fuel"];
    let lines = (ends / 2).max(2);
    let joints = holes / 10;
    let mut text = String::from("part block fixed=#true\n");
    for number in 0..lines.max(joints) {
        let medium = MEDIA[number % 4];
        let zone = if number % 2 == 0 {
            "above"
        } else {
            "drive-end"
        };
        let bore = 8 + 2 * (number % 3);
        let next = MEDIA[(number + lines - 1) % lines % 4];
        let last = 8 + 2 * ((number + lines - 1) % lines % 3);
        writeln!(text, "part p{number} zone={zone} {{")?;
        if number < lines {
            writeln!(text, " port a medium={medium} bore=\"{bore} mm\"")?;
            writeln!(text, " port b medium={next} bore=\"{last} mm\"")?;
        }
        if number < joints {
            writeln!(
                text,
                " joint j{number} to=block {{\n  holes h1..h9 thread=M8x1.25 length=\"40 mm\" head=\"13 mm\"\n  hole k thread=M8x1.25 length=\"65 mm\" head=\"13 mm\"\n }}"
            )?;
        }
        text += "}\n";
    }
    for number in 0..lines {
        let to = (number + 1) % lines;
        let (medium, bore) = (MEDIA[number % 4], 8 + 2 * (number % 3));
        writeln!(
            text,
            "hose h{number} medium={medium} bore=\"{bore} mm\" clamp=spring {{\n from p{number}.a reach=\"400 mm\"\n to p{to}.b reach=\"400 mm\"\n}}"
        )
        .context("a text can be written")?;
    }
    Ok(text)
}
