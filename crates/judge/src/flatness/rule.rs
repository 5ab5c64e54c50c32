//! Limits the trade falls back on when no maker's is known. The sources disagree; the length
//! of the face is the better key.

use quantity::{Length, NotFinite};

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
    let (mm, place) = match (face, cylinders) {
        (Face::Head, 1..=3) => (0.08, "head over three cylinders, 0.003 in"),
        (Face::Head, 4..=5) => (0.10, "head over four cylinders, 0.004 in"),
        (Face::Head, _) => (0.15, "head over six cylinders in line, 0.006 in"),
        (Face::Block, _) => (
            0.05,
            "block face, 0.002 in, the stricter of 0.002 and 0.003",
        ),
        (Face::Other | Face::Unsaid, _) => return Ok(None),
    };
    Ok(Some(
        Limit::most(Length::mm(mm)?).by_default(Whose::CommonPractice, place),
    ))
}
