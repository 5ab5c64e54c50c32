//! What must hold for any record: undo, order, sending twice, and lines that make no sense.

#[path = "lines/mod.rs"]
mod lines;

use job::line::{VERBS, read_line};
use job::outstanding::outstanding;
use job::{Act, Entry, EntryId, State, replay};
use lines::{entries, entry};
use proptest::prelude::*;

/// A state without the numbers of entries, which undo and order change.
fn bare(state: &State) -> String {
    let mut state = state.clone();
    state.last = None;
    format!("{:?} {:?} {:?}", state.parts, state.joints, state.lines)
        + &format!(
            "{:?} {:?} {:?}",
            state.circuits, state.temporaries, state.lost
        )
        + &format!("{:?} {:?} {:?}", state.known, state.names, state.findings)
}

/// What a reader sees, in any order, without entry numbers.
fn seen(state: &State) -> Vec<String> {
    let mut rows: Vec<String> = outstanding(state)
        .iter()
        .map(|row| format!("{} {:?} {:?} {:?}", row.what, row.kind, row.place, row.note))
        .collect();
    rows.sort();
    rows
}

fn a_line() -> impl Strategy<Value = String> {
    let part = prop::sample::select(vec!["runners", "alternator", "bracket", "air duct"]);
    let bolts = prop::sample::select(vec![
        "2 nuts 13 mm",
        "3 bolts M8x40",
        "1 bolt M8x65",
        "2 bolts M8x1.25x40",
    ]);
    let verb = prop::sample::select(vec![
        "off", "on", "loose", "aside", "lost", "found", "in", "out", "drain", "fill", "tight",
    ]);
    (verb, part, bolts, 1_u32..40).prop_map(|(verb, part, bolts, bag)| match verb {
        "off" => format!("off {part}: {bolts}, bag {bag}"),
        "on" => format!("on {part}: {bolts}"),
        "lost" | "found" => format!("{verb} {bolts}"),
        "in" | "out" => format!("{verb} {part}: 1 rag"),
        "drain" | "fill" => format!("{verb} coolant 2 L"),
        "tight" => format!("tight {part} 12 Nm"),
        _ => format!("{verb} {part}"),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Doing something and undoing it leaves the state as it was; the record keeps both.
    #[test]
    fn do_then_undo_gives_back_the_same_state(lines in prop::collection::vec(a_line(), 0..12), last in a_line()) {
        let mut job: Vec<Entry> = entries(&lines);
        let before = bare(&replay(None, &job));
        let number = u64::try_from(job.len()).unwrap() + 1;
        job.push(entry(number, "Ada", &last));
        let done = bare(&replay(None, &job));
        job.push(entry(number + 1, "Ada", "undo"));
        prop_assert_eq!(bare(&replay(None, &job)), before);
        // And undoing the undo restores it.
        job.push(entry(number + 2, "Ada", &format!("undo {}", number + 1)));
        prop_assert_eq!(bare(&replay(None, &job)), done);
    }

    /// Undoing everything, one by one, leads back to the beginning.
    #[test]
    fn undoing_all_leads_back_to_the_beginning(lines in prop::collection::vec(a_line(), 0..12)) {
        let mut job: Vec<Entry> = entries(&lines);
        for _ in 0..lines.len() {
            let number = u64::try_from(job.len()).unwrap() + 1;
            job.push(entry(number, "Ada", "undo"));
        }
        prop_assert_eq!(bare(&replay(None, &job)), bare(&State::new(None)));
    }

    /// Entries about different things may come in any order.
    #[test]
    fn independent_entries_may_come_in_any_order(order in Just((0..8_usize).collect::<Vec<_>>()).prop_shuffle()) {
        let lines = [
            "off runners: 2 nuts 13 mm, 3 bolts M8x40, bag 1", "off alternator: 2 bolts M10x80, bag 2",
            "drain coolant 5 L", "in inlet ports: 3 rags", "lost 1 bolt M6x16", "aside pump: hoses on",
            "note heater hose soft", "ordered 2 head gaskets",
        ];
        let written = |order: &[usize]| {
            let job: Vec<Entry> = (1..).zip(order).map(|(number, &at)| entry(number, "Ada", lines[at])).collect();
            replay(None, &job)
        };
        let (one, other) = (written(&order), written(&[0, 1, 2, 3, 4, 5, 6, 7]));
        prop_assert!(one.findings.is_empty());
        prop_assert_eq!(seen(&one), seen(&other));
    }

    /// Applying entries one by one as they come is the same as replaying them all, as long
    /// as none of them is an undo or a correction.
    #[test]
    fn applying_as_they_come_is_replaying(lines in prop::collection::vec(a_line(), 0..15)) {
        let job: Vec<Entry> = entries(&lines);
        let mut state = State::new(None);
        for entry in &job {
            state.apply(entry);
        }
        prop_assert_eq!(state, replay(None, &job));
    }

    /// What came out of holes and went back by the same count leaves nothing over.
    #[test]
    fn count_out_is_count_in(counts in prop::collection::vec((1_u32..5, 3_u32..9), 1..4)) {
        let items: Vec<String> = counts.iter().map(|(count, length)| format!("{count} bolts M8x{}", length * 10)).collect();
        let job = [
            entry(1, "Ada", &format!("off cover: {}", items.join(", "))),
            entry(2, "Ada", &format!("on cover: {}", items.join(", "))),
        ];
        let state = replay(None, &job);
        prop_assert_eq!(seen(&state), Vec::<String>::new());
        // One fewer is one left over.
        let short = items.iter().skip(1).cloned().collect::<Vec<_>>();
        prop_assume!(!short.is_empty());
        let job = [job[0].clone(), entry(2, "Ada", &format!("on cover: {}", short.join(", ")))];
        prop_assert!(!seen(&replay(None, &job)).is_empty());
    }

    /// Whatever is typed: an act, or a fault with a place in the line. Never a panic.
    #[test]
    fn any_text_is_read_or_gets_a_place(text in "\\PC{0,60}") {
        prove_place(&text);
    }

    /// Pieces of the grammar in any order.
    #[test]
    fn any_shuffle_of_words_is_read_or_gets_a_place(
        words in prop::collection::vec(prop::sample::select(WORDS.to_vec()), 0..12)
    ) {
        prove_place(&words.join(" "));
    }
}

const WORDS: &[&str] = &[
    "off",
    "on",
    "tight",
    "read",
    "in",
    "out",
    "lost",
    "correct",
    "undo",
    "new",
    "tag",
    "photo",
    "paid",
    "sent",
    "14",
    "3",
    "M8x40",
    "M8x",
    "Mx",
    "M8x1.25x40x",
    "1/4-20x",
    "bolts",
    "nuts",
    "hole",
    "holes",
    "A..",
    "..",
    "A..F",
    "h9..h1",
    ":",
    ",",
    "stage",
    "wrench",
    "12",
    "Nm",
    "psi",
    "-",
    "<",
    "<0.04",
    "from",
    "to",
    "and",
    "bag",
    "note",
    "(",
    "(x",
    ")",
    "µm",
    "°",
    "×",
    "x",
    "#3",
    "=",
    "with",
    "washer",
    "99999999999999999999",
    "0",
    "of",
    "2,5",
    "1e9",
    "NaN",
    "é́",
    "🔩",
];

#[track_caller]
fn prove_place(line: &str) {
    if let Err(fault) = read_line(line) {
        assert!(
            fault.stopped_at <= line.len() && line.is_char_boundary(fault.stopped_at),
            "{line}"
        );
        assert!(
            fault.column() >= 1 && fault.column() <= line.chars().count() + 1,
            "{line}"
        );
        assert!(!fault.expected.is_empty(), "{line}");
        let finding = fault.finding();
        assert!(finding.place.is_some() && finding.next.is_some(), "{line}");
        for example in fault.examples {
            assert!(read_line(example).is_ok(), "{example}");
        }
    }
}

/// Five hundred malformed lines: every example of the manual, broken in one place.
#[test]
fn five_hundred_malformed_lines_get_a_place_each() {
    let breaks: [fn(&str) -> String; 9] = [
        |line| line.chars().skip(1).collect(),
        |line| line.replacen(' ', " 0 ", 1),
        |line| format!("{line}, 3 M8x0.7"),
        |line| line.replace(' ', ""),
        |line| format!("{line}: 2,5 bolts"),
        |line| line.chars().rev().collect(),
        |line| format!("?{line}"),
        |line| line.split(' ').rev().collect::<Vec<_>>().join(" "),
        |line| {
            line.chars()
                .map(|letter| if letter == 'o' { 'ö' } else { letter })
                .collect()
        },
    ];
    let mut malformed = 0;
    for example in VERBS.iter().flat_map(|verb| verb.examples) {
        let cuts = (1..example.chars().count())
            .step_by(3)
            .map(|end| example.chars().take(end).collect());
        let mangled = breaks.iter().map(|mangle| mangle(example));
        for line in mangled.chain(cuts) {
            prove_place(&line);
            malformed += usize::from(read_line(&line).is_err());
        }
    }
    assert!(malformed >= 500, "only {malformed} of them were malformed");
}

#[test]
fn undo_that_strands_later_entries_lists_them() {
    let job = [
        entry(1, "Ada", "off runners: 3 bolts M8x40"),
        entry(2, "Ada", "off cover"),
        entry(3, "Ada", "on runners: 3 bolts M8x40"),
        entry(4, "Bo", "in ports: 2 rags"),
        entry(5, "Bo", "out ports: 2 rags"),
    ];
    assert_eq!(job::stranded_by(None, &job, EntryId(1)), [EntryId(3)]);
    assert_eq!(job::stranded_by(None, &job, EntryId(4)), [EntryId(5)]);
    assert_eq!(job::stranded_by(None, &job, EntryId(2)), []);
}

#[test]
fn undo_and_correction_that_name_nothing_are_findings() {
    for (line, code) in [
        ("undo 9", "undo-of-nothing"),
        ("undo 2", "undone-already"),
        ("correct 2: off cover", "undone-already"),
        ("correct 3: off cover", "undo-not-correctable"),
    ] {
        let job = [
            entry(1, "Ada", "off runners"),
            entry(2, "Ada", "off cover"),
            entry(3, "Ada", "undo"),
            entry(4, "Bo", line),
        ];
        let state = replay(None, &job);
        let found: Vec<_> = state
            .findings
            .iter()
            .map(|it| (it.entry.0, it.finding.code))
            .collect();
        assert_eq!(found, [(4, code)], "{line}");
        assert!(matches!(
            job[3].act,
            Act::Undone { .. } | Act::Corrected { .. }
        ));
    }
    assert_eq!(
        replay(None, &[entry(1, "Ada", "undo")]).findings[0]
            .finding
            .code,
        "undo-of-nothing"
    );
}
