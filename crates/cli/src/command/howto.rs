//! `matchmark how-to`: this job as the next person can follow it.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::command::print::press;
use crate::context::Context;

/// Write this job up for the next person, layer by layer, names and places left out.
#[derive(Debug, Args)]
pub struct HowTo {
    /// Write it into this file: `.html` (one file, photos in it), `.md` or `.pdf`.
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// The sheet in the printer, for a PDF: a4 or letter.
    #[arg(long, value_name = "SIZE")]
    paper: Option<String>,
}

impl HowTo {
    /// Tells it.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("how-to", |folder| {
            let told = app::howto::howto(folder, context.now_micros);
            let paper = self.paper.as_deref();
            app::document::saved(folder, told, self.to.as_deref(), paper, press())
        })
    }
}
