//! wire (being built).
