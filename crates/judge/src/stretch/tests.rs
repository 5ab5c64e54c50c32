//! Lengths of bolts against their three limits.

use quantity::unit::MILLIMETRE;

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn list(values: &[f64]) -> Vec<Option<Length>> {
    values.iter().map(|&value| Some(mm(value))).collect()
}

fn asked(free: &[f64]) -> Asked {
    Asked {
        free: list(free),
        limit: Some(Limit::most(mm(101.0)).of(Whose::Maker)),
        before: Vec::new(),
        growth: None,
        warmer: None,
        tight: Vec::new(),
        wanted: None,
        spring: None,
        expanded: Some(mm(0.02)),
        unit: MILLIMETRE,
    }
}

/// Source: decision with a guard band: 100.97 ± 0.02 is within 101, 101.01 cannot be told,
/// 101.03 is beyond. *From memory: ISO 14253-1.*
#[test]
fn the_worst_bolt_leads_and_an_undecided_one_names_its_act() {
    assert_eq!(
        judge(&asked(&[100.9, 100.97])).verdict,
        Some(Verdict::Within)
    );
    let near = judge(&asked(&[100.9, 101.01]));
    assert_eq!(near.verdict, Some(Verdict::Undecided));
    let undecided = near
        .findings
        .iter()
        .find(|it| it.code == "undecided")
        .unwrap();
    assert!(undecided.next.as_ref().unwrap().contains("micrometer"));
    let beyond = judge(&asked(&[101.03, 101.01, 100.9]));
    assert_eq!(beyond.verdict, Some(Verdict::Outside));
    assert!(beyond.finds("replace") && beyond.exit_status() == 1);
    assert!(beyond.headline.unwrap().starts_with("Bolt 1"));
}

/// Source: two readings of ± 2 µm leave 2.83 µm. *Computed: GUM 5.1.2.* Warmth: 100 mm by 10 K
/// is 11.5 µm. *From memory: expansion of steel.*
#[test]
fn lasting_growth_is_a_difference_and_warmth_is_taken_off() {
    let mut grown = asked(&[100.03]);
    grown.limit = None;
    grown.before = list(&[100.0]);
    grown.expanded = Some(mm(0.002));
    grown.growth = Some(Limit::most(mm(0.02)).of(Whose::Maker));
    let cold = judge(&grown);
    assert_eq!(cold.verdict, Some(Verdict::Outside));
    let figure = cold.figure("growth").unwrap();
    assert!((figure.value - 0.03e-3).abs() < 1e-9);
    assert!(
        figure.note.as_ref().unwrap().contains("0.0028 mm"),
        "{figure:?}"
    );
    grown.warmer = Some(TemperatureDifference::kelvins(10.0).unwrap());
    let warm = judge(&grown);
    assert!((warm.figure("growth").unwrap().value - 0.0185e-3).abs() < 1e-9);
    assert_eq!(warm.verdict, Some(Verdict::Undecided));
}

/// Source: M10, 35 + 25 mm with a nut: 5.531 µm/kN, so 0.1 mm is 18.08 kN and 0.01 mm is
/// 1.81 kN. *From memory: VDI 2230 substitute lengths; double precision.*
#[test]
fn a_stretch_becomes_a_preload_with_its_doubt() {
    let mut tight = asked(&[100.0]);
    tight.limit = None;
    tight.tight = list(&[100.1]);
    tight.expanded = Some(mm(0.01 / std::f64::consts::SQRT_2));
    tight.spring = Some(Spring {
        thread: Thread::parse("M10").unwrap(),
        grip: mm(60.0),
        shank: mm(35.0),
        end: End::Nut,
    });
    let report = judge(&tight);
    let force = report.figure("preload").unwrap();
    assert!((force.value - 18_080.0).abs() < 20.0, "{}", force.value);
    assert!((force.high.unwrap() - force.value - 1_808.0).abs() < 5.0);
    assert!(report.because.iter().any(|line| line.contains("1.8 kN")));
    tight.tight = list(&[99.9]);
    assert!(judge(&tight).refused);
}

#[test]
fn the_wanted_stretch_is_judged_on_both_sides() {
    let mut tight = asked(&[40.0, 40.0, 40.0]);
    tight.limit = None;
    tight.expanded = None;
    tight.tight = list(&[40.15, 40.12, 40.19]);
    tight.wanted = Some(Limit::between(quantity::Range {
        low: mm(0.14),
        high: mm(0.16),
    }));
    let report = judge(&tight);
    assert_eq!(report.verdict, Some(Verdict::Outside));
    let verdict = |row: usize| report.rows.rows[row].last().cloned();
    assert_eq!(verdict(0), Some(Cell::Verdict(Verdict::Within)));
    assert_eq!(verdict(1), Some(Cell::Verdict(Verdict::Outside)));
    assert!(report.asks.iter().any(|ask| ask.how.contains("--thread")));
}

#[test]
fn only_the_makers_limit_gives_leave_and_none_gives_no_verdict() {
    let mut other = asked(&[100.9]);
    other.limit = Some(Limit::most(mm(101.0)).of(Whose::Shop));
    assert!(judge(&other).finds("not-the-makers"));
    assert!(!judge(&asked(&[100.9])).finds("not-the-makers"));
    other.limit = None;
    let report = judge(&other);
    assert_eq!(report.verdict, None);
    assert!(report.asks.iter().any(|ask| ask.what.contains("limit")));
    assert!(report.cautions[0].says.contains("new bolts it is"));
}

#[test]
fn lists_that_do_not_match_and_empty_ones_are_refused() {
    let mut odd = asked(&[100.0, 100.1]);
    odd.before = list(&[100.0]);
    assert!(judge(&odd).refused);
    assert!(judge(&asked(&[])).refused);
    let mut missing = asked(&[100.0, 100.1]);
    missing.free[1] = None;
    assert_eq!(judge(&missing).verdict, Some(Verdict::NotMeasured));
}
