//! The narrowest band around readings: smallest greatest distance from a straight, flat or
//! round ideal form.
//!
//! Flatness, straightness and roundness all come here with their own columns. The method is
//! exact and proves itself: the answer carries contact points whose weights show that no
//! other band can be narrower. Units, tilt and what the number means stay with the callers.
//!
//! Why not a general linear programme: it would keep one row a reading, and a million
//! readings is what a scanned face gives. Here each exchange looks at every reading once and
//! keeps only a handful.

use nalgebra::{DMatrix, DVector};
use thiserror::Error;

/// Exchanges after which something is wrong; a face takes about a dozen.
const MOST_EXCHANGES: usize = 2_000;
/// Exchanges without progress after which the careful rule takes over.
const PATIENCE: usize = 12;
/// How near the two bounds must come, as a share of the readings' size.
const CLOSE: f64 = 1e-12;
/// Below this share a column adds nothing to those before it.
const FLAT: f64 = 1e-9;

/// Why there is no band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum ZoneError {
    /// Too few readings.
    #[error("{count} readings are too few; {least} are needed")]
    TooFew {
        /// How many there are.
        count: usize,
        /// How many it takes.
        least: usize,
    },
    /// The places of the readings do not spread enough to fix the form.
    #[error(
        "the readings fix only {rank} of {wanted} freedoms of the form: they lie in one line or on one spot"
    )]
    Degenerate {
        /// Freedoms they fix.
        rank: usize,
        /// Freedoms the form has.
        wanted: usize,
    },
    /// A reading is infinite or not a number.
    #[error("reading {index} is no finite number")]
    NotFinite {
        /// Which reading, from 0.
        index: usize,
    },
    /// The exchange did not settle; nothing is claimed.
    #[error("no proof after {exchanges} exchanges; the readings may differ too much in size")]
    NoProof {
        /// Exchanges made.
        exchanges: usize,
    },
}

/// Which face of the band a reading touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The upper face.
    High,
    /// The lower face.
    Low,
}

impl Side {
    const fn sign(self) -> f64 {
        match self {
            Self::High => 1.0,
            Self::Low => -1.0,
        }
    }
}

/// A reading that holds the band apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Which reading, from 0.
    pub index: usize,
    /// Which face it touches.
    pub side: Side,
    /// Its share in the proof; the shares of all contacts add up to 1.
    pub weight: f64,
}

/// The narrowest band.
#[derive(Clone, Debug, PartialEq)]
pub struct Band<const P: usize> {
    /// The form in the middle of the band: one number a column.
    pub form: [f64; P],
    /// Half the width that is reached.
    pub half: f64,
    /// Half the width no form can beat; equal to `half` but for float noise.
    pub bound: f64,
    /// The readings that prove the bound.
    pub contacts: Vec<Contact>,
    /// Exchanges it took.
    pub exchanges: usize,
}

/// One reading: its columns (for a face: x, y and 1) and its height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row<const P: usize> {
    /// What the form's numbers are multiplied by.
    pub columns: [f64; P],
    /// The reading.
    pub height: f64,
}

impl<const P: usize> Row<P> {
    fn off(&self, form: &[f64; P]) -> f64 {
        let mut off = self.height;
        for (column, number) in self.columns.iter().zip(form) {
            off -= column * number;
        }
        off
    }

    fn norm_beyond(&self, taken: &[[f64; P]]) -> ([f64; P], f64) {
        let mut left = self.columns;
        for direction in taken {
            let along: f64 = left.iter().zip(direction).map(|(a, b)| a * b).sum();
            for (value, unit) in left.iter_mut().zip(direction) {
                *value -= along * unit;
            }
        }
        let norm = left.iter().map(|value| value * value).sum::<f64>().sqrt();
        (left, norm)
    }
}

