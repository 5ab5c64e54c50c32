//! `matchmark convert`: one figure in another unit.

use clap::Args;
use report::Report;

/// Read a figure with its unit and write it in another.
#[derive(Debug, Args)]
pub struct Convert {
    /// The figure as it stands in the book: `13 ft-lb`, `2-7/16 in`, `18-22 lbf·ft`.
    #[arg(allow_hyphen_values = true)]
    figure: String,

    /// The unit to write it in.
    #[arg(long = "in", value_name = "UNIT")]
    unit: Option<String>,

    /// What it must be: `torque`, `length`, `gauge pressure`, …
    #[arg(long = "as", value_name = "KIND")]
    kind: Option<String>,
}

impl Convert {
    /// Asks for the conversion.
    pub fn ask(&self) -> Report {
        app::convert::convert(&self.figure, self.unit.as_deref(), self.kind.as_deref())
    }
}
