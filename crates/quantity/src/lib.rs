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

mod anything;
pub mod read;
pub mod show;
pub mod spec;

pub mod plausible;

pub use anything::{Anything, KindClash, NotThis};
pub use constant::{FOOT, INCH, POUND, POUND_FORCE, STANDARD_GRAVITY};
pub use kind::{Kind, LARGEST, NotFinite, Quantity};
pub use kinds::*;
pub use read::{
    ReadFault, read, read_any, read_as, read_bound, read_bound_in, read_bound_list,
    read_bound_list_in, read_in, read_list, read_list_in, read_range, read_range_in,
};
pub use said::{Bound, Range, Said};
pub use show::{show, show_bound, show_fixed, show_range, show_range_fixed, show_si};
pub use spec::{Condition, Spec, Step};
pub use unit::Unit;
