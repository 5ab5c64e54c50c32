//! Flatness of a face from heights at places: minimum zone, least squares, range.
//!
//! No limits and no uncertainty here. How a grid comes out of straightedge lines or tilt
//! steps is [`crate::survey`]'s business.

use nalgebra::{Matrix3, Rotation3, Vector3};
use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

use crate::zone::{Contact, Row, ZoneError, narrowest};

/// Slopes below this make vertical and square-on widths the same to one part in 10⁶.
const LEVEL: f64 = 1e-3;
/// Times the face may be turned until it lies level in its own frame.
const MOST_TURNS: usize = 8;

/// Why a face has no flatness.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum FlatnessError {
    /// Too few points.
    #[error("{count} points are too few for a face; {least} are needed")]
    TooFew {
        /// How many there are.
        count: usize,
        /// How many it takes.
        least: usize,
    },
    /// All points lie in one line when seen from above.
    #[error("all points lie in one line; that is a straightness, not a flatness")]
    OneLine,
    /// The method did not settle.
    #[error("the face could not be levelled: {0}")]
    Unsettled(ZoneError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

impl From<ZoneError> for FlatnessError {
    fn from(fault: ZoneError) -> Self {
        match fault {
            ZoneError::TooFew { count, least } => Self::TooFew { count, least },
            ZoneError::Degenerate { .. } => Self::OneLine,
            ZoneError::NotFinite { .. } | ZoneError::NoProof { .. } => Self::Unsettled(fault),
        }
    }
}

/// A height at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Along the face.
    pub x: Length,
    /// Across the face.
    pub y: Length,
    /// Height above any plane whatever.
    pub z: Length,
}

/// A plane z = a·x + b·y + c.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Rise per distance along.
    pub along: f64,
    /// Rise per distance across.
    pub across: f64,
    /// Height where x and y are zero.
    pub height: Length,
}

impl Plane {
    /// How far a point stands above the plane, straight up, in metres.
    fn below_m(&self, point: &Point) -> f64 {
        point.z.si() - self.along * point.x.si() - self.across * point.y.si() - self.height.si()
    }
}

/// How flat a face is.
#[derive(Clone, Debug, PartialEq)]
pub struct Flatness {
    /// Separation of the two closest parallel planes that hold every point (ISO 1101).
    pub minimum_zone: Length,
    /// Peak to valley about the least-squares plane; never less than the minimum zone.
    pub least_squares: Length,
    /// The minimum zone measured straight up in the axes of the readings.
    pub vertical: Length,
    /// Peak to valley about the least-squares plane, straight up.
    pub vertical_least_squares: Length,
    /// Highest less lowest reading as they stand, tilt and all.
    pub range: Length,
    /// The plane in the middle of the minimum zone. Often not the only one; only the width is.
    pub plane: Plane,
    /// The least-squares plane.
    pub mean_plane: Plane,
    /// The points that hold the zone apart, with their weights in the proof.
    pub contacts: Vec<Contact>,
}

/// Works out how flat a face is.
///
/// # Formula
/// W = min over a, b, c of (max − min) of zᵢ − (a·xᵢ + b·yᵢ + c); square-on F = W/√(1 + a² + b²).
/// A face that lies steep in the axes of the readings is turned level first.
/// # Units
/// Lengths in and out.
/// # Range
/// Three points and more, not in one line. Exact: [`crate::zone`] proves the width.
/// # Source
/// ISO 1101 and ISO 12781-1 (2011), minimum zone and least squares reference planes; from
/// secondary texts. *Published.*
/// # Errors
/// [`FlatnessError`] names what the points lack.
/// # Example
/// ```
/// use calc::flatness::{Point, flatness};
/// use quantity::Length;
/// let at = |x, y, z| Ok::<_, quantity::NotFinite>(Point { x: Length::mm(x)?, y: Length::mm(y)?, z: Length::mm(z)? });
/// let saddle = [at(0., 0., 0.04)?, at(400., 150., 0.04)?, at(0., 150., -0.04)?, at(400., 0., -0.04)?];
/// assert!((flatness(&saddle)?.minimum_zone.in_mm() - 0.08).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn flatness(points: &[Point]) -> Result<Flatness, FlatnessError> {
    let first = Levelled::of(points)?;
    let range = spread(points.iter().map(|point| point.z.si()));
    let (zone, squares) = if first.steepness() > LEVEL {
        turned(points, &first)?
    } else {
        let lean = libm::hypot(1.0, first.steepness());
        (first.zone_m / lean, first.squares_m / lean)
    };
    Ok(Flatness {
        minimum_zone: Length::from_si(zone)?,
        least_squares: Length::from_si(squares.max(zone))?,
        vertical: Length::from_si(first.zone_m)?,
        vertical_least_squares: Length::from_si(first.squares_m)?,
        range: Length::from_si(range)?,
        plane: first.plane,
        mean_plane: first.mean_plane,
        contacts: first.contacts,
    })
}

