//! `matchmark day`: the close of a day, and the way back into the work.

use app::day::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Close the day or take the work up again: what stands open, what must not be turned, what
/// comes first.
#[derive(Debug, Args)]
pub struct Day {
    /// What the job is for; without it, the way back of what is off.
    #[arg(long = "for", value_name = "PART", num_args = 1..)]
    targets: Vec<String>,
}

impl Day {
    /// Asks how the day stands.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            targets: self.targets.clone(),
            now_micros: context.now_micros,
        };
        context.with_job("day", |folder| app::day::day(folder, &asked))
    }
}
