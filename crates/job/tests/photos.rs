//! Photos, places on a film and positions of holes: the lines, and what they leave behind.

#[path = "lines/mod.rs"]
mod lines;

use job::line::{LineFault, read_line};
use job::{Act, EntryId, Photo, Shot, Sign, Spotted, State, replay, write_back};
use lines::entries;

fn hash(letter: char) -> String {
    letter.to_string().repeat(64)
}

#[track_caller]
fn shot(line: &str) -> Shot {
    match read_line(line) {
        Ok(Act::Photographed(shot)) => *shot,
        other => panic!("{line}: {other:?}"),
    }
}

#[track_caller]
fn fault(line: &str) -> LineFault {
    match read_line(line) {
        Err(fault) => fault,
        Ok(act) => panic!("{line} was read as {act:?}"),
    }
}

#[track_caller]
fn after<S: AsRef<str>>(typed: &[S]) -> State {
    replay(None, &entries(typed))
}

#[track_caller]
fn only_photo(state: &State) -> &Photo {
    match &state.photos[..] {
        [photo] => photo,
        other => panic!("one photo, not {other:?}"),
    }
}

fn codes(state: &State) -> Vec<&'static str> {
    state.findings.iter().map(|it| it.finding.code).collect()
}

#[test]
fn a_photo_says_its_file_its_thing_and_its_bag_in_any_order() {
    let file = hash('a');
    let said = shot(&format!(
        "photo 112 of fuel rail hole F bag 14 file {file} show: the long one"
    ));
    assert_eq!(said.photo.as_deref(), Some("112"));
    assert_eq!(said.file.unwrap().as_str(), file);
    assert_eq!(said.of.as_deref(), Some("fuel rail"));
    assert_eq!(said.hole.as_deref(), Some("F"));
    assert_eq!(said.place.as_deref(), Some("bag 14"));
    assert_eq!(said.note.as_deref(), Some("the long one"));
    assert!(said.show);
    let parted = shot(&format!(
        "photo file {}, of bottle-bleed.to, shelf over the bench, show, before, and after",
        file.to_uppercase()
    ));
    assert_eq!(parted.file.unwrap().as_str(), file);
    assert_eq!(parted.of.as_deref(), Some("bottle-bleed.to"));
    assert_eq!(parted.place.as_deref(), Some("shelf over the bench"));
    assert_eq!(parted.note.as_deref(), Some("before, and after"));
}

#[test]
fn a_photo_may_be_of_a_reading() {
    assert_eq!(shot("photo of reading 14").entry, Some(EntryId(14)));
    assert_eq!(
        shot("photo 3 of entry #14: at rest").entry,
        Some(EntryId(14))
    );
    // Something that is really called so keeps its name.
    assert_eq!(
        shot("photo of reading lamp").of.as_deref(),
        Some("reading lamp")
    );
}

#[test]
fn a_file_is_named_by_all_its_letters() {
    let short = fault("photo of runners, file 9f86d081");
    assert_eq!(short.column(), 24);
    assert!(short.to_string().contains("SHA-256"), "{short}");
    assert_eq!(fault("photo of runners holes A B").column(), 24);
    assert_eq!(fault("photo").column(), 6);
}

#[test]
fn words_come_later_and_replace_only_what_they_speak_of() {
    let file = hash('b');
    let typed = [
        format!("photo 112 file {file} bag 14"),
        "caption 1 of runners: before anything was touched".to_owned(),
        "caption 1: the long bolt".to_owned(),
    ];
    assert!(only_photo(&after(&typed[..1])).is_wordless());
    let state = after(&typed);
    let photo = only_photo(&state);
    assert_eq!(photo.file.as_ref().unwrap().as_str(), file);
    assert_eq!(photo.of.as_deref(), Some("runners"));
    assert_eq!(photo.place.as_deref(), Some("bag 14"));
    assert_eq!(photo.note.as_deref(), Some("the long bolt"));
    assert_eq!(codes(&state), [""; 0]);
}

#[test]
fn others_see_what_was_marked_and_nothing_else() {
    let typed = [
        "photo 1",
        "photo 2",
        "photo 3",
        "show 1, 2: no plate",
        "hide 2",
        "undo 5",
    ];
    let shown = |state: &State| -> Vec<bool> { state.photos.iter().map(|it| it.show).collect() };
    assert_eq!(shown(&after(&typed[..3])), [false; 3]);
    let marked = after(&typed[..4]);
    assert_eq!(shown(&marked), [true, true, false]);
    assert_eq!(marked.photos[1].looked.as_deref(), Some("no plate"));
    assert_eq!(shown(&after(&typed[..5])), [true, false, false]);
    assert_eq!(shown(&after(&typed)), [true, true, false]);
}

#[test]
fn what_is_no_photo_cannot_be_shown_or_told_about() {
    for line in ["show 1", "hide 9", "caption 1: words"] {
        let state = after(&["note smells of fuel", line]);
        assert_eq!(codes(&state), ["contradicts-the-record"], "{line}");
    }
    // Nothing is half done: the first of two is no photo, so the second stays hidden.
    let state = after(&["note smells of fuel", "photo 2", "show 1 2"]);
    assert!(!only_photo(&state).show);
    assert_eq!(fault("show").column(), 5);
    assert_eq!(fault("show runners").column(), 6);
}

