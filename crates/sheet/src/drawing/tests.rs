//! Every drawing is well-formed, names its things once and says what a reader needs.

use std::collections::BTreeSet;

use report::{
    Bar, BarBank, Bars, Contour, DaySpan, Days, HoleMark, Holes, Join, Lane, Net, Picture, Stroke,
    Thing, Verdict,
};

use super::svg;

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
    let holes = (0..8).map(|at| {
        hole(
            &format!("h{}", at + 1),
            f64::from(at % 4) * 100.0,
            f64::from(at / 4) * 90.0,
            [3, 1, 5, 7, 8, 6, 2, 4][usize::try_from(at).unwrap_or(0)],
        )
    });
    let bar = |name: &str, value: f64, verdict| Bar {
        name: name.into(),
        value: Some(value),
        other: Some(value * 1.03),
        shown: format!("{value:.0}"),
        verdict: Some(verdict),
    };
    let heights = [
        [0.0, 22.0, 31.0, 20.0, -4.0],
        [10.0, 37.0, 52.0, 41.0, 17.0],
        [14.0, 38.0, 46.0, 33.0, 6.0],
    ];
    let points = heights.iter().zip([0.0, 75.0, 150.0]).flat_map(|(row, y)| {
        row.iter()
            .zip([0.0, 105.0, 210.0, 315.0, 420.0])
            .map(move |(z, x)| (x, y, z + 4.0))
    });
    let thing = |id: &str, column, in_hand| Thing {
        id: id.into(),
        label: id.replace('-', " "),
        column,
        off: column == 0,
        in_hand,
    };
    let join = |from: &str, to: &str, stroke, suspect: bool| Join {
        id: format!("{from}-{to}"),
        from: from.into(),
        to: to.into(),
        stroke,
        label: "C".into(),
        arrow: !suspect,
        suspect,
    };
    vec![
        (
            "holes",
            Picture::Holes(Holes {
                title: "Bulkhead head, stage 2".into(),
                holes: holes.collect(),
                to_scale: false,
                left: "drive end".into(),
                right: "flywheel end".into(),
            }),
        ),
        (
            "bars",
            Picture::Bars(Bars {
                title: "Cranking compression, dry".into(),
                banks: vec![
                    BarBank {
                        name: "bulkhead bank".into(),
                        bars: vec![
                            bar("1", 205.0, Verdict::Within),
                            bar("3", 120.0, Verdict::Outside),
                            bar("5", 200.0, Verdict::Within),
                        ],
                    },
                    BarBank {
                        name: "radiator bank".into(),
                        bars: vec![
                            bar("2", 199.0, Verdict::Within),
                            Bar {
                                name: "4".into(),
                                value: None,
                                other: None,
                                shown: "not measured".into(),
                                verdict: Some(Verdict::NotMeasured),
                            },
                        ],
                    },
                ],
                unit: "psi".into(),
                limit: Some((150.0, "75 % of best, common practice".into())),
            }),
        ),
        (
            "contour",
            Picture::Contour(Contour {
                title: "Bulkhead head, gasket face".into(),
                points: points.collect(),
                step_um: 10.0,
            }),
        ),
        (
            "days",
            Picture::Days(Days {
                title: "Both heads off and on".into(),
                days: (2..9).map(|day| format!("{day} Mar")).collect(),
                lanes: vec![
                    Lane {
                        name: "you".into(),
                        spans: vec![
                            DaySpan {
                                from: 0.75,
                                to: 0.9,
                                label: "strip".into(),
                                waiting: false,
                                sets_finish: true,
                            },
                            DaySpan {
                                from: 1.75,
                                to: 1.9,
                                label: "heads".into(),
                                waiting: false,
                                sets_finish: true,
                            },
                        ],
                    },
                    Lane {
                        name: "machine shop".into(),
                        spans: vec![DaySpan {
                            from: 2.3,
                            to: 6.6,
                            label: "heads away".into(),
                            waiting: true,
                            sets_finish: true,
                        }],
                    },
                ],
            }),
        ),
        (
            "net",
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
            }),
        ),
    ]
}

#[test]
fn every_drawing_is_well_formed_and_names_things_once() {
    for (name, picture) in samples() {
        let text = svg(&picture);
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

#[test]
fn empty_pictures_draw() {
    for picture in [
        Picture::Holes(Holes::default()),
        Picture::Bars(Bars::default()),
        Picture::Contour(Contour::default()),
        Picture::Days(Days::default()),
        Picture::Net(Net::default()),
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
