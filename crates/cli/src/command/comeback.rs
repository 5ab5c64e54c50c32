//! `matchmark last-chance`, `comeback`: what is about to be covered, and what coming back costs.

use clap::Args;
use report::Report;

use crate::context::Context;

/// List what a part is about to cover when it goes on and nobody confirmed.
#[derive(Debug, Args)]
pub struct LastChance {
    /// The part that goes on next; without one, every part that could.
    part: Option<String>,
}

impl LastChance {
    /// Asks for the list.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("last-chance", |folder| {
            app::comeback::last_chance(folder, self.part.as_deref())
        })
    }
}

/// Rank everything that can be forgotten by what coming back for it would cost.
#[derive(Debug, Args)]
pub struct Comeback {
    /// Show what an omission costs on average, by rates from memory.
    #[arg(long)]
    rates: bool,

    /// Only the first so many rows.
    #[arg(long, value_name = "COUNT")]
    first: Option<usize>,
}

impl Comeback {
    /// Asks for the ranking.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("comeback", |folder| {
            app::comeback::comeback(folder, self.rates, self.first)
        })
    }
}
