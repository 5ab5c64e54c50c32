//! What is not taken for a torque, row by row, with the message a person reads; and what is
//! taken, with what it was taken for.
//!
//! Source of the rows: units of torque as workshops and printed tables write them. Factors:
//! yard and pound agreement of 1959, *published*; damaged and doubtful spellings: printed
//! torque tables and their renderings, *public data*; the rest *common practice, no source*.

#![expect(clippy::unwrap_used, reason = "a test that cannot run has failed")]

mod program;

use program::ask;
use serde_json::Value;

/// The refusal of a spec: what it says and what to write instead.
fn refused(spec: &str) -> (String, String) {
    let (status, answer) = ask(&["torque", spec]);
    assert_eq!(status, 2, "{spec}: {answer:#}");
    let finding = &answer["findings"][0];
    let word = |name: &str| finding[name].as_str().unwrap_or("").to_owned();
    (word("says"), word("next"))
}

/// The answer to a spec that is taken.
fn taken(spec: &str) -> Value {
    let (status, answer) = ask(&["torque", spec]);
    assert_eq!(status, 0, "{spec}: {answer:#}");
    answer
}

fn spec_value(answer: &Value) -> f64 {
    answer["figures"]["spec"]["value"].as_f64().unwrap()
}

fn note(answer: &Value) -> String {
    answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["code"] == "reading")
        .map(|finding| finding["says"].as_str().unwrap())
        .collect()
}

fn holds(spec: &str, says: &str, next: &str) {
    let (reason, way_out) = refused(spec);
    assert!(reason.contains(says), "{spec}: {reason}");
    assert!(way_out.contains(next), "{spec}: {way_out}");
}

#[test]
fn tp1_pounds_alone_lack_foot_or_inch() {
    for spec in ["35 lb", "35 lbs", "35 pounds"] {
        holds(spec, "differ by twelve", "35 lbf·in");
    }
}

#[test]
fn a_number_alone_lacks_its_unit() {
    holds("35", "unit is missing", "35 N·m");
}

#[test]
fn tp3_kilograms_alone_lack_metre_or_centimetre() {
    holds("5 kg", "differ by a hundred", "5 kgf·cm");
}

#[test]
fn kilograms_over_centimetres_read_as_a_pressure() {
    for spec in ["5 kg/cm", "5 kg/cm2"] {
        holds(spec, "pressure", "5 kgf·cm");
    }
}

#[test]
fn tp2_a_force_is_no_torque() {
    holds("5 mN", "force", "5 N·m");
}

#[test]
fn a_millinewton_metre_is_taken_and_echoed_a_meganewton_metre_is_not() {
    let answer = taken("5 mNm");
    assert!((spec_value(&answer) - 0.005).abs() < 1e-12);
    assert!(note(&answer).contains("0.005 N·m"), "{}", note(&answer));
    holds("5 MNm", "million", "5 N·m");
}

#[test]
fn small_and_large_letters_of_the_newton_metre_are_echoed() {
    for spec in ["12 nm", "12 NM"] {
        let answer = taken(spec);
        assert!((spec_value(&answer) - 12.0).abs() < 1e-12);
        assert!(note(&answer).contains("12 N·m"), "{}", note(&answer));
    }
}

#[test]
fn an_energy_is_no_torque() {
    holds("24 J", "energy", "24 N·m");
    holds("24 ft-lb of energy", "left over", "take it away");
}

#[test]
fn a_comma_before_three_digits_could_be_either() {
    for spec in ["1,500 N·m", "1,500 lbf·in"] {
        holds(spec, "decimal comma", "`1.500` or `1500`");
    }
    assert!((spec_value(&taken("2,5 N·m")) - 2.5).abs() < 1e-12);
}

#[test]
fn a_torque_below_nothing_is_refused_and_a_range_is_not_one() {
    holds("-18 N·m", "this low", "18-22 N·m");
    for spec in [
        "18-22 ft-lb",
        "18 - 22 ft-lb",
        "18–22 ft-lb",
        "18~22 ft-lb",
        "18 to 22 ft-lb",
    ] {
        let figure = &taken(spec)["figures"]["spec"];
        assert!(
            (figure["low"].as_f64().unwrap() - 24.405).abs() < 5e-3,
            "{spec}"
        );
        assert!(
            (figure["high"].as_f64().unwrap() - 29.828).abs() < 5e-3,
            "{spec}"
        );
    }
}

#[test]
fn tp4_a_plus_could_be_a_tolerance_that_lost_its_line() {
    holds("10 + 3 N·m", "lost its line", "10 ± 3 N·m");
}

#[test]
fn a_damaged_degree_sign_is_asked_for_and_a_raised_o_is_taken_for_one() {
    holds("30 N·m +60\u{FFFD}", "damaged", "deg");
    let answer = taken("30 N·m + 60º");
    assert!(answer["headline"].as_str().unwrap().contains("60°"));
}

/// A column whose unit changes on the way: the line without one never inherits it from above.
#[test]
fn a_line_never_takes_the_unit_of_the_line_above() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mixed.csv");
    std::fs::write(
        &file,
        "x [mm],y [mm],z\n0,0,0.02 mm\n100,0,1 thou\n0,50,0.03\n",
    )
    .unwrap();
    let (status, answer) = ask(&["flatness", file.to_str().unwrap()]);
    assert_eq!(status, 2, "{answer:#}");
    let finding = &answer["findings"][0];
    assert!(
        finding["says"]
            .as_str()
            .unwrap()
            .contains("unit is missing"),
        "{finding:#}"
    );
    assert_eq!(
        (finding["line"].as_u64(), finding["column"].as_u64()),
        (Some(4), Some(10))
    );
}
