//! `matchmark ends`, `tags`: where every end belongs, and the tags to put on.

use clap::Args;
use report::Report;

use crate::context::Context;

/// List every end with its port, medium, bore and tag.
#[derive(Debug, Args)]
pub struct Ends {
    /// Only loose ends, each with where it could belong.
    #[arg(long)]
    open: bool,
}

impl Ends {
    /// Lists them.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("ends", |folder| {
            app::ends::ends(folder, self.open, context.now_micros)
        })
    }
}

/// Give out tags in pairs and bags before anything comes off, worst mix-up first.
#[derive(Debug, Args)]
pub struct Tags {}

impl Tags {
    /// Gives them out.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("tags", |folder| app::ends::tags(folder))
    }
}
