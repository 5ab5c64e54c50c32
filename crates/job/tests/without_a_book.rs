//! Taking a small thing apart with nothing but typed lines, and going back the same way.

#[path = "lines/mod.rs"]
mod lines;

use job::outstanding::{Outstanding, outstanding};
use job::{EntryId, replay, undo_target, write_back};
use lines::{entries, entry};

const EIGHT_LINES: [&str; 8] = [
    "off negative battery lead",
    "off belt, shelf 1",
    "off alternator connector",
    "off alternator from bracket: 2 bolts M10x80, 1 bolt M8x35, bag 1",
    "photo 12 bag 1: washer under the lower bolt",
    "off bracket from block: 3 bolts M8x25, 1 bolt M8x90, bag 2",
    "lost 1 bolt M8x25 behind the bracket",
    "in bracket holes: 1 rag",
];

fn shown(rows: &[Outstanding]) -> Vec<String> {
    rows.iter()
        .map(|row| {
            format!(
                "{} | {} | {}",
                row.what,
                row.kind.word(),
                row.place.as_deref().unwrap_or("-")
            )
        })
        .collect()
}

#[test]
fn eight_lines_an_undo_and_what_is_outstanding() {
    let mut job = entries(&EIGHT_LINES);
    assert!(replay(None, &job).findings.is_empty());
    assert_eq!(undo_target(&job, "Ada"), Some(EntryId(8)));
    job.push(entry(9, "Ada", "undo"));
    assert_eq!(undo_target(&job, "Ada"), Some(EntryId(7)));
    let state = replay(None, &job);
    assert_eq!(
        shown(&outstanding(&state)),
        [
            "1 bolt M8x25 | lost | behind the bracket",
            "negative battery lead | off | -",
            "belt | off | shelf 1",
            "alternator connector | off | -",
            "alternator | off | bag 1",
            "bracket | off | bag 2",
        ]
    );
    let back: Vec<String> = state.way_back().iter().map(ToString::to_string).collect();
    assert_eq!(back[..2], ["bracket", "alternator"]);
}

#[test]
fn putting_it_back_by_count_leaves_nothing() {
    let mut job = entries(&EIGHT_LINES);
    for (number, line) in (9..).zip([
        "out bracket holes: 1 rag",
        "found 1 bolt M8x25",
        "on bracket: 3 bolts M8x25, 1 bolt M8x90",
        "on alternator: 2 bolts M10x80, 1 bolt M8x35",
        "on alternator connector",
        "on belt",
        "on negative battery lead",
    ]) {
        job.push(entry(number, "Ada", line));
    }
    let state = replay(None, &job);
    assert_eq!(shown(&outstanding(&state)), [] as [&str; 0]);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
}

#[test]
fn a_bolt_left_over_is_told_with_its_bag() {
    let mut job = entries(&EIGHT_LINES[..6]);
    job.push(entry(7, "Ada", "on bracket: 2 bolts M8x25, 1 bolt M8x90"));
    let rows = outstanding(&replay(None, &job));
    let over: Vec<&Outstanding> = rows
        .iter()
        .filter(|row| row.kind.word() == "left over")
        .collect();
    assert_eq!(over.len(), 1);
    assert_eq!(over[0].what, "1 bolt M8x25 of bracket");
    assert_eq!(over[0].place.as_deref(), Some("bag 2"));
}

#[test]
fn the_written_back_book_gives_the_same_state_for_the_same_lines() {
    let job = entries(&EIGHT_LINES);
    let first = replay(None, &job);
    let written = write_back(&first);
    let second = replay(Some(&written.book), &job);
    assert!(second.findings.is_empty(), "{:?}", second.findings);
    assert_eq!(shown(&outstanding(&second)), shown(&outstanding(&first)));
    assert_eq!(second.parts, first.parts);
    assert_eq!(second.joints, first.joints);
    // And what is written back from there is the same book again.
    assert_eq!(write_back(&second).book, written.book);
}

#[test]
fn a_hose_with_two_ports_is_a_line_with_two_ends() {
    let job = entries(&[
        "off hose bypass: from thermostat.outlet, to radiator.top, bore 20 mm, medium coolant, clamp spring",
        "on bypass.from",
        "tag 7 bypass.to radiator.top",
    ]);
    let state = replay(None, &job);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    let rows = outstanding(&state);
    assert_eq!(shown(&rows), ["bypass, end to | off | radiator.top"]);
    assert_eq!(rows[0].note.as_deref(), Some("tag 7"));
    let line = &state.known.lines[0];
    assert_eq!(line.bore.typed(), Some("20 mm"));
    assert_eq!(line.ends[0].port.id.to_string(), "thermostat.outlet");
}

#[test]
fn a_rename_changes_the_label_and_both_names_work() {
    let job = entries(&[
        "off thing by the pump: 2 bolts M6x16, bag 3",
        "rename thing by the pump to heater pipe",
        "on Heater-Pipe: 2 bolts M6x16",
    ]);
    let state = replay(None, &job);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    assert_eq!(state.met["thing-by-the-pump"], EntryId(1));
    assert_eq!(state.part_label(&"thing-by-the-pump".into()), "heater pipe");
    assert_eq!(shown(&outstanding(&state)), [] as [&str; 0]);
}

