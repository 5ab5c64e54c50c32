//! How long a search may go on: a budget of moves, and a flag that ends it early.
//!
//! Neither knows a clock. Whoever reads one raises the [`Stop`] from outside.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much a search may do before it hands over its best answer.
///
/// The same problem and the same budget give the same answer, whatever the machine,
/// as long as no [`Stop`] is raised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Moves tried in all, over all threads. Each search says what it counts as a move.
    /// It is looked at between rounds, so a search may end a little over it.
    pub moves: u64,
    /// Threads to search with, at least 1. The answer depends on their number.
    pub threads: usize,
    /// Where the drawing of lots begins.
    pub seed: u64,
}

impl Budget {
    /// A budget of `moves` for one thread, with seed 1.
    #[must_use]
    pub fn moves(moves: u64) -> Self {
        Self {
            moves,
            threads: 1,
            seed: 1,
        }
    }

    /// No end but the [`Stop`] flag: for callers who watch a clock.
    #[must_use]
    pub fn until_stopped() -> Self {
        Self::moves(u64::MAX)
    }

    /// The same budget, shared by this many threads (0 is taken as 1).
    #[must_use]
    pub fn threads(self, threads: usize) -> Self {
        Self {
            threads: threads.max(1),
            ..self
        }
    }

    /// The same budget with another seed.
    #[must_use]
    pub fn seed(self, seed: u64) -> Self {
        Self { seed, ..self }
    }
}

/// A flag that ends a search early. Clones share the flag.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// A flag that nobody has raised yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Asks the search to hand over its best answer. It cannot be taken back.
    pub fn raise(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether somebody has raised the flag.
    #[must_use]
    pub fn raised(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
