//! Quantities: SI inside, the units people write at the door.
//!
//! Every number that means something in the workshop has a kind of its own
//! ([`Length`], [`Torque`], [`GaugePressure`], …). Kinds that share a dimension are
//! still different types, so a torque cannot be added to an energy. One table
//! ([`unit::UNITS`]) drives the reader, the writer, the help text and the tests.
//!
//! This crate knows nothing of parts, formulas or limits.

mod constant;
mod kind;
mod kinds;
mod said;
pub mod unit;

pub use constant::{FOOT, INCH, POUND, POUND_FORCE, STANDARD_GRAVITY};
pub use kind::{Kind, NotFinite, Quantity};
pub use kinds::*;
pub use said::{Bound, Range, Said};
pub use unit::Unit;
