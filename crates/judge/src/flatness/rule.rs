//! Limits the trade falls back on when no maker's is known. The sources disagree; the length
//! of the face is the better key.

use quantity::{Length, NotFinite, unit};

use super::Face;
use crate::limit::{Limit, Whose};

/// The limit for a face when nobody gave one; none where the cylinders are not known.
///
/// # Errors
/// Never for the built-in numbers.
pub fn default_limit(
    face: Face,
    cylinders: Option<u8>,
) -> Result<Option<Limit<Length>>, NotFinite> {
    let Some(cylinders) = cylinders else {
        return Ok(None);
    };
    let (inch, place) = match (face, cylinders) {
        (Face::Head, 1..=3) => (0.003, "head over three cylinders"),
        (Face::Head, 4..=5) => (0.004, "head over four cylinders"),
        (Face::Head, _) => (0.006, "head over six cylinders in line"),
        (Face::Block, _) => (0.002, "block face, the stricter of 0.002 and 0.003 in"),
        (Face::Other | Face::Unsaid, _) => return Ok(None),
    };
    Ok(Some(
        Limit::most(Length::inches(inch)?)
            .by_default(Whose::CommonPractice, place)
            .stated_in(unit::INCH_UNIT),
    ))
}
