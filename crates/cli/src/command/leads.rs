//! `matchmark leads`: are the ignition leads some towers out?

use clap::Args;
use report::Report;

/// Check ignition leads on a distributor before the first cranking.
#[derive(Debug, Args)]
pub struct Leads {
    /// The firing order: `1 3 4 2`.
    #[arg(long, value_name = "ORDER")]
    firing_order: String,
    /// The lead the rotor points at with cylinder 1 at the top.
    #[arg(long, value_name = "LEAD")]
    rotor_at: u8,
    /// clockwise or anticlockwise, seen from above the cap.
    #[arg(long, value_name = "WAY")]
    turns: String,
    /// Both valves of cylinder 1 were felt shut.
    #[arg(long)]
    on_compression: bool,
}

impl Leads {
    /// Asks how far out they are.
    pub fn ask(&self) -> Report {
        app::leads::leads(
            &self.firing_order,
            self.rotor_at,
            &self.turns,
            self.on_compression,
        )
    }
}