#[test]
fn a_photo_of_a_hole_that_is_not_there_is_kept_and_said() {
    let state = after(&[
        "off cover: 2 bolts M6x20 holes A..B",
        "photo of cover hole C",
    ]);
    assert_eq!(codes(&state), ["hole-unknown"]);
    assert_eq!(only_photo(&state).hole.as_deref(), Some("C"));
    let state = after(&[
        "off cover: 2 bolts M6x20 holes A..B",
        "photo of cover hole B",
    ]);
    assert_eq!(codes(&state), [""; 0]);
}

#[track_caller]
fn filmed(state: &State, entry: u64) -> Option<String> {
    state.films.get(&EntryId(entry)).map(job::Film::shown)
}

#[test]
fn any_line_may_end_in_its_place_on_a_film() {
    let state = after(&[
        "off cover: 4 bolts M6x20, bag 3, film 00:12:31",
        "note cover: gasket torn; film tape 2 1:02:03",
        "read oil colour: dark film 12:31",
        "off bracket, film tape B",
    ]);
    assert_eq!(filmed(&state, 1).as_deref(), Some("00:12:31"));
    assert_eq!(filmed(&state, 2).as_deref(), Some("tape 2 01:02:03"));
    assert_eq!(filmed(&state, 3).as_deref(), Some("00:12:31"));
    assert_eq!(filmed(&state, 4).as_deref(), Some("tape B"));
    assert_eq!(state.notes[0].2, "gasket torn");
    assert_eq!(
        state
            .parts
            .values()
            .filter_map(|it| it.place.clone())
            .collect::<Vec<_>>(),
        ["bag 3"]
    );
}

#[test]
fn a_film_that_is_no_time_is_words_or_a_fault() {
    let state = after(&["note heater hose, film torn", "note bought film tape 3"]);
    assert!(state.films.is_empty());
    assert_eq!(state.notes[0].2, "heater hose, film torn");
    let fault = fault("note cover, film 12:71");
    assert_eq!(fault.column(), 13);
    assert!(fault.expected.contains("00:12:31"), "{fault}");
    assert_eq!(read_line("film 14: 12:71").unwrap_err().column(), 10);
}

#[test]
fn a_place_on_a_film_is_said_later_and_outlives_a_correction() {
    let typed = [
        "off cover: 4 bolts M6x20, film 00:10:00",
        "correct 1: off cover: 5 bolts M6x20",
        "film 1: tape 2 00:11:00",
        "undo 3",
        "correct 1: off cover: 6 bolts M6x20, film 00:12:00",
    ];
    for (count, expected) in [
        (2, "00:10:00"),
        (3, "tape 2 00:11:00"),
        (4, "00:10:00"),
        (5, "00:12:00"),
    ] {
        assert_eq!(
            filmed(&after(&typed[..count]), 1).as_deref(),
            Some(expected),
            "{count}"
        );
    }
    assert_eq!(
        codes(&after(&["film 7: 00:01:00"])),
        ["contradicts-the-record"]
    );
}

const TWO_BOLTS: &str = "off cover from block: 3 bolts M6x20 holes A..C";

fn position(state: &State, hole: &str) -> Option<(f64, f64)> {
    let holes = state.known.joints.iter().flat_map(|joint| &joint.holes);
    let hole = holes.into_iter().find(|it| it.name.as_str() == hole)?;
    let hundredths = |length: quantity::Length| (length.in_mm() * 100.0).round() / 100.0;
    hole.position.map(|at| (hundredths(at.x), hundredths(at.y)))
}

#[test]
fn holes_get_positions_from_a_line_and_keep_them_in_the_book() {
    let state = after(&[TWO_BOLTS, "place cover: A 0 0, b 92.5 -3, C 46 31 mm"]);
    assert_eq!(codes(&state), [""; 0]);
    assert_eq!(position(&state, "B"), Some((92.5, -3.0)));
    let text = book::write(&write_back(&state).book);
    let (again, faults) = book::read(&text);
    assert!(faults.is_empty(), "{text}");
    let hole = again.joints[0]
        .holes
        .iter()
        .find(|it| it.name.as_str() == "B")
        .unwrap();
    assert!(
        (hole.position.unwrap().y.in_mm() + 3.0).abs() < 1e-9,
        "{text}"
    );
}

#[test]
fn inches_are_taken_and_a_later_line_stands() {
    let state = after(&[TWO_BOLTS, "place cover: A 0 0, B 3.5 0 in"]);
    assert_eq!(position(&state, "B"), Some((88.9, 0.0)));
    let state = after(&[TWO_BOLTS, "place cover: A 0 0, B 3.5 0 in", "undo 2"]);
    assert_eq!(position(&state, "B"), None);
    let state = after(&[
        TWO_BOLTS,
        "place cover: A 0 0, B 3.5 0 in",
        "correct 2: place cover: A 0 0, B 90 0 mm",
    ]);
    assert_eq!(position(&state, "B"), Some((90.0, 0.0)));
}

