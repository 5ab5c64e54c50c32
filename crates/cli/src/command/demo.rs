//! `matchmark demo`: a whole job, from the first symptom to the proof.

use std::path::PathBuf;

use clap::Args;
use report::Report;

/// Lay an invented job in a folder, live through it and tell the story.
#[derive(Debug, Args)]
pub struct Demo {
    /// The folder; a demo that lies there already is begun anew.
    #[arg(long, value_name = "DIR", default_value = "post-van")]
    dir: PathBuf,
}

impl Demo {
    /// Tells the story.
    pub fn ask(&self) -> Report {
        app::demo::demo(&self.dir)
    }
}
