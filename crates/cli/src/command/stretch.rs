//! `matchmark stretch`: the length of bolts.

use app::stretch::Asked;
use clap::Args;
use report::Report;

/// Judge the length of bolts: free, grown for good, or stretched as they sit.
#[derive(Debug, Args)]
pub struct Stretch {
    /// Lengths of the free bolts now, unit once at the end: `101.2 101.0 - mm`.
    #[arg(value_name = "LENGTHS", allow_hyphen_values = true)]
    free: String,
    /// The most a free bolt may measure.
    #[arg(long, value_name = "LIMIT")]
    limit: Option<String>,
    /// Lengths of the same bolts, free, before they were tightened.
    #[arg(long, value_name = "LENGTHS")]
    before: Option<String>,
    /// The most a bolt may have grown for good.
    #[arg(long, value_name = "LIMIT")]
    most_growth: Option<String>,
    /// How much warmer the bolts are now than before: `10 K`.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    warmer: Option<String>,
    /// Lengths of the same bolts as they sit, tightened.
    #[arg(long, value_name = "LENGTHS")]
    tight: Option<String>,
    /// How far they are to be stretched: `0.14..0.16 mm`.
    #[arg(long, value_name = "LIMIT")]
    stretch: Option<String>,
    /// Whose the limits are and where they stand: `maker, head section`.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// For the preload: the thread, `M10x1.5`.
    #[arg(long)]
    thread: Option<String>,
    /// For the preload: what lies between the head and the nut or the tapped part.
    #[arg(long, value_name = "LENGTH")]
    grip: Option<String>,
    /// For the preload: plain shank within the grip; `0 mm` where there is none.
    #[arg(long, value_name = "LENGTH")]
    shank: Option<String>,
    /// For the preload: the end sits in a nut, not in a tapped hole.
    #[arg(long)]
    nut: bool,
    /// What the instrument leaves open in one reading, ± (95 %).
    #[arg(long, value_name = "LENGTH")]
    uncertainty: Option<String>,
}

impl Stretch {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::stretch::stretch(&Asked {
            free: self.free.clone(),
            limit: self.limit.clone(),
            before: self.before.clone(),
            most_growth: self.most_growth.clone(),
            warmer: self.warmer.clone(),
            tight: self.tight.clone(),
            stretch: self.stretch.clone(),
            limit_source: self.limit_source.clone(),
            thread: self.thread.clone(),
            grip: self.grip.clone(),
            shank: self.shank.clone(),
            nut: self.nut,
            uncertainty: self.uncertainty.clone(),
        })
    }
}
