//! Made-up work of the size of an engine: orders of steps, jobs with a calendar, graphs
//! of what blocks what. Drawn from a seed, the same every time; nothing is measured on a
//! real vehicle.

mod engine;
pub use engine::{jobs, orders};

mod graph;
pub use graph::graphs;

/// A generator of lots (splitmix64, Steele, Lea and Flood 2014).
pub struct Lots(u64);

impl Lots {
    /// Begins a row of lots.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A number below `end`, which must not be 0.
    pub fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        (((mixed >> 32) * end as u64) >> 32) as usize
    }

    /// A number in `low..=high`.
    pub fn between(&mut self, low: usize, high: usize) -> usize {
        low + self.below(high - low + 1)
    }

    /// True in `percent` of a hundred draws.
    pub fn in_hundred(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}
