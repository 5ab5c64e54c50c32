//! `matchmark spring`: a valve spring as installed.

use app::spring::Asked;
use clap::Args;
use report::Report;

/// Work out load and height of a valve spring after its seat was cut, and the shim for it.
#[derive(Debug, Args)]
pub struct Spring {
    /// Its rate: `35 N/mm`.
    #[arg(long, value_name = "RATE")]
    rate: String,
    /// Its length when free.
    #[arg(long, value_name = "LENGTH")]
    free: String,
    /// Its installed height before the valve sank.
    #[arg(long, value_name = "LENGTH")]
    height: String,
    /// How far the valve sank when its seat was cut.
    #[arg(long, value_name = "LENGTH")]
    sink: Option<String>,
    /// Lift of the valve, for the room between the coils.
    #[arg(long, value_name = "LENGTH")]
    lift: Option<String>,
    /// Its length with the coils together.
    #[arg(long, value_name = "LENGTH")]
    solid: Option<String>,
}

impl Spring {
    /// Asks for load, height and shim.
    pub fn ask(&self) -> Report {
        app::spring::spring(&Asked {
            rate: self.rate.clone(),
            free: self.free.clone(),
            height: self.height.clone(),
            sink: self.sink.clone(),
            lift: self.lift.clone(),
            solid: self.solid.clone(),
        })
    }
}
