//! Every command, one file each; this file only lists them.

mod convert;
mod cranking;
mod flatness;

use clap::Subcommand;
use report::Report;

use crate::context::Context;

/// What can be asked.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Read a figure with its unit and write it in another.
    Convert(convert::Convert),
    /// Judge cranking compression over the layout, dry and wet.
    Cranking(cranking::Cranking),
    /// Judge how flat a face is from a table of heights.
    Flatness(flatness::Flatness),
}

impl Command {
    /// Asks the use case behind the command.
    pub fn ask(&self, _context: &Context) -> Report {
        match self {
            Self::Convert(asked) => asked.ask(),
            Self::Cranking(asked) => asked.ask(),
            Self::Flatness(asked) => asked.ask(),
        }
    }
}
