//! `matchmark cranking`: compression at the starter, over the layout.

use app::cranking::{Asked, GeometryText};
use clap::Args;
use report::Report;

use crate::context::Context;

/// Judge cranking compression over the layout, dry and wet.
#[derive(Debug, Args)]
pub struct Cranking {
    /// Where the cylinders stand: `I4`, `F4`, `V6`, `V6:1 3 5/2 4 6`.
    /// Without it, as the job's book says.
    #[arg(long)]
    layout: Option<String>,
    /// Dry readings in cylinder order, unit once at the end, `-` for none.
    /// Without it, the last ones in the job's record.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    dry: Option<String>,
    /// Readings with oil, in the same order.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    wet: Option<String>,
    /// Readings after the first stroke.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    first: Option<String>,
    /// Strokes to the cycle: 2 or 4.
    #[arg(long, value_name = "2|4")]
    cycle: Option<u32>,
    /// The engine lights its charge by compression.
    #[arg(long)]
    diesel: bool,
    /// Height of the workshop: `5500 ft`.
    #[arg(long, value_name = "HEIGHT")]
    altitude: Option<String>,
    /// The readings were brought to sea level already.
    #[arg(long)]
    already_corrected: bool,
    /// What a new engine reads at sea level.
    #[arg(long, value_name = "PRESSURE")]
    new: Option<String>,
    /// The maker's lowest reading at sea level.
    #[arg(long, value_name = "PRESSURE")]
    limit: Option<String>,
    /// The spread rule: share-75, share-70, within-20, within-10, one-bar.
    #[arg(long)]
    rule: Option<String>,
    /// The sentence that came with the readings.
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// How well the gauge repeats on one cylinder: `2 %`, `3 psi`.
    #[arg(long, value_name = "RATIO")]
    repeatability: Option<String>,
    /// How far the whole gauge may be off: `6 psi`, `2 % of 300 psi`. It counts against a
    /// limit, not between cylinders.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    accuracy: Option<String>,
    /// The cam drive is broken or slipping.
    #[arg(long)]
    cam_drive_broken: bool,
    /// A condition: `cold`, `throttle shut`, `fresh build`; say it once for each.
    #[arg(long = "condition", value_name = "TEXT")]
    conditions: Vec<String>,
    /// Oil put into each cylinder for the wet readings.
    #[arg(long, value_name = "VOLUME")]
    oil: Option<String>,
    /// Compression strokes counted on each cylinder.
    #[arg(long, value_name = "COUNT")]
    strokes: Option<u32>,
    /// Bore, with the four below: a sanity band from geometry.
    #[arg(long, value_name = "LENGTH")]
    bore: Option<String>,
    /// Stroke.
    #[arg(long, value_name = "LENGTH")]
    stroke: Option<String>,
    /// Rod between centres.
    #[arg(long, value_name = "LENGTH")]
    rod: Option<String>,
    /// Compression ratio.
    #[arg(long)]
    ratio: Option<String>,
    /// Inlet valve seats so far after bottom dead centre.
    #[arg(long, value_name = "ANGLE")]
    inlet_closes: Option<String>,
}

impl Cranking {
    /// Asks for the verdict.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = self.asked();
        if self.dry.is_some() && self.layout.is_some() {
            app::cranking::cranking(&asked)
        } else if self.dry.is_some() {
            // Readings typed outside of a job lack nothing but the layout, and are told so.
            context.with_any_job("cranking", |folder| match folder {
                Some(folder) => app::cranking::of_job(folder, &asked),
                None => app::cranking::cranking(&asked),
            })
        } else {
            context.with_job("cranking", |folder| app::cranking::of_job(folder, &asked))
        }
    }

    fn asked(&self) -> Asked {
        Asked {
            layout: self.layout.clone().unwrap_or_default(),
            dry: self.dry.clone().unwrap_or_default(),
            wet: self.wet.clone(),
            first: self.first.clone(),
            cycle: self.cycle,
            diesel: self.diesel,
            altitude: self.altitude.clone(),
            already_corrected: self.already_corrected,
            new: self.new.clone(),
            limit: self.limit.clone(),
            whose: app::cranking::Whose::default(),
            rule: self.rule.clone(),
            note: self.note.clone(),
            repeatability: self.repeatability.clone(),
            accuracy: self.accuracy.clone(),
            conditions: self.conditions.clone(),
            cam_drive_broken: self.cam_drive_broken,
            oil: self.oil.clone(),
            strokes: self.strokes,
            geometry: GeometryText {
                bore: self.bore.clone(),
                stroke: self.stroke.clone(),
                rod: self.rod.clone(),
                ratio: self.ratio.clone(),
                inlet_closes: self.inlet_closes.clone(),
            },
        }
    }
}
