//! `matchmark demo`: a whole job, from the first symptom to the proof.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::command::serve::How;
use crate::context::Context;

/// Lay an invented job in a folder, live through it and tell the story.
#[derive(Debug, Args)]
pub struct Demo {
    /// The folder; a demo that lies there already is begun anew.
    #[arg(long, value_name = "DIR", default_value = "post-van")]
    dir: PathBuf,

    /// Open the demo job as pages, as `matchmark serve` does.
    #[arg(long)]
    serve: bool,

    #[command(flatten, next_help_heading = "With --serve")]
    how: How,
}

impl Demo {
    /// Tells the story, or opens it as pages.
    pub fn ask(&self, context: &Context) -> Report {
        let story = app::demo::demo(&self.dir, super::print::press().is_some());
        if self.serve && !story.refused {
            return self.how.serve(&self.dir, &context.author, "demo");
        }
        story
    }
}
