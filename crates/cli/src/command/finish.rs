//! `matchmark finish`: the roughness of a gasket face.

use app::finish::Asked;
use clap::Args;
use report::Report;

/// Judge the roughness of a gasket face.
#[derive(Debug, Args)]
pub struct Finish {
    /// Ra with its unit: `30 µin`, `0.8 µm`.
    ra: String,
    /// The gasket that goes on: steel, soft-aluminium, soft-iron or composite.
    #[arg(long)]
    gasket: Option<String>,
    /// The most it may be.
    #[arg(long, value_name = "LENGTH")]
    limit: Option<String>,
    /// Whose limit it is and where it stands.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
}

impl Finish {
    /// Asks for the answer.
    pub fn ask(&self) -> Report {
        app::finish::finish(&Asked {
            ra: self.ra.clone(),
            gasket: self.gasket.clone(),
            limit: self.limit.clone(),
            limit_source: self.limit_source.clone(),
        })
    }
}
