//! judge (being built).

// Running tests: what a set of readings says, and what it does not.
pub mod cranking;
pub mod layout;
