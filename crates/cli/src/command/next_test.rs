//! `matchmark next-test`: what remains, and the test that parts it.

use clap::Args;
use report::Report;

/// Name the test that parts the explanations that remain.
#[derive(Debug, Args)]
pub struct NextTest {
    /// What was seen: `misfire-cold,coolant-loss,even-compression`; without it, the list.
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
    pub fn ask(&self) -> Report {
        app::next_test::next_test(&self.seen, self.overheat_cause.as_deref(), self.two_stroke)
    }
}
