//! The answer to a tightening figure: units, wrench, adapter, refusals.

use super::*;
use quantity::{Angle, Length, spec};
use report::Weight;

fn asked(text: &str) -> Question {
    Question {
        spec: spec::read(text).unwrap(),
        show_in: None,
        rack: Rack::default(),
        lever: Lever::Straight,
        clockwise: true,
        thread: None,
        class: None,
        drive: drive::Drive::default(),
        joint: None,
        threads_are: None,
    }
}

fn with_tools(text: &str, tools: &[&str]) -> Question {
    Question {
        rack: Rack::default().by_hand(
            tools
                .iter()
                .map(|tool| crate::wrench::read(tool).unwrap().value)
                .collect(),
        ),
        ..asked(text)
    }
}

fn on_thread(text: &str, thread: &str, class: &str) -> Question {
    Question {
        thread: Some(Thread::parse(thread).unwrap()),
        class: Some(Class::parse(class).unwrap()),
        ..asked(text)
    }
}

fn value(report: &Report, name: &str) -> f64 {
    report.figure(name).unwrap().value
}

const POUND_FOOT: f64 = 1.355_817_948_331_400_4;

/// Case: 50 lbf·ft, 18 in handle, 6 in adapter: 37.5, 40.5, 50, 75 lbf·ft; uncorrected in
/// line 66.7. Source: reader's worked example, *public data*; lever arithmetic.
#[test]
fn o09_adapter() {
    for (degrees, expected) in [(0.0, 37.5), (45.0, 40.46), (90.0, 50.0), (180.0, 75.0)] {
        let question = Question {
            lever: Lever::On(Adapter {
                handle: Length::inches(18.0).unwrap(),
                length: Length::inches(6.0).unwrap(),
                angle: Angle::degrees(degrees).unwrap(),
            }),
            ..asked("50 lb-ft")
        };
        let report = judge(&question);
        assert!(
            (value(&report, "setting") / POUND_FOOT - expected).abs() < 0.005,
            "{degrees}"
        );
        assert!((value(&report, "spec") / POUND_FOOT - 50.0).abs() < 1e-9);
        assert!(report.finds("long-adapter"));
        if degrees == 0.0 {
            assert!(
                report
                    .because
                    .iter()
                    .any(|line| line.contains("66.67 lbf·ft") && line.contains("+33 %")),
                "{:?}",
                report.because
            );
        }
        if degrees == 90.0 {
            assert!(
                report
                    .because
                    .iter()
                    .any(|line| line.contains("changes nothing"))
            );
        }
    }
}

/// Case: pan bolts of 70 lbf·in and a 10 to 100 lbf·ft wrench. Source: reader's worked
/// example, *public data*; exact factors.
#[test]
fn s_o3_pan_bolts_and_a_large_wrench() {
    let report = judge(&with_tools("70 lb-in", &["click 10..100 lbf·ft"]));
    assert!(report.finds("out-of-range"));
    assert_eq!(report.exit_status(), 1);
    let finding = report
        .findings
        .iter()
        .find(|finding| finding.code == "out-of-range")
        .unwrap();
    assert!(
        finding.detail[0].contains("5.833 lbf·ft"),
        "{:?}",
        finding.detail
    );
    let report = judge(&with_tools(
        "70 lb-in",
        &["click 10..100 lbf·ft", "click 20..200 lbf·in 4 %"],
    ));
    assert!(!report.finds("out-of-range"));
    assert_eq!(report.figure("spec").unwrap().shown, "70 lbf·in");
}

/// P-33: the spec comes back in the wrench's own unit, and both readings of a dual scale
/// stand there with the ratio. O-10: 45 on the N·m scale is 74 % and only too loose. Source:
/// reader's worked example, *public data*.
#[test]
fn o10_the_other_scale_has_a_sign() {
    let report = judge(&with_tools("45 lb-ft", &["click 20..110 N·m"]));
    assert_eq!(report.figure("setting").unwrap().shown, "61.01 N·m");
    let line = report
        .because
        .iter()
        .find(|line| line.contains("N·m scale"))
        .unwrap();
    assert!(
        line.contains("74 %") && line.contains("cannot stretch"),
        "{line}"
    );
    let report = judge(&asked("45 N·m"));
    let line = report
        .because
        .iter()
        .find(|line| line.contains("lbf·ft scale"))
        .unwrap();
    assert!(
        line.contains("136 %") && line.contains("too tight"),
        "{line}"
    );
}

/// P-34: inch-pounds and foot-pounds exchanged.
#[test]
fn p34_twelve_times_is_noticed() {
    let report = judge(&on_thread("80 lb-ft", "M6", "8.8"));
    let finding = report
        .findings
        .iter()
        .find(|finding| finding.code == "look-alike")
        .unwrap();
    assert!(
        finding.points_to.as_ref().unwrap().contains("80 lbf·in"),
        "{finding:?}"
    );
    assert!(report.headline.unwrap().starts_with("Do not pull"));
    assert!(!judge(&on_thread("80 lb-in", "M6", "8.8")).finds("look-alike"));
}

