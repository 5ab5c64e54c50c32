//! Mix-ups of the demo: the coolant hose by the breather on top, and a list that shrinks.
//! The demo is invented.

use std::time::Instant;

use app::demo::{BOOK, LIFE};
use job::{ClientId, Entry, EntryId, State};
use planning::answer::Job;
use report::{Cell, Report};

fn state(chapters: usize) -> State {
    let (book, _) = book::read(BOOK);
    let rows = LIFE
        .iter()
        .take(chapters)
        .flat_map(|chapter| chapter.entries().unwrap_or_else(|fault| panic!("{fault}")));
    let entries: Vec<Entry> = (1..)
        .zip(rows)
        .map(|(number, row)| Entry {
            id: EntryId(number),
            client: ClientId(row.client_id),
            author: row.author,
            at: row.time_micros,
            act: job::line::read_line(&row.line).unwrap_or_else(|fault| panic!("{fault}")),
            line: row.line,
        })
        .collect();
    job::replay(Some(&book), &entries)
}

fn cell<'r>(report: &'r Report, row: usize, key: &str) -> &'r Cell {
    let at = report
        .rows
        .columns
        .iter()
        .position(|column| column.key == key)
        .expect("a column");
    &report.rows.rows[row][at]
}

#[test]
fn coolant_into_the_intake_is_on_top_before_and_after_the_job() {
    for chapters in [0, LIFE.len()] {
        let state = state(chapters);
        let report = planning::mixups::mixups(&Job::of(&state), &state, None, true);
        assert_eq!(cell(&report, 0, "a"), &Cell::from("bottle-bleed.to"));
        assert_eq!(cell(&report, 0, "b"), &Cell::from("breather.to"));
        assert_eq!(
            cell(&report, 0, "home_a"),
            &Cell::from("water-outlet.bleed")
        );
        assert_eq!(cell(&report, 0, "home_b"), &Cell::from("plenum.breather"));
        assert_eq!(cell(&report, 0, "medium_a"), &Cell::from("coolant"));
        assert_eq!(cell(&report, 0, "grade"), &Cell::from("ruin"));
        let Cell::Text(says) = cell(&report, 0, "says") else {
            panic!("no words");
        };
        assert!(says.contains("hydraulic lock"), "{says}");
    }
}

#[test]
fn tags_and_checks_shorten_the_list() {
    let open = |chapters: usize| {
        let state = state(chapters);
        planning::mixups::mixups(&Job::of(&state), &state, None, false)
            .rows
            .rows
            .len()
    };
    assert!(
        open(LIFE.len()) < open(1) && open(1) < open(0),
        "{} {} {}",
        open(0),
        open(1),
        open(LIFE.len())
    );
}

#[test]
fn the_finished_demo_has_no_loose_fastener_and_its_ground() {
    let state = state(LIFE.len());
    let loose = planning::loose::loose(&state);
    assert!(loose.rows.rows.is_empty(), "{:#?}", loose.rows.rows);
    assert!(!judge::gate::gate(&state, None, "fire").finds("no-ground-return"));
}

/// The largest vehicle asked for: 400 ends and 1,500 holes, every end alike.
#[test]
#[expect(clippy::disallowed_methods, reason = "the time is what is tested")]
fn four_hundred_ends_and_fifteen_hundred_holes_take_under_two_seconds() {
    let mut text = String::from("part block fixed=#true\n");
    for number in 0..200 {
        text += &format!(
            "part p{number} zone=above {{\n port a medium=coolant bore=\"10 mm\"\n port b medium=coolant bore=\"10 mm\"\n"
        );
        if number < 150 {
            text += &format!(
                " joint j{number} to=block {{\n  holes h1..h9 thread=M8x1.25 length=\"40 mm\" head=\"13 mm\"\n  hole k thread=M8x1.25 length=\"65 mm\" head=\"13 mm\"\n }}\n"
            );
        }
        text += "}\n";
    }
    for number in 0..200 {
        text += &format!(
            "hose h{number} medium=coolant bore=\"10 mm\" clamp=spring from=p{number}.a to=p{}.b\n",
            (number + 1) % 200
        );
    }
    let (book, faults) = book::read(&text);
    assert!(faults.is_empty());
    let state = job::replay(Some(&book), &[]);
    // A busy machine makes one run slow; it does not make all of them slow for long.
    let tries: Vec<f64> = (0..8)
        .map(|_| {
            let begun = Instant::now();
            let report = planning::mixups::mixups(&Job::of(&state), &state, None, true);
            let took = begun.elapsed().as_secs_f64();
            assert!(report.rows.rows.len() > 150);
            took
        })
        .collect();
    let best = tries.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(best < 2.0, "{tries:?}");
}
