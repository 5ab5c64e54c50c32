//! Orders of tightening: star and ring on a circle, inside-out on a field.
//!
//! Places are counted from 0 here and from 1 by people. An order lists places in the turn
//! they are tightened; the number painted beside a bolt may be either, so a drawing must
//! say which. The maker's order always wins over these.

use quantity::{Length, Quantity};

/// Where a bolt stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Along the joint.
    pub x: Length,
    /// Across it.
    pub y: Length,
}

/// Why there is no order.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PatternFault {
    /// Too few bolts for a pattern.
    #[error("a pattern needs at least 2 bolts; {found} given")]
    TooFew {
        /// Bolts given.
        found: usize,
    },
    /// Two bolts stand on one spot.
    #[error("bolts {first} and {second} stand on the same spot; check the positions")]
    SameSpot {
        /// Place from 1.
        first: usize,
        /// Place from 1.
        second: usize,
    },
    /// A rows-and-columns order for a number of bolts that does not fill it.
    #[error("{rows} rows of {columns} make {expected} bolts, not {found}")]
    NotAField {
        /// Rows.
        rows: usize,
        /// Bolts in a row.
        columns: usize,
        /// Their product.
        expected: usize,
        /// Bolts given.
        found: usize,
    },
}

fn at_least_two(bolts: usize) -> Result<(), PatternFault> {
    if bolts < 2 {
        return Err(PatternFault::TooFew { found: bolts });
    }
    Ok(())
}

/// Star over a ring of bolts numbered in a row round the circle.
///
/// # Formula
/// n = 4k: groups of four at quarter turns, the groups themselves spread; other even n:
/// opposite pairs, each next pair about a quarter turn on; odd n: steps of (n − 1)/2
/// # Units
/// Count; returns places from 0.
/// # Range
/// At least 2 bolts.
/// # Source
/// ASME PCC-1 practice, *from memory*; the order for 12 agrees with a published flange chart,
/// *common practice, no source*.
/// # Errors
/// [`PatternFault::TooFew`].
/// # Example
/// ```
/// use calc::pattern;
///
/// assert_eq!(pattern::star(8)?, [0, 4, 2, 6, 1, 5, 3, 7]);
/// # Ok::<(), calc::pattern::PatternFault>(())
/// ```
pub fn star(bolts: usize) -> Result<Vec<usize>, PatternFault> {
    at_least_two(bolts)?;
    if bolts % 2 == 1 {
        return Ok(odd_star(bolts));
    }
    if bolts.is_multiple_of(4) {
        let quarter = bolts / 4;
        return Ok(spread(quarter)
            .into_iter()
            .flat_map(|start| [0, 2, 1, 3].map(|turn| start + turn * quarter))
            .collect());
    }
    // Starting places step round by an even number near a quarter turn, so that every start
    // is even and its opposite odd: each bolt comes up once.
    let half = bolts / 2;
    let step = if half.div_ceil(2).is_multiple_of(2) {
        half.div_ceil(2)
    } else {
        half / 2
    };
    Ok((0..half)
        .map(|turn| turn * step % bolts)
        .flat_map(|start| [start, (start + half) % bolts])
        .collect())
}

/// Odd rings step by just under half the circle; that step shares no factor with the count.
fn odd_star(bolts: usize) -> Vec<usize> {
    let step = (bolts / 2).max(1);
    (0..bolts).map(|turn| turn * step % bolts).collect()
}

/// The order in which the groups of a star start, spread over the quarter circle.
fn spread(groups: usize) -> Vec<usize> {
    if groups % 2 == 1 {
        return odd_star(groups);
    }
    let half = groups / 2;
    (0..half).flat_map(|start| [start, start + half]).collect()
}

/// Once round the ring: the closing pass after a star.
///
/// # Formula
/// 1, 2, 3, …
/// # Units
/// Count; returns places from 0.
/// # Range
/// At least 2 bolts.
/// # Source
/// ASME PCC-1, as summarised: circular passes until no nut turns, typically two. *Published.*
/// # Errors
/// [`PatternFault::TooFew`].
/// # Example
/// ```
/// assert_eq!(calc::pattern::ring(3)?, [0, 1, 2]);
/// # Ok::<(), calc::pattern::PatternFault>(())
/// ```
pub fn ring(bolts: usize) -> Result<Vec<usize>, PatternFault> {
    at_least_two(bolts)?;
    Ok((0..bolts).collect())
}

