//! Papers to PDF.
//!
//! The only crate that knows how a PDF is made. It takes plain data, [`Paper`], and sets it
//! with the templates in `template/`; it computes nothing about engines. The same paper gives
//! the same bytes on every machine: faces are embedded, the day is an input, nothing is read
//! from outside.

mod desk;
mod fault;

mod data;
mod letters;
mod square;
mod tiles;
mod words;

#[cfg(test)]
mod tests;

pub use fault::PressFault;
pub use sheet::paper::{Paper, Size};

use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::desk::Desk;

/// A paper as it comes from the press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pressed {
    /// The file.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}

/// Makes a PDF of a paper: PDF 1.7 to PDF/UA-1, tagged, with bookmarks and embedded faces.
///
/// `size` is the sheet in the printer; a sheet of labels has its own size and keeps it.
///
/// # Errors
/// [`PressFault`] names a picture that cannot be read, a card that will not fit, or the place
/// in a template that went wrong.
pub fn pdf(paper: &Paper, size: Size) -> Result<Pressed, PressFault> {
    let document = set(paper, size)?;
    let day = desk::day(paper.day)?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1])
        .map_err(|fault| PressFault::Export(fault.message().to_string()))?;
    let options = PdfOptions {
        creator: typst::foundations::Smart::Custom(Some("matchmark".to_owned())),
        timestamp: Some(Timestamp::new_utc(day)),
        standards,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|faults| fault::export(&faults));
    let pages = document.pages().len();
    // What the compiler kept for a next time is of no use to another paper.
    typst::comemo::evict(0);
    Ok(Pressed { pdf: pdf?, pages })
}

/// What stands on each page of a paper, in words, as a reader would copy them out. Words inside
/// a drawing are not among them: a drawing is told by its own.
///
/// # Errors
/// As [`pdf`].
pub fn words(paper: &Paper, size: Size) -> Result<Vec<String>, PressFault> {
    let document = set(paper, size)?;
    let said = words::of(&document);
    typst::comemo::evict(0);
    Ok(said)
}

/// Sets a paper on its pages.
fn set(paper: &Paper, size: Size) -> Result<PagedDocument, PressFault> {
    let desk = Desk::of(data::of(paper, size)?, paper.day)?;
    let set = typst::compile::<PagedDocument>(&desk);
    set.output.map_err(|faults| fault::template(&desk, &faults))
}
