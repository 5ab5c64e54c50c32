//! The eight lines of a union jack over a rectangle, put together by hand arithmetic: both
//! diagonals, four edges, two centre lines.
//!
//! The base plane is the one parallel to both diagonals through the centre. It is a
//! convention and over-states the zone; [`crate::flatness`] gives the true one from the same
//! stations.

use quantity::{Angle, Length, NotFinite, Quantity};
use thiserror::Error;

use crate::flatness::Point;

/// Why the lines cannot be put together.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum UnionJackError {
    /// A line without a middle.
    #[error(
        "the line {line} has {count} stations; three and more, an odd number, give it a middle"
    )]
    NoMiddle {
        /// Which line.
        line: Leg,
        /// How many stations it has.
        count: usize,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// One of the eight lines, named by where it starts and ends on a map with north up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Leg {
    /// Diagonal.
    NwSe,
    /// Diagonal.
    NeSw,
    /// Edge.
    NeNw,
    /// Edge.
    SeSw,
    /// Edge.
    NeSe,
    /// Edge.
    NwSw,
    /// Centre line.
    EW,
    /// Centre line.
    NS,
}

impl std::fmt::Display for Leg {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::NwSe => "NW to SE",
            Self::NeSw => "NE to SW",
            Self::NeNw => "NE to NW",
            Self::SeSw => "SE to SW",
            Self::NeSe => "NE to SE",
            Self::NwSw => "NW to SW",
            Self::EW => "E to W",
            Self::NS => "N to S",
        })
    }
}

/// Heights along each line, each above a straight line of its own, at evenly spaced stations.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// Diagonal.
    pub nw_se: Vec<Length>,
    /// Diagonal.
    pub ne_sw: Vec<Length>,
    /// Edge.
    pub ne_nw: Vec<Length>,
    /// Edge.
    pub se_sw: Vec<Length>,
    /// Edge.
    pub ne_se: Vec<Length>,
    /// Edge.
    pub nw_sw: Vec<Length>,
    /// Centre line.
    pub e_w: Vec<Length>,
    /// Centre line.
    pub n_s: Vec<Length>,
}

/// The lines put together.
#[derive(Clone, Debug, PartialEq)]
pub struct UnionJack {
    /// Every station of every line, places as shares of the rectangle from −1 to 1 m.
    pub stations: Vec<Point>,
    /// Heights of the corners NW, NE, SE, SW over the base plane.
    pub corners: [Length; 4],
    /// Highest less lowest over the base plane.
    pub base_zone: Length,
    /// What the centre line east–west misses at the centre.
    pub closure_east_west: Length,
    /// What the centre line north–south misses at the centre.
    pub closure_north_south: Length,
}

/// Heights along a line from the tilt of each step.
///
/// # Formula
/// hᵢ = Σ foot·angle
/// # Units
/// Angles and foot spacing in; heights of one station more out, the first 0.
/// # Range
/// Small angles.
/// # Source
/// Autocollimator and level practice. *Common practice, no source.*
/// # Errors
/// [`UnionJackError::NotFinite`] for steps beyond all faces.
/// # Example
/// ```
/// use quantity::{Angle, Length};
/// let line = calc::union_jack::profile(&[Angle::radians(1e-6)?, Angle::radians(2e-6)?], Length::mm(100.0)?)?;
/// assert!((line[2].in_micrometres() - 0.3).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn profile(angles: &[Angle], foot: Length) -> Result<Vec<Length>, UnionJackError> {
    let mut height = 0.0;
    let mut line = vec![Length::from_si(0.0)?];
    for angle in angles {
        height += angle.in_radians() * foot.si();
        line.push(Length::from_si(height)?);
    }
    Ok(line)
}

