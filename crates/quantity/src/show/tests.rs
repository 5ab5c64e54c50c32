//! What is written, and that it reads back.

use proptest::prelude::*;

use super::*;
use crate::kinds::{Angle, Length, Ratio, Temperature, Torque};
use crate::read::{read_as, read_bound, read_range};
use crate::unit::UNITS;

#[test]
fn four_digits_true_signs_no_trailing_zeros() {
    let torque = |value: f64| Torque::newton_metres(value).unwrap();
    assert_eq!(show(torque(35.0), &unit::NEWTON_METRE), "35 N·m");
    assert_eq!(show(torque(35.10), &unit::NEWTON_METRE), "35.1 N·m");
    assert_eq!(show(torque(0.0), &unit::NEWTON_METRE), "0 N·m");
    assert_eq!(show(torque(12_345.6), &unit::NEWTON_METRE), "12346 N·m");
    assert_eq!(
        show(Length::mm(-0.02).unwrap(), &unit::MILLIMETRE),
        "−0.02 mm"
    );
    assert_eq!(
        show(Length::mm(0.000_8).unwrap(), &unit::MICROMETRE),
        "0.8 µm"
    );
    assert_eq!(show(Angle::degrees(90.0).unwrap(), &unit::DEGREE), "90°");
    assert_eq!(show(Ratio::percent(50.0).unwrap(), &unit::PERCENT), "50 %");
    assert_eq!(
        show(Ratio::fraction(10.5).unwrap(), &unit::FRACTION),
        "10.5"
    );
    assert_eq!(
        show(Temperature::celsius(-37.1).unwrap(), &unit::DEGREE_CELSIUS),
        "−37.1 °C"
    );
}

#[test]
fn fixed_decimals_keep_their_zeros_and_zero_has_no_sign() {
    let gap = Length::mm(0.05).unwrap();
    assert_eq!(show_fixed(gap, &unit::MILLIMETRE, 3), "0.050 mm");
    assert_eq!(
        show_fixed(Length::mm(-0.000_1).unwrap(), &unit::MILLIMETRE, 2),
        "0.00 mm"
    );
    assert_eq!(
        show_fixed(Length::mm(-1.5875).unwrap(), &unit::MILLIMETRE, 2),
        "−1.59 mm"
    );
}

/// Source: section on rounding of ranges: 18–22 lbf·ft is 24.405–29.828 N·m, shown as 25–29.
/// *Computed by a general library (Python 3.11 floats)* from the exact factors.
#[test]
fn t06_ranges_round_inward() {
    let range = read_range::<Torque>("18-22 ft-lb").unwrap().value;
    assert!((range.low.in_newton_metres() - 24.405).abs() < 5e-3);
    assert!((range.high.in_newton_metres() - 29.828).abs() < 5e-3);
    assert_eq!(show_range(range, &unit::NEWTON_METRE), "25–29 N·m");
    assert_eq!(show_range_fixed(range, &unit::NEWTON_METRE, 0), "25–29 N·m");
    assert_eq!(
        show_range_fixed(range, &unit::NEWTON_METRE, 1),
        "24.5–29.8 N·m"
    );
    assert_eq!(show_range(range, &unit::POUND_FORCE_FOOT), "18–22 lbf·ft");
}

#[test]
fn a_range_in_its_own_unit_is_shown_as_it_is() {
    let shown =
        |text: &str| show_range(read_range::<Length>(text).unwrap().value, &unit::MILLIMETRE);
    assert_eq!(shown("0.152..0.254 mm"), "0.152–0.254 mm");
    assert_eq!(shown("0.15..0.25 mm"), "0.15–0.25 mm");
    assert_eq!(shown("-0.02..0.03 mm"), "−0.02 to 0.03 mm");
    assert_eq!(shown("2..2 mm"), "2 mm");
}

#[test]
fn a_range_too_narrow_for_its_decimals_gets_more() {
    let range = read_range::<Length>("0.0411..0.0412 in").unwrap().value;
    let shown = show_range_fixed(range, &unit::MILLIMETRE, 0);
    let back = read_range::<Length>(&shown).unwrap().value;
    assert!(back.low >= range.low && back.high <= range.high, "{shown}");
}

#[test]
fn bounds_read_as_people_write_them() {
    let shown =
        |text: &str| show_bound(read_bound::<Length>(text).unwrap().value, &unit::MILLIMETRE);
    assert_eq!(shown("<0.04 mm"), "< 0.04 mm");
    assert_eq!(shown("min 1 mm"), "> 1 mm");
    assert_eq!(shown("0.05..0.06 mm"), "0.05–0.06 mm");
    assert_eq!(shown("0.05 mm"), "0.05 mm");
}

proptest! {
    /// T-P6: what was written once is written the same after being read, in every unit of the table.
    #[test]
    fn tp6_print_read_print_is_stable(index in 0..UNITS.len(), mantissa in 1.0_f64..10.0, power in -6_i32..7, negative: bool) {
        let unit = &UNITS[index];
        let size = mantissa * libm::pow(10.0, f64::from(power));
        let signed = if negative && crate::read::lowest(unit.kind).is_none() { -size } else { size };
        let shown = show_si(unit.to_si(signed), unit);
        let back = read_as(unit.kind, &shown).unwrap_or_else(|fault| panic!("{fault}"));
        prop_assert_eq!(back.value.kind, unit.kind);
        prop_assert_eq!(show_si(back.value.si, unit), shown.clone());
        // Four digits are kept, so nothing moves by more than half of the fourth.
        let room = unit.factor * (signed.abs() * 0.5e-3 + if unit.offset == 0.0 { 0.0 } else { 1e-3 });
        prop_assert!((back.value.si - unit.to_si(signed)).abs() <= room, "{} {}", shown, back.value.si);
    }

    /// A shown range never leaves the true one.
    #[test]
    fn a_shown_range_stays_inside(low in 0.01_f64..500.0, span in 0.001_f64..100.0) {
        let low = Torque::pound_force_feet(low).unwrap();
        let range = Range { low, high: low + Torque::newton_metres(span).unwrap() };
        let shown = show_range(range, &unit::NEWTON_METRE);
        let back = read_range::<Torque>(&shown).map(|said| said.value);
        prop_assume!(back.is_ok());
        let back = back.unwrap();
        let noise = 1e-8 * range.high.si();
        prop_assert!(back.low.si() >= range.low.si() - noise && back.high.si() <= range.high.si() + noise, "{}", shown);
    }
}
