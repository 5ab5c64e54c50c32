//! app (being built).
