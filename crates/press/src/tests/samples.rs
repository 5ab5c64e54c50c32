//! Papers to print in tests and to look at: the island post van, all of it invented.

use std::io::Cursor;

use book::Date;
use job::Sign;
use report::{Align, Caution, Cell, Finding, HoleMark, Holes, Picture, Table, Verdict, Weight};
use sheet::paper::{
    Act, Block, Body, Card, CardHole, Label, Labels, Margin, Mark, Paper, Photo, PullBolt,
    PullStage, Pulls, Reading, Shown, Size, Stock, Tick, Towards,
};

fn paper(name: &str, title: &str, body: Body) -> Paper {
    Paper {
        name: name.to_owned(),
        title: title.to_owned(),
        job: "Island post van, both heads off".to_owned(),
        day: Date::read("2026-04-07").unwrap(),
        warning: Some(
            "Invented for a demonstration. Never tighten a real engine by it.".to_owned(),
        ),
        body,
    }
}

/// Every sample.
pub(super) fn all() -> Vec<Paper> {
    vec![
        job_sheet(),
        tightening(),
        report(),
        labels(Stock::read("38.1x21.2").unwrap()),
        Paper {
            name: "labels-large".to_owned(),
            ..labels(Stock::read("63.5x38.1").unwrap())
        },
        Paper {
            name: "labels-plain".to_owned(),
            ..labels(Stock::plain(Size::Letter))
        },
        card(1.0),
        Paper {
            name: "card-half".to_owned(),
            ..card(0.5)
        },
        unmeasured_card(),
    ]
}

fn shown(label: &str, figure: &str, note: &str) -> Shown {
    Shown {
        note: Some(note.to_owned()),
        ..Shown::new(label, figure)
    }
}

pub(super) fn job_sheet() -> Paper {
    let act = |number: &str, says: &str, place: &str, with: &[&str]| Act {
        number: number.to_owned(),
        says: says.to_owned(),
        place: Some(place.to_owned()),
        with: with.iter().map(|&word| word.to_owned()).collect(),
        ..Act::default()
    };
    let acts = vec![
        Act {
            done: true,
            ..act("1", "take off the loom tray", "above", &["10 mm", "6 min"])
        },
        Act {
            cautions: vec![Caution::new(
                "opening the fuel rail",
                "it is under pressure: let it off first, rags round the union, no flame. The maker's instructions come first.",
            )],
            ..act("2", "undo radiator-rail", "above", &["8 mm", "15 min"])
        },
        act(
            "3",
            "undo runners-to-head, bulkhead bank",
            "above",
            &["13 mm, long extension", "25 min"],
        ),
        Act {
            figures: vec![shown(
                "on the wrench",
                "22 lbf·ft",
                "middle wrench, threads oiled; book 30 N·m",
            )],
            why: Some("the caps are drawn down on a head that has its final shape".to_owned()),
            last_chance: vec![
                "knock sensor plug, bulkhead side: not logged · 3 h 40 min to come back for"
                    .to_owned(),
                "3 rags in the inlet ports: not taken out".to_owned(),
            ],
            ..act(
                "4",
                "tighten bulkhead-head-bolts, stage 1",
                "above",
                &["11 mm twelve-point", "20 min", "two hands"],
            )
        },
    ];
    let blocks = vec![
        Block::Heading(1, "Lay out".to_owned()),
        Block::Boxes(vec![
            Tick::new("8, 10 and 13 mm sockets, long extension"),
            Tick {
                end: Some("20..100 N·m".to_owned()),
                ..Tick::new("middle wrench")
            },
        ]),
        Block::Heading(1, "Acts".to_owned()),
        Block::Acts(acts),
        Block::Write("What was different:".to_owned(), 2),
    ];
    paper(
        "job-sheet",
        "Work of the evening",
        Body::Pages(Reading::Fender, blocks),
    )
}

const HEAD: [(&str, f64, f64, usize); 8] = [
    ("h1", 0.0, 0.0, 7),
    ("h2", 96.0, 0.0, 5),
    ("h3", 192.0, 0.0, 3),
    ("h4", 288.0, 0.0, 1),
    ("h5", 0.0, 92.0, 2),
    ("h6", 96.0, 92.0, 4),
    ("h7", 192.0, 92.0, 6),
    ("h8", 288.0, 92.0, 8),
];

pub(super) fn tightening() -> Paper {
    let stage = |name: &str, setting: &str, wrench: &str| PullStage {
        name: name.to_owned(),
        setting: setting.to_owned(),
        figure: String::new(),
        wrench: wrench.to_owned(),
    };
    let mut holes = HEAD;
    holes.sort_by_key(|hole| hole.3);
    let picture = Picture::Holes(Holes {
        title: "Head bolts, bulkhead bank".to_owned(),
        holes: HEAD
            .iter()
            .map(|&(name, x_mm, y_mm, number)| HoleMark {
                name: name.to_owned(),
                x_mm,
                y_mm,
                number: Some(number),
                label: "M11 98 mm".to_owned(),
                done: false,
                in_hand: false,
            })
            .collect(),
        to_scale: true,
        left: "drive end".to_owned(),
        right: "flywheel end".to_owned(),
    });
    let blocks = vec![
        Block::Words("threads oiled · figures: the book's, head section (invented)".to_owned()),
        Block::Drawing {
            picture,
            told: "Eight holes in two rows, numbered in their turn".to_owned(),
        },
        Block::Pulls(Pulls {
            stages: vec![
                stage("stage 1", "22 lbf·ft", "middle wrench"),
                stage("stage 2", "90°", "angle gauge"),
                stage("stage 3", "90°", "angle gauge"),
            ],
            bolts: holes
                .iter()
                .map(|&(hole, _, _, number)| PullBolt {
                    number,
                    hole: hole.to_owned(),
                    label: "M11 × 98 mm".to_owned(),
                    had: vec![Some(number < 3), Some(false), Some(false)],
                })
                .collect(),
        }),
        Block::Care(Caution::new(
            "turning by angle",
            "paint every head first; once each, never again.",
        )),
    ];
    paper(
        "tightening",
        "Tightening, head bolts, bulkhead bank",
        Body::Pages(Reading::Fender, blocks),
    )
}

