//! `matchmark trims`: fuel trims, bank to bank.

use clap::Args;
use report::Report;

/// Compare fuel trims bank to bank, at idle and at speed.
#[derive(Debug, Args)]
pub struct Trims {
    /// Sum of short and long trim at idle, one figure a bank: `18 3 %`.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    idle: String,
    /// The same held at 2500 rpm.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    fast: Option<String>,
}

impl Trims {
    /// Asks what they point to.
    pub fn ask(&self) -> Report {
        app::trims::trims(&self.idle, self.fast.as_deref())
    }
}
