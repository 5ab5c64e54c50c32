//! `matchmark leakdown`: what each cylinder loses, and where the air comes out.

use app::leakdown::Asked;
use clap::Args;
use report::Report;

/// Judge leak-down losses by a named rule and by the place of the hiss.
#[derive(Debug, Args)]
pub struct Leakdown {
    /// Where the cylinders stand: `I4`, `F4`, `V6`, `V6:1 3 5/2 4 6`.
    #[arg(long)]
    layout: String,
    /// Loss of each cylinder in order, `%` once at the end, `-` for none.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    loss: String,
    /// Supply pressure.
    #[arg(long, value_name = "PRESSURE")]
    supply: Option<String>,
    /// Orifice of the tester.
    #[arg(long, value_name = "LENGTH")]
    orifice: Option<String>,
    /// Height of the workshop.
    #[arg(long, value_name = "HEIGHT")]
    altitude: Option<String>,
    /// Where air was heard: `4 intake, 2 oil filler`.
    #[arg(long, value_name = "TEXT")]
    heard: Option<String>,
    /// ten, twenty, sixty-of-eighty, thirty, or the maker's figure: `15 %`.
    #[arg(long)]
    rule: Option<String>,
    /// Cranking readings of the same engine.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    cranking: Option<String>,
    /// Strokes to the cycle: 2 or 4.
    #[arg(long, value_name = "2|4")]
    cycle: Option<u32>,
}

impl Leakdown {
    /// Asks for the verdict.
    pub fn ask(&self) -> Report {
        app::leakdown::leakdown(&Asked {
            layout: self.layout.clone(),
            loss: self.loss.clone(),
            supply: self.supply.clone(),
            orifice: self.orifice.clone(),
            altitude: self.altitude.clone(),
            heard: self.heard.clone(),
            rule: self.rule.clone(),
            cranking: self.cranking.clone(),
            cycle: self.cycle,
        })
    }
}
