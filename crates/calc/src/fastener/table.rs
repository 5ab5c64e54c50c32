//! Printed loads of bolts and nuts and the sizes of heads, as data.
//!
//! - Bolts, proof load: EN ISO 898-1, proof-load table, coarse threads, N. *Published.*
//! - Bolts, breaking load: ISO 898-1, minimum tensile load table, coarse threads, N. *Published.*
//! - Nuts: ISO 898-2, nut proof-load table, style 1, coarse threads, N. *Published.* The older
//!   DIN 267-4 numbers are lower (class 8, M8: 29 000 N); never mix the two.
//! - Heads and holes: ISO 273 medium, ISO 4014/4017 grade A and ISO 4762, mm. *From memory.*
//!
//! Numbers and sizes are facts; printed to three or four digits.

use quantity::{Force, Length};

use super::Class;
use crate::thread::Thread;
use crate::tightening::TighteningError;

/// Diameter in mm; proof load for 8.8, 9.8, 10.9, 12.9; breaking load for 8.8, 10.9; in N.
const BOLTS: &[(f64, [f64; 4], [f64; 2])] = &[
    (
        5.0,
        [8_230.0, 9_230.0, 11_800.0, 13_800.0],
        [11_350.0, 14_800.0],
    ),
    (
        6.0,
        [11_600.0, 13_100.0, 16_700.0, 19_500.0],
        [16_100.0, 20_900.0],
    ),
    (
        8.0,
        [21_200.0, 23_800.0, 30_400.0, 35_500.0],
        [29_200.0, 38_100.0],
    ),
    (
        10.0,
        [33_700.0, 37_700.0, 48_100.0, 56_300.0],
        [46_400.0, 60_300.0],
    ),
    (
        12.0,
        [48_900.0, 54_800.0, 70_000.0, 81_800.0],
        [67_400.0, 87_700.0],
    ),
    (
        14.0,
        [66_700.0, 74_800.0, 95_500.0, 112_000.0],
        [92_000.0, 120_000.0],
    ),
    (
        16.0,
        [91_000.0, 102_000.0, 130_000.0, 152_000.0],
        [125_000.0, 163_000.0],
    ),
];

/// Diameter in mm; nut proof load for class 8 and class 10 in N.
const NUTS: &[(f64, f64, f64)] = &[
    (5.0, 12_140.0, 14_800.0),
    (6.0, 17_200.0, 20_900.0),
    (8.0, 31_800.0, 38_100.0),
    (10.0, 50_500.0, 60_300.0),
    (12.0, 74_200.0, 88_500.0),
    (16.0, 138_200.0, 164_900.0),
];

/// Sizes under the head, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct HeadRow {
    diameter: f64,
    /// Medium clearance hole dh.
    pub clearance_hole: f64,
    /// Washer face dw of a hexagon head, least.
    pub hexagon_face: f64,
    /// Washer face dw of a socket head, least.
    pub socket_face: f64,
}

const fn row(diameter: f64, clearance_hole: f64, hexagon_face: f64, socket_face: f64) -> HeadRow {
    HeadRow {
        diameter,
        clearance_hole,
        hexagon_face,
        socket_face,
    }
}

const HEADS: &[HeadRow] = &[
    row(5.0, 5.5, 6.88, 8.03),
    row(6.0, 6.6, 8.88, 9.38),
    row(8.0, 9.0, 11.63, 12.33),
    row(10.0, 11.0, 14.63, 15.33),
    row(12.0, 13.5, 16.63, 17.23),
    row(14.0, 15.5, 19.37, 20.17),
    row(16.0, 17.5, 22.49, 23.17),
];

fn is(diameter: Length, mm: f64) -> bool {
    (diameter.in_mm() - mm).abs() < 1e-6
}

pub(super) fn head(diameter: Length) -> Option<&'static HeadRow> {
    HEADS.iter().find(|row| is(diameter, row.diameter))
}

fn bolt(thread: &Thread) -> Option<&'static (f64, [f64; 4], [f64; 2])> {
    BOLTS
        .iter()
        .find(|(mm, ..)| is(thread.diameter(), *mm))
        .filter(|_| thread.is_coarse())
}

