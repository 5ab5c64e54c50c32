//! `matchmark clearance`: one clearance of a named kind.

use app::clearance::Asked;
use clap::Args;
use report::Report;

/// Judge one clearance of a named kind.
#[derive(Debug, Args)]
pub struct Clearance {
    /// guide-inlet, guide-exhaust, valve-margin, coil-bind, bearing, end-float, rod-side, top-ring, second-ring, piston-cast, piston-forged, liner, piston-to-head.
    kind: String,
    /// The readings, unit once at the end: `0.05 <0.04 - 0.06 mm`.
    #[arg(allow_hyphen_values = true)]
    readings: String,
    /// The bore or journal the trade's rule goes by.
    #[arg(long, value_name = "LENGTH")]
    of: Option<String>,
    /// The maker's limit: `0.02..0.05 mm`, `max 0.1 mm`, `min 0.05 mm`.
    #[arg(long, value_name = "LIMIT")]
    limit: Option<String>,
    /// Whose limit it is and where it stands.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// The most the places may differ from each other.
    #[arg(long, value_name = "LENGTH")]
    spread: Option<String>,
    /// What the instrument leaves open, ± (95 %).
    #[arg(long, value_name = "LENGTH")]
    uncertainty: Option<String>,
}

impl Clearance {
    /// Asks for the answer.
    pub fn ask(&self) -> Report {
        app::clearance::clearance(&Asked {
            kind: self.kind.clone(),
            readings: self.readings.clone(),
            of: self.of.clone(),
            limit: self.limit.clone(),
            limit_source: self.limit_source.clone(),
            spread: self.spread.clone(),
            uncertainty: self.uncertainty.clone(),
        })
    }
}
