//! Every drawing is well-formed, names its things once and says what a reader needs.

use std::collections::BTreeSet;

use report::{
    Bar, BarBank, Bars, Bay, Board, BoardEnd, BoardGroup, BoardRow, Contour, DaySpan, Days,
    HoleMark, Holes, Join, Lane, Net, Picture, Stand, Stroke, Thing, Verdict,
};

use super::room::Patch;
use super::{svg, upright, width_of};

fn hole(name: &str, x: f64, y: f64, number: usize) -> HoleMark {
    HoleMark {
        name: name.into(),
        x_mm: x,
        y_mm: y,
        number: Some(number),
        label: "40 mm".into(),
        done: number < 3,
        in_hand: number == 3,
    }
}

/// Samples for the tests and for looking at: invented.
fn samples() -> Vec<(&'static str, Picture)> {
    vec![
        ("holes", holes()),
        ("bars", bars()),
        ("contour", contour()),
        ("close-grid", close_grid()),
        (
            "long-labels",
            field(10, 10, |at| {
                format!("M8x1.25 {} mm", if at == 5 { 65 } else { 40 })
            }),
        ),
        ("days", days()),
        ("net", net()),
        ("board", board()),
        ("bay", bay(true)),
        ("bay-along", bay(false)),
    ]
}

fn bay(across: bool) -> Picture {
    let stand = |who: &str, zone: &str, asks| Stand {
        who: who.into(),
        zone: zone.into(),
        has: "put on Inlet runners, bulkhead bank".into(),
        asks,
    };
    Picture::Bay(Bay {
        title: "Where you stand".into(),
        across,
        banks: vec!["bulkhead".into(), "radiator".into()],
        people: vec![
            stand("ana", "above", true),
            stand("rui", "drive-end", false),
            stand("eva", "under", false),
        ],
    })
}

fn holes() -> Picture {
    let numbers = [3, 1, 5, 7, 8, 6, 2, 4];
    let holes = (0u8..).zip(numbers).map(|(at, number)| {
        let (x, y) = (f64::from(at % 4) * 100.0, f64::from(at / 4) * 90.0);
        hole(&format!("h{}", at + 1), x, y, number)
    });
    Picture::Holes(Holes {
        title: "Bulkhead head, stage 2".into(),
        holes: holes.collect(),
        to_scale: false,
        left: "drive end".into(),
        right: "flywheel end".into(),
    })
}

fn bar(name: &str, value: Option<f64>, verdict: Verdict) -> Bar {
    Bar {
        name: name.into(),
        value,
        other: value.map(|value| value * 1.03),
        shown: value.map_or_else(|| "not measured".into(), |value| format!("{value:.0}")),
        verdict: Some(verdict),
    }
}

fn bars() -> Picture {
    let bank = |name: &str, bars| BarBank {
        name: name.into(),
        bars,
    };
    Picture::Bars(Bars {
        title: "Cranking compression, dry".into(),
        banks: vec![
            bank(
                "bulkhead bank",
                vec![
                    bar("1", Some(205.0), Verdict::Within),
                    bar("3", Some(120.0), Verdict::Outside),
                    bar("5", Some(200.0), Verdict::Within),
                ],
            ),
            bank(
                "radiator bank",
                vec![
                    bar("2", Some(199.0), Verdict::Within),
                    bar("4", None, Verdict::NotMeasured),
                ],
            ),
        ],
        unit: "psi".into(),
        limit: Some((150.0, "75 % of best, common practice".into())),
    })
}

fn contour() -> Picture {
    let heights = [
        [0.0, 22.0, 31.0, 20.0, -4.0],
        [10.0, 37.0, 52.0, 41.0, 17.0],
        [14.0, 38.0, 46.0, 33.0, 6.0],
    ];
    let columns = [0.0, 105.0, 210.0, 315.0, 420.0];
    let points = heights
        .iter()
        .zip([0.0, 75.0, 150.0])
        .flat_map(|(row, y)| row.iter().zip(columns).map(move |(z, x)| (x, y, z + 4.0)));
    Picture::Contour(Contour {
        title: "Bulkhead head, gasket face".into(),
        points: points.collect(),
        step_um: 10.0,
    })
}

