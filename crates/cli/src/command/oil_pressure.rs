//! `matchmark oil-pressure`: the figure at warm idle decides.

use app::oil_pressure::Asked;
use clap::Args;
use report::Report;

/// Judge oil pressure; the figure at warm idle decides.
#[derive(Debug, Args)]
pub struct OilPressure {
    /// At warm idle, on a mechanical gauge.
    #[arg(long, value_name = "PRESSURE")]
    idle: Option<String>,
    /// At a speed, warm.
    #[arg(long, value_name = "PRESSURE")]
    fast: Option<String>,
    /// That speed.
    #[arg(long, value_name = "SPEED")]
    speed: Option<String>,
    /// The maker's lowest at idle.
    #[arg(long, value_name = "PRESSURE")]
    limit: Option<String>,
    /// The oil was not fully warm.
    #[arg(long)]
    cold: bool,
    /// The gauge or lamp in the dash was read.
    #[arg(long)]
    dash: bool,
}

impl OilPressure {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::oil_pressure::oil_pressure(&Asked {
            idle: self.idle.clone(),
            fast: self.fast.clone(),
            speed: self.speed.clone(),
            limit: self.limit.clone(),
            cold: self.cold,
            dash: self.dash,
        })
    }
}
