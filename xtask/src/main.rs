//! The tidy command (being built).
fn main() {}
