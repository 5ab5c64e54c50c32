//! book (being built).
