//! verify (being built).
