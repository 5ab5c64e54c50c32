//! `matchmark new`: begin a job.

use std::path::PathBuf;

use clap::Args;
use report::Report;

/// Begin a job in a folder.
#[derive(Debug, Args)]
pub struct New {
    /// The folder; it is made if it is not there.
    dir: PathBuf,

    /// What to start from: `skeleton` (an engine across, no figures), a build book, or a file
    /// that `matchmark copy` wrote.
    #[arg(long, value_name = "skeleton|FILE")]
    from: Option<String>,
}

impl New {
    /// Begins the job.
    pub fn ask(&self) -> Report {
        app::begin::begin(&self.dir, self.from.as_deref())
    }
}
