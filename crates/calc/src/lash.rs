//! Valve lash: the shim that gives the wanted clearance, and which shim goes where.
//!
//! Lengths are whole nanometres inside, so that tenths of a thou and hundredths of a
//! millimetre both come out exactly. Verdicts and the words are `judge`'s.

mod assign;

#[cfg(test)]
mod tests;

use quantity::{Bound, Length, NotFinite, Quantity, Range};
use thiserror::Error;

pub use assign::{Aim, Choice, Origin, Plan, plan};

/// Why shims cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LashError {
    /// A window whose low end is not below its high end, or lies below zero.
    #[error("a clearance window from {low_mm} mm to {high_mm} mm is none")]
    Window {
        /// Low end, millimetres.
        low_mm: f64,
        /// High end, millimetres.
        high_mm: f64,
    },
    /// A shim or step that is not above zero.
    #[error("{what} of {mm} mm is not above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
        /// Its size, millimetres.
        mm: f64,
    },
    /// A size no gauge of a workshop gives.
    #[error("{mm} mm is beyond any shim or clearance")]
    TooLarge {
        /// The size, millimetres.
        mm: f64,
    },
    /// No shim that exists or can be bought is safe for this valve.
    #[error("no size in the step and window is safe for valve {valve}")]
    NoSafeShim {
        /// Which valve, from 0.
        valve: usize,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The shim that turns a measured clearance into the wanted one.
///
/// # Formula
/// N = T + (A − V)
/// # Units
/// `fitted` shim T, `measured` clearance A, `wanted` clearance V; returns the new shim N.
/// # Range
/// Shims between cam and valve, over or under the bucket, without a rocker.
/// # Source
/// Arithmetic of the definition. *Common practice, no source.*
/// # Errors
/// [`LashError::NotPositive`] where no shim would be left.
/// # Example
/// ```
/// use quantity::Length;
/// let mm = Length::mm;
/// let shim = calc::lash::new_shim(mm(2.70)?, mm(0.14)?, mm(0.20)?)?;
/// assert!((shim.in_mm() - 2.64).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn new_shim(fitted: Length, measured: Length, wanted: Length) -> Result<Length, LashError> {
    let new = nanometres(fitted)? + nanometres(measured)? - nanometres(wanted)?;
    if new <= 0 {
        return Err(LashError::NotPositive {
            what: "a shim",
            mm: in_mm(new),
        });
    }
    length(new)
}

/// The sizes of shim that keep the window, whatever the true clearance inside the reading.
///
/// # Formula
/// T + A_high − V_high ≤ N ≤ T + A_low − V_low
/// # Units
/// `fitted` shim, `measured` clearance (a bound: `below` starts at 0), `window` of clearance;
/// returns the range of safe shims, or nothing where the reading is wider than the window.
/// # Range
/// `Above` has no far end and gives nothing. A valve held open reads 0 and may need less:
/// measure again after fitting.
/// # Source
/// Arithmetic of the definition over an interval. *Common practice, no source.*
/// # Errors
/// [`LashError::Window`] for a window that is none.
/// # Example
/// ```
/// use quantity::{Bound, Length, Range};
/// let mm = Length::mm;
/// let window = Range { low: mm(0.152)?, high: mm(0.254)? };
/// let safe = calc::lash::safe_shims(mm(3.02)?, Bound::Below(mm(0.04)?), window)?.unwrap();
/// assert!((safe.low.in_mm() - 2.806).abs() < 1e-9 && (safe.high.in_mm() - 2.868).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn safe_shims(
    fitted: Length,
    measured: Bound<Length>,
    window: Range<Length>,
) -> Result<Option<Range<Length>>, LashError> {
    let window = Ends::window(window)?;
    let Some(measured) = Ends::reading(measured)? else {
        return Ok(None);
    };
    let safe = Ends::safe(nanometres(fitted)?, measured, window);
    if safe.low > safe.high {
        return Ok(None);
    }
    Ok(Some(Range {
        low: length(safe.low)?,
        high: length(safe.high)?,
    }))
}

