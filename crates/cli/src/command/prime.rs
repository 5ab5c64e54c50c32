//! `matchmark prime oil` and `matchmark prime fuel`.

use clap::{Args, Subcommand};
use report::Report;

/// How long oil or fuel takes to fill its way before the first start.
#[derive(Debug, Args)]
pub struct Prime {
    #[command(subcommand)]
    what: What,
}

/// What is primed.
#[derive(Debug, Subcommand)]
enum What {
    /// Filter and galleries, by the starter or a drill.
    Oil {
        /// Filter and galleries.
        #[arg(long, value_name = "VOLUME")]
        volume: String,
        /// What the pump displaces in one crank turn.
        #[arg(long, value_name = "VOLUME")]
        per_turn: String,
        /// Share of that it delivers: `0.8` or `80 %`.
        #[arg(long, value_name = "RATIO")]
        efficiency: String,
        /// Cranking or drill speed.
        #[arg(long, value_name = "SPEED")]
        speed: String,
        /// A diesel starter may turn longer.
        #[arg(long)]
        diesel: bool,
    },
    /// Line, filter and rail, by the pump at key-on.
    Fuel {
        /// Line, filter and rail.
        #[arg(long, value_name = "VOLUME")]
        volume: String,
        /// Pump flow at working pressure.
        #[arg(long, value_name = "FLOW")]
        flow: String,
        /// How long the pump runs at each key-on; 2 s where not told.
        #[arg(long, value_name = "TIME")]
        pulse: Option<String>,
    },
}

impl Prime {
    /// Asks for turns or pulses.
    pub fn ask(&self) -> Report {
        match &self.what {
            What::Oil {
                volume,
                per_turn,
                efficiency,
                speed,
                diesel,
            } => app::prime::oil(&app::prime::Oil {
                volume: volume.clone(),
                per_turn: per_turn.clone(),
                efficiency: efficiency.clone(),
                speed: speed.clone(),
                diesel: *diesel,
            }),
            What::Fuel {
                volume,
                flow,
                pulse,
            } => app::prime::fuel(&app::prime::Fuel {
                volume: volume.clone(),
                flow: flow.clone(),
                pulse: pulse.clone(),
            }),
        }
    }
}
