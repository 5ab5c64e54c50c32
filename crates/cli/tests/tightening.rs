//! The commands `torque`, `preload` and `hole`, asked as a person asks them.

#![expect(clippy::unwrap_used, reason = "a test that cannot run has failed")]

mod program;

use program::ask;
use serde_json::Value;

fn figure(answer: &Value, name: &str) -> f64 {
    answer["figures"][name]["value"]
        .as_f64()
        .expect("the figure is there")
}

fn finds(answer: &Value, code: &str) -> bool {
    answer["findings"]
        .as_array()
        .expect("findings are a list")
        .iter()
        .any(|finding| finding["code"] == code)
}

const POUND_FOOT: f64 = 1.355_817_948_331_400_4;

/// Source: reader's worked example, *public data*; lever arithmetic.
#[test]
fn o09_adapter() {
    for (angle, expected) in [
        ("0°", 37.5),
        ("45°", 40.4608),
        ("90°", 50.0),
        ("180°", 75.0),
    ] {
        let (status, answer) = ask(&[
            "torque",
            "50 lb-ft",
            "--handle",
            "18 in",
            "--adapter",
            "6 in",
            "--adapter-angle",
            angle,
        ]);
        assert_eq!(status, 0);
        assert!(
            (figure(&answer, "setting") / POUND_FOOT - expected).abs() < 0.005,
            "{angle}"
        );
    }
}

/// Source: reader's worked example, *public data*; subtraction.
#[test]
fn o11_bolt_longer_than_its_hole() {
    let (status, answer) = ask(&["hole", "--bolt", "2-1/2 in", "--depth", "2-7/16 in"]);
    assert_eq!(status, 1);
    assert_eq!(answer["verdict"], "outside");
    assert!((figure(&answer, "clearance") * 1000.0 + 1.5875).abs() < 1e-6);
    assert!(finds(&answer, "bottoms"));
}

/// Source: standard values of the VDI 2230 (2001) form; M10x1.25 *published* as 46.4 kN at
/// 75 N·m.
#[test]
fn preload_of_standard_torques() {
    for (thread, class, torque, kilonewtons) in [
        ("M8x1.25", "8.8", "24.57 N·m", 18.63),
        ("M10x1.25", "10.9", "74.7 N·m", 46.46),
    ] {
        let (status, answer) = ask(&[
            "preload",
            thread,
            "--class",
            class,
            "--friction",
            "0.12",
            "--torque",
            torque,
        ]);
        assert_eq!(status, 0);
        assert!((figure(&answer, "preload") / 1000.0 / kilonewtons - 1.0).abs() < 0.006);
        assert!(answer["figures"]["preload"]["low"].is_number());
    }
}

#[test]
fn s_o3_a_wrench_too_large_is_refused_and_a_smaller_one_taken() {
    let (status, answer) = ask(&["torque", "70 lb-in", "--wrench", "click 10..100 lbf·ft"]);
    assert_eq!(status, 1);
    assert!(finds(&answer, "out-of-range"));
    let (status, answer) = ask(&[
        "torque",
        "70 lb-in",
        "--wrench",
        "click 10..100 lbf·ft",
        "--wrench",
        "click 20..200 lbf·in 4 %",
    ]);
    assert_eq!(status, 0);
    assert_eq!(answer["rows"][0]["wrench"], "click 20..200 lbf·in 4 %");
}

#[test]
fn what_cannot_be_read_is_refused_with_every_fault() {
    let (status, answer) = ask(&[
        "torque",
        "35 lbs",
        "--wrench",
        "big red one",
        "--thread",
        "M8x40",
        "--class",
        "7.7",
    ]);
    assert_eq!(status, 2);
    assert_eq!(answer["findings"].as_array().unwrap().len(), 4);
    let (status, _) = ask(&["torque", "50 lb-ft", "--adapter", "6 in"]);
    assert_eq!(status, 2);
    let (status, _) = ask(&["preload", "M8", "--class", "8.8", "--friction", "0.12"]);
    assert_eq!(status, 2);
}

#[test]
fn without_a_figure_a_plain_bolt_gets_an_estimate_and_a_critical_one_none() {
    let plain = [
        "torque",
        "--thread",
        "M8",
        "--class",
        "8.8",
        "--into",
        "aluminium",
        "--engaged",
        "12 mm",
    ];
    let (status, answer) = ask(&[&plain[..], &["--joint", "runner to support"]].concat());
    assert_eq!(status, 0);
    assert!((figure(&answer, "estimate") - 20.0).abs() < 1e-9);
    let (status, answer) = ask(&[&plain[..], &["--joint", "main bearing cap"]].concat());
    assert_eq!(status, 2);
    assert!(answer["figures"]["estimate"].is_null());
    let (status, answer) = ask(&plain);
    assert_eq!(status, 2);
    assert!(!answer["asks"].as_array().unwrap().is_empty());
    let (status, _) = ask(&["torque"]);
    assert_eq!(status, 2);
}
