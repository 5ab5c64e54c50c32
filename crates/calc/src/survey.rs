//! Heights of places from lines laid over a face: gaps under a straightedge, or heights along
//! a line of tilt steps; and what the lines laid cannot show.
//!
//! Each line has a rise and a tilt of its own, so only some sets of lines fix the face. Four
//! edges and three cross lines never show twist; both diagonals do.

use nalgebra::{DMatrix, DVector};
use quantity::{Length, NotFinite, Quantity};
use thiserror::Error;

use crate::flatness::Point;

/// Singular values below this share of the largest count as none.
const NOTHING: f64 = 1e-9;

/// Why lines give no heights.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SurveyError {
    /// No line has three readings.
    #[error("no line has three readings; a straight edge on two tells nothing")]
    Empty,
    /// The places of a line do not lie in a line.
    #[error("the places of line {line} do not lie in one line")]
    Crooked {
        /// Which line, from 0.
        line: usize,
    },
    /// Readings put in again that are not as many as were laid.
    #[error("{given} readings for lines of {wanted}")]
    Count {
        /// How many came.
        given: usize,
        /// How many the lines have.
        wanted: usize,
    },
    /// The decomposition did not settle.
    #[error("the lines could not be put together")]
    Unsettled,
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// One reading on a line: a place and the height there above the line's own straight line. A
/// gap under a straightedge is a height below it.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Places and heights, in order along the line.
    pub readings: Vec<Point>,
}

/// What the lines show.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// Heights of the places that occur, best fit of all lines; free freedoms set to nothing.
    pub heights: Vec<Point>,
    /// Freedoms of the heights that no line fixes, beyond tilt and rise of the whole face.
    pub free: usize,
    /// Whether one of them is a twist: corners up and down by turns.
    pub twist_unseen: bool,
    /// Readings beyond those needed: what lets the lines check each other.
    pub redundancy: usize,
    /// Root mean square of what the lines disagree by.
    pub disagreement: Length,
}

/// The equations of lines: which places they touch, and how each reading hangs on place, rise
/// and tilt of its line.
struct Laid<'a> {
    lines: Vec<&'a Line>,
    places: Vec<(Length, Length)>,
    matrix: DMatrix<f64>,
    heights: DVector<f64>,
}

impl<'a> Laid<'a> {
    fn of(lines: &'a [Line]) -> Result<Self, SurveyError> {
        let lines: Vec<&Line> = lines
            .iter()
            .filter(|line| line.readings.len() >= 3)
            .collect();
        if lines.is_empty() {
            return Err(SurveyError::Empty);
        }
        let mut places: Vec<(Length, Length)> = Vec::new();
        for point in lines.iter().flat_map(|line| &line.readings) {
            if !places.contains(&(point.x, point.y)) {
                places.push((point.x, point.y));
            }
        }
        let rows: usize = lines.iter().map(|line| line.readings.len()).sum();
        let mut matrix = DMatrix::<f64>::zeros(rows, places.len() + 2 * lines.len());
        let mut heights = DVector::<f64>::zeros(rows);
        let mut row = 0;
        for (at, line) in lines.iter().enumerate() {
            for (point, share) in line.readings.iter().zip(along(at, line)?) {
                let place = places
                    .iter()
                    .position(|&place| place == (point.x, point.y))
                    .unwrap_or(0);
                matrix[(row, place)] = 1.0;
                matrix[(row, places.len() + 2 * at)] = -1.0;
                matrix[(row, places.len() + 2 * at + 1)] = -share;
                heights[row] = point.z.si();
                row += 1;
            }
        }
        Ok(Self {
            lines,
            places,
            matrix,
            heights,
        })
    }

    /// The matrix with empty rows below, so that its decomposition carries every freedom left.
    fn square(&self) -> DMatrix<f64> {
        let rows = self.matrix.nrows().max(self.matrix.ncols());
        self.matrix.clone().resize_vertically(rows, 0.0)
    }
}

/// Puts lines together by least squares.
///
/// # Formula
/// hᵢ = z(place) − α_line − β_line·sᵢ; unknown z, α, β by least squares of least size; freedoms
/// left = unknowns − rank − 3
/// # Units
/// Lengths in and out.
/// # Range
/// Places are the same where x and y are the same numbers.
/// # Source
/// Least-squares adjustment of lines; rank of its matrix. Checked against numpy 2.4.6.
/// # Errors
/// [`SurveyError`] names the line.
pub fn survey(lines: &[Line]) -> Result<Survey, SurveyError> {
    let laid = Laid::of(lines)?;
    let (rows, unknowns) = laid.matrix.shape();
    let square = laid.square();
    let right = laid.heights.clone().resize_vertically(square.nrows(), 0.0);
    let parts = square.svd(true, true);
    let least = NOTHING * parts.singular_values.max();
    let rank = parts.rank(least);
    let found = parts
        .solve(&right, least)
        .map_err(|_| SurveyError::Unsettled)?;
    let off = &laid.matrix * &found - &laid.heights;
    let free = (unknowns - rank).saturating_sub(3);
    let rows_count = laid.heights.iter().map(|_| 1.0).sum::<f64>();
    Ok(Survey {
        heights: points(&laid.places, found.iter().copied())?,
        free,
        twist_unseen: free > 0
            && twist_is_free(&laid.matrix, &laid.places, laid.lines.len(), least),
        redundancy: rows - rank,
        disagreement: Length::from_si((off.norm_squared() / rows_count).sqrt())?,
    })
}

