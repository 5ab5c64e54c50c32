//! `matchmark account`: the report of the whole job.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::context::Context;

/// Report the whole job: before and after, verdicts, costs, hours, photos.
#[derive(Debug, Args)]
pub struct Account {
    /// Write it into this file: `.html` (one file, photos in it) or `.md`.
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

impl Account {
    /// Tells it.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("account", |folder| {
            let told = app::account::account(folder, context.now_micros);
            app::document::saved(told, self.to.as_deref())
        })
    }
}
