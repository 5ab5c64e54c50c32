//! `matchmark captions`: what was said on a film, into the record.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::context::Context;

/// Read the captions of a film as lines for the record, each with its place on the film.
#[derive(Debug, Args)]
pub struct Captions {
    /// The captions: WebVTT (`.vtt`) or SubRip (`.srt`).
    file: PathBuf,

    /// Which film it is, where there are several.
    #[arg(long, value_name = "NAME")]
    tape: Option<String>,

    /// Put them into the record; without it, they are only shown.
    #[arg(long)]
    keep: bool,
}

impl Captions {
    /// Reads them.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("captions", |folder| {
            let hand = context.hand();
            app::captions::captions(folder, &hand, &self.file, self.tape.as_deref(), self.keep)
        })
    }
}