/// A grey ramp as a photograph.
pub(super) fn jpeg(wide: u32, tall: u32) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(wide, tall, |x, y| {
        let shade = u8::try_from((x * 200 / wide + y * 55 / tall).min(255)).unwrap();
        image::Rgb([shade, shade, 255 - shade])
    });
    let mut bytes = Cursor::new(Vec::new());
    picture
        .write_to(&mut bytes, image::ImageFormat::Jpeg)
        .unwrap();
    bytes.into_inner()
}

pub(super) fn photo(number: usize) -> Photo {
    Photo {
        bytes: jpeg(640, 480),
        width: 640,
        height: 480,
        told: format!("The vee without the plenum, picture {number}"),
        caption: "The vee, plenum off. Two plugs hide under the loom.".to_owned(),
        marks: vec![
            Mark {
                sign: Sign::Arrow,
                across: 0.3,
                down: 0.4,
                wide: None,
                says: "knock sensor plug, bulkhead side".to_owned(),
            },
            Mark {
                sign: Sign::Circle,
                across: 0.8,
                down: 0.7,
                wide: Some(0.2),
                says: "knock sensor plug, radiator side".to_owned(),
            },
        ],
    }
}

fn report() -> Paper {
    let mut rows = Table::new(&[
        ("test", "test", Align::Left),
        ("before", "before", Align::Right),
        ("after", "after", Align::Right),
        ("verdict", "verdict", Align::Left),
    ]);
    for verdict in [
        Verdict::Within,
        Verdict::Outside,
        Verdict::Undecided,
        Verdict::NotMeasured,
        Verdict::Open,
        Verdict::Closed,
    ] {
        rows.push(vec![
            Cell::from("cranking dry, a reading with a long name that must wrap in its column"),
            Cell::from("92 psi"),
            Cell::from("212 psi"),
            Cell::from(verdict),
        ]);
    }
    let noticed = |weight: Weight| {
        Finding::new(
            "not-alike",
            "bulkhead-head-flat",
            "gauge or conditions differ between before and after",
        )
        .points_to("a figure that cannot be compared")
        .next("repeat it as it was done before")
        .detail("entry 112, 0.09 mm")
        .weight(weight)
    };
    let blocks = vec![
        Block::Outcome(
            Some(Verdict::Within),
            "Better, by more than the gauge scatters.".to_owned(),
        ),
        Block::Figures(vec![
            shown("lowest of the best", "94.6 %", "cylinder 3"),
            Shown::new("spread", "4.7 %"),
        ]),
        Block::Heading(1, "Before and after".to_owned()),
        Block::Rows(rows),
        Block::Heading(3, "What was noticed".to_owned()),
        Block::Noticed(noticed(Weight::Stop)),
        Block::Noticed(noticed(Weight::Look)),
        Block::Noticed(noticed(Weight::Note)),
        Block::Margin(Margin {
            heading: "Met on the way".to_owned(),
            lines: vec!["The long bolt is under the lifting eye.".to_owned()],
        }),
        Block::Beside(
            vec![Block::Words("Taken: plenum first.".to_owned())],
            vec![Block::Words(
                "Better: wiper tray first, 40 min less.".to_owned(),
            )],
        ),
        Block::Photo(photo(1)),
        Block::NewPage,
        Block::Heading(1, "Because".to_owned()),
        Block::List(vec!["the same gauge both times".to_owned()]),
        Block::Small("Small print.".to_owned()),
    ];
    paper(
        "report",
        "What was done",
        Body::Pages(Reading::Desk, blocks),
    )
}

pub(super) fn labels(stock: Stock) -> Paper {
    let mut labels = Vec::new();
    for number in 1..=34 {
        for on in ["heater-return.to", "heater-pipe.return"] {
            labels.push(Label {
                mark: number.to_string(),
                on: on.to_owned(),
                second: "not bottle-feed".to_owned(),
                address: Some(format!("http://bench.local:8080/tag/{number}")),
            });
        }
    }
    labels.push(Label {
        mark: "bag 14".to_owned(),
        on: "Runners to head, bulkhead bank".to_owned(),
        second: "6 fasteners".to_owned(),
        address: None,
    });
    paper(
        "labels",
        "Tags and bags",
        Body::Labels(Labels {
            stock,
            skip: 0,
            labels,
        }),
    )
}

pub(super) fn card(scale: f64) -> Paper {
    let holes = HEAD
        .iter()
        .map(|&(name, x_mm, y_mm, number)| CardHole {
            name: name.to_owned(),
            x_mm,
            y_mm,
            thread_mm: Some(11.0),
            number: Some(number),
            lines: vec!["M11 × 98 mm".to_owned(), "one use: renew".to_owned()],
        })
        .collect();
    paper(
        "card",
        "Bolt card, head bolts, bulkhead bank",
        Body::Card(Card {
            joint: "Head bolts, bulkhead bank".to_owned(),
            holes,
            measured: true,
            scale,
            drive_end: Some(Towards::Left),
        }),
    )
}

pub(super) fn unmeasured_card() -> Paper {
    let Body::Card(card) = card(1.0).body else {
        panic!("a card");
    };
    paper(
        "card-unmeasured",
        "Bolt card, head bolts, bulkhead bank",
        Body::Card(Card {
            measured: false,
            drive_end: None,
            ..card
        }),
    )
}
