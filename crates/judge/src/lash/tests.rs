//! Sheets as they come in.

use quantity::unit::MILLIMETRE;
use report::Cell;

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn window(low: f64, high: f64) -> Range<Length> {
    Range {
        low: mm(low),
        high: mm(high),
    }
}

fn sheet(found: &[(&str, Bound<Length>, f64)], inlet: Range<Length>) -> Lash {
    Lash {
        valves: found
            .iter()
            .map(|&(name, clearance, shim)| Valve {
                name: name.to_owned(),
                port: if name.starts_with('I') {
                    Port::Inlet
                } else {
                    Port::Exhaust
                },
                clearance: Some(clearance),
                shim: Some(mm(shim)),
            })
            .collect(),
        inlet,
        exhaust: window(0.25, 0.35),
        stock: Vec::new(),
        step: Some(mm(0.05)),
        adjuster: Adjuster::Shim,
        aim: None,
        film: None,
        sink: None,
        pitch: None,
        after: Vec::new(),
        unit: MILLIMETRE,
    }
}

fn eight() -> Lash {
    let exactly = |value| Bound::Exactly(mm(value));
    sheet(
        &[
            ("I1", exactly(0.14), 2.70),
            ("I2", exactly(0.17), 2.60),
            ("I3", exactly(0.20), 2.65),
            ("I4", exactly(0.12), 2.75),
            ("E1", exactly(0.22), 2.50),
            ("E2", exactly(0.30), 2.55),
            ("E3", exactly(0.26), 2.65),
            ("E4", exactly(0.35), 2.60),
        ],
        window(0.15, 0.25),
    )
}

fn cell<'a>(report: &'a Report, row: usize, key: &str) -> &'a Cell {
    let at = report
        .rows
        .columns
        .iter()
        .position(|column| column.key == key)
        .unwrap();
    &report.rows.rows[row][at]
}

fn size(cell: &Cell) -> f64 {
    match cell {
        Cell::Figure(figure) => figure.value * 1000.0,
        other => panic!("{other:?} is no figure"),
    }
}

/// Source: worked example of eight valves. *Computed by a general library (scipy 1.17.1,
/// linear_sum_assignment).*
#[test]
fn e32_one_to_buy_and_the_other_way_is_said() {
    let report = judge(&eight());
    assert_eq!(report.figure("to_buy").unwrap().value, 1.0);
    assert_eq!(cell(&report, 4, "from"), &Cell::from("buy"));
    assert!((size(cell(&report, 4, "fitted")) - 2.40).abs() < 1e-12);
    assert_eq!(report.verdict, Some(Verdict::Outside));
    let other = report
        .findings
        .iter()
        .find(|finding| finding.code == "other-way")
        .unwrap();
    assert!(other.says.contains("2 to buy, 3 changed"));
}

/// Source: the same example, only valves outside touched. *Computed by a general library
/// (scipy 1.17.1, linear_sum_assignment).*
#[test]
fn e33_shims_under_buckets_disturb_the_fewest() {
    let report = judge(&Lash {
        adjuster: Adjuster::ShimUnder,
        ..eight()
    });
    assert_eq!(report.figure("to_buy").unwrap().value, 2.0);
    assert_eq!(report.figure("changed").unwrap().value, 3.0);
    assert!(
        report
            .cautions
            .iter()
            .any(|caution| caution.says.contains("read every valve first"))
    );
}

/// Source: a reader's worked example, thinnest blade 0.04 does not enter, shim 3.02. *Public
/// data; computed: arithmetic.*
#[test]
fn o08_safe_for_all_of_it_and_measure_again() {
    let report = judge(&sheet(
        &[("I1", Bound::Below(mm(0.04)), 3.02)],
        window(0.152, 0.254),
    ));
    assert!((size(cell(&report, 0, "fitted")) - 2.85).abs() < 1e-12);
    assert!(report.finds("measure-again"));
    assert_eq!(report.verdict, Some(Verdict::Outside));
    match cell(&report, 0, "result") {
        Cell::Figure(figure) => {
            assert!((figure.low.unwrap() - 0.17e-3).abs() < 1e-12);
            assert!((figure.high.unwrap() - 0.21e-3).abs() < 1e-12);
        }
        other => panic!("{other:?}"),
    }
}

/// Source: the same example, whose window was typed as .006–.10 in. *Public data.*
#[test]
fn o08_a_window_of_ten_hundredths_of_an_inch_is_questioned() {
    let odd = Range {
        low: Length::inches(0.006).unwrap(),
        high: Length::inches(0.10).unwrap(),
    };
    assert!(judge(&sheet(&[("I1", Bound::Below(mm(0.04)), 3.02)], odd)).finds("odd-window"));
    assert!(!judge(&eight()).finds("odd-window"));
}

