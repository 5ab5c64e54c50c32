//! The band against a general linear programme, and its own proof.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;

use super::*;

/// The same question put to a general solver (microlp 0.7): half the narrowest width.
pub(crate) fn half_by_programme<const P: usize>(rows: &[Row<P>]) -> f64 {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let form: Vec<_> = (0..P)
        .map(|_| problem.add_var(0.0, (f64::NEG_INFINITY, f64::INFINITY)))
        .collect();
    let half = problem.add_var(1.0, (0.0, f64::INFINITY));
    for row in rows {
        for sign in [1.0, -1.0] {
            let mut terms: Vec<_> = form
                .iter()
                .zip(row.columns)
                .map(|(&number, column)| (number, sign * column))
                .collect();
            terms.push((half, 1.0));
            problem.add_constraint(terms, ComparisonOp::Ge, sign * row.height);
        }
    }
    match problem.solve().unwrap() {
        SolveOutcome::Solution(found) => found.objective(),
        SolveOutcome::Interrupted(_) => panic!("no limit was set"),
    }
}

fn face(points: &[(f64, f64, f64)]) -> Vec<Row<3>> {
    points
        .iter()
        .map(|&(x, y, z)| Row {
            columns: [x, y, 1.0],
            height: z,
        })
        .collect()
}

/// The proof: weights add up to 1, cancel in every column, and carry the half width.
fn proves<const P: usize>(rows: &[Row<P>], band: &Band<P>) -> bool {
    let sum: f64 = band.contacts.iter().map(|contact| contact.weight).sum();
    let balanced = (0..P).all(|column| {
        let pull: f64 = band
            .contacts
            .iter()
            .map(|contact| {
                contact.weight * contact.side.sign() * rows[contact.index].columns[column]
            })
            .sum();
        pull.abs() < 1e-9
    });
    let carried: f64 = band
        .contacts
        .iter()
        .map(|contact| contact.weight * contact.side.sign() * rows[contact.index].height)
        .sum();
    (sum - 1.0).abs() < 1e-9 && balanced && (carried - band.half).abs() < 1e-9
}

#[test]
fn a_square_saddle_needs_two_edges() {
    let rows = face(&[
        (-1.0, -1.0, 1.0),
        (1.0, 1.0, 1.0),
        (-1.0, 1.0, -1.0),
        (1.0, -1.0, -1.0),
    ]);
    let band = narrowest(&rows).unwrap();
    assert!((band.half - 1.0).abs() < 1e-12);
    assert_eq!(band.contacts.len(), 4);
    assert!(proves(&rows, &band));
}

#[test]
fn three_points_lie_in_their_plane() {
    let band = narrowest(&face(&[(0.0, 0.0, 1.0), (1.0, 0.0, 5.0), (0.0, 1.0, -3.0)])).unwrap();
    assert!(band.half < 1e-12);
}

#[test]
fn points_in_one_line_fix_no_plane() {
    let rows = face(&[
        (0.0, 0.0, 1.0),
        (1.0, 1.0, 5.0),
        (2.0, 2.0, -3.0),
        (3.0, 3.0, 0.0),
    ]);
    assert_eq!(
        narrowest(&rows),
        Err(ZoneError::Degenerate { rank: 2, wanted: 3 })
    );
    assert_eq!(
        narrowest(&rows[..2]),
        Err(ZoneError::TooFew { count: 2, least: 3 })
    );
}

#[test]
fn a_height_that_is_no_number_is_named() {
    let mut rows = face(&[(0.0, 0.0, 1.0), (1.0, 0.0, 5.0), (0.0, 1.0, -3.0)]);
    rows[1].height = f64::NAN;
    assert_eq!(narrowest(&rows), Err(ZoneError::NotFinite { index: 1 }));
}

/// A whole grid of one height is as degenerate as a face can be.
#[test]
fn a_perfectly_flat_grid_has_no_width() {
    let points: Vec<_> = (0..400)
        .map(|i| (f64::from(i % 20), f64::from(i / 20), 0.25))
        .collect();
    let band = narrowest(&face(&points)).unwrap();
    assert!(band.half < 1e-12);
}

proptest! {
    /// Clouds of 200 points against the linear programme of microlp 0.7, an independent method.
    #[test]
    fn a_cloud_agrees_with_a_general_programme(
        points in prop::collection::vec((-1.0..1.0f64, -1.0..1.0f64, -1.0..1.0f64), 200)
    ) {
        let rows = face(&points);
        let band = narrowest(&rows).unwrap();
        prop_assert!((band.half - half_by_programme(&rows)).abs() < 1e-7);
        prop_assert!((band.half - band.bound).abs() < 1e-11);
        prop_assert!(proves(&rows, &band));
    }

    /// Saddles and bowls on whole micrometres: many readings tie, as blade readings do.
    #[test]
    fn tied_readings_agree_with_a_general_programme(
        twist in -9..9i32, bowl in -9..9i32, noise in prop::collection::vec(-2..3i32, 35)
    ) {
        let points: Vec<_> = noise.iter().enumerate().map(|(at, &extra)| {
            let (x, y) = ((at % 7) as f64 - 3.0, (at / 7) as f64 - 2.0);
            let z = (f64::from(twist) * x * y / 3.0).round() + (f64::from(bowl) * x * x / 4.0).round();
            (x / 3.0, y / 2.0, z + f64::from(extra))
        }).collect();
        let rows = face(&points);
        let band = narrowest(&rows).unwrap();
        prop_assert!((band.half - half_by_programme(&rows)).abs() < 1e-7);
        prop_assert!(proves(&rows, &band));
    }

    /// Lines: the same method with two columns.
    #[test]
    fn a_line_agrees_with_a_general_programme(
        heights in prop::collection::vec(-1.0..1.0f64, 3..40)
    ) {
        let rows: Vec<Row<2>> = heights.iter().enumerate()
            .map(|(at, &height)| Row { columns: [at as f64 / 40.0, 1.0], height }).collect();
        let band = narrowest(&rows).unwrap();
        prop_assert!((band.half - half_by_programme(&rows)).abs() < 1e-7);
    }
}
