//! A photo as it stands in an account or a how-to: drawn anew, with its places pointed out.

use job::Photo;
use sheet::paper::{self, Mark};

use super::store::{Size, StoreFault, smaller};
use crate::folder::Folder;

/// The photo for paper; nothing where its bytes were never kept. A place whose words `tell`
/// keeps back is left out with its sign.
///
/// # Errors
/// [`StoreFault`] when the picture is not there or cannot be drawn.
pub(crate) fn on_paper(
    folder: &Folder,
    photo: &Photo,
    caption: String,
    mut tell: impl FnMut(&str) -> bool,
) -> Result<Option<paper::Photo>, StoreFault> {
    let Some(file) = &photo.file else {
        return Ok(None);
    };
    let bytes = smaller(folder.path(), file, Size::Large)?;
    let seen = files::photo::look(&bytes)?;
    let spots = photo.spots.iter().filter(|spot| {
        let says = spot.says.as_deref();
        says.is_none_or(&mut tell)
    });
    let marks = spots.map(|spot| Mark {
        sign: spot.sign,
        across: spot.across,
        down: spot.down,
        wide: spot.wide,
        says: spot.says.clone().unwrap_or_default(),
    });
    let marks = marks.collect();
    Ok(Some(paper::Photo {
        bytes,
        width: seen.width,
        height: seen.height,
        told: if caption.is_empty() {
            format!("photograph of entry {}, without words", photo.entry)
        } else {
            caption.clone()
        },
        caption,
        marks,
    }))
}