/// The clearance a new shim gives.
///
/// # Formula
/// A' = A + T − N
/// # Units
/// `fitted` shim T, `measured` clearance A, `new` shim N; returns the clearance as an interval
/// of the reading's width.
/// # Range
/// As [`safe_shims`]; an open reading gives nothing.
/// # Source
/// Arithmetic of the definition. *Common practice, no source.*
/// # Errors
/// [`LashError::TooLarge`] for sizes beyond all shims.
pub fn clearance_with(
    fitted: Length,
    measured: Bound<Length>,
    new: Length,
) -> Result<Option<Range<Length>>, LashError> {
    let Some(measured) = Ends::reading(measured)? else {
        return Ok(None);
    };
    let change = nanometres(fitted)? - nanometres(new)?;
    Ok(Some(Range {
        low: length(measured.low + change)?,
        high: length(measured.high + change)?,
    }))
}

/// The window to set without a film that will lift the cam when it is there.
///
/// # Formula
/// dry window = window − film
/// # Units
/// Lengths in and out.
/// # Range
/// A cam carrier bolted down on a film of sealant, direct-acting cam: the film adds clearance.
/// # Source
/// Sign of the shift. *Common practice, no source.*
/// # Errors
/// [`LashError::Window`] where nothing of the window is left.
/// # Example
/// ```
/// use quantity::{Length, Range};
/// let inch = Length::inches;
/// let dry = calc::lash::without_film(Range { low: inch(0.005)?, high: inch(0.007)? }, inch(0.0005)?)?;
/// assert!((dry.low.in_inches() - 0.0045).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn without_film(window: Range<Length>, film: Length) -> Result<Range<Length>, LashError> {
    let ends = Ends::window(window)?;
    let film = nanometres(film)?;
    let shifted = Range {
        low: length(ends.low - film)?,
        high: length(ends.high - film)?,
    };
    Ends::window(shifted)?;
    Ok(shifted)
}

/// The clearance to expect after seats or valve faces are cut: the valve sinks, its stem
/// rises, and the clearance closes by as much.
///
/// # Formula
/// A' = A − sink
/// # Units
/// Lengths in and out; below zero means that the valve is held open.
/// # Range
/// Direct-acting cams; with a rocker, times its ratio.
/// # Source
/// Geometry. *Common practice, no source.*
/// # Errors
/// [`LashError::TooLarge`] for sizes beyond all engines.
pub fn after_seat_cut(clearance: Length, sink: Length) -> Result<Length, LashError> {
    length(nanometres(clearance)? - nanometres(sink)?)
}

/// A range in whole nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Ends {
    low: i64,
    high: i64,
}

impl Ends {
    fn window(window: Range<Length>) -> Result<Self, LashError> {
        let ends = Self {
            low: nanometres(window.low)?,
            high: nanometres(window.high)?,
        };
        if ends.low < 0 || ends.low > ends.high {
            return Err(LashError::Window {
                low_mm: in_mm(ends.low),
                high_mm: in_mm(ends.high),
            });
        }
        Ok(ends)
    }

    fn reading(measured: Bound<Length>) -> Result<Option<Self>, LashError> {
        Ok(match measured {
            Bound::Exactly(value) => Some(Self {
                low: nanometres(value)?,
                high: nanometres(value)?,
            }),
            Bound::Below(value) => Some(Self {
                low: 0,
                high: nanometres(value)?,
            }),
            Bound::Between(range) => Some(Self {
                low: nanometres(range.low)?,
                high: nanometres(range.high)?,
            }),
            Bound::Above(_) => None,
        })
    }

    fn safe(fitted: i64, measured: Self, window: Self) -> Self {
        Self {
            low: fitted + measured.high - window.high,
            high: fitted + measured.low - window.low,
        }
    }

    const fn holds(self, size: i64) -> bool {
        self.low <= size && size <= self.high
    }
}

/// Whole nanometres; a hundredth of a micrometre is finer than any gauge here.
fn nanometres(length: Length) -> Result<i64, LashError> {
    let value = (length.si() * 1e9).round();
    if value.abs() > 1e9 {
        return Err(LashError::TooLarge { mm: length.in_mm() });
    }
    // Whole and below 2³¹ in size, so the conversion is exact.
    Ok(value as i64)
}

fn length(nanometres: i64) -> Result<Length, LashError> {
    Ok(Length::mm(in_mm(nanometres))?)
}

/// Divided once, so that 2.64 mm is the same float as a typed `2.64 mm`.
fn in_mm(nanometres: i64) -> f64 {
    nanometres as f64 / 1e6
}
