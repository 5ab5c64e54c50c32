//! Limits of size of a 6g bolt in a 6H hole, which decide how much thread meets in the
//! worst pair the drawing allows.
//!
//! The printed table comes first; where it has no row the ISO 965-1 formulas stand in.
//! Unified threads have other tolerances and are not covered.

use quantity::Length;

use super::{Series, Thread};
use crate::tightening::TighteningError;

/// Where a set of limits came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitsFrom {
    /// The printed table.
    Table,
    /// The formulas, which land within 0.009 mm of the table.
    Formula,
}

/// The four diameters the strip calculation needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadLimits {
    /// Least major diameter of the bolt, d min.
    pub bolt_major_min: Length,
    /// Least pitch diameter of the bolt, d2 min.
    pub bolt_pitch_min: Length,
    /// Greatest pitch diameter of the hole, D2 max.
    pub hole_pitch_max: Length,
    /// Greatest minor diameter of the hole, D1 max.
    pub hole_minor_max: Length,
    /// Where they came from.
    pub from: LimitsFrom,
}

/// Diameter in mm, then d min, d2 min, D2 max, D1 max in mm; coarse pitch, 6g and 6H.
///
/// Title: ISO 965-2, limits of sizes, medium quality, coarse. Kind: M5 and M6 bolts from a
/// table issued as following ISO 965, M10 and M12 holes from ASME B1.13M, *published*; the
/// rest *from memory*. Printed to 0.001 mm.
const COARSE: &[(f64, [f64; 4])] = &[
    (5.0, [4.826, 4.361, 4.605, 4.334]),
    (6.0, [5.794, 5.212, 5.500, 5.153]),
    (8.0, [7.760, 7.042, 7.348, 6.912]),
    (10.0, [9.732, 8.862, 9.206, 8.676]),
    (12.0, [11.701, 10.679, 11.063, 10.441]),
];

/// Diameter steps of ISO 965-1 in mm.
const STEPS: &[f64] = &[0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0];

/// The limits of a 6g bolt in a 6H hole.
///
/// # Formula
/// es = −(15 + 11·P); Td = 180·P^⅔ − 3.15/√P; Td2 = 90·P^0.4·dm^0.1; TD2 = 1.32·Td2;
/// TD1 = 230·P^0.7 (P ≥ 1) or 433·P − 190·P^1.22 (P < 1); all in µm with P and dm in mm,
/// dm the geometric mean of the diameter step.
/// # Units
/// Lengths.
/// # Range
/// Metric threads of 1 to 68 mm.
/// # Source
/// ISO 965-2 table, partly from published extracts; ISO 965-1 formulas. *From memory.*
/// # Errors
/// [`TighteningError::NotCovered`] for unified threads.
/// # Example
/// ```
/// use calc::thread::{Thread, limits};
///
/// let m8 = limits::medium_fit(&Thread::parse("M8")?)?;
/// assert_eq!(m8.bolt_major_min.in_mm(), 7.760);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn medium_fit(thread: &Thread) -> Result<ThreadLimits, TighteningError> {
    if thread.series() != Series::Metric {
        return Err(TighteningError::NotCovered {
            what: "limits of size",
            why: "only metric threads in 6g and 6H are held; take an inch bolt's from its standard",
        });
    }
    let row = COARSE
        .iter()
        .find(|(diameter, _)| (*diameter - thread.diameter().in_mm()).abs() < 1e-6)
        .filter(|_| thread.is_coarse());
    match row {
        Some(&(_, values)) => of_mm(values, LimitsFrom::Table),
        None => by_formula(thread),
    }
}

fn of_mm(
    [d, d2, hole_d2, hole_d1]: [f64; 4],
    from: LimitsFrom,
) -> Result<ThreadLimits, TighteningError> {
    Ok(ThreadLimits {
        bolt_major_min: Length::mm(d)?,
        bolt_pitch_min: Length::mm(d2)?,
        hole_pitch_max: Length::mm(hole_d2)?,
        hole_minor_max: Length::mm(hole_d1)?,
        from,
    })
}

fn by_formula(thread: &Thread) -> Result<ThreadLimits, TighteningError> {
    let d = thread.diameter().in_mm();
    let p = thread.pitch().in_mm();
    let step = STEPS
        .windows(2)
        .find(|pair| d > pair[0] && d <= pair[1])
        .map_or(d, |pair| (pair[0] * pair[1]).sqrt());
    let es = -(15.0 + 11.0 * p) / 1000.0;
    let major = (180.0 * libm::pow(p, 2.0 / 3.0) - 3.15 / p.sqrt()) / 1000.0;
    let pitch = 90.0 * libm::pow(p, 0.4) * libm::pow(step, 0.1) / 1000.0;
    let minor = if p >= 1.0 {
        230.0 * libm::pow(p, 0.7)
    } else {
        433.0 * p - 190.0 * libm::pow(p, 1.22)
    } / 1000.0;
    let d2 = thread.pitch_diameter().in_mm();
    of_mm(
        [
            d + es - major,
            d2 + es - pitch,
            d2 + 1.32 * pitch,
            thread.minor_diameter().in_mm() + minor,
        ],
        LimitsFrom::Formula,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: ISO 965 limits table and ASME B1.13M (*published*), the rest from memory,
    /// against the ISO 965-1 formulas: two independent roads within 0.009 mm, because the
    /// standard rounds tolerances to preferred numbers.
    #[test]
    fn the_formulas_land_near_the_printed_table() {
        for (diameter, printed) in COARSE {
            let thread = Thread::parse(&format!("M{diameter}")).unwrap();
            let found = by_formula(&thread).unwrap();
            let found = [
                found.bolt_major_min,
                found.bolt_pitch_min,
                found.hole_pitch_max,
                found.hole_minor_max,
            ];
            for (value, printed) in found.iter().zip(printed) {
                assert!(
                    (value.in_mm() - printed).abs() <= 0.0095,
                    "M{diameter} {printed}"
                );
            }
        }
    }

    #[test]
    fn a_fine_thread_takes_the_formulas_and_says_so() {
        let fine = medium_fit(&Thread::parse("M8x1").unwrap()).unwrap();
        assert_eq!(fine.from, LimitsFrom::Formula);
        assert!(fine.bolt_pitch_min < fine.hole_pitch_max);
    }

    #[test]
    fn inch_threads_are_not_covered() {
        let fault = medium_fit(&Thread::parse("3/8-16").unwrap()).unwrap_err();
        assert!(matches!(fault, TighteningError::NotCovered { .. }));
    }
}
