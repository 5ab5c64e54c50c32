//! `matchmark vacuum`: intake vacuum at warm idle.

use clap::Args;
use report::Report;

/// Read a vacuum gauge at warm idle: a clue to follow, not a cause.
#[derive(Debug, Args)]
pub struct Vacuum {
    /// How far below the air around: `18 inHg`.
    #[arg(allow_hyphen_values = true)]
    level: String,
    /// steady, regular-drop, regular-swing or falls-at-speed.
    #[arg(long)]
    needle: Option<String>,
    /// Height of the workshop.
    #[arg(long, value_name = "HEIGHT")]
    altitude: Option<String>,
}

impl Vacuum {
    /// Asks what it points to.
    pub fn ask(&self) -> Report {
        app::vacuum::vacuum(
            &self.level,
            self.needle.as_deref(),
            self.altitude.as_deref(),
        )
    }
}
