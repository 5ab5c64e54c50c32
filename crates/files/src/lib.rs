//! Tables in and out: comma-separated readings with their unit in the heading.
//!
//! Text in, typed columns out. Opening a file is the caller's work, and what the numbers mean
//! is `judge`'s.

mod column;
mod csv;
mod fault;

#[cfg(test)]
mod tests;

pub use crate::column::Column;
pub use crate::csv::Csv;
pub use crate::fault::CellFault;
