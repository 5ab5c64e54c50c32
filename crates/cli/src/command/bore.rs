//! `matchmark bore`: a bore or journal from diameters.

use std::path::PathBuf;

use app::bore::Asked;
use clap::Args;
use report::Report;

/// Judge a bore or journal from a table of diameters.
#[derive(Debug, Args)]
pub struct Bore {
    /// A table: `depth,direction,diameter [mm]`; `angle [°],radius [mm]` round one section; or
    /// `depth,gap [mm]` of one ring pushed to several depths.
    file: PathBuf,
    /// It is a shaft: wear makes it smaller.
    #[arg(long)]
    journal: bool,
    /// The size it was made to.
    #[arg(long, value_name = "LENGTH")]
    nominal: Option<String>,
    /// The most it may be out of round, diameters compared.
    #[arg(long, value_name = "LENGTH")]
    limit_round: Option<String>,
    /// The most it may taper.
    #[arg(long, value_name = "LENGTH")]
    limit_taper: Option<String>,
    /// Whose limits they are and where they stand.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// What the gauge leaves open, ± (95 %).
    #[arg(long, value_name = "LENGTH")]
    uncertainty: Option<String>,
    /// The piston skirt, measured at the maker's height.
    #[arg(long, value_name = "LENGTH")]
    skirt: Option<String>,
}

impl Bore {
    /// Asks for the answer.
    pub fn ask(&self) -> Report {
        app::bore::bore(&Asked {
            file: self.file.clone(),
            journal: self.journal,
            nominal: self.nominal.clone(),
            limit_round: self.limit_round.clone(),
            limit_taper: self.limit_taper.clone(),
            limit_source: self.limit_source.clone(),
            uncertainty: self.uncertainty.clone(),
            skirt: self.skirt.clone(),
        })
    }
}
