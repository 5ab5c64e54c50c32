//! Shims by hand, by the published examples, and against a search of every assignment.

use proptest::prelude::*;

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn inch(value: f64) -> Length {
    Length::inches(value).unwrap()
}

fn window(low: f64, high: f64) -> Range<Length> {
    Range {
        low: mm(low),
        high: mm(high),
    }
}

/// Eight valves; the inlet window is 0.15–0.25, the exhaust window 0.25–0.35.
fn eight() -> Vec<Choice> {
    let found = [
        (0.14, 2.70),
        (0.17, 2.60),
        (0.20, 2.65),
        (0.12, 2.75),
        (0.22, 2.50),
        (0.30, 2.55),
        (0.26, 2.65),
        (0.35, 2.60),
    ];
    found
        .iter()
        .enumerate()
        .map(|(at, &(lash, shim))| Choice {
            fitted: mm(shim),
            measured: Bound::Exactly(mm(lash)),
            window: if at < 4 {
                window(0.15, 0.25)
            } else {
                window(0.25, 0.35)
            },
            looser: at >= 4,
        })
        .collect()
}

/// Source: N = T + (A − V). *Common practice, no source; computed: arithmetic.*
#[test]
fn e31_new_shim() {
    let shim = new_shim(mm(2.70), mm(0.14), mm(0.20)).unwrap();
    assert_eq!(shim, mm(2.64));
    assert!(new_shim(mm(0.05), mm(0.0), mm(0.20)).is_err());
}

/// Source: worked example of eight valves. *Computed by a general library (scipy 1.17.1,
/// linear_sum_assignment).*
#[test]
fn e32_all_shims_pooled_need_one_purchase() {
    let plan = plan(&eight(), &[], Some(mm(0.05)), Aim::FewestToBuy).unwrap();
    assert_eq!(plan.to_buy, 1);
    assert_eq!(plan.fitted[4], (mm(2.40), Origin::Bought));
}

/// Source: the same example, only valves out of their window touched. *Computed by a general
/// library (scipy 1.17.1, linear_sum_assignment).*
#[test]
fn e33_only_what_must_move_needs_two() {
    let plan = plan(&eight(), &[], Some(mm(0.05)), Aim::FewestDisturbed).unwrap();
    assert_eq!(plan.to_buy, 2);
    assert_eq!(plan.changed, 3);
    for kept in [1, 2, 5, 6, 7] {
        assert_eq!(plan.fitted[kept].1, Origin::Own);
    }
}

/// Source: a reader's worked example, blade 0.04 does not enter, shim 3.02, window 0.006 to
/// 0.010 in as millimetres. *Public data; computed: arithmetic.*
#[test]
fn o08_a_bound_takes_a_shim_safe_for_all_of_it() {
    let found = Choice {
        fitted: mm(3.02),
        measured: Bound::Below(mm(0.04)),
        window: window(0.152, 0.254),
        looser: false,
    };
    let safe = safe_shims(found.fitted, found.measured, found.window)
        .unwrap()
        .unwrap();
    assert_eq!((safe.low, safe.high), (mm(2.806), mm(2.868)));
    let plan = plan(&[found], &[], Some(mm(0.05)), Aim::FewestToBuy).unwrap();
    assert_eq!(plan.fitted[0], (mm(2.85), Origin::Bought));
    let result = clearance_with(found.fitted, found.measured, mm(2.85))
        .unwrap()
        .unwrap();
    assert_eq!((result.low, result.high), (mm(0.17), mm(0.21)));
    let asked = clearance_with(found.fitted, found.measured, mm(2.95))
        .unwrap()
        .unwrap();
    assert_eq!((asked.low, asked.high), (mm(0.07), mm(0.11)));
}