fn days() -> Picture {
    let span = |from, to, label: &str, waiting| DaySpan {
        from,
        to,
        label: label.into(),
        waiting,
        sets_finish: true,
    };
    let lane = |name: &str, spans| Lane {
        name: name.into(),
        spans,
    };
    Picture::Days(Days {
        title: "Both heads off and on".into(),
        days: (2..9).map(|day| format!("{day} Mar")).collect(),
        lanes: vec![
            lane(
                "you",
                vec![
                    span(0.75, 0.9, "strip", false),
                    span(1.75, 1.9, "heads", false),
                ],
            ),
            lane("machine shop", vec![span(2.3, 6.6, "heads away", true)]),
        ],
    })
}

fn thing(id: &str, column: usize, in_hand: bool) -> Thing {
    Thing {
        id: id.into(),
        label: id.replace('-', " "),
        column,
        off: column == 0,
        in_hand,
    }
}

fn join(from: &str, to: &str, stroke: Stroke, suspect: bool) -> Join {
    Join {
        id: format!("{from}-{to}"),
        from: from.into(),
        to: to.into(),
        stroke,
        label: "C".into(),
        arrow: !suspect,
        suspect,
    }
}

fn net() -> Picture {
    Picture::Net(Net {
        title: "What is in the way".into(),
        columns: vec!["above".into(), "bulkhead side".into(), "target".into()],
        things: vec![
            thing("wiper-tray", 0, false),
            thing("air-duct", 0, false),
            thing("runners", 1, false),
            thing("gas-cable", 1, false),
            thing("bulkhead-head", 2, true),
        ],
        joins: vec![
            join("wiper-tray", "runners", Stroke::Plain, false),
            join("air-duct", "runners", Stroke::LongDash, false),
            join("gas-cable", "bulkhead-head", Stroke::DashDot, true),
            join("runners", "bulkhead-head", Stroke::Double, false),
            join("air-duct", "wiper-tray", Stroke::Zigzag, false),
        ],
    })
}

fn end(port: &str, loose: bool, rings: &[&str]) -> BoardEnd {
    BoardEnd {
        name: port.into(),
        port: port.into(),
        zone: "above".into(),
        tag: loose.then(|| "tag 7".into()),
        loose,
        rings: rings.iter().map(|&ring| ring.to_owned()).collect(),
    }
}

fn board() -> Picture {
    let row = |id: &str, stroke, from, to| BoardRow {
        id: id.into(),
        label: format!("C {id}"),
        stroke,
        ends: [from, to],
    };
    Picture::Board(Board {
        title: "Liquids: what joins what".into(),
        groups: vec![BoardGroup {
            name: "C  coolant".into(),
            rows: vec![
                row(
                    "bleed",
                    Stroke::LongDash,
                    end("bottle.bleed", false, &[]),
                    end("water-outlet.bleed", true, &["a", "b"]),
                ),
                row(
                    "feed",
                    Stroke::Double,
                    end("bottle.feed", false, &["a"]),
                    end("heater-pipe.feed", false, &[]),
                ),
            ],
        }],
        notes: vec!["a  ruin: bleed.to with feed.from".into()],
    })
}

/// A loose end stops short of its port, so that a grey print tells it from one that is on.
#[test]
fn a_loose_end_is_drawn_short_and_said() {
    let text = svg(&board());
    assert!(text.contains("above, loose, tag 7"), "{text}");
    let end_of = |id: &str| {
        let row = text.split(&format!("id=\"row-{id}\"")).nth(1).unwrap();
        let x2 = row.split("x2=\"").nth(1).unwrap();
        x2.split('"').next().unwrap().parse::<f64>().unwrap()
    };
    assert!(end_of("bleed") < end_of("feed"));
}

