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
        crevice_given: false,
        cut: None,
        mouth: None,
        target: None,
    }
}

/// Source: 86 × 86, chamber 45 cc. *Computed: geometry.*
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

/// Source: the same engine, 0.25 mm off a mouth of 4900 mm²; target 10. *Computed: geometry.*
#[test]
fn e23_to_e25_after_the_cut_and_back() {
    let asked = Asked {
        cut: Some(mm(0.25)),
        mouth: Some(Area::square_mm(4900.0).unwrap()),
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
