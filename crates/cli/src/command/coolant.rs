//! `matchmark coolant`: what to pour over what stayed inside.

use app::coolant::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Work out concentrate and water for a partly drained system.
#[derive(Debug, Args)]
pub struct Coolant {
    /// Capacity of the whole system; without it, that of the job's book.
    #[arg(long, value_name = "VOLUME")]
    capacity: Option<String>,
    /// What came out: a reading, not a guess; without it, what the job's record says.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    drained: Option<String>,
    /// Strength of what stayed inside; `0 %` after a flush with water.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    inside: Option<String>,
    /// Strength wanted; without it, that of the job's book.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    target: Option<String>,
    /// ethylene or propylene.
    #[arg(long)]
    glycol: Option<String>,
    /// Percentages are of pure glycol, not of concentrate as sold.
    #[arg(long)]
    pure: bool,
    /// Pressure of the cap; without it, that of the job's book.
    #[arg(long, value_name = "PRESSURE")]
    cap: Option<String>,
    /// Height above sea level.
    #[arg(long, value_name = "HEIGHT")]
    altitude: Option<String>,
    /// What really went in; what is short is trapped air.
    #[arg(long, value_name = "VOLUME")]
    filled: Option<String>,
    /// Coldest temperature expected.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    coldest: Option<String>,
    /// The glycol scale the strength inside was read on.
    #[arg(long, value_name = "GLYCOL")]
    scale: Option<String>,
    /// Inhibitors of what stayed inside: inorganic, organic, silicated, phosphated, nitrited.
    #[arg(long)]
    inside_family: Option<String>,
    /// Inhibitors of what is poured.
    #[arg(long)]
    family: Option<String>,
    /// Glycol of what stayed inside, where it is another one.
    #[arg(long, value_name = "GLYCOL")]
    inside_glycol: Option<String>,
}

impl Coolant {
    /// Asks what to pour.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            capacity: self.capacity.clone(),
            drained: self.drained.clone(),
            inside: self.inside.clone(),
            target: self.target.clone(),
            glycol: self.glycol.clone(),
            pure: self.pure,
            cap: self.cap.clone(),
            altitude: self.altitude.clone(),
            filled: self.filled.clone(),
            coldest: self.coldest.clone(),
            scale: self.scale.clone(),
            inside_family: self.inside_family.clone(),
            family: self.family.clone(),
            inside_glycol: self.inside_glycol.clone(),
        };
        context.with_any_job("coolant", |folder| app::coolant::of_job(folder, &asked))
    }
}
