//! Lots that are drawn the same way every time: a small seeded generator.
//!
//! It is good enough to choose moves in a search and for nothing else.

/// A generator of 64-bit numbers (xorshift64*, Vigna 2016), seeded through splitmix64
/// so that seeds 1, 2, 3 … give unrelated rows.
#[derive(Debug, Clone)]
pub(crate) struct Chance(u64);

impl Chance {
    /// The generator of thread or part `stream` under this seed.
    pub(crate) fn new(seed: u64, stream: u64) -> Self {
        let mut mixed = seed
            .wrapping_add(stream.wrapping_mul(0xD1B5_4A32_D192_ED03))
            .wrapping_add(0x9E37_79B9_7F4A_7C15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        // Zero is the one state the generator cannot leave.
        Self(mixed | 1)
    }

    /// The next 64 bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A number below `end`, which must not be 0. The bias of at most `end / 2^32`
    /// does not matter to a search.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (((self.bits() >> 32) * end as u64) >> 32) as usize
    }

    /// A number in `0.0..1.0`.
    pub(crate) fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_draws_the_same_row_and_another_seed_another() {
        let row = |seed, stream| {
            let mut chance = Chance::new(seed, stream);
            (0..8).map(|_| chance.bits()).collect::<Vec<_>>()
        };
        assert_eq!(row(5, 0), row(5, 0));
        assert_ne!(row(5, 0), row(6, 0));
        assert_ne!(row(5, 0), row(5, 1));
    }

    #[test]
    fn draws_stay_below_their_end_and_reach_every_value() {
        let mut chance = Chance::new(1, 0);
        let mut seen = [false; 7];
        for _ in 0..1000 {
            seen[chance.below(7)] = true;
            let share = chance.share();
            assert!((0.0..1.0).contains(&share));
        }
        assert!(seen.iter().all(|&s| s));
    }
}
