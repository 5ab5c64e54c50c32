//! planning (being built).
