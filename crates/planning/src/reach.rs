//! What must come off: the cheapest set of parts that can be taken off one after another
//! so that the targets come off too.
//!
//! A part is free when everything it needs off is off, and one way of each of its
//! choices is wholly off. Ways make this hard: the cheapest way to one part may be dear
//! because of what it drags along, or cheap because another part wants the same off. [`solve()`]
//! proves its answer cheapest or says how far off it may be.

mod problem;
pub use problem::{Cost, Fault, Part, Problem, Removal, Way};

mod solve;
pub use solve::{Solution, solve};

mod implied;

mod greedy;

mod relax;

#[cfg(test)]
mod tests;
