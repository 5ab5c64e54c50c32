//! Which pitches a diameter is made with.
//!
//! Printed tables, not formulas:
//! - metric: ISO 261, general plan, first-choice and the fine pitches met on engines.
//!   *From memory*, agrees with the sizes printed in the EN ISO 898-1 proof-load table.
//! - unified: ASME B1.1, UNC and UNF. *From memory*, agrees with the sizes printed in
//!   Shigley, Mechanical Engineering Design, table 8-2.

/// Metric sizes: diameter in mm, then the coarse pitch and the fine ones in mm.
const METRIC_PITCHES: &[(f64, &[f64])] = &[
    (1.6, &[0.35]),
    (2.0, &[0.4]),
    (2.5, &[0.45]),
    (3.0, &[0.5]),
    (4.0, &[0.7, 0.5]),
    (5.0, &[0.8, 0.5]),
    (6.0, &[1.0, 0.75]),
    (7.0, &[1.0, 0.75]),
    (8.0, &[1.25, 1.0, 0.75]),
    (9.0, &[1.25, 1.0]),
    (10.0, &[1.5, 1.25, 1.0, 0.75]),
    (11.0, &[1.5, 1.0]),
    (12.0, &[1.75, 1.5, 1.25, 1.0]),
    (14.0, &[2.0, 1.5, 1.25, 1.0]),
    (16.0, &[2.0, 1.5, 1.0]),
    (18.0, &[2.5, 2.0, 1.5, 1.0]),
    (20.0, &[2.5, 2.0, 1.5, 1.0]),
    (22.0, &[2.5, 2.0, 1.5, 1.0]),
    (24.0, &[3.0, 2.0, 1.5, 1.0]),
    (27.0, &[3.0, 2.0, 1.5, 1.0]),
    (30.0, &[3.5, 3.0, 2.0, 1.5, 1.0]),
    (33.0, &[3.5, 3.0, 2.0, 1.5]),
    (36.0, &[4.0, 3.0, 2.0, 1.5]),
];

/// Unified sizes: diameter in inches, threads per inch coarse and fine.
const UNIFIED_THREADS: &[(f64, f64, f64)] = &[
    (0.112, 40.0, 48.0),
    (0.125, 40.0, 44.0),
    (0.138, 32.0, 40.0),
    (0.164, 32.0, 36.0),
    (0.190, 24.0, 32.0),
    (0.216, 24.0, 28.0),
    (0.25, 20.0, 28.0),
    (0.3125, 18.0, 24.0),
    (0.375, 16.0, 24.0),
    (0.4375, 14.0, 20.0),
    (0.5, 13.0, 20.0),
    (0.5625, 12.0, 18.0),
    (0.625, 11.0, 18.0),
    (0.75, 10.0, 16.0),
    (0.875, 9.0, 14.0),
    (1.0, 8.0, 12.0),
    (1.125, 7.0, 12.0),
];

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// The pitches in mm that a metric diameter in mm is made with, coarse first; empty when
/// the table does not hold the size.
pub(super) fn metric(diameter_mm: f64) -> &'static [f64] {
    METRIC_PITCHES
        .iter()
        .find(|(diameter, _)| same(*diameter, diameter_mm))
        .map_or(&[], |(_, pitches)| pitches)
}

/// Coarse and fine threads per inch of a unified diameter in inches.
pub(super) fn unified(diameter_in: f64) -> Option<(f64, f64)> {
    UNIFIED_THREADS
        .iter()
        .find(|(diameter, ..)| same(*diameter, diameter_in))
        .map(|&(_, coarse, fine)| (coarse, fine))
}

impl super::Thread {
    /// Whether the pitch is one the diameter is commonly made with. A thread that is not
    /// may be real all the same; more often a size or pitch was misread.
    #[must_use]
    pub fn is_common(&self) -> bool {
        match self.series {
            super::Series::Metric => metric(self.diameter.in_mm())
                .iter()
                .any(|&pitch| same(pitch, self.pitch.in_mm())),
            super::Series::Unified => {
                let per_inch = 1.0 / self.pitch.in_inches();
                unified(self.diameter.in_inches()).is_some_and(|(coarse, fine)| {
                    (per_inch - coarse).abs() < 1e-3 || (per_inch - fine).abs() < 1e-3
                })
            }
        }
    }

    /// Whether the pitch is the coarse one of its diameter.
    #[must_use]
    pub fn is_coarse(&self) -> bool {
        match self.series {
            super::Series::Metric => metric(self.diameter.in_mm())
                .first()
                .is_some_and(|&pitch| same(pitch, self.pitch.in_mm())),
            super::Series::Unified => unified(self.diameter.in_inches())
                .is_some_and(|(coarse, _)| (1.0 / self.pitch.in_inches() - coarse).abs() < 1e-3),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Thread;
    use super::*;

    #[test]
    fn every_table_row_makes_a_thread_and_the_coarse_pitch_is_the_largest() {
        for (diameter, pitches) in METRIC_PITCHES {
            assert!(pitches.is_sorted_by(|a, b| a > b), "M{diameter}");
            for pitch in *pitches {
                let thread = Thread::parse(&format!("M{diameter}x{pitch}")).unwrap();
                assert!(thread.is_common());
            }
        }
        for &(diameter, coarse, fine) in UNIFIED_THREADS {
            assert!(coarse < fine);
            assert!(
                Thread::parse(&format!("{diameter}-{coarse}"))
                    .unwrap()
                    .is_coarse()
            );
        }
    }

    #[test]
    fn an_uncommon_pitch_is_known_for_one() {
        assert!(!Thread::parse("M8x1.5").unwrap().is_common());
        assert!(!Thread::parse("M10x1").unwrap().is_coarse());
    }
}
