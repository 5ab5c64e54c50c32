//! What can go wrong at the press.

use typst::World;
use typst::WorldExt;
use typst::diag::SourceDiagnostic;

/// Why a paper could not be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PressFault {
    /// A picture is in no format that can be printed.
    #[error("the picture “{told}” is neither JPEG nor PNG; convert it and try again")]
    Picture {
        /// What it shows.
        told: String,
    },
    /// A picture without words cannot be told to someone who does not see it.
    #[error("a picture has no words that tell what it shows: {caption}")]
    Untold {
        /// The line under it.
        caption: String,
    },
    /// The address on a label is too long for its square of dots.
    #[error("the address `{address}` is too long for the square on a label; use a shorter one")]
    Address {
        /// The address.
        address: String,
    },
    /// A number is not one a page can be laid with.
    #[error("{what}: {value} is not {needs}")]
    Measure {
        /// Which number.
        what: String,
        /// What it is.
        value: String,
        /// What it should be.
        needs: &'static str,
    },
    /// A card would need more pages than anyone glues together.
    #[error("the card needs {pages} pages; print it at a smaller scale")]
    TooLarge {
        /// How many.
        pages: usize,
    },
    /// The day is none of the calendar.
    #[error("{0} is no day of the calendar")]
    Day(String),
    /// A template went wrong: a fault of this program.
    #[error("the template went wrong: {0}")]
    Template(String),
    /// The PDF could not be written to the standard: a fault of this program.
    #[error("the PDF could not be written: {0}")]
    Export(String),
}

/// Faults of a template with their places.
pub(crate) fn template(world: &dyn World, faults: &[SourceDiagnostic]) -> PressFault {
    let said = faults.iter().map(|fault| {
        let place = fault.span.id().and_then(|id| {
            let source = world.source(id).ok()?;
            let at = world.range(fault.span)?;
            let line = source.lines().byte_to_line(at.start)? + 1;
            Some(format!("{}:{line}: ", id.get().vpath().get_without_slash()))
        });
        format!("{}{}", place.unwrap_or_default(), fault.message)
    });
    PressFault::Template(said.collect::<Vec<_>>().join("; "))
}

/// Faults of the export.
pub(crate) fn export(faults: &[SourceDiagnostic]) -> PressFault {
    let said = faults.iter().map(|fault| fault.message.to_string());
    PressFault::Export(said.collect::<Vec<_>>().join("; "))
}
