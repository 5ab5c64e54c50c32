//! Valve springs: installed height after a valve has sunk, seat load, and coil bind.

use quantity::{Force, Length, NotFinite, Quantity, Stiffness};
use thiserror::Error;

/// Why a spring cannot be judged.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SpringError {
    /// A rate that is none.
    #[error("a spring rate of {newtons_per_mm} N/mm is not above zero")]
    NotPositive {
        /// The rate.
        newtons_per_mm: f64,
    },
    /// The spring would be longer than when free.
    #[error("an installed height of {height_mm} mm is not below the free length of {free_mm} mm")]
    Slack {
        /// Installed height, millimetres.
        height_mm: f64,
        /// Free length, millimetres.
        free_mm: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Load of a spring at its installed height.
///
/// # Formula
/// F = k·(L₀ − H)
/// # Units
/// Rate and lengths in, force out.
/// # Range
/// A spring of one rate, pressed.
/// # Source
/// Linear spring.
/// # Errors
/// [`SpringError`] names the rate or the height.
/// # Example
/// ```
/// use quantity::{Length, Stiffness};
/// let load = calc::spring::load(Stiffness::newtons_per_mm(35.0)?, Length::mm(48.0)?, Length::mm(40.0)?)?;
/// assert!((load.in_newtons() - 280.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn load(rate: Stiffness, free: Length, height: Length) -> Result<Force, SpringError> {
    if rate.si() <= 0.0 {
        return Err(SpringError::NotPositive {
            newtons_per_mm: rate.in_newtons_per_mm(),
        });
    }
    if height.si() >= free.si() {
        return Err(SpringError::Slack {
            height_mm: height.in_mm(),
            free_mm: free.in_mm(),
        });
    }
    Ok(Force::from_si(rate.si() * (free.si() - height.si()))?)
}

/// Installed height after the valve has sunk into its seat; a shim of the sink restores it.
///
/// # Formula
/// H' = H + sink
/// # Units
/// Lengths in and out.
/// # Range
/// Seat or valve face cut, retainer and keepers as before.
/// # Source
/// Geometry.
/// # Errors
/// [`SpringError::NotFinite`] for lengths beyond all engines.
/// # Example
/// ```
/// use quantity::Length;
/// let height = calc::spring::installed_after(Length::mm(40.0)?, Length::mm(0.4)?)?;
/// assert!((height.in_mm() - 40.4).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn installed_after(height: Length, sink: Length) -> Result<Length, SpringError> {
    Ok(Length::from_si(height.si() + sink.si())?)
}

/// What is left before the coils touch at full lift.
///
/// # Formula
/// margin = H − lift − solid height
/// # Units
/// Lengths in and out; 1.0 to 1.5 mm and more is wanted (*common practice, no source*).
/// # Range
/// Any; below zero the coils touch before full lift.
/// # Source
/// Geometry.
/// # Errors
/// [`SpringError::NotFinite`] for lengths beyond all engines.
/// # Example
/// ```
/// use quantity::Length;
/// let mm = Length::mm;
/// let left = calc::spring::coil_bind_margin(mm(40.0)?, mm(10.0)?, mm(28.0)?)?;
/// assert!((left.in_mm() - 2.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn coil_bind_margin(
    height: Length,
    lift: Length,
    solid: Length,
) -> Result<Length, SpringError> {
    Ok(Length::from_si(height.si() - lift.si() - solid.si())?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: k 35 N/mm, free 48, installed 40.4. *Computed by a general library (Python 3.11
    /// floats): k(L₀ − H).*
    #[test]
    fn e34_seat_load_after_the_valve_sank() {
        let mm = |value| Length::mm(value).unwrap();
        let rate = Stiffness::newtons_per_mm(35.0).unwrap();
        let height = installed_after(mm(40.0), mm(0.4)).unwrap();
        assert!((load(rate, mm(48.0), height).unwrap().in_newtons() - 266.0).abs() < 1e-6);
        assert!(matches!(
            load(rate, mm(48.0), mm(50.0)),
            Err(SpringError::Slack { .. })
        ));
        assert!(load(Stiffness::newtons_per_mm(0.0).unwrap(), mm(48.0), mm(40.0)).is_err());
    }
}
