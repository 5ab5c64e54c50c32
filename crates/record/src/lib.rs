//! record (being built).
