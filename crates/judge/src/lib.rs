//! judge (being built).

// Running tests: what a set of readings says, and what it does not.
pub mod cranking;
pub mod layout;

// One number against one limit; every question that judges comes here.
pub mod limit;

// Faces, bores and clearances.
pub mod flatness;