/// Heights above the lowest point, square to the minimum-zone plane: what a contour map shows.
///
/// # Formula
/// (zᵢ − a·xᵢ − b·yᵢ − c)/√(1 + a² + b²), less the least of them
/// # Units
/// Lengths in and out, in the order of the points.
/// # Range
/// Any plane.
/// # Source
/// Distance of a point from a plane; ISO 12781-1 takes it square to the plane. *Published.*
/// # Errors
/// [`FlatnessError::NotFinite`] for heights beyond all faces.
pub fn above_lowest(points: &[Point], plane: &Plane) -> Result<Vec<Length>, FlatnessError> {
    let lean = (1.0 + plane.along * plane.along + plane.across * plane.across).sqrt();
    let heights: Vec<f64> = points
        .iter()
        .map(|point| plane.below_m(point) / lean)
        .collect();
    let lowest = heights.iter().copied().fold(f64::INFINITY, f64::min);
    heights
        .into_iter()
        .map(|height| Ok(Length::from_si(height - lowest)?))
        .collect()
}

/// A face in one frame.
struct Levelled {
    zone_m: f64,
    squares_m: f64,
    plane: Plane,
    mean_plane: Plane,
    contacts: Vec<Contact>,
}

impl Levelled {
    fn of(points: &[Point]) -> Result<Self, FlatnessError> {
        if points.len() < 3 {
            return Err(FlatnessError::TooFew {
                count: points.len(),
                least: 3,
            });
        }
        let frame = Frame::of(points)?;
        let mean = frame.least_squares(points)?;
        let off = |point: &Point| {
            point.z.si() - frame.z - mean[2] - mean[0] * frame.u(point) - mean[1] * frame.v(point)
        };
        let size = points
            .iter()
            .map(|point| off(point).abs())
            .fold(0.0, f64::max);
        let squares_m = spread(points.iter().map(off));
        let mean_plane = frame.plane(mean[0], mean[1], frame.z + mean[2])?;
        if size == 0.0 {
            return Ok(Self {
                zone_m: 0.0,
                squares_m,
                plane: mean_plane,
                mean_plane,
                contacts: Vec::new(),
            });
        }
        // Heights are taken about the least-squares plane and scaled to one, places too: the
        // width does not change (it is affine-invariant in plan) and digits are not lost.
        let rows: Vec<Row<3>> = points
            .iter()
            .map(|point| Row {
                columns: [frame.u(point), frame.v(point), 1.0],
                height: off(point) / size,
            })
            .collect();
        let band = narrowest(&rows)?;
        let plane = frame.plane(
            mean[0] + size * band.form[0],
            mean[1] + size * band.form[1],
            frame.z + mean[2] + size * band.form[2],
        )?;
        Ok(Self {
            zone_m: 2.0 * band.half * size,
            squares_m,
            plane,
            mean_plane,
            contacts: band.contacts,
        })
    }

    fn steepness(&self) -> f64 {
        libm::hypot(self.plane.along, self.plane.across)
    }
}

