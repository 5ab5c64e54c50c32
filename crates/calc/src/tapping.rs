//! From taps on a square-on photo to places on the face it shows: two taps a known distance
//! apart give the scale and the direction.
//!
//! The photo must be square-on: a slanted one has another scale at its far edge, and two taps
//! cannot show it. A third known distance can; [`Tapping::distance`] is there to compare it.

use libm::{cos, hypot, sin, sqrt};
use quantity::{Angle, Length, NotFinite, Quantity};
use thiserror::Error;

use crate::pattern::Position;

/// Closest two taps may be, in pixels. Below it a finger's slip turns the whole face.
pub const CLOSEST_TAPS: f64 = 20.0;

/// Why taps give no scale.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TappingError {
    /// The two taps are too close together, or one and the same.
    #[error("the two taps are {pixels:.1} pixels apart; at least {CLOSEST_TAPS} are needed")]
    TooClose {
        /// How far apart they are, pixels.
        pixels: f64,
    },
    /// The known distance is not above zero.
    #[error("a distance of {mm} mm is not above zero")]
    NoDistance {
        /// The distance, millimetres.
        mm: f64,
    },
    /// A tap or a result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A place on a photo in pixels, from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tap {
    /// To the right.
    pub right: f64,
    /// Down.
    pub down: f64,
}

/// Which side of the face the photo was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// From the side the positions are wanted for.
    Same,
    /// From the other side: a gasket face seen for a joint that is looked at from its bolt
    /// heads. Left and right change places.
    Other,
}

/// The scale, direction and origin of a photo of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tapping {
    first: Tap,
    /// Where the second tap lies on the face, metres from the first.
    second: (f64, f64),
    /// Metres to the right and up on the face, for one pixel to the right.
    along: (f64, f64),
    /// −1 where left and right change places.
    hand: f64,
}

