//! `matchmark shop-sheet`: the sheet for the machine shop.

use app::shop_sheet::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Write what to ask the machine shop for, and compare what comes back.
#[derive(Debug, Args)]
pub struct ShopSheet {
    /// head or block; with a job, the name of one in its book: its readings stand on the sheet.
    part: Option<String>,
    /// Cams run in bores of this head.
    #[arg(long)]
    overhead_cam: bool,
    /// Flatness as measured here.
    #[arg(long, value_name = "LENGTH")]
    flatness: Option<String>,
    /// The limit for it.
    #[arg(long, value_name = "LENGTH")]
    limit: Option<String>,
    /// Whose limit it is and where it stands.
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
    /// Thickness at the corners before it goes out: drive end left, right, flywheel end left, right.
    #[arg(long, value_name = "LIST")]
    before: Option<String>,
    /// The same when it is back.
    #[arg(long, value_name = "LIST")]
    after: Option<String>,
    /// The least thickness allowed.
    #[arg(long, value_name = "LENGTH")]
    least: Option<String>,
}

impl ShopSheet {
    /// Asks for the answer.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            part: self.part.clone(),
            overhead_cam: self.overhead_cam,
            flatness: self.flatness.clone(),
            limit: self.limit.clone(),
            limit_source: self.limit_source.clone(),
            before: self.before.clone(),
            after: self.after.clone(),
            least: self.least.clone(),
        };
        context.with_any_job("shop-sheet", |folder| {
            app::shop_sheet::shop_sheet(&asked, folder)
        })
    }
}
