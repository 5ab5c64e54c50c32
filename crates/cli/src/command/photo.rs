//! `matchmark photo`: pictures into the job, and what there is.

use std::path::Path;

use clap::Args;
use report::Report;

use crate::context::Context;

/// Keep photos with the job; without a file, list them.
#[derive(Debug, Args)]
#[command(
    override_usage = "photo [FILE]... [of THING] [hole F] [of reading 14] [bag 14] [show] [: CAPTION]"
)]
pub struct Photo {
    /// JPEG or PNG files, then what they show, as in a `photo` line:
    /// `matchmark photo IMG_31.jpg of runners hole F: the long bolt`.
    #[arg(value_name = "FILE... WORDS...")]
    typed: Vec<String>,
}

impl Photo {
    /// Keeps them, or lists what there is.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("photo", |folder| {
            if self.typed.is_empty() {
                return app::photo::list(folder);
            }
            let (files, words) = app::photo::parted(&self.typed);
            let files: Vec<&Path> = files.iter().map(Path::new).collect();
            app::photo::keep_files(folder, &context.hand(), &files, &words.join(" "))
        })
    }
}