/// Lines over fixed places whose readings are put in anew, again and again: the decomposition
/// is made once.
#[derive(Clone, Debug)]
pub struct Again {
    places: Vec<(Length, Length)>,
    inverse: DMatrix<f64>,
    readings: usize,
}

impl Again {
    /// Prepares lines.
    ///
    /// # Errors
    /// [`SurveyError`] names the line.
    pub fn of(lines: &[Line]) -> Result<Self, SurveyError> {
        let laid = Laid::of(lines)?;
        let readings = laid.heights.len();
        let parts = laid.square().svd(true, true);
        let least = NOTHING * parts.singular_values.max();
        let inverse = parts
            .pseudo_inverse(least)
            .map_err(|_| SurveyError::Unsettled)?;
        let inverse = inverse
            .view((0, 0), (laid.places.len(), readings))
            .into_owned();
        Ok(Self {
            places: laid.places,
            inverse,
            readings,
        })
    }

    /// Heights of the places for other readings, in the order of the lines with three readings
    /// and more.
    ///
    /// # Errors
    /// [`SurveyError::Count`] for another number of readings.
    pub fn heights(&self, readings: &[Length]) -> Result<Vec<Point>, SurveyError> {
        if readings.len() != self.readings {
            return Err(SurveyError::Count {
                given: readings.len(),
                wanted: self.readings,
            });
        }
        let readings = DVector::from_iterator(readings.len(), readings.iter().map(|at| at.si()));
        let found = &self.inverse * readings;
        points(&self.places, found.iter().copied())
    }
}

fn points(
    places: &[(Length, Length)],
    heights: impl Iterator<Item = f64>,
) -> Result<Vec<Point>, SurveyError> {
    places
        .iter()
        .zip(heights)
        .map(|(&(x, y), z)| {
            Ok(Point {
                x,
                y,
                z: Length::from_si(z)?,
            })
        })
        .collect()
}

/// How far along its line each reading lies, −1 to 1.
fn along(at: usize, line: &Line) -> Result<Vec<f64>, SurveyError> {
    let (first, last) = (&line.readings[0], &line.readings[line.readings.len() - 1]);
    let (dx, dy) = (last.x.si() - first.x.si(), last.y.si() - first.y.si());
    let square = dx * dx + dy * dy;
    if square <= 0.0 {
        return Err(SurveyError::Crooked { line: at });
    }
    line.readings
        .iter()
        .map(|point| {
            let (px, py) = (point.x.si() - first.x.si(), point.y.si() - first.y.si());
            // A tenth of a per cent of the length is a pencil line's width.
            if (px * dy - py * dx).abs() > 1e-3 * square {
                return Err(SurveyError::Crooked { line: at });
            }
            Ok(2.0 * (px * dx + py * dy) / square - 1.0)
        })
        .collect()
}

