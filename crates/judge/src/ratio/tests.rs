//! Ratios as asked on the command line.

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn cc_of(value: f64) -> Volume {
    Volume::cc(value).unwrap()
}

fn engine() -> Asked {
    Asked {
        cylinder: Cylinder {
            bore: mm(86.0),
            stroke: mm(86.0),
            chamber: cc_of(45.0),
            gasket_bore: mm(87.5),
            gasket: mm(1.2),
            deck: mm(0.4),
            dish: cc_of(3.0),
            dome: cc_of(0.0),
            relief: cc_of(0.0),
            crevice: cc_of(0.0),
        },
        poured_again: Vec::new(),
        crevice_given: false,
        cut: None,
        mouth: None,
        target: None,
    }
}

/// Source: 86 × 86, chamber 45 cc. *Computed by a general library (Python 3.11 floats): geometry.*
#[test]
fn e22_before_the_cut() {
    let report = judge(&engine());
    assert!((report.figure("ratio").unwrap().value - 9.68201).abs() < 1e-5);
    assert!((report.figure("swept").unwrap().value * 1e6 - 499.557).abs() < 1e-3);
    assert!(
        report
            .because
            .iter()
            .any(|line| line.contains("not counted"))
    );
}

/// Source: the same engine, 0.25 mm off a mouth of 4900 mm²; target 10. *Computed by a general
/// library (Python 3.11 floats): geometry.*
#[test]
fn e23_to_e25_after_the_cut_and_back() {
    let asked = Asked {
        cut: Some(mm(0.25)),
        mouth: Some(Mouth::Traced(Area::square_mm(4900.0).unwrap())),
        target: Some(Ratio::fraction(10.0).unwrap()),
        ..engine()
    };
    let report = judge(&asked);
    let value = |name| report.figure(name).unwrap().value;
    assert!((value("ratio") - 9.87087).abs() < 1e-5);
    assert!((value("ratio_before") - 9.68201).abs() < 1e-5);
    assert!((value("cut_for_target") * 1000.0 - 0.41490).abs() < 1e-5);
    assert!((value("gasket_to_undo") * 1000.0 - 0.20372).abs() < 1e-5);
}

#[test]
fn a_cut_without_its_mouth_is_asked_about_and_never_guessed() {
    let report = judge(&Asked {
        cut: Some(mm(0.25)),
        ..engine()
    });
    assert!((report.figure("ratio").unwrap().value - 9.68201).abs() < 1e-5);
    assert!(report.asks.iter().any(|ask| ask.what.contains("mouth")));
}

#[test]
fn no_room_is_refused_and_little_room_is_said() {
    let mut full = engine();
    full.cylinder.dome = cc_of(90.0);
    assert_eq!(judge(&full).exit_status(), 2);
    let mut tight = engine();
    tight.cylinder.deck = mm(-0.5);
    assert!(judge(&tight).finds("little-room"));
}

/// Source: the same mouth from two pourings, 45.0 and 54.8 cc with a ring of 2 mm: 4900 mm².
/// *Computed by a general library (Python 3.11 floats): geometry.* The same-perimeter circle of a
/// 90 × 60 mm stadium: 4913.91 mm².
#[test]
fn e26_the_mouth_from_two_pourings_or_from_its_edge() {
    let cut = |mouth| {
        judge(&Asked {
            cut: Some(mm(0.25)),
            mouth: Some(mouth),
            ..engine()
        })
    };
    let raised = cut(Mouth::Raised {
        volume: cc_of(54.8),
        ring: mm(2.0),
    });
    let value = |report: &Report, name: &str| report.figure(name).unwrap().value;
    assert!((value(&raised, "mouth") * 1e6 - 4900.0).abs() < 1e-6);
    assert!((value(&raised, "ratio") - 9.87087).abs() < 1e-5);
    let edge = cut(Mouth::Perimeter(mm(
        std::f64::consts::PI * 60.0 + 2.0 * 30.0
    )));
    assert!((value(&edge, "mouth") * 1e6 - 4913.91).abs() < 0.01);
    assert!(edge.finds("mouth-not-round") && !raised.finds("mouth-not-round"));
    let wrong = cut(Mouth::Raised {
        volume: cc_of(44.0),
        ring: mm(2.0),
    });
    assert!(wrong.refused);
}

/// Source: 45 cc is the mean of 44.8, 45.0 and 45.2; 57.34 and 57.74 cc left give 9.712 and
/// 9.652. *Computed: arithmetic.*
#[test]
fn several_pourings_count_by_their_mean_and_their_spread_is_said() {
    let mut asked = engine();
    asked.cylinder.chamber = cc_of(44.8);
    asked.poured_again = vec![cc_of(45.0), cc_of(45.2)];
    let report = judge(&asked);
    let figure = report.figure("ratio").unwrap();
    assert!((figure.value - 9.68201).abs() < 1e-5);
    assert!((figure.low.unwrap() - 9.652).abs() < 1e-3);
    assert!((figure.high.unwrap() - 9.712).abs() < 1e-3);
    assert!(!report.finds("pourings-differ"));
    asked.poured_again = vec![cc_of(46.0)];
    assert!(judge(&asked).finds("pourings-differ"));
}
