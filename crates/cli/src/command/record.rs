//! `matchmark log`, `undo`, `record`: lines into and out of the record.

use clap::Args;
use report::Report;

use crate::context::Context;

/// Put what happened into the record, one line an entry.
#[derive(Debug, Args)]
pub struct Log {
    /// The lines: `off runners: 2 nuts 13 mm, 3 bolts M8x40, bag 14`.
    #[arg(required = true, value_name = "LINE")]
    lines: Vec<String>,
    /// A name of your own for this sending: sent again, it is kept once.
    #[arg(long, value_name = "ID")]
    id: Option<String>,
}

impl Log {
    /// Logs the lines, all or none.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("log", |folder| {
            let mut hand = context.hand();
            if let Some(id) = &self.id {
                hand.client.clone_from(id);
            }
            app::lines::log(folder, &hand, &self.lines)
        })
    }
}

/// Take back an entry: the last one of yours, or the one named.
#[derive(Debug, Args)]
pub struct Undo {
    /// The number of the entry.
    entry: Option<u64>,

    /// Even where later entries rest on it.
    #[arg(long)]
    anyway: bool,
}

impl Undo {
    /// Takes it back.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("undo", |folder| {
            app::lines::undo(folder, &context.hand(), self.entry, self.anyway)
        })
    }
}

/// Read the record, line by line.
#[derive(Debug, Args)]
pub struct Record {
    /// Only the last so many entries.
    #[arg(long, value_name = "COUNT")]
    last: Option<usize>,
}

impl Record {
    /// Lists the entries.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("record", |folder| app::lines::record(folder, self.last))
    }
}