#[test]
fn another_corner_is_no_contradiction_and_another_distance_is_said() {
    let first = "place cover: A 0 0, B 92.5 0, C 46 31 mm";
    let shifted = "place cover: A 10 5, B 102.5 5, C 56 36 mm";
    assert_eq!(codes(&after(&[TWO_BOLTS, first, shifted])), [""; 0]);
    let state = after(&[TWO_BOLTS, first, "place cover: A 0 0, B 95 0, C 46 31 mm"]);
    assert_eq!(codes(&state), ["not-in-book"]);
    assert_eq!(position(&state, "B"), Some((95.0, 0.0)));
    let state = after(&[TWO_BOLTS, first, "place cover: A 0 0, B 92.5 0 mm"]);
    assert_eq!(codes(&state), ["places-mixed"]);
}

#[test]
fn ports_of_a_part_get_positions_too() {
    let hose = "off hose bleed: from housing.top, to bottle.side";
    let state = after(&[
        hose,
        "off hose feed: from housing.low, to pump.out",
        "place housing: top 0 40, low 12 0 mm",
    ]);
    assert_eq!(codes(&state), [""; 0]);
    let housing = state
        .known
        .parts
        .iter()
        .find(|part| part.id.as_str() == "housing")
        .unwrap();
    let top = housing
        .ports
        .iter()
        .find(|port| port.name.as_str() == "top")
        .unwrap();
    assert!((top.position.unwrap().y.in_mm() - 40.0).abs() < 1e-9);
}

#[test]
fn a_position_of_nothing_is_refused() {
    let state = after(&[TWO_BOLTS, "place cover: A 0 0, Z 1 1 mm"]);
    assert_eq!(codes(&state), ["contradicts-the-record"]);
    assert_eq!(position(&state, "A"), None, "nothing is half done");
    assert_eq!(
        codes(&after(&[TWO_BOLTS, "place covr: A 0 0 mm"])),
        ["name-unknown"]
    );
    for (line, column) in [
        ("place cover", 12),
        ("place cover: A 0 0, B 92.5 0", 29),
        ("place cover: A 0 0, B 92.5 mm", 30),
        ("place cover: A 0 0, A 1 1 mm", 21),
        ("place cover: A 0 0, B 0 0 mm", 21),
        ("place cover: A 0 0 7 1, B 1 1 mm", 20),
        ("place cover: A 0 x, B 1 1 mm", 18),
        ("place cover: A 0 0, B 9 m 1 m", 27),
        ("place cover: A 0 0, B 9000 1 mm", 23),
        ("place cover: A 0 0, B 1 1 N·m", 27),
    ] {
        assert_eq!(fault(line).column(), column, "{line}: {}", fault(line));
    }
}

#[test]
fn places_are_pointed_out_in_percent_of_the_sides() {
    let said = read_line(
        "mark 31: arrow 62 40.5 the long bolt, through the eye, circle 20% 55 % wide 8 dowel, number 0 100",
    );
    let Ok(Act::Marked { photo, spots }) = said else {
        panic!("{said:?}");
    };
    assert_eq!(photo, EntryId(31));
    let spot = |sign, across, down, wide, says: Option<&str>| Spotted {
        sign,
        across,
        down,
        wide,
        says: says.map(str::to_owned),
    };
    let bolt = "the long bolt, through the eye";
    let expected = [
        spot(Sign::Arrow, 0.62, 0.405, None, Some(bolt)),
        spot(Sign::Circle, 0.2, 0.55, Some(0.08), Some("dowel")),
        spot(Sign::Number, 0.0, 1.0, None, None),
    ];
    assert_eq!(spots, expected);
}

#[test]
fn a_place_that_is_none_is_refused_where_it_stands() {
    for (line, column) in [
        ("mark pulley with paint", 6),
        ("mark 31", 8),
        ("mark 31: the long bolt", 10),
        ("mark 31: arrow the long bolt", 16),
        ("mark 31: arrow 62 101 bolt", 19),
        ("mark 31: arrow NaN 40 bolt", 16),
        ("mark 31: arrow 62 40 wide 8 bolt", 22),
        ("mark 31: circle 62 40 wide 0", 28),
        ("mark 31: arrow 62 40, bolt", 23),
    ] {
        assert_eq!(fault(line).column(), column, "{line}");
    }
}

#[test]
fn places_are_added_and_only_a_photo_has_any() {
    let typed = [
        "photo 1 of runners",
        "mark 1: arrow 10 20 stud",
        "mark 1: number 3 4",
    ];
    assert_eq!(only_photo(&after(&typed)).spots.len(), 2);
    let undone = [&typed[..], &["undo 2"]].concat();
    let state = after(&undone);
    assert_eq!(only_photo(&state).spots[0].sign, Sign::Number);
    let state = after(&["note smells of fuel", "mark 1: arrow 10 20"]);
    assert_eq!(codes(&state), ["contradicts-the-record"]);
}
