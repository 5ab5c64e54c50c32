//! A published survey, and nine nodes by hand.

use super::*;
use crate::flatness::flatness;

fn survey() -> Lines {
    let text = include_str!("../../../../testdata/published/surface_plate/moody_1955.csv");
    let line = |name: &str| {
        let row = text.lines().find(|row| row.starts_with(name)).unwrap();
        let angles: Vec<Angle> = row
            .split_once(',')
            .unwrap()
            .1
            .split_whitespace()
            .map(|value| Angle::degrees(value.parse::<f64>().unwrap() / 3600.0).unwrap())
            .collect();
        profile(&angles, Length::inches(4.0).unwrap()).unwrap()
    };
    Lines {
        nw_se: line("NW-SE"),
        ne_sw: line("NE-SW"),
        ne_nw: line("NE-NW"),
        se_sw: line("SE-SW"),
        ne_se: line("NE-SE"),
        nw_sw: line("NW-SW"),
        e_w: line("E-W"),
        n_s: line("N-S"),
    }
}

/// Source: Moody's survey of 1955, corrected; published peak 17.8411·10⁻⁵ in over low 0 and
/// corner NW 6.2056·10⁻⁵ in. *Public data (ballen4705/Moody-Method, gnuplot.dat).*
#[test]
fn e09_base_plane_zone_of_a_published_survey() {
    let seen = union_jack(&survey()).unwrap();
    assert_eq!(seen.stations.len(), 126);
    assert!((seen.base_zone.in_micrometres() - 4.53165).abs() < 0.0005);
    assert!((seen.base_zone.in_inches() * 1e5 - 17.8411).abs() < 0.002);
    let low = seen
        .stations
        .iter()
        .map(|at| at.z.in_inches())
        .fold(f64::INFINITY, f64::min);
    assert!(((seen.corners[0].in_inches() - low) * 1e5 - 6.2056).abs() < 0.0005);
}

/// Source: the same survey, closures −0.70″ and 0.00. *Computed by a general library (numpy 2.4.6):
/// union-jack reduction on public data.*
#[test]
fn e10_closures_of_the_centre_lines() {
    let seen = union_jack(&survey()).unwrap();
    assert!((seen.closure_east_west.in_micrometres() - -0.3448).abs() < 0.001);
    assert!(seen.closure_north_south.in_micrometres().abs() < 0.01);
}

/// Source: the same 126 stations. *Computed by a general library (scipy 1.17.1, linear
/// programme) on public data.*
#[test]
fn e11_minimum_zone_of_all_stations() {
    let seen = union_jack(&survey()).unwrap();
    let flat = flatness(&seen.stations).unwrap();
    assert!((flat.vertical.in_micrometres() - 4.15730).abs() < 0.001);
    assert!((flat.vertical_least_squares.in_micrometres() - 4.45444).abs() < 0.001);
}

/// Source: nine nodes of the constructed head deck, by hand. *Computed by a general library (Python
/// 3.11 floats): arithmetic.*
#[test]
fn e15_nine_nodes_by_hand() {
    let z = [[0.0, 31.0, -4.0], [10.0, 52.0, 17.0], [14.0, 46.0, 6.0]];
    let line = |nodes: [(usize, usize); 3]| -> Vec<Length> {
        nodes
            .iter()
            .map(|&(row, column)| Length::micrometres(z[row][column]).unwrap())
            .collect()
    };
    // Row 2 is north, column 0 is west.
    let lines = Lines {
        nw_se: line([(2, 0), (1, 1), (0, 2)]),
        ne_sw: line([(2, 2), (1, 1), (0, 0)]),
        ne_nw: line([(2, 2), (2, 1), (2, 0)]),
        se_sw: line([(0, 2), (0, 1), (0, 0)]),
        ne_se: line([(2, 2), (1, 2), (0, 2)]),
        nw_sw: line([(2, 0), (1, 0), (0, 0)]),
        e_w: line([(1, 2), (1, 1), (1, 0)]),
        n_s: line([(2, 1), (1, 1), (0, 1)]),
    };
    let seen = union_jack(&lines).unwrap();
    let corners: Vec<f64> = seen
        .corners
        .iter()
        .map(|corner| corner.in_micrometres())
        .collect();
    // NW and SE lie on the diagonal with middle deviation 47, SW and NE on that with 49.
    for (seen, expected) in corners.iter().zip([-47.0, -49.0, -47.0, -49.0]) {
        assert!((seen - expected).abs() < 1e-9, "{corners:?}");
    }
    assert!((seen.base_zone.in_micrometres() - 49.0).abs() < 1e-9);
    assert!(seen.closure_east_west.in_micrometres().abs() < 1e-9);
    assert!(seen.closure_north_south.in_micrometres().abs() < 1e-9);
}

#[test]
fn a_line_without_a_middle_is_named() {
    let mut lines = survey();
    lines.e_w.pop();
    assert!(matches!(
        union_jack(&lines),
        Err(UnionJackError::NoMiddle {
            line: Leg::EW,
            count: 16
        })
    ));
}
