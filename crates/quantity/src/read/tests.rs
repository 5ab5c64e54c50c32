//! What the reader accepts, what it refuses or asks about, and that nothing makes it panic.

mod broken;
mod numbers;

use super::*;
use crate::kinds::{
    AbsolutePressure, Angle, Duration, Force, GaugePressure, Length, Ratio, RotationalSpeed,
    Stress, Temperature, TemperatureDifference, Torque, Volume,
};

fn value<Q: Quantity>(text: &str) -> Q {
    read::<Q>(text)
        .unwrap_or_else(|fault| panic!("{fault}"))
        .value
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() <= tolerance,
        "got {got}, want {want} ± {tolerance}"
    );
}

/// Refused by the typed reader and by the reader behind `--as`, with the same words.
fn refused(kind: Kind, text: &str) -> ReadFault {
    let fault = read_as(kind, text).expect_err(text);
    assert!(text.get(fault.at.clone()).is_some());
    assert!(
        !fault.reason.is_empty() && !fault.hint.is_empty(),
        "{fault}"
    );
    assert_eq!(fault.text, text);
    fault
}

/// Source: spellings seen in workshop tables. *Common practice, no source.* Factors: NIST SP 811 (2008), B.8. *Published.*
#[test]
fn torque_spellings() {
    let spellings: &[(f64, &str)] = &[
        (
            1.0,
            "N·m,N.m,N-m,N m,Nm,N⋅m,N•m,N*m,N×m,newton metre,newton metres,newton meter,Newton Meters",
        ),
        (
            1.355_817_948_331_400_4,
            "lbf·ft,lbf-ft,lb-ft,lb·ft,lb ft,ft-lb,ft.lb,ft lb,ft-lbf,ft lbs,ft.lbs.,foot pound,foot pounds,foot-pounds,\
             pound-feet,pound foot,FT-LBS,Ft.Lb,ftlb,ft/lb,ft/lbs,lb/ft",
        ),
        (
            0.112_984_829_027_616_7,
            "in-lb,in.lb,in lbs,inch pounds,lb-in,lb in,lbf·in,pound-inches,in-lbs,in/lbs,IN-LB",
        ),
        (0.007_061_551_814_226_04, "oz-in,in-oz,ozf·in,inch ounces"),
        (
            9.806_65,
            "kgf·m,kgf-m,kg·m,kg-m,kgm,m·kg,mkg,mkp,kp·m,kpm,kgf/m,kgf m",
        ),
        (0.098_066_5, "kgf·cm,kgf.cm,kg-cm,kg cm,kg·cm"),
        (0.01, "N·cm,Ncm"),
        (10.0, "daN·m,daNm"),
        (0.001, "mN·m,mNm"),
        (1000.0, "kN·m,kNm"),
    ];
    for (factor, list) in spellings {
        for spelling in list.split(',') {
            for text in [
                format!("13 {spelling}"),
                format!("13{spelling}"),
                format!("  13  {spelling} "),
            ] {
                close(
                    value::<Torque>(&text).in_newton_metres(),
                    13.0 * factor,
                    13.0 * factor * 1e-15,
                );
            }
        }
    }
}

#[test]
fn doubtful_torque_spellings_are_echoed_in_newton_metres() {
    for (text, echo) in [
        ("35 NM", "35 N·m"),
        ("35 nm", "35 N·m"),
        ("5 mNm", "0.005 N·m"),
        ("25 ft/lbs", "33.9 N·m"),
        ("100 in/lbs", "11.3 N·m"),
        ("2 kgf/m", "19.61 N·m"),
    ] {
        let said = read::<Torque>(text).unwrap();
        assert!(
            said.notes.iter().any(|note| note.contains(echo)),
            "{text}: {:?}",
            said.notes
        );
        assert_eq!(said.typed, text);
    }
    for text in [
        "35 Nm",
        "35 N·m",
        "13 ft-lb",
        "newton metre",
        "Newton Metres",
    ] {
        let text = if text.starts_with(char::is_numeric) {
            text.to_owned()
        } else {
            format!("1 {text}")
        };
        assert!(read::<Torque>(&text).unwrap().notes.is_empty(), "{text}");
    }
}

