//! What a torque or a preload comes to.

use super::*;

fn asked(thread: &str, class: Class, low: f64, high: f64, given: Given) -> Question {
    Question {
        thread: Thread::parse(thread).unwrap(),
        class,
        head: Head::Hexagon,
        friction: Range {
            low: Ratio::fraction(low).unwrap(),
            high: Ratio::fraction(high).unwrap(),
        },
        given,
        unit: unit::NEWTON_METRE,
        turned: None,
    }
}

fn newton_metres(value: f64) -> Given {
    Given::Torque(Torque::newton_metres(value).unwrap())
}

/// Sources: standard values of the VDI 2230 (2001) form, M8 8.8 18.63 kN at 24.57 N·m
/// (*computed by a general library, Python 3.11 floats*) and M10x1.25 10.9 46.4 kN at
/// 75 N·m (*published*).
#[test]
fn preload_of_standard_torques() {
    for (thread, class, torque, kilonewtons) in [
        ("M8x1.25", Class::C8_8, 24.57, 18.63),
        ("M10x1.25", Class::C10_9, 74.7, 46.46),
    ] {
        let report = judge(&asked(thread, class, 0.12, 0.12, newton_metres(torque)));
        let force = report.figure("preload").unwrap();
        assert!(
            (force.value / 1000.0 / kilonewtons - 1.0).abs() < 0.005,
            "{}",
            force.value
        );
        let used = report.figure("utilisation").unwrap();
        assert!((used.value - 0.9).abs() < 0.006, "{}", used.value);
        assert!(report.finds("may-yield"));
        assert_eq!(report.exit_status(), 0);
    }
}

#[test]
fn no_preload_is_shown_with_three_digits() {
    let report = judge(&asked("M8", Class::C8_8, 0.12, 0.12, newton_metres(24.57)));
    let figure = report.figure("preload").unwrap();
    assert_eq!(figure.shown, "19 kN");
    assert!(figure.low.unwrap() < figure.value && figure.value < figure.high.unwrap());
    assert_eq!(about(Force::newtons(8_740.0).unwrap()), "8.7 kN");
    assert_eq!(about(Force::newtons(128_750.0).unwrap()), "130 kN");
}

#[test]
fn a_preload_asked_for_gives_the_torque_back() {
    let given = Given::Preload(Force::kilonewtons(18.63).unwrap());
    let report = judge(&asked("M8", Class::C8_8, 0.12, 0.12, given));
    assert!((report.figure("torque").unwrap().value - 24.5).abs() < 0.1);
    assert!((report.figure("preload").unwrap().value - 18_630.0).abs() < 1e-6);
}

/// The lubrication trap: M8 8.8 at 27.3 N·m with friction 0.08 is at 133 % and near its
/// breaking load. Source: long form in double precision. *Computed by a general library
/// (Python 3.11 floats).*
#[test]
fn p39_low_friction_yields_the_bolt() {
    let report = judge(&asked("M8", Class::C8_8, 0.08, 0.08, newton_metres(27.3)));
    assert!(report.finds("past-yield"));
    assert!((report.figure("utilisation").unwrap().value - 1.33).abs() < 0.01);
    assert_eq!(report.exit_status(), 1);
}

/// A stronger or weaker bolt of the same size changes the use, not the preload.
#[test]
fn p40_replacement_hardware_of_another_class() {
    let weak = judge(&asked("M8", Class::C8_8, 0.12, 0.12, newton_metres(36.0)));
    let strong = judge(&asked("M8", Class::C10_9, 0.12, 0.12, newton_metres(36.0)));
    assert!(weak.finds("past-yield"));
    assert!(!strong.finds("past-yield"));
    assert_eq!(
        weak.figure("preload").unwrap().value,
        strong.figure("preload").unwrap().value
    );
}

#[test]
fn a_friction_range_carries_the_range() {
    let report = judge(&asked("M8", Class::C8_8, 0.10, 0.16, newton_metres(24.0)));
    let figure = report.figure("preload").unwrap();
    assert!(figure.high.unwrap() / figure.low.unwrap() > 1.5);
    assert!(report.because[0].contains("±4 %"), "{}", report.because[0]);
}

#[test]
fn friction_as_a_whole_number_is_refused() {
    let report = judge(&asked("M8", Class::C8_8, 12.0, 12.0, newton_metres(24.0)));
    assert!(report.refused);
    assert!(report.findings[0].says.contains("friction"));
}

#[test]
fn a_mark_of_the_other_family_is_pointed_out() {
    let report = judge(&asked(
        "3/8-16",
        Class::C8_8,
        0.12,
        0.12,
        newton_metres(40.0),
    ));
    assert!(report.finds("class-of-other-family"));
    assert!(report.finds("bearing-by-rule"));
    let right = judge(&asked(
        "3/8-16",
        Class::Grade5,
        0.12,
        0.12,
        newton_metres(40.0),
    ));
    assert!(!right.finds("class-of-other-family"));
}
