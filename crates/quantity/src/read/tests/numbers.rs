//! Numbers on their own: marks, thousands, fractions, exponents.

use proptest::prelude::*;

use crate::kinds::{Length, RotationalSpeed};
use crate::read::read;

fn mm(text: &str) -> Result<f64, String> {
    read::<Length>(&format!("{text} m"))
        .map(|said| said.value.in_metres())
        .map_err(|fault| fault.reason)
}

#[test]
fn accepted() {
    for (text, want) in [
        ("1500", 1500.0),
        ("1500.25", 1500.25),
        ("1,500.25", 1500.25),
        ("1.500,25", 1500.25),
        ("1'500.25", 1500.25),
        ("1\u{A0}500", 1500.0),
        ("1\u{202F}500,5", 1500.5),
        ("1,500,000", 1_500_000.0),
        ("1.500.000", 1_500_000.0),
        ("2,5", 2.5),
        ("2,50", 2.5),
        ("0,050", 0.05),
        ("1234,567", 1234.567),
        ("1.500", 1.5),
        (".5", 0.5),
        ("+5", 5.0),
        ("-5", -5.0),
        ("−5", -5.0),
        ("1.5e3", 1500.0),
        ("1.5E-3", 0.0015),
        ("3/8", 0.375),
        ("3⁄8", 0.375),
        ("1 3/8", 1.375),
        ("1-3/8", 1.375),
        ("-1-3/8", -1.375),
        ("1⅜", 1.375),
        ("1 ⅜", 1.375),
        ("0", 0.0),
        ("007", 7.0),
    ] {
        assert_eq!(mm(text), Ok(want), "{text}");
    }
}

#[test]
fn asked_about_or_refused() {
    for (text, word) in [
        ("1,500", "comma"),
        ("12,345", "comma"),
        ("1.2.3", "no number"),
        ("1,2,3", "no number"),
        ("1,50,000", "no number"),
        ("1'50", "no number"),
        ("1.500.00", "no number"),
        ("5.", "no number"),
        ("٣", "no number"),
        ("5٣", "no number"),
        ("½5", "no number"),
        ("1/0", "zero"),
        ("9/8", "slash"),
        ("1-9/8", "smaller than one"),
        ("1 500", "second number"),
        ("1e999", "too large"),
        ("1e-999", "too small"),
        ("--5", "no number"),
        ("+-5", "no number"),
        ("NaN", "no number"),
        ("inf", "no number"),
        ("1e5e5", "no unit"),
        ("0x10", "no unit"),
    ] {
        let reason = mm(text).expect_err(text);
        assert!(reason.contains(word), "{text}: {reason}");
    }
}

#[test]
fn the_comma_question_shows_both_answers() {
    let fault = read::<RotationalSpeed>("1,500 rpm").unwrap_err();
    assert_eq!(fault.hint, "write `1.500` or `1500`");
    assert_eq!(&fault.text[fault.at], "1,500");
}

#[test]
fn a_decimal_comma_is_said() {
    let said = read::<Length>("2,5 mm").unwrap();
    assert!(said.notes[0].contains("2.5"), "{:?}", said.notes);
    assert!(read::<Length>("1,500.25 mm").unwrap().notes.is_empty());
}

proptest! {
    /// Any float Rust writes plainly is read back to the same float.
    #[test]
    fn plain_decimals_are_exact(value in -1e9_f64..1e9) {
        prop_assert_eq!(mm(&value.to_string()), Ok(value));
    }

    /// A mixed number is its whole and its part.
    #[test]
    fn mixed_numbers(whole in 1_u32..1000, above in 1_u32..64) {
        let want = f64::from(whole) + f64::from(above) / 64.0;
        prop_assert_eq!(mm(&format!("{whole}-{above}/64")), Ok(want));
        prop_assert_eq!(mm(&format!("{whole} {above}/64")), Ok(want));
    }
}
