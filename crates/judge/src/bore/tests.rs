//! Bores by their grid of diameters.

use quantity::unit::MILLIMETRE;
use report::Verdict;

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn grid() -> Asked {
    let sizes = [86.062, 86.031, 86.034, 86.020, 86.012, 86.008];
    Asked {
        diameters: sizes
            .iter()
            .enumerate()
            .map(|(at, &size)| Diameter {
                depth: ["top", "middle", "bottom"][at / 2].to_owned(),
                direction: ["thrust", "axial"][at % 2].to_owned(),
                size: mm(size),
            })
            .collect(),
        journal: false,
        nominal: Some(mm(86.0)),
        round: None,
        taper: None,
        expanded: None,
        skirt: Some(mm(85.965)),
        unit: MILLIMETRE,
    }
}

/// Source: grid of six diameters over 86.000: out-of-round 0.031, taper 0.050, wear 0.062, ring
/// gap change 0.157. *Computed: arithmetic.*
#[test]
fn the_grid_is_named_as_the_shop_and_as_iso_name_it() {
    let report = judge(&grid());
    let value = |name: &str| report.figure(name).unwrap().value * 1000.0;
    assert!((value("out_of_round") - 0.031).abs() < 1e-9);
    assert!((value("roundness") - 0.0155).abs() < 1e-9);
    assert!((value("taper") - 0.050).abs() < 1e-9);
    assert!((value("wear") - 0.062).abs() < 1e-9);
    assert!((value("ring_gap_change") - 0.157).abs() < 1e-3);
    assert!((value("piston_clearance") - 0.043).abs() < 1e-9);
    assert!(report.finds("three-lobes"));
    assert_eq!(report.rows.rows.len(), 5);
}

/// Readings to a thousandth leave differences to a thousandth, the round ones too.
#[test]
fn every_difference_keeps_the_digits_of_the_readings() {
    let report = judge(&grid());
    let shown = |name: &str| report.figure(name).unwrap().shown.clone();
    assert_eq!(
        (shown("taper"), shown("wear")),
        ("0.050 mm".into(), "0.062 mm".into())
    );
    assert_eq!(shown("piston_clearance"), "0.043 mm to 0.097 mm");
    let digits: Vec<usize> = report
        .rows
        .rows
        .iter()
        .map(|row| match &row[2] {
            Cell::Figure(figure) => figure.shown.len(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert!(digits.iter().all(|&count| count == digits[0]), "{digits:?}");
}

/// A nominal in the wrong unit brings no wear of two metres; one the readings fall short of is
/// asked about.
#[test]
fn a_nominal_of_another_bore_is_refused() {
    let with = |nominal: f64| {
        judge(&Asked {
            nominal: Some(mm(nominal)),
            ..grid()
        })
    };
    for (nominal, wear) in [
        (86.0 * 25.4, false),
        (86.2, false),
        (86.07, true),
        (85.0, true),
    ] {
        let report = with(nominal);
        assert_eq!(report.figure("wear").is_some(), wear, "{nominal}");
        assert_eq!(report.finds("odd-nominal"), !wear, "{nominal}");
    }
    assert_eq!(with(86.0 * 25.4).exit_status(), 1);
}

/// The default limit of old iron is one, and the maker's is asked for.
#[test]
fn a_default_is_called_one_and_the_makers_is_asked_for() {
    let report = judge(&grid());
    assert!(
        report
            .headline
            .unwrap()
            .contains("at most 0.002 in (0.0508 mm; default limit")
    );
    assert!(
        report
            .asks
            .iter()
            .any(|ask| ask.how.contains("--limit-round"))
    );
}

#[test]
fn a_makers_limit_decides_and_a_single_reading_is_not_measured() {
    let tight = Asked {
        round: Some(Limit::most(mm(0.02)).of(Whose::Maker)),
        ..grid()
    };
    assert_eq!(judge(&tight).verdict, Some(Verdict::Outside));
    let mut one = grid();
    one.diameters.truncate(1);
    assert_eq!(judge(&one).verdict, Some(Verdict::NotMeasured));
    one.diameters.clear();
    assert_eq!(judge(&one).exit_status(), 2);
}

#[test]
fn a_journal_wears_smaller() {
    let mut journal = grid();
    journal.journal = true;
    journal.nominal = Some(mm(86.1));
    let report = judge(&journal);
    assert!((report.figure("wear").unwrap().value * 1000.0 - 0.092).abs() < 1e-9);
    assert!(!report.finds("three-lobes"));
}
