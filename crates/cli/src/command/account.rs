//! `matchmark account`: the report of the whole job.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::command::print::press;
use crate::context::Context;

/// Report the whole job: before and after, verdicts, costs, hours, photos.
#[derive(Debug, Args)]
pub struct Account {
    /// Write it into this file: `.html` (one file, photos in it), `.md` or `.pdf`.
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// The sheet in the printer, for a PDF: a4 or letter.
    #[arg(long, value_name = "SIZE")]
    paper: Option<String>,
}

impl Account {
    /// Tells it.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("account", |folder| {
            let told = app::account::account(folder, context.now_micros);
            let paper = self.paper.as_deref();
            app::document::saved(folder, told, self.to.as_deref(), paper, press())
        })
    }
}
