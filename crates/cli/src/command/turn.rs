//! `matchmark turn`: may it be turned now?

use clap::Args;
use report::Report;

use crate::context::Context;

/// Say which of crank and cams may be turned now, which way, how far, and why not.
#[derive(Debug, Args)]
pub struct Turn {
    /// You have looked: the crank stands where the book parks it.
    #[arg(long)]
    parked: bool,
}

impl Turn {
    /// Asks what may be turned.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("turn", |folder| app::turn::turn(folder, self.parked))
    }
}
