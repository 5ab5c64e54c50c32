//! Workshop cases: the number, the verdict, the caution.

use super::*;
use quantity::unit::{LITRE, US_QUART};

const QUART: f64 = 0.946_352_946;

fn litres(value: f64) -> Volume {
    Volume::litres(value).unwrap()
}

fn asked(capacity: Option<f64>, drained: f64, inside: f64, target: f64) -> Coolant {
    Coolant {
        capacity: capacity.map(litres),
        drained: litres(drained),
        inside: Ratio::percent(inside).unwrap(),
        target: Ratio::percent(target).unwrap(),
        unit: LITRE,
        glycol: Glycol::Ethylene,
        basis: Basis::Concentrate,
        cap: None,
        height: None,
        filled: None,
        coldest: None,
        scale: None,
        inside_family: None,
        poured_family: None,
        inside_glycol: None,
    }
}

fn value(report: &Report, name: &str) -> f64 {
    report.figure(name).unwrap().value
}

/// Source: workshop case, 8 qt capacity, 5 qt drained, water left inside. *Public data: reader's
/// worked example*; *computed by a general library (Python 3.11 floats): mixture balance.*.
#[test]
fn o13_flush_water_left_in_the_block() {
    let mut asked = asked(Some(8.0 * QUART), 5.0 * QUART, 0.0, 50.0);
    asked.unit = US_QUART;
    let report = judge(&asked);
    let quarts = |name| value(&report, name) / (QUART * 1e-3);
    assert!((quarts("concentrate") - 4.0).abs() < 1e-9);
    assert!((quarts("water") - 1.0).abs() < 1e-9);
    assert!((value(&report, "most") - 0.625).abs() < 1e-9);
    assert!((value(&report, "freezes") - (273.15 - 37.1)).abs() < 0.2);
    assert_eq!(report.verdict, Some(Verdict::Within));
    assert_eq!(report.figure("concentrate").unwrap().shown, "4 US qt");
    let mix = report
        .findings
        .iter()
        .find(|f| f.code == "ready-mix")
        .unwrap();
    assert!(mix.says.contains("31.25 %"));
    assert!(mix.points_to.as_deref().unwrap().contains("never reaches"));
    assert!(
        report
            .cautions
            .iter()
            .any(|caution| caution.says.contains("poison"))
    );
}

/// Source: 10 L, 4.5 L drained, 50 % wanted. *Computed by a general library (Python 3.11 floats):
/// mixture balance.*
#[test]
fn e58_a_second_pass_where_one_is_not_enough() {
    let report = judge(&asked(Some(10.0), 4.5, 0.0, 50.0));
    assert_eq!(report.verdict, Some(Verdict::Outside));
    assert!((value(&report, "reached") - 0.45).abs() < 1e-9);
    assert!((value(&report, "second_mix") - 0.5611).abs() < 1e-4);
}

#[test]
fn capacity_is_asked_for_only_when_it_matters() {
    let same = judge(&asked(None, 5.0, 50.0, 50.0));
    assert!((value(&same, "concentrate") - 2.5e-3).abs() < 1e-12);
    assert!(same.asks.is_empty());
    let other = judge(&asked(None, 5.0, 0.0, 50.0));
    assert_eq!(other.verdict, Some(Verdict::NotMeasured));
    assert!(other.asks[0].what.contains("capacity"));
    assert!(other.figures.is_empty());
}

/// Source: Raoult, 50 % under 15 psi: 129.7 °C (pure), 126.7 °C at 1600 m. *Computed by a general
/// library (CoolProp 8.0.0, thermo 0.6.1).*
#[test]
fn the_cap_and_the_height_move_the_boiling_point() {
    let mut asked = asked(Some(10.0), 10.0, 0.0, 50.0);
    asked.basis = Basis::Pure;
    asked.cap = GaugePressure::psi(15.0).ok();
    assert!((value(&judge(&asked), "boils") - (273.15 + 129.7)).abs() < 0.6);
    asked.height = Length::metres(1600.0).ok();
    assert!((value(&judge(&asked), "boils") - (273.15 + 126.7)).abs() < 0.6);
}

#[test]
fn frost_air_and_a_wrong_scale_are_found() {
    let mut asked = asked(Some(10.0), 6.0, 0.0, 30.0);
    asked.coldest = Temperature::celsius(-20.0).ok();
    asked.filled = Some(litres(5.2));
    asked.scale = Some(Glycol::Propylene);
    let report = judge(&asked);
    for code in ["frost", "trapped-air", "wrong-scale", "strength-band"] {
        assert!(report.finds(code), "{code}");
    }
    assert_eq!(report.exit_status(), 1);
}

#[test]
fn figures_that_cannot_be_are_refused() {
    assert!(judge(&asked(Some(5.0), 6.0, 0.0, 50.0)).refused);
    assert!(judge(&asked(Some(5.0), 5.0, 0.0, 150.0)).refused);
}

/// Source: *common practice, no source*: families are not mixed; what compatible means is
/// argued (ASTM STP 1556, 2014, *published*).
#[test]
fn unlike_families_are_not_mixed_unless_so_little_is_left() {
    let mut asked = asked(Some(8.0), 5.0, 50.0, 50.0);
    asked.inside_family = Some(Family::Inorganic);
    asked.poured_family = Some(Family::Organic);
    let report = judge(&asked);
    let finding = |report: &Report| {
        let mut found = report.findings.iter();
        found.find(|it| it.code == "families-meet").unwrap().clone()
    };
    let met = finding(&report);
    assert!(met.points_to.as_deref().unwrap().contains("weakest"));
    assert!(
        met.next.as_deref().unwrap().starts_with("4 drains"),
        "{met:?}"
    );
    assert_eq!((met.weight, report.exit_status()), (Weight::Stop, 1));
    asked.drained = litres(7.7);
    assert_eq!(finding(&judge(&asked)).weight, Weight::Note);
    asked.inside_family = Some(Family::Organic);
    assert!(judge(&asked).finds("same-family"));
}

#[test]
fn a_family_nobody_named_is_asked_for_only_while_old_coolant_stays() {
    let asks = |asked: &Coolant| -> Vec<String> {
        let asks = judge(asked).asks.into_iter();
        asks.map(|ask| ask.what).collect()
    };
    let mut old = asked(Some(8.0), 5.0, 30.0, 50.0);
    assert_eq!(asks(&old), ["which family is inside, and which is poured"]);
    old.poured_family = Family::find("OAT");
    assert_eq!(old.poured_family, Some(Family::Organic));
    assert_eq!(asks(&old), ["which family is inside"]);
    let flushed = asked(Some(8.0), 5.0, 0.0, 50.0);
    assert!(asks(&flushed).is_empty());
}

/// Source: ASTM D3321-12: mixtures of both glycols read wrong on both scales. *Published.*
#[test]
fn two_glycols_in_one_fill_are_not_trusted() {
    let mut asked = asked(Some(8.0), 5.0, 30.0, 50.0);
    asked.inside_glycol = Some(Glycol::Propylene);
    let report = judge(&asked);
    assert!(report.finds("glycols-meet"));
    assert_eq!(report.exit_status(), 1);
}
