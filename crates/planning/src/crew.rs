//! Several people, tools and a calendar: when each step can be done, and by whom, so
//! that the last one is finished as early as possible.
//!
//! Time runs in slots of any length the caller likes, counted from 0. A step takes
//! people for its whole duration, and tools or places; it waits for other steps, for
//! delay after them (glue cures) and for a day before which it cannot begin (parts
//! arrive). [`search()`] works on lists of steps which [`schedule()`] turns into a plan;
//! [`lower_bound`] says how early no plan can end.

mod problem;
pub use problem::{Fault, Hours, Link, Problem, Resource, Step};

mod frame;

mod schedule;
pub use schedule::{Schedule, schedule};

mod shift;

mod search;
pub use search::{Solution, search};

mod bound;
pub use bound::lower_bound;

#[cfg(test)]
mod tests;
