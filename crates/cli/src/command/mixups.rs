//! `matchmark mixups`: what could go back in the wrong place.

use clap::Args;
use report::Report;

use crate::context::Context;

/// List what could go back in the wrong place, worst first, and the cheapest act against it.
#[derive(Debug, Args)]
pub struct Mixups {
    /// Only what could be exchanged with these ends, hoses, parts or joints, and what it would do.
    #[arg(value_name = "NAME", conflicts_with = "before")]
    names: Vec<String>,
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
            if self.names.is_empty() {
                app::mixups::mixups(folder, self.before.as_deref(), self.all)
            } else {
                app::mixups::of(folder, &self.names, self.all)
            }
        })
    }
}