/// P-41: a low seating stage before an angle is as it should be.
#[test]
fn p41_a_low_first_stage_raises_nothing() {
    let report = judge(&on_thread("20 N·m + 90° + 90°", "M11", "10.9"));
    assert!(!report.finds("look-alike"));
    assert!(report.finds("ends-in-angle"));
    assert_eq!(report.figure("spec").unwrap().label, "seating torque");
    assert_eq!(report.rows.rows.len(), 3);
    assert!(report.headline.unwrap().contains("180°"));
    assert!(!judge(&on_thread("5 N·m, 49 N·m", "M10", "8.8")).finds("look-alike"));
}

/// P-39 and S-O1: a dry figure and oiled threads. Source: gain of 20 to 30 %, *common
/// practice, no source*.
#[test]
fn s_o1_dry_figure_oiled_threads() {
    let question = Question {
        threads_are: Some(Condition::Oiled),
        ..asked("90 lb-ft dry")
    };
    let report = judge(&question);
    let finding = report
        .findings
        .iter()
        .find(|finding| finding.code == "condition")
        .unwrap();
    assert!(
        finding.next.as_ref().unwrap().contains("70–75 lbf·ft"),
        "{finding:?}"
    );
    // The figure itself is left alone.
    assert!((value(&report, "spec") / POUND_FOOT - 90.0).abs() < 1e-9);
    let same = Question {
        threads_are: Some(Condition::Dry),
        ..asked("90 lb-ft dry")
    };
    assert!(!judge(&same).finds("condition"));
}

#[test]
fn a_condition_not_stated_is_asked_for_and_never_taken_for_dry() {
    let question = Question {
        threads_are: Some(Condition::Oiled),
        ..asked("90 lb-ft")
    };
    let report = judge(&question);
    assert!(!report.finds("condition"));
    assert!(
        report
            .asks
            .iter()
            .any(|ask| ask.what.contains("dry or oiled"))
    );
}

/// A stage list that goes down has a slip in it; one that is loosened between, or seats low before
/// an angle, has not.
#[test]
fn a_stage_below_the_one_before_is_asked_about() {
    let report = judge(&asked("18 N·m, 8 N·m"));
    assert!(report.finds("stage-falls"));
    assert!(judge(&asked("12 lbf·ft, 21 lbf·in")).finds("stage-falls"));
    for sound in [
        "8 N·m, 18 N·m",
        "40 N·m, loosen, 20 N·m + 90°",
        "5 N·m + 90° + 90°",
        "20 N·m, 20 N·m",
    ] {
        assert!(!judge(&asked(sound)).finds("stage-falls"), "{sound}");
    }
}

/// Source: printed torque table with a transposed digit. *Public data.*
#[test]
fn a_misprint_stops() {
    let report = judge(&asked("166 ft-lb (255 N·m)"));
    let finding = report
        .findings
        .iter()
        .find(|finding| finding.code == "misprint")
        .unwrap();
    assert_eq!(finding.weight, Weight::Stop);
    assert_eq!(
        finding.says,
        "166 ft-lb (225.1 N·m) and 255 N·m do not agree: one of the two is a misprint"
    );
    assert!(!report.finds("reading"), "it is said once");
    assert!(!judge(&asked("29.5 lbf·ft (40 N·m)")).finds("misprint"));
}

#[test]
fn full_scale_accuracy_is_told_at_the_setting() {
    let report = judge(&with_tools(
        "25 lb-ft",
        &["dial 10..100 lbf·ft 2 % of full scale"],
    ));
    assert!(report.finds("full-scale-accuracy"));
    assert!(report.because[0].contains("8 %"), "{}", report.because[0]);
    assert!(
        !judge(&with_tools("25 lb-ft", &["dial 10..100 lbf·ft 2 %"])).finds("full-scale-accuracy")
    );
}

#[test]
fn a_coarse_scale_says_how_far_off_its_mark_is() {
    let report = judge(&with_tools("12 N·m", &["click 5..25 N·m step 5"]));
    assert!(report.finds("between-marks"));
    assert!(
        report
            .figure("setting")
            .unwrap()
            .note
            .as_ref()
            .unwrap()
            .contains("10 N·m")
    );
}

#[test]
fn a_range_keeps_its_ends() {
    let report = judge(&asked("18-22 ft-lb"));
    let spec = report.figure("spec").unwrap();
    assert!((spec.low.unwrap() - 24.405).abs() < 5e-3);
    assert!((spec.high.unwrap() - 29.828).abs() < 5e-3);
}

#[test]
fn an_adapter_without_a_lever_is_refused() {
    let question = Question {
        lever: Lever::On(Adapter {
            handle: Length::inches(6.0).unwrap(),
            length: Length::inches(6.0).unwrap(),
            angle: Angle::degrees(180.0).unwrap(),
        }),
        ..asked("50 lb-ft")
    };
    assert!(judge(&question).refused);
}

