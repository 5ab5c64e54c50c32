//! Known faces, and what must hold for every face.

use proptest::prelude::*;

use super::*;

fn face(points: &[(f64, f64, f64)]) -> Vec<Point> {
    points
        .iter()
        .map(|&(x, y, z)| Point {
            x: Length::mm(x).unwrap(),
            y: Length::mm(y).unwrap(),
            z: Length::mm(z).unwrap(),
        })
        .collect()
}

/// Fifteen points of a head deck, heights in micrometres.
pub(crate) fn head_deck() -> Vec<(f64, f64, f64)> {
    let rows = [
        [0.0, 22.0, 31.0, 20.0, -4.0],
        [10.0, 37.0, 52.0, 41.0, 17.0],
        [14.0, 38.0, 46.0, 33.0, 6.0],
    ];
    let mut points = Vec::new();
    for (y, row) in rows.iter().enumerate() {
        for (x, z) in row.iter().enumerate() {
            points.push((105.0 * x as f64, 75.0 * y as f64, z / 1000.0));
        }
    }
    points
}

const FIVE: [(f64, f64, f64); 5] = [
    (11.5, 7.0, 1.10),
    (18.5, 6.9, 1.03),
    (4.5, 13.0, 1.02),
    (25.5, 30.0, 1.03),
    (11.5, 37.5, 1.02),
];

/// Source: test case of ACM TOMS 495 (Barrodale & Phillips, 1975) as points (eᵗ, e⁻ᵗ, y).
/// *Public data*; width *computed by a general library (scipy 1.17.1, linear programme)*.
#[test]
fn e03_plane_form_of_the_published_line() {
    let points: Vec<_> = [
        (0.0, 4.501),
        (0.2, 4.360),
        (0.4, 4.333),
        (0.6, 4.418),
        (0.8, 4.625),
    ]
    .iter()
    .map(|&(t, y)| (libm::exp(t), libm::exp(-t), y))
    .collect();
    let seen = flatness(&face(&points)).unwrap();
    assert!((seen.vertical.in_mm() - 0.002_068_07).abs() < 1e-8);
    assert!((seen.vertical_least_squares.in_mm() - 0.002_241_74).abs() < 1e-8);
    assert!((seen.plane.along - 1.00486).abs() < 1e-4);
    assert!((seen.plane.across - 2.01493).abs() < 1e-4);
    assert!(seen.minimum_zone <= seen.vertical);
}

/// Source: five points of a reader's worked example. *Public data*; *computed by a general
/// library (scipy 1.17.1, linear programme)*.
#[test]
fn e04_minimum_zone_of_five_points() {
    let seen = flatness(&face(&FIVE)).unwrap();
    assert!((seen.vertical.in_mm() - 0.067_262_3).abs() < 1e-6);
    assert!((seen.minimum_zone.in_mm() - 0.067_262_1).abs() < 1e-6);
    assert!((seen.range.in_mm() - 0.080).abs() < 1e-9);
}

/// Source: the same points. *Computed by a general library (scipy 1.17.1, least squares).*
#[test]
fn e05_least_squares_of_five_points() {
    let seen = flatness(&face(&FIVE)).unwrap();
    assert!((seen.vertical_least_squares.in_mm() - 0.072_097_3).abs() < 1e-6);
}

/// Source: pure twist; looking at the faces of the hull alone gives 0.160. *Computed by a
/// general library (scipy 1.17.1, linear programme).*
#[test]
fn e06_saddle_is_held_by_two_edges() {
    let saddle = face(&[
        (-200.0, -75.0, 0.04),
        (200.0, 75.0, 0.04),
        (-200.0, 75.0, -0.04),
        (200.0, -75.0, -0.04),
    ]);
    let seen = flatness(&saddle).unwrap();
    assert!((seen.minimum_zone.in_mm() - 0.080).abs() < 1e-9);
    assert!((seen.least_squares.in_mm() - 0.080).abs() < 1e-9);
    assert_eq!(seen.contacts.len(), 4);
}

/// Source: constructed head deck, also with x ×10 and y ×0.1. *Computed by a general library
/// (scipy 1.17.1, linear programme).*
#[test]
fn e07_head_deck_minimum_zone_whatever_the_plan_scale() {
    let plain = flatness(&face(&head_deck())).unwrap();
    let scaled: Vec<_> = head_deck()
        .iter()
        .map(|&(x, y, z)| (x * 10.0, y * 0.1, z))
        .collect();
    let scaled = flatness(&face(&scaled)).unwrap();
    assert!((plain.minimum_zone.in_mm() - 0.049).abs() < 1e-9);
    assert!((scaled.vertical.in_mm() - 0.049).abs() < 1e-9);
}

