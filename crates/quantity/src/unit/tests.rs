//! Every factor held against its printed value, and the table against itself.

use std::collections::BTreeSet;

use super::*;

/// Source: NIST SP 811 (2008), appendix B.8. *Published.* Tolerance: half a unit in the last
/// printed digit, where an exact factor has more digits than are printed.
#[test]
fn nist_sp_811_printed_factors() {
    let printed: &[(&Unit, f64, f64)] = &[
        (&POUND_FORCE_FOOT, 1.355_818, 0.5e-6),
        (&POUND_FORCE_INCH, 0.112_984_8, 0.5e-7),
        (&OUNCE_FORCE_INCH, 0.007_061_552, 0.5e-9),
        (&KILOGRAM_FORCE_METRE, 9.806_65, 0.0),
        (&POUND_FORCE_UNIT, 4.448_222, 0.5e-6),
        (&KILOGRAM_FORCE, 9.806_65, 0.0),
        (&KIP, 4_448.222, 0.5e-3),
        (&INCH_UNIT, 0.025_4, 0.0),
        (&FOOT_UNIT, 0.304_8, 0.0),
        (&MILE, 1_609.344, 1e-12),
        (&POUND_MASS, 0.453_592_37, 0.0),
        (&OUNCE_MASS, 0.028_349_52, 0.5e-8),
        (&POUND_PER_SQUARE_INCH, 6_894.757, 0.5e-3),
        (&KIP_PER_SQUARE_INCH, 6_894_757.0, 0.5),
        (&KGF_PER_SQUARE_CENTIMETRE, 98_066.5, 1e-9),
        (&INCH_OF_MERCURY, 3_386.389, 0.0),
        (&MILLIMETRE_OF_MERCURY, 133.322_4, 0.0),
        (&US_GALLON, 3.785_412e-3, 0.5e-9),
        (&US_QUART, 9.463_529e-4, 0.5e-10),
        (&US_PINT, 4.731_765e-4, 0.5e-10),
        (&US_FLUID_OUNCE, 2.957_353e-5, 0.5e-11),
        (&IMPERIAL_GALLON, 4.546_09e-3, 0.0),
        (&CUBIC_INCH, 1.638_706e-5, 0.5e-11),
        (&SQUARE_INCH, 6.451_6e-4, 1e-18),
        (&MILE_PER_HOUR, 0.447_04, 1e-15),
        (&POUND_FORCE_PER_INCH, 175.126_8, 0.5e-4),
        (&REVOLUTION_PER_MINUTE, 0.104_719_8, 0.5e-7),
    ];
    for (unit, factor, tolerance) in printed {
        let off = (unit.factor - factor).abs();
        assert!(
            off <= *tolerance,
            "{}: {} is off by {off:e}",
            unit.symbol,
            unit.factor
        );
    }
}

/// Source: exact definitions (pound, gravity, inch), exact rational arithmetic. *Computed by a
/// general library (Python 3.11, fractions).*
#[test]
fn t01_to_t04_exact_torque_factors() {
    let exact: &[(&Unit, f64, f64)] = &[
        (&POUND_FORCE_FOOT, 1.355_817_948_331_400_4, 1e-15),
        (&POUND_FORCE_INCH, 0.112_984_829_027_616_7, 1e-16),
        (&OUNCE_FORCE_INCH, 0.007_061_551_814_226_044, 1e-17),
        (&KILOGRAM_FORCE_CENTIMETRE, 0.098_066_5, 1e-16),
        (&OUNCE_FORCE_FOOT, 0.084_738_621_770_712_53, 1e-16),
    ];
    for (unit, factor, tolerance) in exact {
        assert!(
            (unit.factor - factor).abs() <= *tolerance,
            "{}: {}",
            unit.symbol,
            unit.factor
        );
    }
}

/// Source: public conversion table, 1 N·m = 0.737 562 1 lbf·ft. *Public data.*
#[test]
fn t05_hundred_newton_metres_in_pound_feet() {
    assert!((POUND_FORCE_FOOT.of_si(100.0) - 73.7562).abs() < 5e-4);
}

