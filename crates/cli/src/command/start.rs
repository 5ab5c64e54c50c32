//! `matchmark start`: the sheet for the first start.

use clap::Args;
use report::Report;

use crate::context::Context;

/// Print the first minutes, when to stop at once, what is normal and what to watch after.
#[derive(Debug, Args)]
pub struct Start {
    /// Fuel line, filter and rail.
    #[arg(long, value_name = "VOLUME")]
    fuel_volume: Option<String>,
    /// Pump flow at working pressure.
    #[arg(long, value_name = "FLOW")]
    fuel_flow: Option<String>,
}

impl Start {
    /// Asks for the sheet.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("start", |folder| {
            app::start::start(
                folder,
                self.fuel_volume.as_deref(),
                self.fuel_flow.as_deref(),
                context.now_micros,
            )
        })
    }
}
