//! `matchmark outstanding`, `gate`, `write-back`: where the job stands.

use clap::Args;
use report::Report;

use crate::context::Context;

/// List what is off, missing, left over, lost, put in or not renewed.
#[derive(Debug, Args)]
pub struct Outstanding {}

impl Outstanding {
    /// Lists it.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("outstanding", |folder| app::ledger::outstanding(folder))
    }
}

/// Say whether a gate is open, and why not.
#[derive(Debug, Args)]
pub struct Gate {
    /// `before-opening`, `before-head-on`, `turn-by-hand`, `spin`, `fire`, `drive` or the
    /// book's own; without a name, all of them.
    name: Option<String>,
}

impl Gate {
    /// Judges the gate.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("gate", |folder| {
            app::gate::gate(folder, self.name.as_deref(), context.now_micros)
        })
    }
}

/// Print the state as a build book the next person can start from.
#[derive(Debug, Args)]
pub struct WriteBack {
    /// Print the shop file instead, and ask for what only the record knows.
    #[arg(long)]
    shop: bool,
}

impl WriteBack {
    /// Writes the book, or the shop file.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("write-back", |folder| {
            if self.shop {
                app::write_back::shop(folder)
            } else {
                app::write_back::write_back(folder)
            }
        })
    }
}
