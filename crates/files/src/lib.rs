//! Files of other people's making: comma-separated readings with their unit in the heading,
//! photos from a camera, captions of a film; and files for other people's programs: tables,
//! spreadsheets, calendars.
//!
//! Text or bytes in, plain values out. Opening a file is the caller's work, and what the
//! numbers mean is `judge`'s.

mod column;
mod csv;
mod fault;
mod grid;
mod ical;
mod captions;
pub mod photo;

#[cfg(test)]
mod tests;

pub use crate::captions::{Cue, captions};
pub use crate::column::Column;
pub use crate::csv::Csv;
pub use crate::fault::CellFault;
pub use crate::grid::{csv, xlsx};
pub use crate::ical::{Event, When, ical};
