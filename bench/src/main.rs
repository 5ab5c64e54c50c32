//! Benchmarks (being built).
fn main() {}
