//! The map of ends: every hose, pipe, lead, cable and plug with the port it belongs on.

use report::{Finding, Picture};
use sheet::paper::{Block, Paper, Reading, answer};

use super::{What, Wish, nothing};

/// Every end with a box, to be gone through hand on hose before the first filling.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let mut report = crate::ends::ends(wish.folder, false, wish.now_micros);
    if report.rows.rows.is_empty() {
        return Err(nothing(
            What::Ends,
            "no end is known",
            "write hoses, leads and plugs into the book, or log them as they come off",
        ));
    }
    let title = report.title.clone();
    let ends = std::mem::take(&mut report.rows);
    // A net of a whole engine is a wall chart: on a sheet its words would be dust.
    report
        .pictures
        .retain(|picture| !matches!(picture, Picture::Net(_)));
    let mut blocks = answer(&report, 1);
    blocks.push(Block::Words(
        "Take hold of each, push, pull, and tick it: on its own port, clamp closed.".to_owned(),
    ));
    blocks.push(Block::TickRows(ends));
    Ok(wish.pages(What::Ends, title, Reading::Desk, blocks))
}
