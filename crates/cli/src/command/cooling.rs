//! `matchmark cooling-pressure` and `matchmark gas-test`.

use app::cooling::{GasText, HoldText};
use clap::Args;
use report::Report;

/// Judge whether the cooling system holds pressure.
#[derive(Debug, Args)]
pub struct CoolingPressure {
    /// Pumped to; never above the cap.
    #[arg(long, value_name = "PRESSURE")]
    start: String,
    /// Found at the end.
    #[arg(long, value_name = "PRESSURE")]
    end: String,
    /// After this time.
    #[arg(long, value_name = "TIME")]
    time: String,
    /// Rating of the cap.
    #[arg(long, value_name = "PRESSURE")]
    cap: String,
    /// The maker's allowed drop over that time.
    #[arg(long, value_name = "PRESSURE")]
    allowed: Option<String>,
    /// Air above the coolant while pumping.
    #[arg(long, value_name = "VOLUME")]
    air: Option<String>,
    /// The engine was warm.
    #[arg(long)]
    warm: bool,
}

impl CoolingPressure {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::cooling::hold(&HoldText {
            start: self.start.clone(),
            end: self.end.clone(),
            time: self.time.clone(),
            cap: self.cap.clone(),
            allowed: self.allowed.clone(),
            air: self.air.clone(),
            warm: self.warm,
        })
    }
}

/// Judge a test for combustion gas in the coolant by its conditions.
#[derive(Debug, Args)]
pub struct GasTest {
    /// What the fluid did: blue (stayed) or yellow (turned).
    colour: String,
    /// The engine was cold.
    #[arg(long)]
    cold: bool,
    /// At idle only.
    #[arg(long)]
    idle_only: bool,
    /// Coolant got into the tube.
    #[arg(long)]
    splashed: bool,
    /// The fluid was old.
    #[arg(long)]
    old_fluid: bool,
    /// How many times it was made with this result.
    #[arg(long, default_value_t = 1)]
    times: u32,
}

impl GasTest {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::cooling::gas(&GasText {
            colour: self.colour.clone(),
            cold: self.cold,
            idle_only: self.idle_only,
            splashed: self.splashed,
            old_fluid: self.old_fluid,
            times: self.times,
        })
    }
}