#[test]
fn what_was_held_to_is_asked_not_invented() {
    let written = write_back(&replay(None, &entries(&["off cover: 4 screws, bag 1"])));
    let asks: Vec<&str> = written.asks.iter().map(|ask| ask.what.as_str()).collect();
    assert_eq!(
        asks,
        [
            "what cover was held to",
            "bolt lengths of cover, holes h1, h2, h3, h4"
        ][..1]
    );
    let holes = &written.book.joints[0].holes;
    assert_eq!(holes.len(), 4);
    assert!(holes.iter().all(|hole| hole.thread.known().is_none()));
}

#[test]
fn whatever_came_out_can_be_counted_back() {
    let things = "2 dowels, 3 studs M8x45, 2 nuts 13 mm, 4 clips, 2 drain plugs, 2 spacers, 3 washers, 1 gasket, 2 flange bolts M8x25, 1 bolt 1/4-20x3/4";
    let first = [
        format!("off cover: {things}, tray 1"),
        format!("on cover: {things}"),
    ];
    let state = replay(None, &entries(&first));
    assert_eq!(shown(&outstanding(&state)), [] as [&str; 0]);
    assert!(state.findings.is_empty(), "{:?}", state.findings);
    // And again by the book that was written back.
    let again = replay(Some(&write_back(&state).book), &entries(&first));
    assert!(again.findings.is_empty(), "{:?}", again.findings);
    assert!(again.joints == state.joints, "the joints differ");
}

#[test]
fn the_report_is_clean_only_when_nothing_is_outstanding() {
    let job = entries(&EIGHT_LINES);
    let report = job::outstanding::report(&replay(None, &job));
    assert_eq!(report.exit_status(), 1);
    assert_eq!(report.rows.rows.len(), 7);
    assert!(report.finds("lost") && report.finds("put-in-not-out") && report.finds("still-off"));
    let nothing = job::outstanding::report(&replay(None, &entries(&["ordered 2 head gaskets"])));
    assert_eq!(nothing.exit_status(), 0);
}

/// The printed book passes the check, and logging against it gives the same state.
#[test]
fn the_printed_book_has_no_faults_and_gives_the_same_state() {
    let lines = [
        "off belt, shelf 1",
        "off hose bypass: from thermostat.outlet, to radiator.top, bore 20 mm, medium coolant, clamp spring",
        "off alternator from bracket: 2 bolts M10x1.25x80, 1 bolt M8x35 10.9 with washer, bag 1",
        "off bracket from block: 3 bolts M8x25 holes A..C, 1 bolt M8x90 hole D, bag 2",
        "off cover: 2 drain plugs, 2 nuts 13 mm, 4 screws M6x20, 1 cover gasket, 1 bolt 1/4-20x3/4, tray 2",
        "drain coolant 5 L",
        "lost 1 bolt M8x25 behind the bracket",
        "on cover: 2 drain plugs, 2 nuts 13 mm, 4 screws M6x20, 1 new cover gasket, 1 bolt 1/4-20x3/4",
    ];
    let job = entries(&lines);
    let first = replay(None, &job);
    assert!(first.findings.is_empty(), "{:?}", first.findings);
    let text = book::write(&write_back(&first).book);
    let (read, faults) = book::read(&text);
    assert!(faults.is_empty(), "{text}\n{faults:#?}");
    let second = replay(Some(&read), &job);
    assert!(second.findings.is_empty(), "{text}\n{:?}", second.findings);
    assert_eq!(shown(&outstanding(&second)), shown(&outstanding(&first)));
    assert!(second.parts == first.parts && second.lines == first.lines);
    assert!(
        second.joints == first.joints,
        "{text}\n{:#?}\n{:#?}",
        second.joints,
        first.joints
    );
    assert!(second.circuits == first.circuits);
    // Printed again, it is the same text.
    assert_eq!(book::write(&write_back(&second).book), text);
}

#[test]
fn what_is_laid_elsewhere_keeps_its_turn_on_the_way_back() {
    let lines = [
        "off air filter: 3 wing nuts",
        "off head from block: 10 bolts M10x90",
        "off starter: 2 bolts M10x40",
    ];
    let turns = |more: &[&str]| replay(None, &entries(&[&lines[..], more].concat())).way_back();
    let stowed = ["stow air filter: shelf 2", "stow head: bench"];
    assert_eq!(turns(&[]).len(), 3);
    assert_eq!(turns(&stowed), turns(&[]));
}

#[test]
fn what_turns_up_is_the_thing_lost_by_just_that_description() {
    let lines = [
        "lost 1 washer",
        "lost 1 washer M8 in pushrod hole",
        "found 1 washer M8",
    ];
    let state = replay(None, &entries(&lines));
    let left: Vec<String> = state.lost.iter().map(|lost| lost.item.shown()).collect();
    assert_eq!(left, ["1 washer"]);
}

#[test]
fn a_second_end_on_one_port_is_told_with_both_ways_out() {
    let lines = [
        "off fuel line: from pump.out, to carb.in",
        "off fuel hose: from lift-pump.out, to carb.in",
    ];
    let state = replay(None, &entries(&lines));
    let codes: Vec<(u64, &str)> = state
        .findings
        .iter()
        .map(|it| (it.entry.0, it.finding.code))
        .collect();
    assert_eq!(codes, [(2, "port-used-twice")]);
    let next = state.findings[0].finding.next.clone().unwrap_or_default();
    let same = "same fuel hose as fuel line";
    assert!(next.contains(same), "{next}");
    // The line it proposes does what it says.
    let one = replay(None, &entries(&[&lines[..], &[same]].concat()));
    assert_eq!(one.known.lines.len(), 1);
}
