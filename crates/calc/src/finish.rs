//! Roughness of a face. The unit is everything: Ra in micro-inch and in micrometres are forty
//! times apart, and between Ra and Rz there is no fixed ratio.

use quantity::{Length, NotFinite, Quantity, Range};
use thiserror::Error;

/// Why a roughness says nothing.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FinishError {
    /// A roughness that is not above zero.
    #[error("a roughness of {um} µm is not above zero")]
    NotPositive {
        /// Its size, micrometres.
        um: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Where Rz may lie for an Ra on a machined face.
///
/// # Formula
/// Rz = 4·Ra … 7·Ra. For pure waves: square 2, sine π, triangle 4; no fixed ratio exists.
/// # Units
/// Length in, range of lengths out.
/// # Range
/// Machined faces.
/// # Source
/// *Common practice, no source*; wave forms: geometry.
/// # Errors
/// [`FinishError::NotPositive`] for a roughness that is none.
/// # Example
/// ```
/// use quantity::Length;
/// let rz = calc::finish::rz_of(Length::micrometres(1.0)?)?;
/// assert!((rz.high.in_micrometres() - 7.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn rz_of(ra: Length) -> Result<Range<Length>, FinishError> {
    if ra.si() <= 0.0 {
        return Err(FinishError::NotPositive {
            um: ra.in_micrometres(),
        });
    }
    Ok(Range {
        low: Length::from_si(4.0 * ra.si())?,
        high: Length::from_si(7.0 * ra.si())?,
    })
}

#[cfg(test)]
mod tests {
    use quantity::{read, unit};

    use super::*;

    /// Source: 1 µin = 0.0254 µm, exactly. *Published (yard and pound agreement, 1959).*
    #[test]
    fn e21_thirty_microinch() {
        let ra: Length = read::read("30 µin").unwrap().value;
        assert!((ra.in_micrometres() - 0.762).abs() < 1e-9);
        assert!((unit::MICROINCH.of_si(ra.si()) - 30.0).abs() < 1e-9);
    }

    #[test]
    fn no_roughness_is_refused() {
        assert!(rz_of(Length::mm(0.0).unwrap()).is_err());
    }
}