/// Source: pounds alone leave foot or inch open, twelve times. *Common practice, no source.*
#[test]
fn tp1_pounds_alone() {
    for text in ["35 lb", "35 lbs", "35 pounds", "35 LBS", "35#", "35 lbf"] {
        let fault = refused(Kind::Torque, text);
        assert!(fault.reason.contains("twelve"), "{fault}");
        assert!(
            fault.hint.contains("35 lbf·ft") && fault.hint.contains("35 lbf·in"),
            "{fault}"
        );
    }
}

#[test]
fn tp2_millinewtons() {
    assert!(refused(Kind::Torque, "3 mN").reason.contains("force"));
    assert!(
        refused(Kind::Torque, "3 N")
            .reason
            .contains("metre is missing")
    );
    assert!(refused(Kind::Torque, "3 MNm").reason.contains("million"));
    assert!(refused(Kind::Torque, "3 KNm").reason.contains("case"));
}

#[test]
fn tp3_kilograms_alone_and_over_centimetres() {
    assert!(refused(Kind::Torque, "5 kg").reason.contains("hundred"));
    for text in ["5 kg/cm", "5 kg/cm2", "5 kg/cm²", "5 kgf/cm²"] {
        assert!(
            refused(Kind::Torque, text).reason.contains("pressure"),
            "{text}"
        );
    }
}

#[test]
fn tp4_a_plus_that_may_be_a_lost_tolerance() {
    for text in ["10 + 3 N·m", "10 + 3", "10 N·m + 3 N·m"] {
        assert!(
            refused(Kind::Torque, text).reason.contains("lost its line"),
            "{text}"
        );
    }
}

#[test]
fn other_refusals_of_a_torque() {
    for (text, word) in [
        ("35", "unit is missing"),
        ("24 J", "kept apart"),
        ("-18 N·m", "cannot be this low"),
        ("1,500 N·m", "comma"),
        ("18-22 N·m", "range"),
        ("18 ± 2 N·m", "tolerance"),
        ("< 18 N·m", "bound"),
        ("35 N·m 40 N·m", "second number"),
        ("35 bananas", "no unit of torque"),
        ("90°", "unit of angle"),
        ("*35", "star"),
        ("", "nothing"),
        ("   ", "nothing"),
        ("N·m", "no number"),
        ("60\u{FFFD}", "damaged"),
        ("18 Nm/s", "no unit of torque"),
        ("1/2 N·m", "fraction"),
        ("1e200 N·m extra", "left over"),
    ] {
        let fault = refused(Kind::Torque, text);
        assert!(fault.reason.contains(word), "{text}: {fault}");
    }
    assert!(refused(Kind::Torque, "+60\u{FFFD}").hint.contains("degree"));
    assert!(
        read::<Torque>("1e200 N·m")
            .unwrap_err()
            .reason
            .contains("too large")
    );
}

#[test]
fn kinds_are_kept_apart() {
    close(value::<GaugePressure>("14 psi").in_psi(), 14.0, 1e-12);
    close(value::<AbsolutePressure>("14 psia").in_psi(), 14.0, 1e-12);
    close(
        value::<AbsolutePressure>("101.3 kPa abs").in_kilopascals(),
        101.3,
        1e-9,
    );
    assert!(
        refused(Kind::AbsolutePressure, "14 psi")
            .hint
            .contains("14 psia")
    );
    assert!(
        refused(Kind::GaugePressure, "14 psi abs")
            .reason
            .contains("absolute")
    );
    close(value::<Temperature>("100 °C").in_kelvins(), 373.15, 1e-9);
    close(value::<Temperature>("212 F").in_celsius(), 100.0, 1e-9);
    close(
        value::<TemperatureDifference>("20 K").in_kelvins(),
        20.0,
        0.0,
    );
    assert!(read::<TemperatureDifference>("20 °C").unwrap().notes[0].contains("difference"));
    assert!(
        refused(Kind::Temperature, "-300 °C")
            .hint
            .contains("−273.1")
    );
    assert!(refused(Kind::Ratio, "90°").reason.contains("angle"));
    assert!(refused(Kind::Angle, "50 %").reason.contains("ratio"));
    close(value::<Stress>("640 MPa").in_megapascals(), 640.0, 1e-9);
    close(value::<Stress>("640 N/mm²").in_megapascals(), 640.0, 1e-9);
    assert!(
        refused(Kind::Stress, "640 mPa")
            .reason
            .contains("thousand million")
    );
    assert!(refused(Kind::Force, "60 lbs").hint.contains("60 lbf"));
    close(value::<Force>("29.6 kN").in_newtons(), 29_600.0, 1e-9);
    close(value::<RotationalSpeed>("200 rpm").in_rpm(), 200.0, 1e-12);
}