impl Tapping {
    /// Scale and direction from two taps.
    ///
    /// # Formula
    /// With z = right − i·down in pixels: w = a·(z − z₁), a = d·e^(iθ) / (z₂ − z₁); a similarity,
    /// which keeps angles. From the other side, z is mirrored first: −right − i·down.
    /// # Units
    /// Taps in pixels, `distance` between them on the face. `direction` of the second tap seen
    /// from the first, anticlockwise from *to the right*.
    /// # Range
    /// A square-on photo, without a wide lens's bend.
    /// # Source
    /// Plane geometry: the similarity through two pairs of points.
    /// # Errors
    /// [`TappingError::TooClose`], [`TappingError::NoDistance`], and for numbers that are not
    /// finite.
    /// # Example
    /// ```
    /// use calc::tapping::{Side, Tap, Tapping};
    /// use quantity::{Angle, Length};
    /// let at = |right, down| Tap { right, down };
    /// // Hole A at 100, 400 and hole B 200 pixels right of it; they are 50 mm apart.
    /// let photo = Tapping::new(
    ///     (at(100.0, 400.0), at(300.0, 400.0)),
    ///     Length::mm(50.0)?,
    ///     Angle::degrees(0.0)?,
    ///     Side::Same,
    /// )?;
    /// // A hole 80 pixels higher, half way between them.
    /// let hole = photo.place(at(200.0, 320.0))?;
    /// assert!((hole.x.in_mm() - 25.0).abs() < 1e-9);
    /// assert!((hole.y.in_mm() - 20.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(
        (first, second): (Tap, Tap),
        distance: Length,
        direction: Angle,
        side: Side,
    ) -> Result<Self, TappingError> {
        if distance.si() <= 0.0 {
            return Err(TappingError::NoDistance {
                mm: distance.in_mm(),
            });
        }
        let hand = match side {
            Side::Same => 1.0,
            Side::Other => -1.0,
        };
        // A mirrored photo is read as if it had been turned over about its upright.
        let (right, up) = (
            hand * (second.right - first.right),
            first.down - second.down,
        );
        let pixels = hypot(right, up);
        Length::from_si(pixels)?;
        if pixels < CLOSEST_TAPS {
            return Err(TappingError::TooClose { pixels });
        }
        // a = d·e^(iθ) / (right + i·up), the quotient made by the conjugate.
        let (x, y) = (cos(direction.si()), sin(direction.si()));
        let scale = distance.si() / (pixels * pixels);
        let along = (scale * (x * right + y * up), scale * (y * right - x * up));
        Ok(Self {
            first,
            second: (distance.si() * x, distance.si() * y),
            along,
            hand,
        })
    }

    /// How much of the face one pixel shows.
    ///
    /// # Formula
    /// |a| = d / |z₂ − z₁|
    /// # Units
    /// Length on the face.
    /// # Range
    /// As [`Tapping::new`].
    /// # Source
    /// Plane geometry.
    /// # Errors
    /// [`TappingError::NotFinite`].
    /// # Example
    /// ```
    /// use calc::tapping::{Side, Tap, Tapping};
    /// use quantity::{Angle, Length};
    /// let (one, two) = (Tap { right: 0.0, down: 0.0 }, Tap { right: 0.0, down: 200.0 });
    /// let photo = Tapping::new((one, two), Length::mm(50.0)?, Angle::degrees(-90.0)?, Side::Same)?;
    /// assert!((photo.pixel()?.in_mm() - 0.25).abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn pixel(&self) -> Result<Length, TappingError> {
        Ok(Length::from_si(hypot(self.along.0, self.along.1))?)
    }

    /// Where a tap lies on the face, from the first of the two taps.
    ///
    /// # Formula
    /// w = a·(z − z₁)
    /// # Units
    /// Tap in pixels, place as lengths to the right and up.
    /// # Range
    /// As [`Tapping::new`].
    /// # Source
    /// Plane geometry.
    /// # Errors
    /// [`TappingError::NotFinite`].
    /// # Example
    /// See [`Tapping::new`].
    pub fn place(&self, tap: Tap) -> Result<Position, TappingError> {
        let right = self.hand * (tap.right - self.first.right);
        let up = self.first.down - tap.down;
        let (along_x, along_y) = self.along;
        Ok(Position {
            x: Length::from_si(along_x * right - along_y * up)?,
            y: Length::from_si(along_y * right + along_x * up)?,
        })
    }

    /// The distance between two taps on the face: to hold against one that was measured. Where
    /// they differ, the photo is slanted or a tap slipped.
    ///
    /// # Formula
    /// |w₂ − w₁| = |a|·|z₂ − z₁|
    /// # Units
    /// Taps in pixels, length on the face.
    /// # Range
    /// As [`Tapping::new`].
    /// # Source
    /// Plane geometry.
    /// # Errors
    /// [`TappingError::NotFinite`].
    /// # Example
    /// ```
    /// use calc::tapping::{Side, Tap, Tapping};
    /// use quantity::{Angle, Length};
    /// let at = |right, down| Tap { right, down };
    /// let two = (at(0.0, 0.0), at(100.0, 0.0));
    /// let photo = Tapping::new(two, Length::mm(50.0)?, Angle::degrees(0.0)?, Side::Same)?;
    /// assert!((photo.distance(at(0.0, 30.0), at(40.0, 0.0))?.in_mm() - 25.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn distance(&self, one: Tap, other: Tap) -> Result<Length, TappingError> {
        let pixels = hypot(one.right - other.right, one.down - other.down);
        Ok(Length::from_si(pixels * self.pixel()?.si())?)
    }

    /// How far off a place may be for the unsteadiness of the finger: its standard uncertainty.
    ///
    /// # Formula
    /// With t = (z − z₁)/(z₂ − z₁) and three independent taps of standard uncertainty u each way:
    /// u(w) = |a|·u·√(1 + |1 − t|² + |t|²), first-order terms.
    /// # Units
    /// `tap` and `unsteadiness` in pixels, length on the face, each way.
    /// # Range
    /// Small against the distance of the two taps. A place far outside them is worse than one
    /// between them.
    /// # Source
    /// JCGM 100:2008 (GUM), 5.1.2, equation (10), over the similarity of [`Tapping::new`].
    /// # Errors
    /// [`TappingError::NotFinite`].
    /// # Example
    /// ```
    /// use calc::tapping::{Side, Tap, Tapping};
    /// use quantity::{Angle, Length};
    /// let at = |right, down| Tap { right, down };
    /// let two = (at(0.0, 0.0), at(100.0, 0.0));
    /// let photo = Tapping::new(two, Length::mm(100.0)?, Angle::degrees(0.0)?, Side::Same)?;
    /// // Half way: √(1 + ¼ + ¼) of one pixel.
    /// let unsure = photo.unsure(at(50.0, 0.0), 1.0)?;
    /// assert!((unsure.in_mm() - 1.5_f64.sqrt()).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn unsure(&self, tap: Tap, unsteadiness: f64) -> Result<Length, TappingError> {
        let place = self.place(tap)?;
        let (x, y) = (place.x.si(), place.y.si());
        let (far_x, far_y) = self.second;
        let whole = far_x * far_x + far_y * far_y;
        let to_first = (x * x + y * y) / whole;
        let (dx, dy) = (far_x - x, far_y - y);
        let to_second = (dx * dx + dy * dy) / whole;
        let pixels = unsteadiness * sqrt(1.0 + to_second + to_first);
        Ok(Length::from_si(pixels * self.pixel()?.si())?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(right: f64, down: f64) -> Tap {
        Tap { right, down }
    }

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn photo(first: Tap, second: Tap, degrees: f64, side: Side) -> Tapping {
        let direction = Angle::degrees(degrees).unwrap();
        Tapping::new((first, second), mm(100.0), direction, side).unwrap()
    }

    #[track_caller]
    fn lies(photo: &Tapping, tap: Tap, x: f64, y: f64) {
        let place = photo.place(tap).unwrap();
        let off = hypot(place.x.in_mm() - x, place.y.in_mm() - y);
        assert!(off < 1e-9, "{place:?}, not {x} {y}");
    }

    /// The two taps come out where they were said to be, whichever way the photo was held and
    /// from whichever side it was taken. *Published*: the definition of the similarity.
    #[test]
    fn the_two_taps_lie_where_they_were_said_to() {
        for side in [Side::Same, Side::Other] {
            for (second, degrees) in [
                (at(210.0, 50.0), 0.0),
                (at(10.0, 250.0), 0.0),
                (at(-190.0, 50.0), 180.0),
                (at(150.0, -90.0), 37.0),
            ] {
                let photo = photo(at(10.0, 50.0), second, degrees, side);
                lies(&photo, at(10.0, 50.0), 0.0, 0.0);
                let radians = degrees.to_radians();
                lies(&photo, second, 100.0 * cos(radians), 100.0 * sin(radians));
            }
        }
    }

    /// A square of 100 mm held upside down on the photo, by hand: A lower left, B lower right,
    /// C upper right. On the photo A is upper right, B upper left, C lower left.
    #[test]
    fn a_photo_held_upside_down_is_turned() {
        let photo = photo(at(300.0, 100.0), at(100.0, 100.0), 0.0, Side::Same);
        lies(&photo, at(100.0, 300.0), 100.0, 100.0);
        lies(&photo, at(300.0, 300.0), 0.0, 100.0);
    }

    /// The same square seen from below: with A and B as before, C lies on the other side of
    /// the line between them only if the photo is mirrored.
    #[test]
    fn a_photo_from_the_other_side_is_mirrored() {
        let (a, b, c) = (at(300.0, 300.0), at(100.0, 300.0), at(100.0, 100.0));
        lies(&photo(a, b, 0.0, Side::Other), c, 100.0, 100.0);
        lies(&photo(a, b, 0.0, Side::Same), c, 100.0, -100.0);
    }

    /// What the formula says of a slip, found by making the slips one by one.
    #[test]
    fn a_slip_of_the_finger_moves_a_place_as_far_as_is_said() {
        let (first, second, tap) = (at(0.0, 0.0), at(400.0, 300.0), at(900.0, 100.0));
        let truth = photo(first, second, 10.0, Side::Same);
        let slip = 1e-3;
        let mut sum = 0.0;
        for which in 0..3 {
            let moved = |mut tap: Tap, at: usize| {
                tap.right += if at == which { slip } else { 0.0 };
                tap
            };
            let slipped = photo(moved(first, 0), moved(second, 1), 10.0, Side::Same);
            let place = slipped.place(moved(tap, 2)).unwrap();
            let was = truth.place(tap).unwrap();
            let off = libm::hypot(place.x.si() - was.x.si(), place.y.si() - was.y.si());
            sum += off * off;
        }
        let said = truth.unsure(tap, slip).unwrap().si();
        assert!(
            (sqrt(sum) / said - 1.0).abs() < 1e-4,
            "{} {said}",
            sqrt(sum)
        );
    }

    #[test]
    fn taps_that_say_nothing_are_refused() {
        let zero = Angle::degrees(0.0).unwrap();
        let new = |second: Tap, distance: f64| {
            Tapping::new((at(0.0, 0.0), second), mm(distance), zero, Side::Same)
        };
        assert!(
            matches!(new(at(3.0, 4.0), 50.0), Err(TappingError::TooClose { pixels }) if pixels == 5.0)
        );
        assert!(matches!(
            new(at(300.0, 4.0), 0.0),
            Err(TappingError::NoDistance { .. })
        ));
        assert!(matches!(
            new(at(f64::NAN, 4.0), 50.0),
            Err(TappingError::NotFinite(_))
        ));
    }
}