/// Printed proof load in N.
pub(super) fn proof_load(thread: &Thread, class: Class) -> Option<f64> {
    let (_, [c8_8, c9_8, c10_9, c12_9], _) = bolt(thread)?;
    match class {
        Class::C8_8 => Some(*c8_8),
        Class::C9_8 => Some(*c9_8),
        Class::C10_9 => Some(*c10_9),
        Class::C12_9 => Some(*c12_9),
        Class::Grade2 | Class::Grade5 | Class::Grade8 | Class::Stainless70 => None,
    }
}

/// Printed breaking load in N.
pub(super) fn breaking_load(thread: &Thread, class: Class) -> Option<f64> {
    let (_, _, [c8_8, c10_9]) = bolt(thread)?;
    match class {
        Class::C8_8 => Some(*c8_8),
        Class::C10_9 => Some(*c10_9),
        Class::C9_8
        | Class::C12_9
        | Class::Grade2
        | Class::Grade5
        | Class::Grade8
        | Class::Stainless70 => None,
    }
}

/// Strength number of a nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NutClass {
    /// ISO 898-2 class 8.
    Eight,
    /// ISO 898-2 class 10.
    Ten,
}

/// Printed proof load of a style 1 nut.
///
/// # Formula
/// Table look-up.
/// # Units
/// Force.
/// # Range
/// Coarse M5 to M12 and M16.
/// # Source
/// ISO 898-2, nut proof-load table. *Published.*
/// # Errors
/// [`TighteningError::NotCovered`] for a size without a row.
/// # Example
/// ```
/// use calc::{fastener::table::{NutClass, nut_proof_load}, thread::Thread};
///
/// let load = nut_proof_load(&Thread::parse("M10")?, NutClass::Eight)?;
/// assert_eq!(load.in_newtons(), 50_500.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn nut_proof_load(thread: &Thread, class: NutClass) -> Result<Force, TighteningError> {
    let row = NUTS
        .iter()
        .find(|(mm, ..)| is(thread.diameter(), *mm))
        .filter(|_| thread.is_coarse())
        .ok_or(TighteningError::NotCovered {
            what: "the proof load of the nut",
            why: "the table holds style 1 nuts, coarse M5 to M12 and M16",
        })?;
    Ok(Force::newtons(match class {
        NutClass::Eight => row.1,
        NutClass::Ten => row.2,
    })?)
}

/// The nut class a bolt wants: its first number or higher.
#[must_use]
pub const fn nut_for(class: Class) -> Option<NutClass> {
    match class {
        Class::C8_8 => Some(NutClass::Eight),
        Class::C9_8 | Class::C10_9 => Some(NutClass::Ten),
        Class::C12_9 | Class::Grade2 | Class::Grade5 | Class::Grade8 | Class::Stainless70 => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: ISO 898-2, nut proof-load table: 50 500 N, which is 870.7 MPa on the printed
    /// 58.0 mm². *Published.* A look-up, so what is tested is that load and area belong
    /// together: 0.5 %.
    #[test]
    fn t15_m10_nut_proof_load() {
        let m10 = Thread::parse("M10").unwrap();
        let load = nut_proof_load(&m10, NutClass::Eight).unwrap();
        let stress = load.in_newtons() / m10.stress_area().in_square_mm();
        assert!((stress / 870.7 - 1.0).abs() < 0.005);
    }

    /// Rule: the nut's number is the bolt's first number or higher, and then the nut holds
    /// more than the bolt's proof load. Sources: ISO 898-1 and 898-2 tables. *Published.*
    #[test]
    fn a_matching_nut_outlasts_the_bolts_proof_load() {
        for (mm, ..) in NUTS {
            let thread = Thread::parse(&format!("M{mm}")).unwrap();
            for class in [Class::C8_8, Class::C10_9] {
                let nut = nut_proof_load(&thread, nut_for(class).unwrap()).unwrap();
                assert!(nut.in_newtons() >= proof_load(&thread, class).unwrap());
            }
        }
    }

    #[test]
    fn fine_threads_take_no_coarse_row() {
        let fine = Thread::parse("M8x1").unwrap();
        assert_eq!(proof_load(&fine, Class::C8_8), None);
        assert!(nut_proof_load(&fine, NutClass::Eight).is_err());
    }
}