/// Puts eight lines together.
///
/// # Formula
/// Diagonals: chord deviations less that of their own middle, so both cross at 0. Edges: chord
/// deviation plus the chord between their corners. Centre lines: the same between the middles
/// of the edges; what they miss at the centre is the closure.
/// # Units
/// Lengths in and out.
/// # Range
/// Odd numbers of stations, evenly spaced.
/// # Source
/// J. C. Moody, 1955, calibration of surface plates; from the text of 2019 in
/// ballen4705/Moody-Method. *Public data.*
/// # Errors
/// [`UnionJackError::NoMiddle`] names the line.
pub fn union_jack(lines: &Lines) -> Result<UnionJack, UnionJackError> {
    let first = Chord::of(Leg::NwSe, &lines.nw_se)?;
    let second = Chord::of(Leg::NeSw, &lines.ne_sw)?;
    let (on_first, on_second) = (-first.middle(), -second.middle());
    let (nw, se, ne, sw) = (on_first, on_first, on_second, on_second);
    let mut stations = Vec::new();
    let mut put = |chord: &Chord,
                   from: (f64, f64, f64),
                   to: (f64, f64, f64)|
     -> Result<f64, UnionJackError> {
        let mut middle = 0.0;
        for (share, off) in chord.shares() {
            let along = |a: f64, b: f64| a + (b - a) * share;
            let height = along(from.2, to.2) + off;
            if (share - 0.5).abs() < 1e-9 {
                middle = height;
            }
            stations.push(Point {
                x: Length::from_si(along(from.0, to.0))?,
                y: Length::from_si(along(from.1, to.1))?,
                z: Length::from_si(height)?,
            });
        }
        Ok(middle)
    };
    let corner = |x: f64, y: f64, z: f64| (x, y, z);
    let (nw_at, ne_at) = (corner(-1.0, 1.0, nw), corner(1.0, 1.0, ne));
    let (se_at, sw_at) = (corner(1.0, -1.0, se), corner(-1.0, -1.0, sw));
    put(&first, nw_at, se_at)?;
    put(&second, ne_at, sw_at)?;
    let north = put(&Chord::of(Leg::NeNw, &lines.ne_nw)?, ne_at, nw_at)?;
    let south = put(&Chord::of(Leg::SeSw, &lines.se_sw)?, se_at, sw_at)?;
    let east = put(&Chord::of(Leg::NeSe, &lines.ne_se)?, ne_at, se_at)?;
    let west = put(&Chord::of(Leg::NwSw, &lines.nw_sw)?, nw_at, sw_at)?;
    let east_west = put(
        &Chord::of(Leg::EW, &lines.e_w)?,
        corner(1.0, 0.0, east),
        corner(-1.0, 0.0, west),
    )?;
    let north_south = put(
        &Chord::of(Leg::NS, &lines.n_s)?,
        corner(0.0, 1.0, north),
        corner(0.0, -1.0, south),
    )?;
    let high = stations
        .iter()
        .map(|at| at.z.si())
        .fold(f64::NEG_INFINITY, f64::max);
    let low = stations
        .iter()
        .map(|at| at.z.si())
        .fold(f64::INFINITY, f64::min);
    Ok(UnionJack {
        stations,
        corners: [
            Length::from_si(nw)?,
            Length::from_si(ne)?,
            Length::from_si(se)?,
            Length::from_si(sw)?,
        ],
        base_zone: Length::from_si(high - low)?,
        closure_east_west: Length::from_si(east_west)?,
        closure_north_south: Length::from_si(north_south)?,
    })
}

/// Deviations of a line from the chord through its ends, metres.
struct Chord {
    off: Vec<f64>,
}

impl Chord {
    fn of(line: Leg, heights: &[Length]) -> Result<Self, UnionJackError> {
        if heights.len() < 3 || heights.len().is_multiple_of(2) {
            return Err(UnionJackError::NoMiddle {
                line,
                count: heights.len(),
            });
        }
        let (first, last) = (heights[0].si(), heights[heights.len() - 1].si());
        let shares = shares(heights.len());
        let off = heights
            .iter()
            .zip(shares)
            .map(|(height, share)| height.si() - first - (last - first) * share)
            .collect();
        Ok(Self { off })
    }

    fn middle(&self) -> f64 {
        self.off[self.off.len() / 2]
    }

    fn shares(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        shares(self.off.len())
            .into_iter()
            .zip(self.off.iter().copied())
    }
}

/// Evenly spaced shares from 0 to 1.
fn shares(count: usize) -> Vec<f64> {
    let steps = (1..count).map(|_| 1.0).sum::<f64>();
    let mut at = 0.0;
    (0..count)
        .map(|_| {
            let share = at / steps;
            at += 1.0;
            share
        })
        .collect()
}

#[cfg(test)]
mod tests;
