//! `matchmark proof`: before and after on the same gauge.

use app::proof::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Compare cranking readings before and after some work.
#[derive(Debug, Args)]
pub struct Proof {
    /// Where the cylinders stand. Without readings, the job's own tests are set side by side.
    #[arg(long, requires = "before")]
    layout: Option<String>,
    /// Readings before, unit once at the end.
    #[arg(
        long,
        value_name = "LIST",
        allow_hyphen_values = true,
        requires = "after"
    )]
    before: Option<String>,
    /// Readings after.
    #[arg(
        long,
        value_name = "LIST",
        allow_hyphen_values = true,
        requires = "layout"
    )]
    after: Option<String>,
    /// What was done in between.
    #[arg(long, value_name = "TEXT")]
    work: Option<String>,
    /// Same gauge, same strokes, same warmth both times.
    #[arg(long)]
    alike: bool,
    /// How well the gauge repeats: `2 %`.
    #[arg(long, value_name = "RATIO")]
    repeatability: Option<String>,
}

impl Proof {
    /// Asks for the comparison.
    pub fn ask(&self, context: &Context) -> Report {
        let (Some(layout), Some(before), Some(after)) = (&self.layout, &self.before, &self.after)
        else {
            return context.with_job("proof", |folder| app::proof::of_job(folder));
        };
        app::proof::proof(&Asked {
            layout: layout.clone(),
            before: before.clone(),
            after: after.clone(),
            work: self.work.clone(),
            alike: self.alike,
            repeatability: self.repeatability.clone(),
        })
    }
}
