//! `matchmark ratio`: compression ratio from volumes.

use app::ratio::Asked;
use clap::Args;
use report::Report;

/// Work out the compression ratio, and what a cut makes of it.
#[derive(Debug, Args)]
pub struct Ratio {
    /// Bore: `86 mm`.
    #[arg(long, value_name = "LENGTH")]
    bore: String,
    /// Stroke.
    #[arg(long, value_name = "LENGTH")]
    stroke: String,
    /// Chamber in the head, poured: `45 cc`; poured several times, `44.8 45.1 45 cc`.
    #[arg(long, value_name = "VOLUMES")]
    chamber: String,
    /// Bore of the gasket.
    #[arg(long, value_name = "LENGTH")]
    gasket_bore: String,
    /// Thickness of the gasket, tightened.
    #[arg(long, value_name = "LENGTH")]
    gasket: String,
    /// Piston below the deck at the top; `-0.2 mm` when it stands proud.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    deck: Option<String>,
    /// Hollow in the piston.
    #[arg(long, value_name = "VOLUME")]
    dish: Option<String>,
    /// Rise of the piston: taken off.
    #[arg(long, value_name = "VOLUME")]
    dome: Option<String>,
    /// Valve pockets in the piston.
    #[arg(long, value_name = "VOLUME")]
    relief: Option<String>,
    /// Gap round the piston above the top ring, to have it counted.
    #[arg(long, value_name = "VOLUME")]
    crevice: Option<String>,
    /// Metal to come off the head face.
    #[arg(long, value_name = "LENGTH")]
    cut: Option<String>,
    /// Area of the chamber mouth at the face: `4900 mm²`.
    #[arg(long, value_name = "AREA")]
    chamber_area: Option<String>,
    /// For the mouth instead: the chamber poured again with the plate on a ring.
    #[arg(long, value_name = "VOLUME")]
    raised: Option<String>,
    /// Height of that ring.
    #[arg(long, value_name = "LENGTH")]
    ring: Option<String>,
    /// For a round mouth instead: its edge, all the way round.
    #[arg(long, value_name = "LENGTH")]
    perimeter: Option<String>,
    /// A ratio to reach.
    #[arg(long, value_name = "RATIO")]
    target: Option<String>,
}

impl Ratio {
    /// Asks for the ratio.
    pub fn ask(&self) -> Report {
        app::ratio::ratio(&Asked {
            bore: self.bore.clone(),
            stroke: self.stroke.clone(),
            chamber: self.chamber.clone(),
            gasket_bore: self.gasket_bore.clone(),
            gasket: self.gasket.clone(),
            deck: self.deck.clone(),
            dish: self.dish.clone(),
            dome: self.dome.clone(),
            relief: self.relief.clone(),
            crevice: self.crevice.clone(),
            cut: self.cut.clone(),
            chamber_area: self.chamber_area.clone(),
            raised: self.raised.clone(),
            ring: self.ring.clone(),
            perimeter: self.perimeter.clone(),
            target: self.target.clone(),
        })
    }
}
