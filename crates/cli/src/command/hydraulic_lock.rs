//! `matchmark hydraulic-lock`: liquid in a cylinder before the starter is touched.

use app::hydraulic_lock::Asked;
use clap::Args;
use report::Report;

/// Work out whether liquid in a cylinder locks the engine, and where it stops.
#[derive(Debug, Args)]
pub struct HydraulicLock {
    /// Bore.
    #[arg(long, value_name = "LENGTH")]
    bore: String,
    /// Stroke.
    #[arg(long, value_name = "LENGTH")]
    stroke: String,
    /// Rod between centres.
    #[arg(long, value_name = "LENGTH")]
    rod: String,
    /// Compression ratio.
    #[arg(long)]
    ratio: String,
    /// Liquid that may be in the cylinder.
    #[arg(long, value_name = "VOLUME")]
    liquid: String,
    /// Inlet valve seats so far after bottom dead centre.
    #[arg(long, value_name = "ANGLE")]
    inlet_closes: Option<String>,
}

impl HydraulicLock {
    /// Asks whether it locks.
    pub fn ask(&self) -> Report {
        app::hydraulic_lock::hydraulic_lock(&Asked {
            bore: self.bore.clone(),
            stroke: self.stroke.clone(),
            rod: self.rod.clone(),
            ratio: self.ratio.clone(),
            liquid: self.liquid.clone(),
            inlet_closes: self.inlet_closes.clone(),
        })
    }
}