/// Source: a reader's worked example, films of 0.0005 and 0.0015 in. *Public data; computed:
/// subtraction.*
#[test]
fn so2_a_sealant_film_shifts_the_whole_window() {
    for (film, inlet, exhaust) in [
        (0.0005, (0.0045, 0.0065), (0.0095, 0.0115)),
        (0.0015, (0.0035, 0.0055), (0.0085, 0.0105)),
    ] {
        for (wet, dry) in [((0.005, 0.007), inlet), ((0.010, 0.012), exhaust)] {
            let wet = Range {
                low: inch(wet.0),
                high: inch(wet.1),
            };
            let seen = without_film(wet, inch(film)).unwrap();
            assert!((seen.low.in_inches() - dry.0).abs() < 1e-12);
            assert!((seen.high.in_inches() - dry.1).abs() < 1e-12);
        }
    }
    assert!(without_film(window(0.01, 0.02), mm(0.05)).is_err());
}

#[test]
fn stock_is_used_before_anything_is_bought() {
    let valves = eight();
    let plan = plan(&valves, &[mm(2.40)], Some(mm(0.05)), Aim::FewestToBuy).unwrap();
    assert_eq!(plan.to_buy, 0);
    assert_eq!(plan.fitted[4].1, Origin::Stock(0));
}

#[test]
fn a_reading_wider_than_the_window_has_no_safe_shim() {
    assert_eq!(
        safe_shims(mm(2.7), Bound::Below(mm(0.2)), window(0.15, 0.25)).unwrap(),
        None
    );
    assert_eq!(
        safe_shims(mm(2.7), Bound::Above(mm(0.2)), window(0.15, 0.25)).unwrap(),
        None
    );
    let found = Choice {
        fitted: mm(2.7),
        measured: Bound::Below(mm(0.2)),
        window: window(0.15, 0.25),
        looser: false,
    };
    let seen = plan(&[found], &[], Some(mm(0.05)), Aim::FewestToBuy);
    assert_eq!(seen, Err(LashError::NoSafeShim { valve: 0 }));
}

#[test]
fn windows_and_shims_that_are_none_are_refused() {
    assert!(matches!(
        safe_shims(mm(2.7), Bound::Exactly(mm(0.2)), window(0.25, 0.15)),
        Err(LashError::Window { .. })
    ));
    let mut valves = eight();
    valves[0].fitted = mm(0.0);
    assert!(matches!(
        plan(&valves, &[], None, Aim::FewestToBuy),
        Err(LashError::NotPositive { .. })
    ));
    assert_eq!(after_seat_cut(mm(0.2), mm(0.3)).unwrap(), mm(-0.1));
}

/// Every way to give each valve a shim, tried one after another.
fn fewest_by_trial(valves: &[Choice], used: &mut Vec<bool>, at: usize) -> usize {
    if at == valves.len() {
        return 0;
    }
    let safe = safe_shims(valves[at].fitted, valves[at].measured, valves[at].window)
        .unwrap()
        .unwrap();
    let mut best = 1 + fewest_by_trial(valves, used, at + 1);
    for shim in 0..valves.len() {
        let size = valves[shim].fitted;
        if !used[shim] && safe.low <= size && size <= safe.high {
            used[shim] = true;
            best = best.min(fewest_by_trial(valves, used, at + 1));
            used[shim] = false;
        }
    }
    best
}

proptest! {
    /// E-P5: never more to buy than valves; and never more than a search of every way needs.
    #[test]
    fn ep5_fewest_to_buy_is_what_a_full_search_finds(found in prop::collection::vec((5..40i32, 48..60i32), 1..6)) {
        let valves: Vec<Choice> = found.iter().map(|&(lash, shim)| Choice {
            fitted: mm(f64::from(shim * 5) / 100.0),
            measured: Bound::Exactly(mm(f64::from(lash) / 100.0)),
            window: window(0.15, 0.25),
            looser: false,
        }).collect();
        let plan = plan(&valves, &[], Some(mm(0.05)), Aim::FewestToBuy).unwrap();
        prop_assert!(plan.to_buy <= valves.len());
        let mut used = vec![false; valves.len()];
        prop_assert_eq!(plan.to_buy, fewest_by_trial(&valves, &mut used, 0));
        for (valve, (shim, _)) in valves.iter().zip(&plan.fitted) {
            let result = clearance_with(valve.fitted, valve.measured, *shim).unwrap().unwrap();
            prop_assert!(result.low >= mm(0.15) && result.high <= mm(0.25));
        }
    }
}
