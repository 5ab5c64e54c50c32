//! The order of steps for one person: what must come before what, and what it costs to
//! go from one step to the next (tools to change, places to walk to).
//!
//! This is the sequential ordering problem. [`search`] anneals over swaps of two
//! neighbouring blocks and descends by exchanges of three links that reverse nothing;
//! [`lower_bound`] says how far below no order can go. Durations do not appear: they add
//! up the same in every order.

mod problem;
pub use problem::{Fault, Problem};

mod solve;
pub use solve::{Solution, search};

mod path;

mod greedy;

mod anneal;

mod exchange;

mod bound;
pub use bound::lower_bound;

#[cfg(test)]
mod tests;
