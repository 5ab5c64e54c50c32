//! The shape of a face that is not flat: dished or crowned along and across, twisted.
//!
//! How far out the face is stands in [`crate::flatness`]; this module only tells in which way.

use nalgebra::{Matrix6, Vector6};
use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

use crate::flatness::Point;

/// Smallest singular value against the largest below which two shapes look the same from
/// these places.
const TELLS_APART: f64 = 1e-9;

/// Why the shape of a face cannot be told.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum FormError {
    /// Too few places, or places at which two shapes look alike.
    #[error(
        "{places} places do not tell a bow from a twist; measure corners, mid-edges and the middle"
    )]
    NotToldApart {
        /// How many there are.
        places: usize,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The shape of a face over the rectangle of its places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form {
    /// How far the middle lies below the line between the ends of the length; negative where
    /// it stands above.
    pub dish_along: Length,
    /// The same across the face.
    pub dish_across: Length,
    /// How far the corners near the origin and far from it stand above the mean of the four;
    /// negative where the other two do.
    pub twist: Length,
}

/// Works out which bow and twist come nearest to a face.
///
/// # Formula
/// z ≈ c₀ + c₁·u + c₂·v + c₃·u² + c₄·v² + c₅·u·v by least squares, u and v from −1 to 1 over
/// the places; dish = c₃ and c₄, twist = c₅
/// # Units
/// Lengths in and out.
/// # Range
/// Six places and more, three along and three across. A ripple shorter than the face is no
/// bow and leaves little here.
/// # Source
/// Least squares, second order surface. *Common practice, no source.*
/// # Errors
/// [`FormError::NotToldApart`] where the places cannot show the difference.
/// # Example
/// ```
/// use calc::flatness::Point;
/// use quantity::Length;
/// let mut places = Vec::new();
/// for (x, z) in [(0.0, 0.04), (200.0, 0.0), (400.0, 0.04)] {
///     for y in [0.0, 75.0, 150.0] {
///         places.push(Point { x: Length::mm(x)?, y: Length::mm(y)?, z: Length::mm(z)? });
///     }
/// }
/// let form = calc::form::form(&places)?;
/// assert!((form.dish_along.in_mm() - 0.04).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn form(points: &[Point]) -> Result<Form, FormError> {
    let blind = FormError::NotToldApart {
        places: points.len(),
    };
    let (Some(along), Some(across)) = (
        Span::over(points.iter().map(|point| point.x.si())),
        Span::over(points.iter().map(|point| point.y.si())),
    ) else {
        return Err(blind);
    };
    let (mut normal, mut right) = (Matrix6::zeros(), Vector6::zeros());
    // About the first reading, so that micrometres keep their digits in machine axes.
    let base = points[0].z.si();
    for point in points {
        let (u, v) = (along.unit(point.x.si()), across.unit(point.y.si()));
        let column = Vector6::from([1.0, u, v, u * u, v * v, u * v]);
        normal += column * column.transpose();
        right += column * (point.z.si() - base);
    }
    let parts = normal.svd(true, true);
    let (most, least) = (parts.singular_values.max(), parts.singular_values.min());
    if least <= most * TELLS_APART {
        return Err(blind);
    }
    let shape = parts.solve(&right, 0.0).map_err(|_| blind)?;
    Ok(Form {
        dish_along: Length::from_si(shape[3])?,
        dish_across: Length::from_si(shape[4])?,
        twist: Length::from_si(shape[5])?,
    })
}

/// The places of one direction, from end to end.
struct Span {
    middle: f64,
    half: f64,
}

impl Span {
    /// Nothing where all places are one.
    fn over(places: impl Iterator<Item = f64> + Clone) -> Option<Self> {
        let high = places.clone().fold(f64::NEG_INFINITY, f64::max);
        let low = places.fold(f64::INFINITY, f64::min);
        (high > low).then(|| Self {
            middle: low / 2.0 + high / 2.0,
            half: high / 2.0 - low / 2.0,
        })
    }

    fn unit(&self, place: f64) -> f64 {
        (place - self.middle) / self.half
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(z_um: impl Fn(f64, f64) -> f64) -> Vec<Point> {
        let mut places = Vec::new();
        for u in [-1.0, -0.5, 0.0, 0.5, 1.0] {
            for v in [-1.0, 0.0, 1.0] {
                places.push(Point {
                    x: Length::mm(210.0 + 210.0 * u).unwrap(),
                    y: Length::mm(75.0 + 75.0 * v).unwrap(),
                    z: Length::micrometres(z_um(u, v)).unwrap(),
                });
            }
        }
        places
    }

    /// Source: the surface itself, with the tilt of a set-up on it. *Computed: geometry.*
    #[test]
    fn a_crown_a_dish_and_a_twist_are_told_apart_whatever_the_tilt() {
        let form = form(&face(|u, v| {
            300.0 + 80.0 * u - 20.0 * v - 40.0 * u * u + 10.0 * v * v + 25.0 * u * v
        }))
        .unwrap();
        assert!((form.dish_along.in_micrometres() + 40.0).abs() < 1e-6);
        assert!((form.dish_across.in_micrometres() - 10.0).abs() < 1e-6);
        assert!((form.twist.in_micrometres() - 25.0).abs() < 1e-6);
    }

    #[test]
    fn four_corners_cannot_tell_a_bow_from_no_bow() {
        let corners: Vec<Point> = face(|u, v| u * v)
            .into_iter()
            .filter(|place| {
                [0.0, 420.0].contains(&place.x.in_mm()) && [0.0, 150.0].contains(&place.y.in_mm())
            })
            .collect();
        assert_eq!(corners.len(), 4);
        assert_eq!(form(&corners), Err(FormError::NotToldApart { places: 4 }));
        assert_eq!(form(&[]), Err(FormError::NotToldApart { places: 0 }));
    }
}
