//! `matchmark lash`: clearances, shims and which goes where.

use std::path::PathBuf;

use app::lash::Asked;
use clap::Args;
use report::Report;

/// Judge valve clearances and choose shims.
#[derive(Debug, Args)]
pub struct Lash {
    /// A sheet with columns `valve,kind,clearance [mm],shim [mm]`; a clearance may be `<0.04`.
    file: PathBuf,
    /// Clearance of an inlet valve: `0.15..0.25 mm`.
    #[arg(long, value_name = "RANGE")]
    inlet: String,
    /// Clearance of an exhaust valve.
    #[arg(long, value_name = "RANGE")]
    exhaust: String,
    /// Single shims at hand, unit once at the end: `2.60 2.65 mm`.
    #[arg(long, value_name = "LIST")]
    stock: Option<String>,
    /// Sizes sold come in multiples of this: `0.05 mm`.
    #[arg(long, value_name = "LENGTH")]
    step: Option<String>,
    /// shim, over (the bucket), under (cams out), screw or hydraulic.
    #[arg(long)]
    adjuster: Option<String>,
    /// fewest-to-buy or fewest-disturbed; under the bucket the second is meant.
    #[arg(long)]
    aim: Option<String>,
    /// A sealant film that lifts the cams and is not there while measuring.
    #[arg(long, value_name = "LENGTH")]
    film: Option<String>,
    /// How far the valves sank when seats or faces were cut after these readings.
    #[arg(long, value_name = "LENGTH")]
    seats_cut: Option<String>,
    /// Advance of an adjusting screw per turn.
    #[arg(long, value_name = "LENGTH")]
    pitch: Option<String>,
    /// A second sheet, with the new shims in: checked against the arithmetic.
    #[arg(long, value_name = "FILE")]
    after: Option<PathBuf>,
}

impl Lash {
    /// Asks for verdicts and shims.
    pub fn ask(&self) -> Report {
        app::lash::lash(&Asked {
            file: self.file.clone(),
            inlet: self.inlet.clone(),
            exhaust: self.exhaust.clone(),
            stock: self.stock.clone(),
            step: self.step.clone(),
            adjuster: self.adjuster.clone(),
            aim: self.aim.clone(),
            film: self.film.clone(),
            seats_cut: self.seats_cut.clone(),
            pitch: self.pitch.clone(),
            after: self.after.clone(),
        })
    }
}
