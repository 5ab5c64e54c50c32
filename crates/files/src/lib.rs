//! Files in and out: CSV (being built).