/// Finds the narrowest band. Columns should be of about one size, heights too; the callers
/// centre and scale them.
///
/// # Formula
/// minimise max |hᵢ − Σ cᵢⱼ·pⱼ|; proof: weights wᵢ ≥ 0 on contacts with signs sᵢ,
/// Σ wᵢ·sᵢ·cᵢⱼ = 0 for every j, Σ wᵢ = 1, and Σ wᵢ·sᵢ·hᵢ = the half width
/// # Units
/// Any; heights and result in one unit.
/// # Range
/// At least as many readings as columns. Ends when the two bounds agree to 10⁻¹² of the
/// heights.
/// # Source
/// Exchange of one point at a time (Stiefel, Numerische Mathematik 1, 1959), which is the
/// simplex method on the dual programme. *From memory.*
/// # Errors
/// [`ZoneError`] names what the readings lack.
pub fn narrowest<const P: usize>(rows: &[Row<P>]) -> Result<Band<P>, ZoneError> {
    if rows.len() < P {
        return Err(ZoneError::TooFew {
            count: rows.len(),
            least: P,
        });
    }
    let size = size_of(rows)?;
    let mut basis = start(rows)?;
    let mut best = f64::NEG_INFINITY;
    let mut stalled = 0;
    for exchanges in 0..MOST_EXCHANGES {
        let step = Step::of(rows, &basis).ok_or(ZoneError::NoProof { exchanges })?;
        let seen = if stalled < PATIENCE {
            farthest(rows, &step.form)
        } else {
            first_beyond(rows, &step.form, step.half + CLOSE * size)
        };
        let Some((index, side, off)) = seen.filter(|&(_, _, off)| off > step.half + CLOSE * size)
        else {
            return Ok(step.band(rows, &basis, exchanges));
        };
        debug_assert!(off.is_finite());
        let out = step
            .leaves(rows, &basis, (index, side), stalled >= PATIENCE)
            .ok_or(ZoneError::NoProof { exchanges })?;
        basis[out] = (index, side);
        if step.half > best + CLOSE * size {
            best = step.half;
            stalled = 0;
        } else {
            stalled += 1;
        }
    }
    Err(ZoneError::NoProof {
        exchanges: MOST_EXCHANGES,
    })
}

type Member = (usize, Side);

/// The largest height, refusing what is not a number.
fn size_of<const P: usize>(rows: &[Row<P>]) -> Result<f64, ZoneError> {
    let mut size = 0.0_f64;
    for (index, row) in rows.iter().enumerate() {
        if !row.height.is_finite() || row.columns.iter().any(|value| !value.is_finite()) {
            return Err(ZoneError::NotFinite { index });
        }
        size = size.max(row.height.abs());
    }
    Ok(size)
}

/// Readings whose columns are as independent as can be, the first of them on both sides.
fn start<const P: usize>(rows: &[Row<P>]) -> Result<Vec<Member>, ZoneError> {
    let mut taken: Vec<[f64; P]> = Vec::with_capacity(P);
    let mut basis: Vec<Member> = Vec::with_capacity(P + 1);
    let mut first = 0.0;
    for rank in 0..P {
        let (mut at, mut most) = (0, 0.0);
        for (index, row) in rows.iter().enumerate() {
            let (_, norm) = row.norm_beyond(&taken);
            if norm > most {
                (at, most) = (index, norm);
            }
        }
        if rank == 0 {
            first = most;
            basis.push((at, Side::Low));
        }
        if most <= FLAT * first || most == 0.0 {
            return Err(ZoneError::Degenerate { rank, wanted: P });
        }
        let (left, norm) = rows[at].norm_beyond(&taken);
        taken.push(left.map(|value| value / norm));
        basis.push((at, Side::High));
    }
    Ok(basis)
}

/// What a set of P + 1 contacts says: the form they hold, the half width, their weights.
struct Step<const P: usize> {
    columns: DMatrix<f64>,
    form: [f64; P],
    half: f64,
    weights: DVector<f64>,
}

