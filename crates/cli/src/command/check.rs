//! `matchmark check`: every fault of a build book or shop file.

use std::path::PathBuf;

use clap::Args;
use report::Report;

/// List every fault of a build book or a shop file.
#[derive(Debug, Args)]
pub struct Check {
    /// The file.
    file: PathBuf,
}

impl Check {
    /// Asks for the faults.
    pub fn ask(&self) -> Report {
        app::check::check(&self.file)
    }
}
