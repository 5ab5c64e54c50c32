//! `matchmark sequence`: the order of work.

use app::sequence::{Asked, Legs};
use clap::Args;
use report::Report;

use crate::context::Context;

/// Plan the order of work: the way off, the way back, and why each step stands where it does.
#[derive(Debug, Args)]
pub struct Sequence {
    /// What is to be got at; nothing: the way back of what is off, or while nothing is off every
    /// part of the book.
    #[arg(value_name = "PART")]
    targets: Vec<String>,

    /// Only the way off.
    #[arg(long, conflicts_with = "on")]
    off: bool,

    /// Only the way back of what is off now.
    #[arg(long, conflicts_with = "targets")]
    on: bool,

    /// Say why this step stands where it stands: `"on head"`.
    #[arg(long, value_name = "STEP")]
    why: Option<String>,

    /// Moves of the search; more find a shorter walk.
    #[arg(long, value_name = "COUNT")]
    moves: Option<u64>,

    /// Where the search begins; the same seed gives the same order.
    #[arg(long)]
    seed: Option<u64>,
}

impl Sequence {
    /// Asks for the order.
    pub fn ask(&self, context: &Context) -> Report {
        let legs = match (self.off, self.on) {
            (true, _) => Legs::Apart,
            (false, true) => Legs::Together,
            (false, false) => Legs::Both,
        };
        let asked = Asked {
            targets: self.targets.clone(),
            legs,
            why: self.why.clone(),
            moves: self.moves,
            seed: self.seed,
        };
        context.with_job("sequence", |folder| app::sequence::sequence(folder, &asked))
    }
}
