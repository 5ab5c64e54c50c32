//! `matchmark check`: every fault of a build book or shop file, or of a whole job.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::context::Context;

/// List every fault of a build book or a shop file, or look over the whole job.
#[derive(Debug, Args)]
pub struct Check {
    /// The file; without one, the job: its texts, its record, and every photo.
    file: Option<PathBuf>,
}

impl Check {
    /// Asks for the faults.
    pub fn ask(&self, context: &Context) -> Report {
        match &self.file {
            Some(folder) if folder.is_dir() => app::check::job(folder),
            Some(file) => app::check::check(file),
            None => app::check::job(&context.job),
        }
    }
}
