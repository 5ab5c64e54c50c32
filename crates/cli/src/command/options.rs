//! `matchmark options`: repair, replace or sell, each held against all known faults.

use std::path::PathBuf;

use app::options::Asked;
use clap::Args;
use report::Report;

/// Compare ways out; each must cure every known fault.
#[derive(Debug, Args)]
pub struct Options {
    /// A table: option, cures (parted by `;`), cost, and where known hours, downtime,
    /// stop_point, spent_at_stop, extra_if_bad, risk, trigger.
    file: PathBuf,
    /// A known fault; say it once for each. Without any, all that some way out cures.
    #[arg(long = "fault", value_name = "TEXT")]
    faults: Vec<String>,
    /// What the vehicle is worth, sound.
    #[arg(long, value_name = "MONEY")]
    value: Option<String>,
    /// What was spent already; it is left out.
    #[arg(long, value_name = "MONEY")]
    spent: Option<String>,
    /// What your own hour is worth.
    #[arg(long, value_name = "MONEY")]
    hour: Option<String>,
    /// How far it should go, for cost over distance.
    #[arg(long, value_name = "DISTANCE")]
    horizon: Option<String>,
}

impl Options {
    /// Asks for the comparison.
    pub fn ask(&self) -> Report {
        app::options::options(&Asked {
            file: self.file.clone(),
            faults: self.faults.clone(),
            value: self.value.clone(),
            spent: self.spent.clone(),
            hour: self.hour.clone(),
            horizon: self.horizon.clone(),
        })
    }
}
