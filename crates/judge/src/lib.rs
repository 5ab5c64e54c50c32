//! judge (being built).
