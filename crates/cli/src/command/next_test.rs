//! `matchmark next-test`: what remains, and the test that parts it.

use app::folder::Folder;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Name the test that parts the explanations that remain.
#[derive(Debug, Args)]
pub struct NextTest {
    /// What was seen: `misfire-cold,coolant-loss,even-compression`. Without it, what the job's
    /// readings and notes say; without a job, the list.
    #[arg(long, value_name = "WORDS")]
    seen: Vec<String>,
    /// What made it overheat, or `not found`.
    #[arg(long, value_name = "TEXT")]
    overheat_cause: Option<String>,
    /// A two-stroke engine.
    #[arg(long)]
    two_stroke: bool,
}

impl NextTest {
    /// Asks for the test.
    pub fn ask(&self, context: &Context) -> Report {
        let cause = self.overheat_cause.as_deref();
        if self.seen.is_empty()
            && let Ok(folder) = Folder::open(&context.job)
        {
            return app::next_test::of_job(&folder, cause, self.two_stroke);
        }
        app::next_test::next_test(&self.seen, cause, self.two_stroke)
    }
}