#[test]
fn a_spec_without_torque_has_nothing_to_set() {
    let report = judge(&asked("hand tight, 90°"));
    assert!(report.figure("setting").is_none());
    assert!(!report.refused);
}

/// Source: kinematics of a single universal joint, 20° gives 0.940 to 1.064. *Public data.*
#[test]
fn a_bent_drive_widens_the_torque_and_is_refused_where_it_must_hold() {
    let bent = |degrees: f64, joint: Option<&str>| {
        judge(&Question {
            drive: drive::Drive {
                bend: Some(Angle::degrees(degrees).unwrap()),
                extension: None,
            },
            joint: joint.map(str::to_owned),
            ..asked("100 N·m")
        })
    };
    let report = bent(20.0, Some("engine bracket"));
    let figure = report.figure("delivered").unwrap();
    assert!((figure.low.unwrap() - 94.0).abs() < 0.05);
    assert!((figure.high.unwrap() - 106.4).abs() < 0.05);
    assert_eq!(report.exit_status(), 0);
    assert_eq!(bent(20.0, Some("cylinder head")).exit_status(), 1);
    assert_eq!(bent(10.0, Some("cylinder head")).exit_status(), 0);
    assert!(bent(60.0, None).refused);
}

/// Source: elementary torsion, 10 mm bar, 250 mm, 50 N·m, 79.3 GPa: 9.2°. *Computed: formula in
/// double precision.*
#[test]
fn an_extension_winds_up_and_spoils_an_angle_read_at_the_handle() {
    let through = |text: &str| {
        judge(&Question {
            drive: drive::Drive {
                bend: None,
                extension: Some(drive::Extension {
                    length: Length::mm(250.0).unwrap(),
                    diameter: Length::mm(10.0).unwrap(),
                }),
            },
            ..asked(text)
        })
    };
    let plain = through("50 N·m");
    assert!((value(&plain, "twist").to_degrees() - 9.2).abs() < 0.05);
    assert!((value(&plain, "setting") - 50.0).abs() < 1e-9);
    let angle = through("50 N·m + 90°");
    let finding = angle
        .findings
        .iter()
        .find(|it| it.code == "extension-twist");
    assert!(
        finding
            .unwrap()
            .next
            .as_deref()
            .unwrap()
            .contains("at the socket")
    );
}

/// The lubrication trap: M8 8.8 at 27.3 N·m, 0.14 gives 90 % and 0.08 gives 133 %. Source: long
/// form in double precision. *Computed by a general library (Python 3.11 floats).*
#[test]
fn the_use_of_the_bolt_is_a_range() {
    let report = judge(&on_thread("27.3 N·m oiled", "M8x1.25", "8.8"));
    let figure = report.figure("utilisation").unwrap();
    // Friction 0.08 to 0.16, and 4 % for the wrench.
    assert!(
        (figure.high.unwrap() / 1.33 - 1.04).abs() < 0.01,
        "{figure:?}"
    );
    assert!(figure.low.unwrap() < 0.9 && report.figure("preload").is_some());
    assert!(
        judge(&on_thread("27.3 N·m + 90°", "M8x1.25", "8.8"))
            .figure("utilisation")
            .is_none()
    );
}

/// The wrenches of a shop file: the adapter is reckoned with the handle of the wrench taken,
/// and a wrench whose check is due is named.
#[test]
fn the_shops_wrenches_bring_their_handles_and_their_checks() {
    let (shop, faults) = book::read_shop(
        "wrench a kind=click range=\"10..100 lbf·ft\" checked=\"2024-01-01\" direction=clockwise handle=\"18 in\"\nwrench b kind=click range=\"20..200 lbf·in\" checked=\"2025-12-01\"\n",
    );
    assert!(faults.is_empty(), "{faults:?}");
    let rack = Rack::of_shop(&shop, book::Date::read("2026-02-01").unwrap());
    let report = judge(&Question {
        rack: rack.clone(),
        lever: Lever::Under {
            length: Length::inches(6.0).unwrap(),
            angle: Angle::degrees(0.0).unwrap(),
        },
        ..asked("50 lb-ft")
    });
    assert!((value(&report, "setting") / POUND_FOOT - 37.5).abs() < 1e-9);
    let check = report.findings.iter().find(|it| it.code == "wrench-check");
    assert!(check.unwrap().says.contains("more than a year"));
    let small = judge(&Question {
        rack: rack.clone(),
        ..asked("80 lb-in")
    });
    assert!(!small.finds("wrench-check"));
    let left = judge(&Question {
        rack,
        clockwise: false,
        ..asked("50 lb-ft")
    });
    let check = left.findings.iter().find(|it| it.code == "wrench-check");
    assert!(check.unwrap().says.contains("other way round"));
}
