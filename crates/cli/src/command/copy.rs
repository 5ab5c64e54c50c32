//! `matchmark copy`: the whole job in one file.

use std::path::PathBuf;

use clap::Args;
use report::Report;

use crate::context::Context;

/// Put the whole job into one file: book, workshop, record, photos.
#[derive(Debug, Args)]
pub struct Copy {
    /// The file to write (a zip file), or a folder such as a stick; nothing is overwritten.
    file: PathBuf,
}

impl Copy {
    /// Writes the copy.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("copy", |folder| {
            app::copy::copy(folder, &self.file, context.now_micros)
        })
    }
}