/// On a phone two ports of one row stand on one line: long names shrink before they meet, and
/// nothing leaves the sheet.
#[test]
fn on_a_phone_two_ports_of_a_row_never_meet() {
    let Picture::Board(mut board) = board() else {
        panic!("no board")
    };
    board.groups[0].rows[0].ends[0].port = "thermostat-housing.radiator-return".into();
    board.groups[0].rows[0].ends[1].port = "radiator-exhaust-manifold.sensor-2".into();
    board.notes =
        vec!["a  damage: one-very-long-name.from with another-very-long-name.from".into()];
    let text = upright(&Picture::Board(board));
    let document = roxmltree::Document::parse(&text).unwrap();
    let number = |node: &roxmltree::Node<'_, '_>, name: &str| {
        node.attribute(name).unwrap().parse::<f64>().unwrap()
    };
    let wide = number(&document.root_element(), "width");
    assert!(wide <= 400.0, "{wide}");
    let written: Vec<(f64, f64, f64)> = document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(|node| {
            let (x, size) = (number(&node, "x"), number(&node, "font-size"));
            let long = width_of(node.text().unwrap_or_default(), size);
            let left = match node.attribute("text-anchor") {
                Some("end") => x - long,
                Some("middle") => x - long / 2.0,
                _ => x,
            };
            (number(&node, "y"), left, left + long)
        })
        .collect();
    for (at, (y, left, right)) in written.iter().enumerate() {
        assert!(*left >= 0.0 && *right <= wide, "{left} to {right}");
        for (other_y, other_left, other_right) in &written[at + 1..] {
            let apart = other_left >= right || other_right <= left;
            assert!(
                apart || (y - other_y).abs() >= 10.0,
                "{y}: {left} and {other_left}"
            );
        }
    }
}

