//! Straightness of a line: minimum zone and least squares, and what a straightedge shows.

use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

use crate::zone::{Row, ZoneError, narrowest};

/// Why a line has no straightness.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum StraightnessError {
    /// Too few points, or all on one spot.
    #[error("a line needs two places that differ; {count} readings do not give them")]
    TooFew {
        /// How many readings there are.
        count: usize,
    },
    /// The method did not settle.
    #[error("the line could not be levelled: {0}")]
    Unsettled(ZoneError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A height along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// How far along.
    pub along: Length,
    /// Height above any straight line whatever.
    pub height: Length,
}

/// How straight a line is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straightness {
    /// Separation of the two closest parallel lines that hold every point, straight up.
    pub minimum_zone: Length,
    /// Peak to valley about the least-squares line; never less than the minimum zone.
    pub least_squares: Length,
    /// Rise per distance of the line in the middle of the zone.
    pub slope: f64,
    /// Height of that line where `along` is zero.
    pub height: Length,
}

/// Works out how straight a line is.
///
/// # Formula
/// min over a, c of (max − min) of zᵢ − (a·sᵢ + c)
/// # Units
/// Lengths in and out.
/// # Range
/// Two different places and more; slopes as on a machined face, where straight up and
/// square-on are the same.
/// # Source
/// ISO 1101, straightness in a section; from secondary texts. *Published.*
/// # Errors
/// [`StraightnessError`] names what the readings lack.
/// # Example
/// ```
/// use calc::straightness::{Station, straightness};
/// use quantity::Length;
/// let at = |s, z| Ok::<_, quantity::NotFinite>(Station { along: Length::mm(s)?, height: Length::mm(z)? });
/// let bowl = [at(0., 0.)?, at(210., -0.05)?, at(420., 0.)?];
/// assert!((straightness(&bowl)?.minimum_zone.in_mm() - 0.05).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn straightness(stations: &[Station]) -> Result<Straightness, StraightnessError> {
    let count = stations.iter().map(|_| 1.0).sum::<f64>();
    let too_few = StraightnessError::TooFew {
        count: stations.len(),
    };
    let mean = |of: &dyn Fn(&Station) -> f64| stations.iter().map(of).sum::<f64>() / count;
    if stations.len() < 2 {
        return Err(too_few);
    }
    let (ms, mz) = (mean(&|at| at.along.si()), mean(&|at| at.height.si()));
    let half = stations
        .iter()
        .map(|at| (at.along.si() - ms).abs())
        .fold(0.0, f64::max);
    if half <= 0.0 {
        return Err(too_few);
    }
    let along = |at: &Station| (at.along.si() - ms) / half;
    let squares = stations.iter().map(|at| along(at) * along(at)).sum::<f64>();
    let slope = stations
        .iter()
        .map(|at| along(at) * (at.height.si() - mz))
        .sum::<f64>()
        / squares;
    let off: Vec<f64> = stations
        .iter()
        .map(|at| at.height.si() - mz - slope * along(at))
        .collect();
    let high = off.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let low = off.iter().copied().fold(f64::INFINITY, f64::min);
    let size = high.max(-low);
    let rows: Vec<Row<2>> = stations
        .iter()
        .zip(&off)
        .map(|(at, off)| Row {
            columns: [along(at), 1.0],
            height: if size > 0.0 { off / size } else { 0.0 },
        })
        .collect();
    let band = narrowest(&rows).map_err(|fault| match fault {
        ZoneError::TooFew { .. } | ZoneError::Degenerate { .. } => too_few,
        ZoneError::NotFinite { .. } | ZoneError::NoProof { .. } => {
            StraightnessError::Unsettled(fault)
        }
    })?;
    let rise = (slope + size * band.form[0]) / half;
    Ok(Straightness {
        minimum_zone: Length::from_si(2.0 * band.half * size)?,
        least_squares: Length::from_si((high - low).max(2.0 * band.half * size))?,
        slope: rise,
        height: Length::from_si(mz + size * band.form[1] - rise * ms)?,
    })
}