impl<const P: usize> Step<P> {
    fn of(rows: &[Row<P>], basis: &[Member]) -> Option<Self> {
        let columns = DMatrix::from_fn(P + 1, P + 1, |line, member| {
            let (index, side) = basis[member];
            if line < P {
                side.sign() * rows[index].columns[line]
            } else {
                1.0
            }
        });
        let heights = DVector::from_fn(P + 1, |member, _| {
            let (index, side) = basis[member];
            side.sign() * rows[index].height
        });
        let held = columns.transpose().lu().solve(&heights)?;
        let mut sum_of_one = DVector::zeros(P + 1);
        sum_of_one[P] = 1.0;
        let weights = columns.clone().lu().solve(&sum_of_one)?;
        let mut form = [0.0; P];
        for (number, value) in form.iter_mut().zip(held.iter()) {
            *number = *value;
        }
        held.iter().all(|value| value.is_finite()).then_some(Self {
            columns,
            form,
            half: held[P],
            weights,
        })
    }

    /// Which contact gives way to the entering one.
    fn leaves(
        &self,
        rows: &[Row<P>],
        basis: &[Member],
        enters: Member,
        careful: bool,
    ) -> Option<usize> {
        let (index, side) = enters;
        let entering = DVector::from_fn(P + 1, |line, _| {
            if line < P {
                side.sign() * rows[index].columns[line]
            } else {
                1.0
            }
        });
        let pull = self.columns.clone().lu().solve(&entering)?;
        let mut out: Option<(usize, f64)> = None;
        for member in 0..=P {
            if pull[member] <= 1e-11 {
                continue;
            }
            let ratio = self.weights[member].max(0.0) / pull[member];
            let better = match out {
                None => true,
                Some((held, least)) if (ratio - least).abs() <= 1e-14 => {
                    // Among equals: the surest pivot, or the lowest number, which cannot go round in circles.
                    if careful {
                        basis[member] < basis[held]
                    } else {
                        pull[member] > pull[held]
                    }
                }
                Some((_, least)) => ratio < least,
            };
            if better {
                out = Some((member, ratio));
            }
        }
        out.map(|(member, _)| member)
    }

    fn band(&self, rows: &[Row<P>], basis: &[Member], exchanges: usize) -> Band<P> {
        let reached = farthest(rows, &self.form).map_or(0.0, |(_, _, off)| off);
        let contacts = basis
            .iter()
            .zip(self.weights.iter())
            .filter(|&(_, &weight)| weight > 1e-12)
            .map(|(&(index, side), &weight)| Contact {
                index,
                side,
                weight,
            })
            .collect();
        Band {
            form: self.form,
            half: reached.max(0.0),
            bound: self.half.max(0.0),
            contacts,
            exchanges,
        }
    }
}

/// The reading farthest from the form, and on which side.
fn farthest<const P: usize>(rows: &[Row<P>], form: &[f64; P]) -> Option<(usize, Side, f64)> {
    // Two passes on purpose: the first has no index to carry and runs at memory speed.
    let (mut high, mut low) = (f64::NEG_INFINITY, f64::INFINITY);
    for row in rows {
        let off = row.off(form);
        high = if off > high { off } else { high };
        low = if off < low { off } else { low };
    }
    let (side, target) = if high >= -low {
        (Side::High, high)
    } else {
        (Side::Low, low)
    };
    let index = rows.iter().position(|row| row.off(form) == target)?;
    Some((index, side, target.abs()))
}

/// The first reading beyond a distance: the rule that cannot go round in circles.
fn first_beyond<const P: usize>(
    rows: &[Row<P>],
    form: &[f64; P],
    distance: f64,
) -> Option<(usize, Side, f64)> {
    rows.iter().enumerate().find_map(|(index, row)| {
        let off = row.off(form);
        (off.abs() > distance).then_some((
            index,
            if off > 0.0 { Side::High } else { Side::Low },
            off.abs(),
        ))
    })
}

#[cfg(test)]
mod tests;
