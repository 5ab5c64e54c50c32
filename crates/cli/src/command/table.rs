//! `matchmark table`: numbers copied from elsewhere.

use std::path::PathBuf;

use app::table::Asked;
use clap::Args;
use report::Report;

/// Check numbers copied from elsewhere against each other.
#[derive(Debug, Args)]
pub struct Table {
    /// A table: names first, then the same figures in two or more units, `bolt,torque [N·m],again [lbf·ft]`.
    file: PathBuf,
}

impl Table {
    /// Asks for the answer.
    pub fn ask(&self) -> Report {
        app::table::table(&Asked {
            file: self.file.clone(),
        })
    }
}
