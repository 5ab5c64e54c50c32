//! `matchmark proof`: before and after on the same gauge.

use app::proof::Asked;
use clap::Args;
use report::Report;

/// Compare cranking readings before and after some work.
#[derive(Debug, Args)]
pub struct Proof {
    /// Where the cylinders stand.
    #[arg(long)]
    layout: String,
    /// Readings before, unit once at the end.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    before: String,
    /// Readings after.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    after: String,
    /// What was done in between.
    #[arg(long, value_name = "TEXT")]
    work: Option<String>,
    /// Same gauge, same strokes, same warmth both times.
    #[arg(long)]
    alike: bool,
    /// How well the gauge repeats: `2 %`.
    #[arg(long, value_name = "RATIO")]
    repeatability: Option<String>,
}

impl Proof {
    /// Asks for the comparison.
    pub fn ask(&self) -> Report {
        app::proof::proof(&Asked {
            layout: self.layout.clone(),
            before: self.before.clone(),
            after: self.after.clone(),
            work: self.work.clone(),
            alike: self.alike,
            repeatability: self.repeatability.clone(),
        })
    }
}
