//! `matchmark leakdown`: what each cylinder loses, and where the air comes out.

use app::leakdown::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Judge leak-down losses by a named rule and by the place of the hiss.
#[derive(Debug, Args)]
pub struct Leakdown {
    /// Where the cylinders stand: `I4`, `F4`, `V6`, `V6:1 3 5/2 4 6`.
    /// Without it, as the job's book says.
    #[arg(long)]
    layout: Option<String>,
    /// Loss of each cylinder in order, `%` once at the end, `-` for none.
    /// Without it, the last ones in the job's record.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    loss: Option<String>,
    /// What each cylinder held, instead of the loss; with --supply.
    #[arg(
        long,
        value_name = "LIST",
        allow_hyphen_values = true,
        conflicts_with = "loss"
    )]
    held: Option<String>,
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
    /// How far the tester may be off, in points of loss: `3 %`. It counts against the rule,
    /// not between cylinders.
    #[arg(long, value_name = "POINTS", allow_hyphen_values = true)]
    accuracy: Option<String>,
    /// How well a loss repeats, in points of loss: `1 %`.
    #[arg(long, value_name = "POINTS", allow_hyphen_values = true)]
    repeatability: Option<String>,
    /// Supply of another tester, to see what it would show.
    #[arg(long, value_name = "PRESSURE")]
    other_supply: Option<String>,
    /// Orifice of another tester.
    #[arg(long, value_name = "LENGTH")]
    other_orifice: Option<String>,
    /// Strokes to the cycle: 2 or 4.
    #[arg(long, value_name = "2|4")]
    cycle: Option<u32>,
}

impl Leakdown {
    /// Asks for the verdict.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            layout: self.layout.clone().unwrap_or_default(),
            loss: self.loss.clone().unwrap_or_default(),
            supply: self.supply.clone(),
            orifice: self.orifice.clone(),
            altitude: self.altitude.clone(),
            heard: self.heard.clone(),
            rule: self.rule.clone(),
            cranking: self.cranking.clone(),
            cycle: self.cycle,
            held: self.held.clone(),
            accuracy: self.accuracy.clone(),
            repeatability: self.repeatability.clone(),
            other_supply: self.other_supply.clone(),
            other_orifice: self.other_orifice.clone(),
        };
        let typed = self.loss.is_some() || self.held.is_some();
        if typed && self.layout.is_some() {
            app::leakdown::leakdown(&asked)
        } else if typed {
            // Losses typed outside of a job lack nothing but the layout, and are told so.
            context.with_any_job("leakdown", |folder| match folder {
                Some(folder) => app::leakdown::of_job(folder, &asked),
                None => app::leakdown::leakdown(&asked),
            })
        } else {
            context.with_job("leakdown", |folder| app::leakdown::of_job(folder, &asked))
        }
    }
}
