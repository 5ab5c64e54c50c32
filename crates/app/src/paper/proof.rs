//! The page of proof: every test before and after.

use report::Finding;
use sheet::paper::{Paper, Reading, answer};

use super::{What, Wish, nothing};

/// The page as the record has it.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let report = crate::proof::of_job(wish.folder);
    if report.rows.rows.is_empty() {
        return Err(nothing(
            What::Proof,
            "nothing was measured yet",
            "take the baseline before anything comes off: log \"read cranking dry: …\"",
        ));
    }
    let blocks = answer(&report, 1);
    Ok(wish.pages(What::Proof, report.title, Reading::Desk, blocks))
}