/// Turns a steep face until its plane lies level, and gives zone and least-squares spread there.
fn turned(points: &[Point], first: &Levelled) -> Result<(f64, f64), FlatnessError> {
    let mut held: Vec<Point> = points.to_vec();
    let mut plane = first.plane;
    for _ in 0..MOST_TURNS {
        let turn = level(&plane);
        for point in &mut held {
            let at = turn * Vector3::new(point.x.si(), point.y.si(), point.z.si());
            *point = Point {
                x: Length::from_si(at.x)?,
                y: Length::from_si(at.y)?,
                z: Length::from_si(at.z)?,
            };
        }
        let seen = Levelled::of(&held)?;
        // Straight up and square-on now differ by half the square of the slope.
        if seen.steepness() < 1e-6 {
            return Ok((seen.zone_m, seen.squares_m));
        }
        plane = seen.plane;
    }
    Err(FlatnessError::Unsettled(ZoneError::NoProof {
        exchanges: MOST_TURNS,
    }))
}

fn level(plane: &Plane) -> Matrix3<f64> {
    let normal = Vector3::new(-plane.along, -plane.across, 1.0);
    Rotation3::rotation_between(&normal, &Vector3::z())
        .map_or_else(Matrix3::identity, Rotation3::into_inner)
}

/// Centre and half spans of a face, so that all numbers are of about one size.
struct Frame {
    x: f64,
    y: f64,
    z: f64,
    half_x: f64,
    half_y: f64,
}

impl Frame {
    fn of(points: &[Point]) -> Result<Self, FlatnessError> {
        let middle = |values: &dyn Fn(&Point) -> f64| {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for point in points {
                let value = values(point);
                low = low.min(value);
                high = high.max(value);
            }
            (low + (high - low) / 2.0, (high - low) / 2.0)
        };
        let (x, half_x) = middle(&|point| point.x.si());
        let (y, half_y) = middle(&|point| point.y.si());
        let (z, _) = middle(&|point| point.z.si());
        if half_x <= 0.0 || half_y <= 0.0 {
            return Err(FlatnessError::OneLine);
        }
        Ok(Self {
            x,
            y,
            z,
            half_x,
            half_y,
        })
    }

    fn u(&self, point: &Point) -> f64 {
        (point.x.si() - self.x) / self.half_x
    }

    fn v(&self, point: &Point) -> f64 {
        (point.y.si() - self.y) / self.half_y
    }

    /// Slopes and height of the least-squares plane in the frame.
    fn least_squares(&self, points: &[Point]) -> Result<[f64; 3], FlatnessError> {
        let count = points.iter().map(|_| 1.0).sum::<f64>();
        let mean = |value: &dyn Fn(&Point) -> f64| points.iter().map(value).sum::<f64>() / count;
        let (mu, mv) = (mean(&|point| self.u(point)), mean(&|point| self.v(point)));
        let mz = mean(&|point| point.z.si() - self.z);
        let (mut uu, mut uv, mut vv, mut uz, mut vz) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for point in points {
            // Centred before they are multiplied: the sums of squares keep their digits.
            let (u, v) = (self.u(point) - mu, self.v(point) - mv);
            let z = point.z.si() - self.z - mz;
            uu += u * u;
            uv += u * v;
            vv += v * v;
            uz += u * z;
            vz += v * z;
        }
        let spread = uu * vv - uv * uv;
        if spread <= 1e-14 * uu * vv {
            return Err(FlatnessError::OneLine);
        }
        let (per_u, per_v) = ((uz * vv - vz * uv) / spread, (vz * uu - uz * uv) / spread);
        Ok([per_u, per_v, mz - per_u * mu - per_v * mv])
    }

    /// The plane in the axes of the readings.
    fn plane(&self, per_u: f64, per_v: f64, middle: f64) -> Result<Plane, FlatnessError> {
        let (along, across) = (per_u / self.half_x, per_v / self.half_y);
        let height = Length::from_si(middle - along * self.x - across * self.y)?;
        Ok(Plane {
            along,
            across,
            height,
        })
    }
}

/// Highest less lowest.
fn spread(values: impl Iterator<Item = f64>) -> f64 {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in values {
        low = if value < low { value } else { low };
        high = if value > high { value } else { high };
    }
    high - low
}

#[cfg(test)]
mod tests;