/// Whether a pure twist of the face can be taken up by the lines' own rises and tilts, so that
/// no reading changes.
fn twist_is_free(
    matrix: &DMatrix<f64>,
    places: &[(Length, Length)],
    lines: usize,
    least: f64,
) -> bool {
    let middle = |of: fn(&(Length, Length)) -> Length| {
        let values: Vec<f64> = places.iter().map(|place| of(place).si()).collect();
        let low = values.iter().copied().fold(f64::INFINITY, f64::min);
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (
            low + (high - low) / 2.0,
            ((high - low) / 2.0).max(f64::MIN_POSITIVE),
        )
    };
    let ((x, half_x), (y, half_y)) = (middle(|place| place.0), middle(|place| place.1));
    let twist = DVector::from_iterator(
        places.len(),
        places
            .iter()
            .map(|&(px, py)| (px.si() - x) / half_x * ((py.si() - y) / half_y)),
    );
    let change = matrix.columns(0, places.len()) * &twist;
    let own = matrix.columns(places.len(), 2 * lines).into_owned();
    let Ok(taken) = own.clone().svd(true, true).solve(&change, least.max(1e-12)) else {
        return false;
    };
    (own * taken - &change).norm() < 1e-6 * twist.norm()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flatness::flatness;

    /// Three by three places; heights in micrometres.
    const DECK: [[f64; 3]; 3] = [[0.0, 31.0, -4.0], [10.0, 52.0, 17.0], [14.0, 46.0, 6.0]];

    fn node(row: usize, column: usize, z: f64) -> Point {
        Point {
            x: Length::mm(210.0 * column as f64).unwrap(),
            y: Length::mm(75.0 * row as f64).unwrap(),
            z: Length::micrometres(z).unwrap(),
        }
    }

    fn line(nodes: [(usize, usize); 3]) -> Line {
        // Each line with a rise and tilt of its own, as a straightedge has.
        let own = |at: usize| 3.0 + 2.0 * at as f64;
        Line {
            readings: nodes
                .iter()
                .enumerate()
                .map(|(at, &(row, column))| node(row, column, DECK[row][column] + own(at)))
                .collect(),
        }
    }

    fn long() -> Vec<Line> {
        (0..3)
            .map(|row| line([(row, 0), (row, 1), (row, 2)]))
            .collect()
    }

    fn cross() -> Vec<Line> {
        (0..3)
            .map(|column| line([(0, column), (1, column), (2, column)]))
            .collect()
    }

    fn diagonals() -> Vec<Line> {
        vec![
            line([(0, 0), (1, 1), (2, 2)]),
            line([(0, 2), (1, 1), (2, 0)]),
        ]
    }

    fn edges() -> Vec<Line> {
        let (long, cross) = (long(), cross());
        vec![
            long[0].clone(),
            long[2].clone(),
            cross[0].clone(),
            cross[2].clone(),
        ]
    }

    /// Source: rank of the matrix of three long and three cross lines. *Computed by a general
    /// library (numpy 2.4.6).*
    #[test]
    fn e13_three_and_three_never_show_twist() {
        let seen = survey(&[long(), cross()].concat()).unwrap();
        assert_eq!(
            (seen.free, seen.twist_unseen, seen.redundancy),
            (1, true, 1)
        );
    }

    /// Source: rank of the matrix of four edges and both diagonals. *Computed by a general
    /// library (numpy 2.4.6).*
    #[test]
    fn e14_edges_and_both_diagonals_show_all() {
        let seen = survey(&[edges(), diagonals()].concat()).unwrap();
        assert_eq!(
            (seen.free, seen.twist_unseen, seen.redundancy),
            (0, false, 0)
        );
    }

    /// Source: the other rows of the same table. *Computed by a general library (numpy 2.4.6).*
    #[test]
    fn other_sets_of_lines() {
        let free = |lines: Vec<Line>| {
            survey(&lines)
                .map(|seen| (seen.free, seen.redundancy))
                .unwrap()
        };
        assert_eq!(free(edges()), (1, 0));
        assert_eq!(free(vec![long()[0].clone(), long()[2].clone()]), (1, 0));
        assert_eq!(free([edges(), diagonals()[..1].to_vec()].concat()), (1, 0));
        assert_eq!(free([long(), cross(), diagonals()].concat()), (0, 2));
    }

    #[test]
    fn eight_lines_give_back_the_face() {
        let seen = survey(&[long(), cross(), diagonals()].concat()).unwrap();
        assert!(seen.disagreement.in_micrometres() < 1e-9);
        let zone = flatness(&seen.heights)
            .unwrap()
            .minimum_zone
            .in_micrometres();
        let nodes: Vec<Point> = (0..9)
            .map(|at| node(at / 3, at % 3, DECK[at / 3][at % 3]))
            .collect();
        let direct = flatness(&nodes).unwrap().minimum_zone.in_micrometres();
        assert!((zone - direct).abs() < 1e-6, "{zone} is not {direct}");
    }

    /// Readings put in again give what a survey of its own gives.
    #[test]
    fn the_same_readings_again_give_the_same_face() {
        let lines = [long(), cross(), diagonals()].concat();
        let readings: Vec<Length> = lines
            .iter()
            .flat_map(|line| line.readings.iter().map(|point| point.z))
            .collect();
        let again = Again::of(&lines).unwrap().heights(&readings).unwrap();
        for (one, other) in again.iter().zip(survey(&lines).unwrap().heights) {
            assert!((one.z - other.z).in_micrometres().abs() < 1e-6);
        }
        assert!(Again::of(&lines).unwrap().heights(&readings[1..]).is_err());
    }

    #[test]
    fn crooked_and_empty_lines_are_named() {
        let crooked = line([(0, 0), (1, 1), (0, 2)]);
        assert!(matches!(
            survey(&[crooked]),
            Err(SurveyError::Crooked { line: 0 })
        ));
        assert_eq!(survey(&[]), Err(SurveyError::Empty));
    }
}