/// Source: the same deck. *Computed by a general library (scipy 1.17.1, least squares).*
#[test]
fn e08_head_deck_least_squares() {
    let seen = flatness(&face(&head_deck())).unwrap();
    assert!((seen.least_squares.in_mm() - 0.051_933_3).abs() < 1e-7);
    assert!((seen.mean_plane.along * 1000.0 - -0.004_126_98).abs() < 1e-7);
    assert!((seen.mean_plane.across * 1000.0 - 0.090_666_7).abs() < 1e-7);
    assert!((seen.mean_plane.height.in_micrometres() - 18.26667).abs() < 1e-5);
}

#[test]
fn points_in_one_line_are_refused() {
    let line = face(&[
        (0.0, 0.0, 0.0),
        (1.0, 0.0, 0.1),
        (2.0, 0.0, 0.0),
        (3.0, 0.0, 0.2),
    ]);
    assert_eq!(flatness(&line), Err(FlatnessError::OneLine));
    let askew = face(&[
        (0.0, 0.0, 0.0),
        (1.0, 1.0, 0.1),
        (2.0, 2.0, 0.0),
        (3.0, 3.0, 0.2),
    ]);
    assert_eq!(flatness(&askew), Err(FlatnessError::OneLine));
    assert_eq!(
        flatness(&line[..2]),
        Err(FlatnessError::TooFew { count: 2, least: 3 })
    );
}

#[test]
fn contour_heights_start_at_nothing_and_reach_the_zone() {
    let points = face(&head_deck());
    let seen = flatness(&points).unwrap();
    let heights = above_lowest(&points, &seen.plane).unwrap();
    let highest = heights
        .iter()
        .map(|height| height.in_mm())
        .fold(0.0, f64::max);
    assert!(heights.iter().any(|height| height.si() == 0.0));
    let zone = seen.minimum_zone.in_mm();
    assert!((highest - zone).abs() < 1e-12, "{highest} is not {zone}");
}

fn cloud() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    prop::collection::vec((0.0..420.0f64, 0.0..150.0f64, -0.05..0.05f64), 4..60)
}

proptest! {
    /// E-P1: minimum zone ≤ least squares ≤ range, and no plane added changes the zone.
    #[test]
    fn ep1_order_of_the_three_and_no_plane_matters(points in cloud(), a in -1e-4..1e-4f64, b in -1e-4..1e-4f64) {
        let plain = flatness(&face(&points)).unwrap();
        prop_assert!(plain.minimum_zone.si() <= plain.least_squares.si() + 1e-12);
        let tilted: Vec<_> = points.iter().map(|&(x, y, z)| (x, y, z + a * x + b * y + 3.0)).collect();
        let tilted = flatness(&face(&tilted)).unwrap();
        prop_assert!((plain.vertical.in_mm() - tilted.vertical.in_mm()).abs() < 1e-9);
        prop_assert!(tilted.vertical.si() <= tilted.range.si() + 1e-12);
    }

    /// E-P7: scaling or shearing the plan leaves the zone straight up as it is.
    #[test]
    fn ep7_plan_scale_and_shear_do_not_matter(points in cloud(), scale in 0.01..100.0f64, shear in -3.0..3.0f64) {
        let plain = flatness(&face(&points)).unwrap();
        let sheared: Vec<_> = points.iter().map(|&(x, y, z)| (x * scale + shear * y, y, z)).collect();
        let sheared = flatness(&face(&sheared)).unwrap();
        prop_assert!((plain.vertical.in_mm() - sheared.vertical.in_mm()).abs() < 1e-9);
    }

    /// A face laid steep in the axes of a measuring machine has the flatness it has when level.
    #[test]
    fn a_steep_face_has_the_flatness_it_has_level(points in cloud(), tilt in 0.1..1.3f64) {
        let plain = flatness(&face(&points)).unwrap();
        let (s, c) = (libm::sin(tilt), libm::cos(tilt));
        let steep: Vec<_> = points.iter().map(|&(x, y, z)| (c * x - s * z, y, s * x + c * z)).collect();
        let steep = flatness(&face(&steep)).unwrap();
        prop_assert!((plain.minimum_zone.in_mm() - steep.minimum_zone.in_mm()).abs() < 1e-7);
    }
}
