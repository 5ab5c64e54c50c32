//! `matchmark leads`: the lead map of the job; are the leads on a distributor some towers out?

use clap::Args;
use report::Report;

use crate::context::Context;

/// Print the lead map of the job; with an order, check a distributor before the first cranking.
#[derive(Debug, Args)]
pub struct Leads {
    /// The firing order: `1 3 4 2`.
    #[arg(long, value_name = "ORDER", requires_all = ["rotor_at", "turns"])]
    firing_order: Option<String>,
    /// The lead the rotor points at with cylinder 1 at the top.
    #[arg(long, value_name = "LEAD", requires = "firing_order")]
    rotor_at: Option<u8>,
    /// clockwise or anticlockwise, seen from above the cap.
    #[arg(long, value_name = "WAY", requires = "firing_order")]
    turns: Option<String>,
    /// Both valves of cylinder 1 were felt shut.
    #[arg(long)]
    on_compression: bool,
}

impl Leads {
    /// Asks for the map, or how far out they are.
    pub fn ask(&self, context: &Context) -> Report {
        match (&self.firing_order, self.rotor_at, &self.turns) {
            (Some(order), Some(rotor_at), Some(turns)) => {
                app::leads::leads(order, rotor_at, turns, self.on_compression)
            }
            _ => context.with_job("leads", |folder| app::leads::lead_map(folder)),
        }
    }
}
