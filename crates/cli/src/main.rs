//! The program (being built).
fn main() {}
