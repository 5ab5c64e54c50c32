//! `matchmark mixups`: what could go back in the wrong place.

use clap::Args;
use report::Report;

use crate::context::Context;

/// List what could go back in the wrong place, worst first, and the cheapest act against it.
#[derive(Debug, Args)]
pub struct Mixups {
    /// Only what putting this part on would hide.
    #[arg(long, value_name = "PART")]
    before: Option<String>,
    /// Also what is made safe already.
    #[arg(long)]
    all: bool,
}

impl Mixups {
    /// Lists them.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("mixups", |folder| {
            app::mixups::mixups(folder, self.before.as_deref(), self.all)
        })
    }
}
