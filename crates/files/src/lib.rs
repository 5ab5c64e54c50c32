//! Files of other people's making: comma-separated readings with their unit in the heading,
//! photos from a camera.
//!
//! Text or bytes in, plain values out. Opening a file is the caller's work, and what the
//! numbers mean is `judge`'s.

mod column;
mod csv;
mod fault;
pub mod photo;

#[cfg(test)]
mod tests;

pub use crate::column::Column;
pub use crate::csv::Csv;
pub use crate::fault::CellFault;
