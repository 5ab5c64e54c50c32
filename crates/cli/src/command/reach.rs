//! `matchmark reach`, `while-open`: what must come off, and what lies open meanwhile.

use clap::Args;
use report::Report;

use crate::context::Context;

/// Say what must come off to get at a thing, the cheapest way, and the time there and back.
#[derive(Debug, Args)]
pub struct Reach {
    /// Parts, joints, holes (`joint.hole`), ports (`part.port`), lines or checks.
    #[arg(required = true, value_name = "PART")]
    targets: Vec<String>,
}

impl Reach {
    /// Asks for the way.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("reach", |folder| app::reach::reach(folder, &self.targets))
    }
}

/// List what else lies open once a thing is got at, and what coming back later would cost.
#[derive(Debug, Args)]
pub struct WhileOpen {
    /// Parts, joints, holes (`joint.hole`), ports (`part.port`), lines or checks.
    #[arg(required = true, value_name = "PART")]
    targets: Vec<String>,
}

impl WhileOpen {
    /// Asks for what lies open.
    pub fn ask(&self, context: &Context) -> Report {
        context.with_job("while-open", |folder| {
            app::reach::while_open(folder, &self.targets)
        })
    }
}