/// Source: definitions of foot, ounce and gallon. *Published* (NIST SP 811).
#[test]
fn tp7_twelve_inches_sixteen_ounces_four_quarts() {
    let relative = |one: f64, other: f64| ((one - other) / other).abs();
    assert!(relative(12.0 * POUND_FORCE_INCH.factor, POUND_FORCE_FOOT.factor) < 1e-15);
    assert!(relative(16.0 * OUNCE_FORCE_INCH.factor, POUND_FORCE_INCH.factor) < 1e-15);
    assert!(relative(16.0 * OUNCE_FORCE_FOOT.factor, POUND_FORCE_FOOT.factor) < 1e-15);
    assert!(relative(4.0 * US_QUART.factor, US_GALLON.factor) < 1e-15);
    assert!(relative(4.0 * IMPERIAL_QUART.factor, IMPERIAL_GALLON.factor) < 1e-15);
    assert!(relative(1000.0 * THOU.factor, INCH_UNIT.factor) < 1e-15);
}

/// Source: Celsius zero 273.15 K; 32 °F freezes and 212 °F boils water. *Published* (NIST SP 811, B.8).
#[test]
fn temperature_scales_meet_where_they_should() {
    assert!((DEGREE_CELSIUS.to_si(0.0) - 273.15).abs() < 1e-12);
    assert!((DEGREE_FAHRENHEIT.to_si(32.0) - 273.15).abs() < 1e-10);
    assert!((DEGREE_FAHRENHEIT.to_si(212.0) - 373.15).abs() < 1e-10);
    assert!((DEGREE_FAHRENHEIT.to_si(-40.0) - DEGREE_CELSIUS.to_si(-40.0)).abs() < 1e-10);
}

/// Two units of one kind with one spelling would make the reading depend on the order of the table.
#[test]
fn no_spelling_stands_twice_within_a_kind() {
    let mut seen = BTreeSet::new();
    for unit in UNITS {
        let mut own = BTreeSet::new();
        for spelling in std::iter::once(&unit.symbol).chain(unit.spellings) {
            own.insert(spelling.replace('·', ""));
        }
        own.extend(
            unit.doubtful
                .iter()
                .map(|spelling| spelling.replace('·', "")),
        );
        for spelling in own {
            assert!(
                seen.insert((unit.kind, spelling.clone())),
                "{spelling} stands twice for {}",
                unit.kind.name()
            );
        }
    }
}

/// Every spelling in the table finds its own unit, with and without joiners, in its own kind.
#[test]
fn every_spelling_finds_its_unit() {
    for unit in UNITS.iter().filter(|unit| !unit.symbol.is_empty()) {
        for spelling in std::iter::once(&unit.symbol)
            .chain(unit.spellings)
            .chain(unit.doubtful)
        {
            for joiner in ["·", "", "-", " ", ".", "*", "⋅", "•", "×"] {
                let typed = spelling.replace('·', joiner);
                let found = find(unit.kind, &typed)
                    .unwrap_or_else(|fault| panic!("{}: {fault}", unit.symbol));
                assert_eq!(found, unit, "{typed}");
            }
        }
    }
}

#[test]
fn every_kind_has_an_si_unit_and_a_name_that_parses() {
    for kind in Kind::ALL {
        assert!(
            of_kind(*kind).any(|unit| unit.factor == 1.0 && unit.offset == 0.0),
            "{}",
            kind.name()
        );
        assert_eq!(Kind::parse(kind.name()), Some(*kind));
        assert_eq!(
            Kind::parse(&kind.name().to_uppercase().replace(' ', "-")),
            Some(*kind)
        );
    }
    assert_eq!(
        Kind::ALL.len(),
        UNITS
            .iter()
            .map(|unit| unit.kind)
            .collect::<BTreeSet<_>>()
            .len()
    );
    assert_eq!(Kind::parse("pressure"), Some(Kind::GaugePressure));
    assert_eq!(Kind::parse("moment"), None);
}

#[test]
fn every_factor_is_a_positive_finite_number_and_every_doubt_has_its_note() {
    for unit in UNITS {
        assert!(
            unit.factor.is_finite() && unit.factor > 0.0,
            "{}",
            unit.symbol
        );
        assert_eq!(
            unit.doubtful.is_empty(),
            unit.note.is_none(),
            "{}",
            unit.symbol
        );
    }
}

#[test]
fn a_unit_of_another_kind_is_not_found() {
    for (kind, text) in [
        (Kind::Torque, "J"),
        (Kind::Energy, "N·m"),
        (Kind::GaugePressure, "psia"),
        (Kind::Length, "mm²"),
        (Kind::Angle, "%"),
    ] {
        let fault = find(kind, text).unwrap_err();
        assert!(fault.reason.contains("asked for"), "{fault}");
    }
    assert!(find(Kind::Torque, "").is_err());
    assert!(find(Kind::Torque, "N·m extra").is_err());
    assert_eq!(find(Kind::Ratio, "").unwrap(), &FRACTION);
}