/// The gaps a straightedge leaves over a line: it rests on the highest places.
///
/// # Formula
/// g(s) = hull(s) − z(s), hull the upper convex hull of the line
/// # Units
/// Stations in rising order; gaps in the same order.
/// # Range
/// A rigid edge as long as the line, laid without force.
/// # Source
/// Geometry of a rigid edge on a profile.
/// # Errors
/// [`StraightnessError::TooFew`] for fewer than two stations or places out of order.
/// # Example
/// ```
/// use calc::straightness::{Station, gaps};
/// use quantity::Length;
/// let at = |s, z| Ok::<_, quantity::NotFinite>(Station { along: Length::mm(s)?, height: Length::mm(z)? });
/// let bowl = gaps(&[at(0., 0.)?, at(210., -0.05)?, at(420., 0.)?])?;
/// assert!((bowl[1].in_mm() - 0.05).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gaps(stations: &[Station]) -> Result<Vec<Length>, StraightnessError> {
    in_order(stations)?;
    let mut hull: Vec<&Station> = Vec::new();
    for at in stations {
        while let [.., a, b] = hull.as_slice() {
            let lies_below = (b.height.si() - a.height.si()) * (at.along.si() - a.along.si())
                <= (at.height.si() - a.height.si()) * (b.along.si() - a.along.si());
            if !lies_below {
                break;
            }
            hull.pop();
        }
        hull.push(at);
    }
    let over = |at: &Station| {
        let span = hull.windows(2).find(|span| at.along <= span[1].along);
        span.map_or(0.0, |span| line_at(span[0], span[1], at) - at.height.si())
    };
    stations
        .iter()
        .map(|at| Ok(Length::from_si(over(at).max(0.0))?))
        .collect()
}

/// The gaps when the edge is pressed down on its first end: on a crown it rocks, and the far
/// end shows four times the crown.
///
/// # Formula
/// g(s) = z₀ + m·(s − s₀) − z(s), m the steepest slope from the first station to any other
/// # Units
/// Stations in rising order; gaps in the same order.
/// # Range
/// A rigid edge held down on the first station.
/// # Source
/// Tangent from the end of a parabola: 4h at the far end. *Computed: geometry.*
/// # Errors
/// As [`gaps`].
/// # Example
/// ```
/// use calc::straightness::{Station, gaps_pressed};
/// use quantity::Length;
/// let at = |s, z| Ok::<_, quantity::NotFinite>(Station { along: Length::mm(s)?, height: Length::mm(z)? });
/// let crown = gaps_pressed(&[at(0., 0.)?, at(210., 0.05)?, at(420., 0.)?])?;
/// assert!((crown[2].in_mm() - 0.10).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gaps_pressed(stations: &[Station]) -> Result<Vec<Length>, StraightnessError> {
    in_order(stations)?;
    let first = stations[0];
    let run = |at: &Station| at.along.si() - first.along.si();
    let steepest = stations[1..]
        .iter()
        .map(|at| (at.height.si() - first.height.si()) / run(at))
        .fold(f64::NEG_INFINITY, f64::max);
    stations
        .iter()
        .map(|at| {
            let gap = first.height.si() + steepest * run(at) - at.height.si();
            Ok(Length::from_si(gap.max(0.0))?)
        })
        .collect()
}

fn in_order(stations: &[Station]) -> Result<(), StraightnessError> {
    let rising = stations
        .windows(2)
        .all(|pair| pair[0].along < pair[1].along);
    if stations.len() < 2 || !rising {
        return Err(StraightnessError::TooFew {
            count: stations.len(),
        });
    }
    Ok(())
}