#[test]
fn every_drawing_is_well_formed_and_names_things_once() {
    let both = samples()
        .into_iter()
        .flat_map(|(name, picture)| [(name, svg(&picture)), (name, upright(&picture))]);
    for (name, text) in both {
        let document =
            roxmltree::Document::parse(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        let mut seen = BTreeSet::new();
        for node in document.descendants() {
            if let Some(id) = node.attribute("id") {
                assert!(seen.insert(id.to_owned()), "{name}: id {id} stands twice");
            }
        }
        let titled = document
            .descendants()
            .filter(|node| node.has_tag_name("title"))
            .count();
        assert!(titled > 1, "{name}: things need titles");
        assert!(
            !text.contains("NaN") && !text.contains("inf"),
            "{name}: every place is a number"
        );
    }
}

#[test]
fn a_joint_without_positions_says_so() {
    let Some((_, picture)) = samples().into_iter().next() else {
        panic!("no samples")
    };
    assert!(svg(&picture).contains("not to scale"));
}

/// A joint of so many bolts in a row of `columns`, each with its words.
fn field(bolts: usize, columns: usize, label: impl Fn(usize) -> String) -> Picture {
    let place = |at: usize| f64::from(u32::try_from(at).unwrap());
    let holes = (0..bolts).map(|at| HoleMark {
        label: label(at),
        in_hand: at == 1,
        ..hole(
            &format!("h{}", at + 1),
            place(at % columns) * 80.0,
            place(at / columns) * -144.0,
            at + 1,
        )
    });
    Picture::Holes(Holes {
        title: "Head bolts".into(),
        holes: holes.collect(),
        to_scale: false,
        left: "drive end".into(),
        right: "flywheel end".into(),
    })
}

/// A close grid of heights, more than there is room for.
fn close_grid() -> Picture {
    let points = (0..180_u32).map(|at| {
        let (x, y) = (f64::from(at % 20), f64::from(at / 20));
        (x * 20.0, y * 20.0, 30.0 + 29.0 * libm::sin(x + 0.5 * y))
    });
    Picture::Contour(Contour {
        title: "A face measured closely".into(),
        points: points.collect(),
        step_um: 20.0,
    })
}

/// Every word of a drawing with the patch it covers, roughly.
fn patches(text: &str) -> Vec<(String, Patch)> {
    let document = roxmltree::Document::parse(text).unwrap();
    let number = |node: &roxmltree::Node<'_, '_>, name| -> f64 {
        node.attribute(name).unwrap().parse().unwrap()
    };
    document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .map(|node| {
            let said = node.text().unwrap_or_default().to_owned();
            let size = number(&node, "font-size");
            let (x, y) = (number(&node, "x"), number(&node, "y"));
            let wide = 1.1 * width_of(&said, size);
            let left = match node.attribute("text-anchor") {
                Some("middle") => x - wide / 2.0,
                Some("end") => x - wide,
                _ => x,
            };
            let patch = Patch {
                left,
                top: y - 0.75 * size,
                right: left + wide,
                bottom: y + 0.1 * size,
            };
            (said, patch)
        })
        .collect()
}

#[test]
fn no_word_lies_on_another_or_off_the_sheet() {
    let size = |at: usize| {
        if at == 5 {
            "M8x1.25 65 mm"
        } else {
            "M8x1.25 40 mm"
        }
    };
    for (name, picture) in [
        ("eight alike", field(8, 8, |_| "M11x1.5 128 mm".into())),
        ("ten, one longer", field(10, 10, |at| size(at).into())),
        (
            "all different",
            field(19, 10, |at| format!("M{at}x1.25 {at} mm")),
        ),
        ("samples", holes()),
        ("a close grid", close_grid()),
        ("a face", contour()),
    ] {
        let text = svg(&picture);
        let seen = patches(&text);
        for (at, (said, patch)) in seen.iter().enumerate() {
            assert!(
                patch.left >= 0.0 && patch.right <= 560.0,
                "{name}: {said} leaves the sheet"
            );
            for (other, below) in &seen[..at] {
                assert!(!patch.meets(below), "{name}: {said} lies on {other}");
            }
        }
    }
}

#[test]
fn what_most_bolts_share_is_said_once_and_the_odd_one_at_its_hole() {
    let alike = svg(&field(8, 8, |_| "M11x1.5 128 mm".into()));
    assert!(alike.contains("all M11x1.5 128 mm"));
    let odd = svg(&field(8, 8, |at| {
        if at == 5 {
            "M8x1.25 65 mm"
        } else {
            "M8x1.25 40 mm"
        }
        .into()
    }));
    assert!(odd.contains("M8x1.25 40 mm where nothing else stands"));
    let shown: Vec<String> = patches(&odd).into_iter().map(|(said, _)| said).collect();
    assert_eq!(shown.iter().filter(|said| *said == "65 mm").count(), 1);
}

/// A number left out for want of room still has its point, and the extremes never lose theirs.
#[test]
fn a_close_grid_shows_its_highest_and_lowest_number() {
    let Picture::Contour(contour) = close_grid() else {
        panic!("a contour")
    };
    let text = svg(&Picture::Contour(contour.clone()));
    assert_eq!(text.matches("id=\"point-").count(), 180);
    let shown: Vec<String> = patches(&text).into_iter().map(|(said, _)| said).collect();
    for end in [
        contour
            .points
            .iter()
            .map(|at| at.2)
            .fold(f64::INFINITY, f64::min),
        contour.points.iter().map(|at| at.2).fold(0.0, f64::max),
    ] {
        assert!(shown.contains(&format!("{end:.0}")), "{end}");
    }
}

#[test]
fn empty_pictures_draw() {
    for picture in [
        Picture::Holes(Holes::default()),
        Picture::Bars(Bars::default()),
        Picture::Contour(Contour::default()),
        Picture::Days(Days::default()),
        Picture::Net(Net::default()),
        Picture::Board(Board::default()),
    ] {
        let text = svg(&picture);
        assert!(roxmltree::Document::parse(&text).is_ok(), "{text}");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
    }
}

/// Writes the samples where `MATCHMARK_LOOK` says, to be looked at.
#[test]
fn samples_can_be_looked_at() {
    if let Some(folder) = option_env!("MATCHMARK_LOOK") {
        for (name, picture) in samples() {
            std::fs::write(format!("{folder}/{name}.svg"), svg(&picture)).unwrap();
        }
    }
}
