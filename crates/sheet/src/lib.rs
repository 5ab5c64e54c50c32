//! What a reader sees, as plain data: terminal text and drawings.
//!
//! A sheet only reads a [`report::Report`] (or a plan, a state); it computes nothing of
//! its own, so the terminal, the page and the paper say the same.

pub mod terminal;
