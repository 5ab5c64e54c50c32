//! job (being built).