/// Source: SI definitions and the 1959 inch. *Published.*
#[test]
fn lengths_of_the_shop() {
    for (text, mm) in [
        ("2-7/16 in", 61.912_5),
        ("2 7/16 in", 61.912_5),
        ("2-7/16\"", 61.912_5),
        ("1/16 in", 1.587_5),
        ("½ in", 12.7),
        ("2½ in", 63.5),
        ("30 µin", 0.000_762),
        ("30 uin", 0.000_762),
        ("30 micro-inch", 0.000_762),
        ("0.8 µm", 0.000_8),
        ("0.8 μm", 0.000_8),
        ("3 thou", 0.076_2),
        (".010 in", 0.254),
        ("5 ft 3 in", 1600.2),
        ("0,05 mm", 0.05),
        ("8.6 MM", 8.6),
    ] {
        close(value::<Length>(text).in_mm(), mm, 1e-12 * mm.max(1.0));
    }
}

/// Source: case O-05, roughness "30 Ra" read as micro-inches is 0.76 µm. *Public data*; 1 µin is 25.4 nm exactly.
#[test]
fn o05_roughness_needs_its_unit() {
    close(value::<Length>("30 µin").in_micrometres(), 0.76, 0.005);
    assert!(read::<Length>("30").is_err());
    assert!(read::<Length>("Ra 30").is_err());
}

#[test]
fn bare_quarts_and_gallons_are_us_and_the_answer_says_so() {
    for (text, litres) in [
        ("8 qt", 7.570_823_568),
        ("1 gal", 3.785_411_784),
        ("1 quart", 0.946_352_946),
    ] {
        let said = read::<Volume>(text).unwrap();
        close(said.value.in_litres(), litres, 1e-9);
        assert!(said.notes[0].contains("US"), "{:?}", said.notes);
    }
    assert!(read::<Volume>("8 US qt").unwrap().notes.is_empty());
    close(value::<Volume>("1 imp gal").in_litres(), 4.546_09, 1e-12);
    close(value::<Volume>("60 cc").in_cc(), 60.0, 1e-9);
    assert!(refused(Kind::Volume, "4 oz").reason.contains("fluid"));
}

#[test]
fn times_and_angles_in_parts() {
    close(value::<Duration>("1 h 30 min").in_minutes(), 90.0, 1e-9);
    close(value::<Duration>("1h30min").in_minutes(), 90.0, 1e-9);
    close(value::<Angle>("12° 30′").in_degrees(), 12.5, 1e-12);
    close(value::<Angle>("-12° 30′").in_degrees(), -12.5, 1e-12);
    close(value::<Angle>("1/4 turn").in_degrees(), 90.0, 1e-12);
    assert!(
        refused(Kind::Duration, "1 h 90 min")
            .reason
            .contains("whole h")
    );
}

#[test]
fn ranges() {
    let range = |text: &str| {
        read_range::<Torque>(text)
            .unwrap_or_else(|fault| panic!("{fault}"))
            .value
    };
    for text in [
        "18-22 N·m",
        "18 - 22 N·m",
        "18–22 N·m",
        "18 – 22 N·m",
        "18—22 N·m",
        "18~22 N·m",
        "18 to 22 N·m",
        "18..22 N·m",
        "18 .. 22 N·m",
        "18…22 N·m",
        "18 N·m - 22 N·m",
        "18 N·m to 22 N·m",
        "20 ± 2 N·m",
        "20 N·m ± 2 N·m",
        "20 +/- 2 N·m",
        "20 N·m ± 10 %",
        "20 ± 10 % N·m",
        "20 ± 10% N·m",
        "20 +2/-2 N·m",
        "20 +2 -2 N·m",
    ] {
        let range = range(text);
        close(range.low.in_newton_metres(), 18.0, 1e-12);
        close(range.high.in_newton_metres(), 22.0, 1e-12);
    }
    let inches = read_range::<Length>("1/16-1/8 in").unwrap().value;
    close(inches.high.in_inches(), 0.125, 1e-15);
    let mixed = read_range::<Length>("2-7/16-2-1/2 in").unwrap().value;
    close(mixed.low.in_inches(), 2.4375, 1e-12);
    close(mixed.high.in_inches(), 2.5, 1e-12);
    let warm = read_range::<Temperature>("90 ± 5 °C").unwrap().value;
    close(warm.low.in_celsius(), 85.0, 1e-9);
    let fault = |text: &str| read_range::<Torque>(text).unwrap_err().reason;
    assert!(fault("22-18 N·m").contains("high end"));
    assert!(fault("18-22").contains("unit is missing"));
    assert!(fault("20 ± 10 %").contains("unit is missing"));
    assert!(fault("18 N·m - 22").contains("second has none"));
    assert!(fault("18 N·m").contains("one number"));
    assert!(fault("18 - N·m").contains("high end of the range is missing"));
    assert!(fault("18..22 lbs").contains("twelve"));
    assert!(fault("max 18-22 N·m").contains("at once"));
    assert!(read_range_in::<Length>("0.15..0.25", &unit::MILLIMETRE).is_ok());
}

