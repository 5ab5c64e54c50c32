//! `matchmark hydraulic-lock`: liquid in a cylinder before the starter is touched.

use app::hydraulic_lock::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Work out whether liquid in a cylinder locks the engine, and where it stops.
#[derive(Debug, Args)]
pub struct HydraulicLock {
    /// Bore; without it, that of the job's book.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    bore: Option<String>,
    /// Stroke; without it, that of the job's book.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    stroke: Option<String>,
    /// Rod between centres; without it, that of the job's book.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    rod: Option<String>,
    /// Compression ratio; without it, that of the job's book.
    #[arg(long, allow_hyphen_values = true)]
    ratio: Option<String>,
    /// Liquid that may be in the cylinder.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    liquid: String,
    /// Inlet valve seats so far after bottom dead centre.
    #[arg(long, value_name = "ANGLE")]
    inlet_closes: Option<String>,
}

impl HydraulicLock {
    /// Asks whether it locks.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            bore: self.bore.clone(),
            stroke: self.stroke.clone(),
            rod: self.rod.clone(),
            ratio: self.ratio.clone(),
            liquid: self.liquid.clone(),
            inlet_closes: self.inlet_closes.clone(),
        };
        context.with_any_job("hydraulic-lock", |folder| {
            app::hydraulic_lock::of_job(folder, &asked)
        })
    }
}
