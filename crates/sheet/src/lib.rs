//! sheet (being built).
