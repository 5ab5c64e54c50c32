//! Cuts as asked on the command line.

use quantity::unit::{INCH_UNIT, MILLIMETRE};
use report::Verdict;

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn degrees(value: f64) -> Angle {
    Angle::degrees(value).unwrap()
}

fn cut(depth: Length) -> Asked {
    Asked {
        cut: depth,
        before: Some(mm(0.0)),
        total: None,
        drive: None,
        valve: None,
        pushrod: None,
        vee: None,
        corners: Vec::new(),
        mouth: None,
        end_share: None,
        width: None,
        unit: MILLIMETRE,
    }
}

/// Source: straight drive C 300, R 60, r 30, cut 0.25. *Computed by a general library (scipy
/// 1.17.1): exact belt length.*
#[test]
fn e27_retard_at_cam_and_crank() {
    let lean = Lean::Straight {
        crank: mm(30.0),
        apart: mm(300.0),
    };
    let report = judge(&Asked {
        drive: Some(CamDrive {
            cam: mm(60.0),
            lean,
        }),
        ..cut(mm(0.25))
    });
    let degrees = |name: &str| report.figure(name).unwrap().value.to_degrees();
    assert!((degrees("retard_cam") - 0.23754).abs() < 2e-5);
    assert!((degrees("retard_crank") - 0.47507).abs() < 2e-5);
    assert!(report.findings.iter().any(|finding| {
        finding
            .next
            .as_deref()
            .is_some_and(|next| next.contains("0.25 mm"))
    }));
}

/// Source: 90° V, flanges tilted 10°. *Computed by a general library (Python 3.11 floats):
/// geometry.*
#[test]
fn e29_manifold_of_a_v() {
    let report = judge(&Asked {
        vee: Some(Vee {
            bank: degrees(90.0),
            tilt: degrees(10.0),
        }),
        ..cut(mm(1.0))
    });
    assert!((report.figure("flange").unwrap().value * 1000.0 - 1.23280).abs() < 1e-5);
    assert!((report.figure("rail").unwrap().value * 1000.0 - 1.71696).abs() < 1e-5);
}

/// Source: head 0.020 in thinner at one end, 2.9 to 3.2 in bores: 1.6 to 2.0 cc. *Public data
/// (inputs); computed: geometry.*
#[test]
fn o06_one_end_thinner_matters() {
    let inch = |value| Length::inches(value).unwrap();
    let area = std::f64::consts::PI / 4.0 * 3.2 * 3.2 * 25.4 * 25.4;
    let asked = Asked {
        corners: [5.0, 5.0, 4.98, 4.98]
            .iter()
            .map(|&thick| Some(inch(thick)))
            .collect(),
        mouth: Some(Area::square_mm(area).unwrap()),
        unit: INCH_UNIT,
        ..cut(inch(0.020))
    };
    let report = judge(&asked);
    assert_eq!(report.verdict, Some(Verdict::Outside));
    assert!(report.finds("tapered"));
    assert!((report.figure("taper").unwrap().value - inch(0.020).si()).abs() < 1e-9);
    let spread = report.figure("chamber_spread").unwrap().value * 1e6;
    assert!((1.6..2.05).contains(&spread), "{spread}");
}

#[test]
fn the_default_total_is_shown_as_one_and_earlier_cuts_are_asked_for() {
    let report = judge(&Asked {
        before: None,
        ..cut(mm(0.1))
    });
    // One cut within the limit of all cuts proves nothing while the earlier ones are unknown.
    assert_eq!(report.verdict, Some(Verdict::Undecided));
    assert!(report.finds("undecided"));
    assert!(report.headline.unwrap().contains("default limit"));
    assert!(report.asks.iter().any(|ask| ask.what.contains("before")));
    let first = judge(&cut(mm(0.1)));
    assert_eq!(first.verdict, Some(Verdict::Within));
    let deep = judge(&Asked {
        before: None,
        ..cut(mm(0.25))
    });
    assert_eq!(deep.verdict, Some(Verdict::Outside));
}

#[test]
fn a_cut_of_inches_for_thousandths_is_refused() {
    for odd in [76.2, -0.1] {
        let report = judge(&cut(mm(odd)));
        assert!(report.refused, "{odd}");
        assert!(report.findings[0].next.is_some());
    }
}

#[test]
fn angles_beyond_square_are_refused() {
    assert_eq!(
        judge(&Asked {
            valve: Some(degrees(95.0)),
            ..cut(mm(0.1))
        })
        .exit_status(),
        2
    );
}

/// Source: 0.20 mm over 150 mm is 0.0764°, and 60 mm of flange gape 0.08 mm. *Computed:
/// geometry.*
#[test]
fn a_banked_head_cut_deeper_at_one_side_leans_its_flange() {
    let mut asked = cut(mm(0.2));
    asked.corners = [128.0, 127.8, 128.0, 127.8].map(|at| Some(mm(at))).to_vec();
    assert!(
        judge(&asked)
            .asks
            .iter()
            .any(|ask| ask.how.contains("--width"))
    );
    asked.width = Some(mm(150.0));
    asked.vee = Some(Vee {
        bank: degrees(90.0),
        tilt: degrees(0.0),
    });
    let report = judge(&asked);
    let value = |name: &str| report.figure(name).unwrap().value;
    assert!((value("lean").to_degrees() - 0.0764).abs() < 1e-4);
    assert!((value("across") - 0.2e-3).abs() < 1e-9 && value("along").abs() < 1e-9);
    let leans = report
        .findings
        .iter()
        .find(|it| it.code == "leans")
        .unwrap();
    assert!(leans.points_to.as_ref().unwrap().contains("0.08 mm"));
    asked.corners = [127.8, 127.8, 128.0, 128.0].map(|at| Some(mm(at))).to_vec();
    let along = judge(&asked);
    assert!(!along.finds("leans") && along.finds("tapered"));
    assert_eq!(
        along.figure("along").unwrap().note.as_deref(),
        Some("flywheel end thicker than drive end")
    );
}
