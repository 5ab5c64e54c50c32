//! Verdicts on faces.

use proptest::prelude::*;
use quantity::unit::MILLIMETRE;
use report::Verdict;

use super::*;
use crate::limit::Whose;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn deck(step: Option<f64>) -> Flatness {
    let heights = [0, 22, 31, 20, -4, 10, 37, 52, 41, 17, 14, 38, 46, 33, 6];
    let heights = heights
        .iter()
        .enumerate()
        .map(|(at, &um)| {
            let z = f64::from(um) / 1000.0;
            Height {
                x: mm(105.0 * (at % 5) as f64),
                y: mm(75.0 * (at / 5) as f64),
                z: step.map_or(Bound::Exactly(mm(z)), |step| {
                    Bound::Between(Range {
                        low: mm(z - step / 2.0),
                        high: mm(z + step / 2.0),
                    })
                }),
            }
        })
        .collect();
    Flatness::of(heights, MILLIMETRE)
}

/// Source: constructed head deck, minimum zone 0.049. *Computed by a general library (scipy
/// 1.17.1, linear programme).*
#[test]
fn e07_the_deck_is_judged_by_its_zone_and_not_its_range() {
    let asked = Flatness {
        limit: Some(Limit::most(mm(0.05)).of(Whose::Maker)),
        ..deck(None)
    };
    let report = judge(&asked);
    assert_eq!(report.verdict, Some(Verdict::Within));
    assert!((report.figure("minimum_zone").unwrap().value - 0.049e-3).abs() < 1e-12);
    assert!((report.figure("range").unwrap().value - 0.056e-3).abs() < 1e-12);
    assert!((report.figure("along").unwrap().value - 0.0385e-3).abs() < 1e-9);
    assert_eq!(report.rows.rows.len(), 15);
    assert_eq!(report.pictures.len(), 1);
}

#[test]
fn an_uncertain_instrument_leaves_it_undecided_and_names_an_act() {
    let asked = Flatness {
        limit: Some(Limit::most(mm(0.05)).of(Whose::Maker)),
        expanded: Some(mm(0.0116)),
        ..deck(None)
    };
    let report = judge(&asked);
    assert_eq!(report.verdict, Some(Verdict::Undecided));
    assert_eq!(report.exit_status(), 0);
    let finding = report
        .findings
        .iter()
        .find(|finding| finding.code == "undecided")
        .unwrap();
    assert!(finding.next.is_some());
}

#[test]
fn readings_in_steps_are_redrawn_and_the_noise_is_said() {
    let report = judge(&Flatness {
        limit: Some(Limit::most(mm(0.05))),
        ..deck(Some(0.02))
    });
    let floor = report.figure("noise_floor").unwrap();
    assert!(floor.value > 0.0 && floor.value < 0.02e-3);
    assert!(report.finds("noise-adds"));
    assert_eq!(report.verdict, Some(Verdict::Undecided));
    assert_eq!(judge(&deck(Some(0.02))), judge(&deck(Some(0.02))));
}

#[test]
fn without_a_limit_there_is_no_verdict_and_one_is_asked_for() {
    let report = judge(&deck(None));
    assert_eq!(report.verdict, None);
    assert!(report.asks.iter().any(|ask| ask.what.contains("limit")));
    let report = judge(&Flatness {
        cylinders: Some(4),
        ..deck(None)
    });
    assert_eq!(report.verdict, Some(Verdict::Within));
    assert!(report.headline.unwrap().contains("default limit"));
}

#[test]
fn a_limit_across_can_break_what_the_whole_keeps() {
    let asked = Flatness {
        limit: Some(Limit::most(mm(0.05))),
        across: Some(Limit::most(mm(0.01))),
        ..deck(None)
    };
    let report = judge(&asked);
    assert_eq!(report.verdict, Some(Verdict::Outside));
    assert!(report.headline.unwrap().contains("across"));
}

#[test]
fn a_bent_head_asks_for_the_cam_bores() {
    let mut asked = deck(None);
    asked.limit = Some(Limit::most(mm(0.03)));
    asked.overhead_cam = true;
    let report = judge(&asked);
    assert!(report.asks.iter().any(|ask| ask.what.contains("cam bores")));
}

#[test]
fn four_corners_do_not_show_a_bow() {
    let mut asked = deck(None);
    asked.heights = [0, 4, 10, 14].iter().map(|&at| asked.heights[at]).collect();
    assert!(judge(&asked).finds("not-seen"));
}

#[test]
fn two_points_and_open_bounds_are_refused() {
    let mut asked = deck(None);
    asked.heights.truncate(2);
    assert_eq!(judge(&asked).exit_status(), 2);
    let mut asked = deck(None);
    asked.heights[3].z = Bound::Below(mm(0.02));
    assert!(judge(&asked).findings[0].says.contains("no other end"));
}

proptest! {
    /// Whatever the heights, an answer comes and its zone is never above the mean-plane spread.
    #[test]
    fn every_grid_is_answered(heights in prop::collection::vec(-0.2..0.2f64, 15)) {
        let mut asked = deck(None);
        for (height, z) in asked.heights.iter_mut().zip(&heights) {
            height.z = Bound::Exactly(mm(*z));
        }
        let report = judge(&asked);
        prop_assert!(!report.refused);
        prop_assert!(report.figure("minimum_zone").unwrap().value <= report.figure("least_squares").unwrap().value + 1e-15);
    }
}
