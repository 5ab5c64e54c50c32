//! The record of a job: what was done, by whom, when, in the order it was written down.
//!
//! A row is the line a person typed (or that a form typed for them), with its author, its
//! time and the id its sender gave it. The line itself is the truth that is kept; what it
//! means is worked out again from the line grammar named by `format_version`, so there is
//! no second copy of an entry that could say something else.
//!
//! Rows are only ever added. This crate knows no clock, no user and no folder but the path
//! it is given, and it does not know what a line means.

mod entry;
mod error;
mod store;

mod memory;
mod sqlite;

pub use entry::{Appended, LONGEST_LINE, NewEntry, Stored};
pub use error::StoreError;
pub use memory::MemoryStore;
pub use sqlite::SqliteStore;
pub use store::Store;
