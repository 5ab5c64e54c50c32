//! What a reader sees: a report as terminal text, its pictures as drawings.
//!
//! A sheet only reads plain data; it computes nothing of its own, so the terminal, the page
//! and the paper say the same.

pub mod drawing;
pub mod font;
pub mod hypertext;
pub mod markdown;
pub mod style;
pub mod paper;
pub mod terminal;