#[test]
fn bounds() {
    let bound = |text: &str| {
        read_bound::<Length>(text)
            .unwrap_or_else(|fault| panic!("{fault}"))
            .value
    };
    let mm = |value: f64| Length::mm(value).unwrap();
    for text in [
        "<0.04 mm",
        "< 0.04 mm",
        "≤0.04 mm",
        "<= 0.04 mm",
        "max 0.04 mm",
        "max. 0.04 mm",
        "0.04 mm max",
        "under 0.04 mm",
        "less than 0.04 mm",
    ] {
        assert_eq!(bound(text), Bound::Below(mm(0.04)), "{text}");
    }
    for text in [
        ">0.04 mm",
        "≥ 0.04 mm",
        "min 0.04 mm",
        "0.04 mm min.",
        "at least 0.04 mm",
    ] {
        assert_eq!(bound(text), Bound::Above(mm(0.04)), "{text}");
    }
    assert_eq!(
        bound("0.05..0.06 mm"),
        Bound::Between(Range {
            low: mm(0.05),
            high: mm(0.06)
        })
    );
    assert_eq!(bound("0.05 mm"), Bound::Exactly(mm(0.05)));
    let bare = read_bound_in::<Length>("<0.02", &unit::MILLIMETRE).unwrap();
    assert_eq!(
        (bare.value, bare.typed.as_str()),
        (Bound::Below(mm(0.02)), "<0.02")
    );
    assert!(read_bound::<Length>("< mm").is_err());
    assert!(read_bound::<Length>("<").is_err());
    assert!(read_bound::<Length>("< 0.04").is_err());
}

#[test]
fn lists() {
    let psi = |text: &str| -> Vec<Option<f64>> {
        let said = read_list::<GaugePressure>(text).unwrap_or_else(|fault| panic!("{fault}"));
        said.value
            .into_iter()
            .map(|item| item.map(|value| (value.in_psi() * 1e6).round() / 1e6))
            .collect()
    };
    let four = [Some(107.0), Some(60.0), Some(80.0), Some(105.0)];
    for text in [
        "107 60 80 105 psi",
        "107, 60, 80, 105 psi",
        "107,60,80,105 psi",
        "107; 60; 80; 105psi",
        "107 psi 60 psi 80 psi 105 psi",
    ] {
        assert_eq!(psi(text), four, "{text}");
    }
    assert_eq!(psi("107 - 80 - psi"), [Some(107.0), None, Some(80.0), None]);
    assert_eq!(psi("- 60 psi"), [None, Some(60.0)]);
    assert_eq!(psi("107,5 60,5 psi"), [Some(107.5), Some(60.5)]);
    assert_eq!(psi("107,5; 60 psi"), [Some(107.5), Some(60.0)]);
}

#[test]
fn lists_that_could_mean_two_things_are_asked_about() {
    let fault = |text: &str| read_list::<GaugePressure>(text).unwrap_err().reason;
    assert!(fault("107 psi 60 80").contains("no unit"));
    assert!(fault("107 60 80").contains("unit is missing"));
    assert!(fault("107,60 psi").contains("comma"));
    assert!(fault("107,60 80 105 psi").contains("comma"));
    assert!(fault("0,04,0,05 psi").contains("comma"));
    assert!(fault("1,500,200 psi").contains("comma"));
    assert!(fault("107\u{A0}105 psi").contains("space"));
    assert!(fault("107 <60 psi").contains("bound"));
    assert!(fault("107,,60 psi").contains("missing"));
    assert!(fault("107 60 psi,").contains("missing"));
    assert!(fault("60/80 psi").contains("fraction"));
    assert!(fault("107 60 psi max").contains("left over"));
    assert!(fault("107/60 psi").contains("slash"));
    assert!(fault("107 60 lbs").contains("no unit") || fault("107 60 lbs").contains("mass"));
}