/// Source: a reader's worked example, film 0.0005 in. *Public data; computed: subtraction.*
#[test]
fn so2_the_dry_window_is_shown_as_a_window() {
    let inch = |value| Length::inches(value).unwrap();
    let asked = Lash {
        inlet: Range {
            low: inch(0.005),
            high: inch(0.007),
        },
        exhaust: Range {
            low: inch(0.010),
            high: inch(0.012),
        },
        film: Some(inch(0.0005)),
        valves: Vec::new(),
        ..eight()
    };
    let report = judge(&asked);
    let dry = report.figure("exhaust_dry").unwrap();
    assert!((dry.low.unwrap() - inch(0.0095).si()).abs() < 1e-12);
    assert!((dry.high.unwrap() - inch(0.0115).si()).abs() < 1e-12);
}

#[test]
fn a_reading_that_was_not_taken_and_one_too_wide_stay_out() {
    let mut asked = eight();
    asked.valves[0].clearance = None;
    asked.valves[4].clearance = Some(Bound::Above(mm(0.2)));
    let report = judge(&asked);
    assert_eq!(cell(&report, 0, "fitted"), &Cell::None);
    assert!(report.finds("not-measured"));
    assert!(report.finds("no-safe-shim"));
    assert_eq!(cell(&report, 0, "found"), &Cell::from("-"));
}

#[test]
fn a_reading_after_that_cannot_be_is_said() {
    let mut asked = eight();
    asked.after = vec![
        After {
            name: "I1".into(),
            clearance: Bound::Exactly(mm(0.24)),
            shim: mm(2.60),
        },
        After {
            name: "I4".into(),
            clearance: Bound::Exactly(mm(0.10)),
            shim: mm(2.70),
        },
        After {
            name: "X9".into(),
            clearance: Bound::Exactly(mm(0.10)),
            shim: mm(2.70),
        },
    ];
    let report = judge(&asked);
    let odd: Vec<_> = report
        .findings
        .iter()
        .filter(|finding| finding.code == "after-disagrees")
        .collect();
    assert_eq!(odd.len(), 1);
    assert_eq!(odd[0].concerns, "I4");
    assert!(report.finds("after-unknown"));
    assert_eq!(report.exit_status(), 1);
}

#[test]
fn screws_are_turned_and_hydraulic_followers_asked_about() {
    let screw = judge(&Lash {
        adjuster: Adjuster::Screw,
        pitch: Some(mm(1.0)),
        ..eight()
    });
    assert_eq!(screw.figure("changed").unwrap().value, 3.0);
    assert!(
        matches!(cell(&screw, 0, "turns"), Cell::Number(turns, _) if (turns - 0.06).abs() < 1e-9)
    );
    assert_eq!(
        judge(&Lash {
            adjuster: Adjuster::Hydraulic,
            ..eight()
        })
        .verdict,
        Some(Verdict::NotMeasured)
    );
}

#[test]
fn windows_the_wrong_way_round_are_refused() {
    assert_eq!(
        judge(&Lash {
            inlet: window(0.25, 0.15),
            ..eight()
        })
        .exit_status(),
        2
    );
}

/// Source: new shim = old + (found − sink) − wanted: 2.70 + 0.40 − 0.20 − 0.20 = 2.70, and
/// without the cut 2.90. *Computed: arithmetic.*
#[test]
fn a_cut_seat_closes_the_clearance_before_shims_are_chosen() {
    let asked = Lash {
        step: Some(mm(0.05)),
        ..sheet(
            &[("I1", Bound::Exactly(mm(0.40)), 2.70)],
            window(0.15, 0.25),
        )
    };
    let fitted = |asked: &Lash| {
        let report = judge(asked);
        let at = report.rows.columns.iter().position(|it| it.key == "fitted");
        match &report.rows.rows[0][at.unwrap()] {
            report::Cell::Figure(figure) => figure.value * 1000.0,
            other => panic!("{other:?}"),
        }
    };
    assert!((fitted(&asked) - 2.90).abs() < 1e-9);
    let cut = Lash {
        sink: Some(mm(0.20)),
        ..asked.clone()
    };
    assert!((fitted(&cut) - 2.70).abs() < 1e-9);
    let deep = Lash {
        sink: Some(mm(0.50)),
        ..asked
    };
    assert!(judge(&deep).finds("held-open"));
}

#[test]
fn the_whole_set_is_read_before_the_cams_come_out() {
    let mut asked = Lash {
        adjuster: Adjuster::ShimUnder,
        ..eight()
    };
    assert!(!judge(&asked).finds("read-all-first"));
    asked.valves[3].clearance = None;
    let report = judge(&asked);
    assert!(report.finds("read-all-first") && report.exit_status() == 1);
    asked.adjuster = Adjuster::ShimOver;
    assert!(!judge(&asked).finds("read-all-first"));
}
