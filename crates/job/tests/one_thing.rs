//! Two names that turn out to be one thing, and one thing that turns out to be several.

#[path = "lines/mod.rs"]
mod lines;

use job::outstanding::{Kind, outstanding};
use job::{State, Where, replay, write_back};
use lines::{entries, entry};

fn met(lines: &[&str]) -> State {
    replay(None, &entries(lines))
}

fn kinds(state: &State) -> Vec<Kind> {
    outstanding(state).iter().map(|row| row.kind).collect()
}

#[test]
fn two_parts_with_a_history_each_become_one() {
    let lines = [
        "off alternator: 2 bolts M10x80, bag 2",
        "off gen top stay: 1 bolt M8x20",
        "off thing by the pump: 1 bolt M8x30",
        "stow gen top stay: shelf 1",
    ];
    let apart = met(&lines);
    let parts = |state: &State| write_back(state).book.parts.len();
    let same = met(&[&lines[..], &["same gen top stay as thing by the pump"]].concat());
    assert_eq!(parts(&same), parts(&apart) - 1);
    // The second time it came off is a contradiction nobody but a person can settle.
    let odd: Vec<u64> = same.findings.iter().map(|it| it.entry.0).collect();
    assert_eq!(odd, [3], "{:?}", same.findings);
    assert_eq!(same.findings[0].finding.code, "contradicts-the-record");
}

#[test]
fn off_under_one_name_and_on_under_the_other_is_whole() {
    let lines = [
        "off gen: 2 bolts M10x80, bag 2",
        "off bracket from alternator: 1 bolt M8x20",
        "on bracket: 1 bolt M8x20",
    ];
    let both = [&lines[..], &["loose alternator", "same gen as alternator"]].concat();
    let state = met(&both);
    assert_eq!(
        state.findings.iter().filter(|it| it.contradicts).count(),
        1,
        "loosening what is off: {:?}",
        state.findings
    );
    let on = [
        &lines[..],
        &["same gen as alternator", "on alternator: 2 bolts M10x80"],
    ]
    .concat();
    let state = met(&on);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    assert!(outstanding(&state).is_empty(), "{:?}", outstanding(&state));
}

#[test]
fn taking_the_line_back_makes_them_two_again() {
    let lines = [
        "off a: 1 bolt M8x20",
        "off b: 1 bolt M8x20",
        "same a as b",
        "undo",
    ];
    assert_eq!(met(&lines), {
        let mut state = met(&lines[..2]);
        state.last = Some(job::EntryId(4));
        state
    });
}

#[test]
fn a_part_of_the_book_keeps_its_id() {
    let (book, _) = book::read(
        "part block fixed=#true\npart pump { joint j to=block { holes A B thread=M8x1.25 length=\"40 mm\"; }; }\npart stay { joint k to=block { hole A thread=M8x1.25 length=\"20 mm\"; }; }\n",
    );
    let state = replay(
        Some(&book),
        &entries(&[
            "off pump",
            "new off water pump: 2 bolts M8x40",
            "on pump",
            "same water pump as pump",
        ]),
    );
    let known: Vec<&str> = state
        .known
        .parts
        .iter()
        .map(|part| part.id.as_str())
        .collect();
    assert_eq!(known, ["block", "pump", "stay"]);
    let two = replay(
        Some(&book),
        &entries(&["off pump", "off stay", "same pump as stay"]),
    );
    assert!(
        two.findings[0].finding.says.contains("two things"),
        "{:?}",
        two.findings
    );
}

#[test]
fn two_hoses_become_one() {
    let state = met(&[
        "off hose bleed: from bottle.top, to housing.bleed",
        "off hose thin one: from bottle.top, to housing.bleed",
        "same bleed as thin one",
    ]);
    assert_eq!(state.known.lines.len(), 1);
}

const LIFTED: [&str; 3] = [
    "off runners from head: 2 nuts 13 mm, 3 bolts M8x40",
    "on runners: 2 nuts 13 mm, 3 bolts M8x40",
    "off plenum from runners: 4 bolts M6x25",
];

#[test]
fn a_thing_lifted_as_one_is_split_later_and_its_bolts_are_counted_then() {
    let lines = [
        &LIFTED[..],
        &["on plenum: 4 bolts M6x25", "lift plenum, runners: shelf 3"],
    ]
    .concat();
    let whole = met(&lines);
    assert!(whole.findings.is_empty(), "{:?}", whole.findings);
    let split = met(&[&lines[..], &["off plenum: 4 bolts M6x25, bag 9, shelf 4"]].concat());
    assert!(split.findings.is_empty(), "{:?}", split.findings);
    let runners = &split.parts[&book::PartId::from("runners")];
    let plenum = &split.parts[&book::PartId::from("plenum")];
    assert_eq!((runners.state, plenum.state), (Where::Off, Where::Off));
    assert_eq!((&runners.with, &plenum.with), (&None, &None));
    assert_eq!(runners.place.as_deref(), Some("shelf 3"));
    // Each goes back on its own, and the bolts between them are owed.
    let on = met(&[
        &lines[..],
        &[
            "off plenum: 4 bolts M6x25, bag 9",
            "on runners",
            "on plenum: 3 bolts M6x25",
        ],
    ]
    .concat());
    assert!(on.findings.is_empty(), "{:?}", on.findings);
    assert_eq!(kinds(&on), [Kind::LeftOver]);
    // What is on its own now does not come off twice.
    let twice = met(&[&lines[..], &["off plenum: 4 bolts M6x25", "off plenum"]].concat());
    assert_eq!(twice.findings[0].finding.code, "contradicts-the-record");
}

#[test]
fn the_rest_of_a_split_thing_stays_together() {
    let lines = [
        "off a from c: 1 bolt M6x20",
        "on a",
        "off b from c: 1 bolt M6x20",
        "on b",
        "off c from d: 1 bolt M8x20",
        "on c",
        "lift c, a, b: bench",
        "off c",
    ];
    let state = met(&lines);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    let with = |name: &str| {
        state.parts[&book::PartId::from(name)]
            .with
            .as_ref()
            .map(ToString::to_string)
    };
    assert_eq!(
        (with("c"), with("a"), with("b")),
        (None, None, Some("a".to_owned()))
    );
}

#[test]
fn an_undone_split_is_whole_again() {
    let lines = [
        &LIFTED[..],
        &["on plenum: 4 bolts M6x25", "lift plenum, runners: shelf 3"],
    ]
    .concat();
    let mut job = entries(&lines);
    let before = replay(None, &job).parts;
    job.push(entry(6, "Ada", "off plenum: 4 bolts M6x25"));
    job.push(entry(7, "Ada", "undo"));
    assert_eq!(replay(None, &job).parts, before);
}