#[test]
fn bound_lists() {
    let said = read_bound_list::<Length>("0.05 <0.04 0.05..0.06 - >0.1 mm").unwrap();
    let shown: Vec<String> = said
        .value
        .iter()
        .map(|item| {
            item.map_or("-".to_owned(), |bound| {
                crate::show::show_bound(bound, &unit::MILLIMETRE)
            })
        })
        .collect();
    assert_eq!(
        shown,
        ["0.05 mm", "< 0.04 mm", "0.05–0.06 mm", "-", "> 0.1 mm"]
    );
    assert_eq!(
        read_bound_list_in::<Length>("0.14 <0.02 -", &unit::MILLIMETRE)
            .unwrap()
            .value
            .len(),
        3
    );
}

#[test]
fn ratios_may_stand_bare() {
    for (text, fraction) in [
        ("10.5", 10.5),
        ("10.5:1", 10.5),
        ("10.5 : 1", 10.5),
        ("50 %", 0.5),
        ("50%", 0.5),
        ("0.8", 0.8),
        ("9/10", 0.9),
    ] {
        close(value::<Ratio>(text).in_fraction(), fraction, 1e-15);
    }
    close(
        read_range::<Ratio>("50 ± 5 %")
            .unwrap()
            .value
            .low
            .in_fraction(),
        0.45,
        1e-12,
    );
}

#[test]
fn a_known_unit_may_be_left_out() {
    close(
        read_in::<Length>("0.05", &unit::MILLIMETRE)
            .unwrap()
            .value
            .in_mm(),
        0.05,
        1e-15,
    );
    close(
        read_in::<Length>("2 thou", &unit::MILLIMETRE)
            .unwrap()
            .value
            .in_mm(),
        0.0508,
        1e-15,
    );
    assert!(read_in::<Length>("2 psi", &unit::MILLIMETRE).is_err());
}

#[test]
fn the_kind_is_found_from_the_unit() {
    for (text, kind) in [
        ("13 ft-lb", Kind::Torque),
        ("0.05 mm", Kind::Length),
        ("90°", Kind::Angle),
        ("90 °C", Kind::Temperature),
        ("14 psi", Kind::GaugePressure),
        ("14 psia", Kind::AbsolutePressure),
        ("24 J", Kind::Energy),
        ("5 kg", Kind::Mass),
        ("8 qt", Kind::Volume),
        ("50 %", Kind::Ratio),
        ("12.6 V", Kind::Voltage),
    ] {
        assert_eq!(
            read_any(text)
                .unwrap_or_else(|fault| panic!("{fault}"))
                .value
                .kind,
            kind,
            "{text}"
        );
    }
    assert!(read_any("35").unwrap_err().reason.contains("of what"));
    assert!(read_any("35 lbs").unwrap_err().reason.contains("could be"));
    assert!(read_any("18-22 N·m").unwrap_err().reason.contains("range"));
    assert!(read_any("10 MPa").unwrap().notes[0].contains("stress"));
    assert!(read_any("35 bananas").is_err());
    assert!(read_any("3 mN").is_err());
}

#[test]
fn nothing_is_converted_between_kinds() {
    let energy = read_any("24 J").unwrap().value;
    let clash = energy.in_unit(&unit::NEWTON_METRE).unwrap_err();
    assert_eq!(
        clash.to_string(),
        "an energy cannot be turned into a torque: they share a dimension, but one turns a bolt and the other is used up"
    );
    assert!(energy.typed::<Torque>().is_err());
    let torque = read_any("13 ft-lb").unwrap().value;
    close(
        torque.in_unit(&unit::POUND_FORCE_INCH).unwrap(),
        156.0,
        1e-12,
    );
    close(
        torque.typed::<Torque>().unwrap().in_pound_force_feet(),
        13.0,
        1e-12,
    );
}
