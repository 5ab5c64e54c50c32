//! `matchmark tighten`: the tightening sheet of a joint.

use app::tighten::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Show the tightening sheet of a joint: what to set, in which turn, what comes next.
#[derive(Debug, Args)]
pub struct Tighten {
    /// The joint, or a part with one joint; without it, the joints and how far each is.
    joint: Option<String>,
    /// Without a joint: list those nobody has touched as well.
    #[arg(long)]
    all: bool,
    /// A wrench instead of the shop's: `click 20..200 lbf·in 4 %`; give it again for another.
    #[arg(long = "wrench", value_name = "WRENCH")]
    wrenches: Vec<String>,
    /// The bolts lie in so many equal rows, counted row by row.
    #[arg(long, value_name = "COUNT")]
    rows: Option<usize>,
    /// The bolts lie on a ring.
    #[arg(long)]
    ring: bool,
    /// Show the figures behind the advice.
    #[arg(long)]
    why: bool,
}

impl Tighten {
    /// Asks for the sheet.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            joint: self.joint.clone(),
            all: self.all,
            wrenches: self.wrenches.clone(),
            rows: self.rows,
            ring: self.ring,
            why: self.why,
        };
        context.with_job("tighten", |folder| {
            app::tighten::tighten(folder, &asked, context.now_micros)
        })
    }
}