/// Inside-out over positions: from the middle to the edges, side to side.
///
/// # Formula
/// Sorted by distance from the centroid; among bolts equally far, the one farthest from the
/// bolt just tightened comes next, then the lower place.
/// # Units
/// Positions; returns places from 0.
/// # Range
/// At least 2 bolts on different spots. Distances within 0.5 mm count as equal.
/// # Source
/// AISC FAQ 6.6.4 and RCSC Specification, commentary: from the stiffest part to the free
/// edges. *Published.* For heads from the centre outward: common practice, no source.
/// # Errors
/// [`PatternFault::TooFew`] or [`PatternFault::SameSpot`].
/// # Example
/// ```
/// use calc::pattern::{self, Position};
/// use quantity::Length;
///
/// let at = |x| Ok::<_, quantity::NotFinite>(Position { x: Length::mm(x)?, y: Length::mm(0.0)? });
/// let row = [at(0.0)?, at(50.0)?, at(100.0)?];
/// assert_eq!(pattern::inside_out(&row)?, [1, 0, 2]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn inside_out(positions: &[Position]) -> Result<Vec<usize>, PatternFault> {
    /// Typed or tapped positions are no better than this, and float noise must not decide.
    const EQUALLY_FAR: f64 = 0.000_5;
    at_least_two(positions.len())?;
    refuse_same_spot(positions)?;
    let count = u32::try_from(positions.len()).map_or(f64::MAX, f64::from);
    let mean = |of: fn(&Position) -> f64| positions.iter().map(of).sum::<f64>() / count;
    let centre = (mean(|p| p.x.si()), mean(|p| p.y.si()));
    let mut by_distance: Vec<(f64, usize)> = positions
        .iter()
        .enumerate()
        .map(|(place, p)| (libm::hypot(p.x.si() - centre.0, p.y.si() - centre.1), place))
        .collect();
    by_distance.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));

    let mut order: Vec<usize> = Vec::with_capacity(positions.len());
    let mut rest = by_distance.as_slice();
    while let Some(&(nearest, _)) = rest.first() {
        let equal = rest.partition_point(|&(distance, _)| distance - nearest <= EQUALLY_FAR);
        let (group, later) = rest.split_at(equal);
        let mut places: Vec<usize> = group.iter().map(|&(_, place)| place).collect();
        places.sort_unstable();
        while !places.is_empty() {
            let next = farthest(positions, order.last().copied(), &places);
            order.push(places.remove(next));
        }
        rest = later;
    }
    Ok(order)
}

/// Index into `places` of the one farthest from `last`; the first on ties and at the start.
fn farthest(positions: &[Position], last: Option<usize>, places: &[usize]) -> usize {
    let Some(last) = last else { return 0 };
    let from = positions[last];
    // Micrometres, so that equal distances are equal in spite of float noise.
    let away = |place: usize| {
        let to = positions[place];
        (libm::hypot(to.x.si() - from.x.si(), to.y.si() - from.y.si()) * 1e6).round()
    };
    let mut best = 0;
    for (index, &place) in places.iter().enumerate().skip(1) {
        if away(place) > away(places[best]) {
            best = index;
        }
    }
    best
}

fn refuse_same_spot(positions: &[Position]) -> Result<(), PatternFault> {
    for (second, b) in positions.iter().enumerate() {
        for (first, a) in positions[..second].iter().enumerate() {
            let apart = libm::hypot(a.x.si() - b.x.si(), a.y.si() - b.y.si());
            if apart < 1e-6 {
                return Err(PatternFault::SameSpot {
                    first: first + 1,
                    second: second + 1,
                });
            }
        }
    }
    Ok(())
}

/// Inside-out without positions: rows of equally many bolts, counted row by row from one end.
///
/// # Formula
/// [`inside_out`] on a square grid
/// # Units
/// Counts; returns places from 0.
/// # Range
/// Evenly spaced rows. Where spacing varies much, tap positions instead.
/// # Source
/// As [`inside_out`].
/// # Errors
/// [`PatternFault::TooFew`] or [`PatternFault::NotAField`].
/// # Example
/// ```
/// // Two rows of five: the middle pair first, the four corners last.
/// let order = calc::pattern::rows(2, 5, 10)?;
/// assert_eq!(&order[..2], &[2, 7]);
/// # Ok::<(), calc::pattern::PatternFault>(())
/// ```
pub fn rows(rows: usize, columns: usize, bolts: usize) -> Result<Vec<usize>, PatternFault> {
    if rows * columns != bolts {
        return Err(PatternFault::NotAField {
            rows,
            columns,
            expected: rows * columns,
            found: bolts,
        });
    }
    let step = |index: usize| {
        // A tenth of a metre: far from the tolerance that makes distances equal.
        Length::metres(0.1 * u32::try_from(index).map_or(0.0, f64::from)).ok()
    };
    let positions: Vec<Position> = (0..bolts)
        .filter_map(|place| {
            Some(Position {
                x: step(place % columns)?,
                y: step(place / columns)?,
            })
        })
        .collect();
    inside_out(&positions)
}

