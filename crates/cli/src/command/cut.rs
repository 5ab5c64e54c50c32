//! `matchmark cut`: what metal off a head does besides the ratio.

use app::cut::Asked;
use clap::Args;
use report::Report;

/// Work out what a cut does to timing, valves, manifold and chambers.
#[derive(Debug, Args)]
pub struct Cut {
    /// Metal to come off, at the deepest place: `0.25 mm`.
    depth: String,
    /// Metal that came off before, head and block.
    #[arg(long, value_name = "LENGTH")]
    before: Option<String>,
    /// The most that may be gone in all.
    #[arg(long, value_name = "LENGTH")]
    limit: Option<String>,
    /// Whose limit it is and where it stands.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// Pitch radius of the cam wheel (teeth × pitch/2π).
    #[arg(long, value_name = "LENGTH")]
    cam_radius: Option<String>,
    /// Pitch radius of the crank wheel, for a straight drive.
    #[arg(long, value_name = "LENGTH")]
    crank_radius: Option<String>,
    /// Distance of crank and cam centres, for a straight drive.
    #[arg(long, value_name = "LENGTH")]
    centres: Option<String>,
    /// Lean of the pulling span that crosses from block to head, measured.
    #[arg(long, value_name = "ANGLE")]
    lean: Option<String>,
    /// Angle of the valves to the bore.
    #[arg(long, value_name = "ANGLE")]
    valve_angle: Option<String>,
    /// Angle of the pushrods to the bore.
    #[arg(long, value_name = "ANGLE")]
    pushrod_angle: Option<String>,
    /// Angle between the banks of a V.
    #[arg(long, value_name = "ANGLE")]
    bank_angle: Option<String>,
    /// Tilt of the manifold flange from square to the deck.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    flange_tilt: Option<String>,
    /// Thickness at the corners, drive end first, left then right.
    #[arg(long, value_name = "LIST")]
    corners: Option<String>,
    /// Area of a chamber mouth, for a face cut deeper at one end.
    #[arg(long, value_name = "AREA")]
    chamber_area: Option<String>,
    /// Share of the head's length between its end cylinders; 75 % where not told.
    #[arg(long, value_name = "RATIO")]
    end_share: Option<String>,
    /// Distance of the corners across the face, for the lean of a wedge.
    #[arg(long, value_name = "LENGTH")]
    width: Option<String>,
}

impl Cut {
    /// Asks what follows.
    pub fn ask(&self) -> Report {
        app::cut::cut(&Asked {
            cut: self.depth.clone(),
            before: self.before.clone(),
            limit: self.limit.clone(),
            limit_source: self.limit_source.clone(),
            cam_radius: self.cam_radius.clone(),
            crank_radius: self.crank_radius.clone(),
            centres: self.centres.clone(),
            lean: self.lean.clone(),
            valve_angle: self.valve_angle.clone(),
            pushrod_angle: self.pushrod_angle.clone(),
            bank_angle: self.bank_angle.clone(),
            flange_tilt: self.flange_tilt.clone(),
            corners: self.corners.clone(),
            chamber_area: self.chamber_area.clone(),
            end_share: self.end_share.clone(),
            width: self.width.clone(),
        })
    }
}
