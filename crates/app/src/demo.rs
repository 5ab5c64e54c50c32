//! The island post van: an invented job, laid in a folder and lived through.

mod life;

pub use life::{Chapter, LIFE, LifeFault, read};

/// The build book of the demo. Invented.
pub const BOOK: &str = include_str!("../demo/post-van.kdl");

/// The workshop of the demo. Invented.
pub const SHOP: &str = include_str!("../demo/shop.kdl");
