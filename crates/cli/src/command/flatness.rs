//! `matchmark flatness`: a face from heights at places.

use std::path::PathBuf;

use app::flatness::Asked;
use clap::Args;
use report::Report;

/// Judge how flat a face is from a table of heights.
#[derive(Debug, Args)]
pub struct Flatness {
    /// A table: `x [mm],y [mm],z [mm]` for heights, `line,x [mm],y [mm],gap [mm]` for a
    /// straightedge, `line,x [mm],y [mm],tilt [arcsec]` for a level, `line,angles [arcsec]` for
    /// the eight lines of a union jack. Bounds: `0.05..0.06`.
    file: PathBuf,
    /// The most the whole face may be out: `0.05 mm`.
    #[arg(long, value_name = "LENGTH")]
    limit: Option<String>,
    /// Whose limit it is and where it stands: `maker, head section`.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// The most a line along the face may be out.
    #[arg(long, value_name = "LENGTH")]
    limit_along: Option<String>,
    /// The most a line across the face may be out.
    #[arg(long, value_name = "LENGTH")]
    limit_across: Option<String>,
    /// The most any short stretch may be out: `0.05 mm per 150 mm`.
    #[arg(long, value_name = "LIMIT")]
    limit_local: Option<String>,
    /// What the instrument leaves open, ± (95 %).
    #[arg(long, value_name = "LENGTH")]
    uncertainty: Option<String>,
    /// Which face: head, block or other.
    #[arg(long)]
    face: Option<String>,
    /// Cylinders on this bank, for a default limit where the maker's is not known.
    #[arg(long, value_name = "COUNT")]
    cylinders: Option<u8>,
    /// Cams run in bores of this head.
    #[arg(long)]
    overhead_cam: bool,
    /// Where the drawing of readings inside their intervals begins.
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,
    /// With `angles`: how far one step of the level or mirror reaches.
    #[arg(long, value_name = "LENGTH")]
    foot: Option<String>,
}

impl Flatness {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::flatness::flatness(&Asked {
            file: self.file.clone(),
            limit: self.limit.clone(),
            limit_source: self.limit_source.clone(),
            limit_along: self.limit_along.clone(),
            limit_across: self.limit_across.clone(),
            limit_local: self.limit_local.clone(),
            uncertainty: self.uncertainty.clone(),
            face: self.face.clone(),
            cylinders: self.cylinders,
            overhead_cam: self.overhead_cam,
            seed: self.seed,
            foot: self.foot.clone(),
        })
    }
}