/// The order of loosening: the reverse, in steps as well.
///
/// # Formula
/// The order read from its end.
/// # Units
/// Places from 0.
/// # Range
/// Any order.
/// # Source
/// Common practice, no source.
/// # Errors
/// None.
/// # Example
/// ```
/// assert_eq!(calc::pattern::loosening(&[1, 0, 2]), [2, 0, 1]);
/// ```
#[must_use]
pub fn loosening(order: &[usize]) -> Vec<usize> {
    order.iter().rev().copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn from_one(order: &[usize]) -> Vec<usize> {
        order.iter().map(|place| place + 1).collect()
    }

    fn mm(x: f64, y: f64) -> Position {
        Position {
            x: Length::mm(x).unwrap(),
            y: Length::mm(y).unwrap(),
        }
    }

    /// Source: ASME PCC-1 star orders, *from memory*; 12 agrees with a published flange chart,
    /// *common practice, no source*; odd and 4k + 2 counts likewise from memory.
    #[test]
    fn stars_come_out_as_practised() {
        for (bolts, expected) in [
            (4, vec![1, 3, 2, 4]),
            (5, vec![1, 3, 5, 2, 4]),
            (6, vec![1, 4, 3, 6, 5, 2]),
            (7, vec![1, 4, 7, 3, 6, 2, 5]),
            (8, vec![1, 5, 3, 7, 2, 6, 4, 8]),
            (12, vec![1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]),
            (
                16,
                vec![1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16],
            ),
        ] {
            assert_eq!(from_one(&star(bolts).unwrap()), expected, "{bolts}");
        }
    }

    /// Source: distances 40.0 (2), 107.7 (4), 203.96 (4) mm for two rows of five at 100 by
    /// 80 mm. *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn two_rows_of_five_from_the_middle() {
        let positions: Vec<_> = (0..10_u8)
            .map(|place| mm(f64::from(place % 5) * 100.0, f64::from(place / 5) * 80.0))
            .collect();
        let order = inside_out(&positions).unwrap();
        let ring_of = |turns: std::ops::Range<usize>| {
            let mut places = from_one(&order[turns]);
            places.sort_unstable();
            places
        };
        assert_eq!(ring_of(0..2), [3, 8]);
        assert_eq!(ring_of(2..6), [2, 4, 7, 9]);
        assert_eq!(ring_of(6..10), [1, 5, 6, 10]);
        // Each pair lies across the centre: place p and place 11 - p.
        assert!(
            from_one(&order)
                .chunks(2)
                .all(|pair| pair[0] + pair[1] == 11)
        );
        assert_eq!(order, rows(2, 5, 10).unwrap());
    }

    #[test]
    fn one_row_goes_side_to_side() {
        assert_eq!(from_one(&rows(1, 5, 5).unwrap()), [3, 2, 4, 1, 5]);
    }

    #[test]
    fn what_is_no_pattern_is_refused() {
        assert_eq!(star(1), Err(PatternFault::TooFew { found: 1 }));
        assert!(rows(2, 5, 9).is_err());
        assert_eq!(
            inside_out(&[mm(0.0, 0.0), mm(1.0, 0.0), mm(0.0, 0.0)]),
            Err(PatternFault::SameSpot {
                first: 1,
                second: 3
            })
        );
    }

    fn is_permutation(order: &[usize], bolts: usize) -> bool {
        let mut sorted = order.to_vec();
        sorted.sort_unstable();
        sorted == (0..bolts).collect::<Vec<_>>()
    }

    proptest! {
        /// T-P10: every bolt once, for any count.
        #[test]
        fn tp10_a_star_is_a_permutation(bolts in 2..200_usize) {
            let order = star(bolts).unwrap();
            prop_assert!(is_permutation(&order, bolts));
            if bolts % 2 == 0 {
                // Pairs are opposite.
                prop_assert!(order.chunks(2).all(|pair| pair[0].abs_diff(pair[1]) == bolts / 2));
            }
        }

        /// After each group of four the load is centred.
        #[test]
        fn groups_of_four_are_centred(quarter in 1..40_usize) {
            let bolts = 4 * quarter;
            let order = star(bolts).unwrap();
            for group in order.chunks(4) {
                let mut places = group.to_vec();
                places.sort_unstable();
                prop_assert!(places.windows(2).all(|pair| pair[1] - pair[0] == quarter));
            }
        }

        /// T-P10: positions in any numbering give the same way over the field, radii never
        /// fall by more than the tolerance, and the answer repeats.
        #[test]
        fn tp10_inside_out_never_comes_back(points in prop::collection::btree_set((0..30_i32, 0..10_i32), 2..24)) {
            let positions: Vec<_> = points.iter().map(|&(x, y)| mm(f64::from(x) * 10.0, f64::from(y) * 10.0)).collect();
            let order = inside_out(&positions).unwrap();
            prop_assert!(is_permutation(&order, positions.len()));
            prop_assert_eq!(&order, &inside_out(&positions).unwrap());
            let n = f64::from(u32::try_from(positions.len()).unwrap());
            let cx = positions.iter().map(|p| p.x.in_mm()).sum::<f64>() / n;
            let cy = positions.iter().map(|p| p.y.in_mm()).sum::<f64>() / n;
            let radius = |place: usize| libm::hypot(positions[place].x.in_mm() - cx, positions[place].y.in_mm() - cy);
            prop_assert!(order.windows(2).all(|pair| radius(pair[1]) >= radius(pair[0]) - 0.51));
            prop_assert_eq!(loosening(&loosening(&order)), order);
        }
    }
}