fn line_at(a: &Station, b: &Station, at: &Station) -> f64 {
    let share = (at.along.si() - a.along.si()) / (b.along.si() - a.along.si());
    a.height.si() + share * (b.height.si() - a.height.si())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[(f64, f64)]) -> Vec<Station> {
        points
            .iter()
            .map(|&(s, z)| Station {
                along: Length::mm(s).unwrap(),
                height: Length::mm(z).unwrap(),
            })
            .collect()
    }

    const PUBLISHED: [(f64, f64); 5] = [
        (0.0, 4.501),
        (0.2, 4.360),
        (0.4, 4.333),
        (0.6, 4.418),
        (0.8, 4.625),
    ];

    /// Source: test case distributed with ACM TOMS 495 (Barrodale & Phillips, 1975). *Public
    /// data.* The alternating residuals prove the width.
    #[test]
    fn e01_minimum_zone_of_a_published_line() {
        let seen = straightness(&line(&PUBLISHED)).unwrap();
        assert!((seen.minimum_zone.in_mm() - 0.230).abs() < 1e-6);
        assert!((seen.slope - 0.155).abs() < 1e-6);
        assert!((seen.height.in_mm() - 4.386).abs() < 1e-6);
    }

    /// Source: the same line. *Computed by a general library (numpy 2.4.6, least squares).*
    #[test]
    fn e02_least_squares_of_a_published_line() {
        let seen = straightness(&line(&PUBLISHED)).unwrap();
        assert!((seen.least_squares.in_mm() - 0.230_800).abs() < 1e-6);
    }

    /// Source: tangent at the end of z = h(1 − (2s/L)²), h 0.05. *Computed by a general library
    /// (Python 3.11 floats): geometry.*
    #[test]
    fn e12_edge_pressed_on_one_end_of_a_crown() {
        let crown: Vec<_> = (0..=420)
            .map(|s| {
                let share = 2.0 * (f64::from(s) - 210.0) / 420.0;
                (f64::from(s), 0.05 * (1.0 - share * share))
            })
            .collect();
        // The tangent touches beside the end, so the finest step of this line decides.
        let far = gaps_pressed(&line(&crown)).unwrap()[420].in_mm();
        let touching = 0.05 * 4.0 * (1.0 - 1.0 / 420.0);
        assert!((far - touching).abs() < 1e-9, "{far}");
        assert!((far / (1.0 - 1.0 / 420.0) - 0.200).abs() < 1e-9);
    }

    /// Source: the lines of the constructed head deck. *Computed by a general library (scipy
    /// 1.17.1, linear programme).*
    #[test]
    fn lines_of_the_head_deck() {
        let zone = |heights: &[f64], step: f64| {
            let points: Vec<_> = heights
                .iter()
                .enumerate()
                .map(|(at, z)| (step * at as f64, z / 1000.0))
                .collect();
            straightness(&line(&points))
                .unwrap()
                .minimum_zone
                .in_micrometres()
        };
        for (heights, width) in [
            ([0.0, 22.0, 31.0, 20.0, -4.0], 33.0),
            ([10.0, 37.0, 52.0, 41.0, 17.0], 38.5),
            ([14.0, 38.0, 46.0, 33.0, 6.0], 36.0),
        ] {
            assert!((zone(&heights, 105.0) - width).abs() < 1e-6);
        }
        assert!((zone(&[-4.0, 17.0, 6.0], 75.0) - 16.0).abs() < 1e-6);
    }

    #[test]
    fn an_edge_over_a_bowl_shows_the_bowl_and_rests_on_the_ends() {
        let seen = gaps(&line(&[
            (0.0, 0.0),
            (100.0, -0.03),
            (200.0, -0.05),
            (300.0, 0.0),
        ]))
        .unwrap();
        assert_eq!(seen[0].si(), 0.0);
        assert!((seen[2].in_mm() - 0.05).abs() < 1e-12);
        assert_eq!(seen[3].si(), 0.0);
    }

    #[test]
    fn one_place_is_no_line() {
        let twice = line(&[(1.0, 0.0), (1.0, 0.1)]);
        assert_eq!(
            straightness(&twice),
            Err(StraightnessError::TooFew { count: 2 })
        );
        assert_eq!(gaps(&twice), Err(StraightnessError::TooFew { count: 2 }));
    }
}
