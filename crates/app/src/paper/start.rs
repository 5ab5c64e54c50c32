//! The first start by the clock: figures, the minutes in their order, when to stop at once.

use report::{Finding, Report};
use sheet::paper::{Block, Paper, Reading, answer};

use super::{What, Wish, refused};

/// The sheet that lies beside the key.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let mut report = crate::start::start(wish.folder, None, None, wish.now_micros);
    if report.refused {
        return Err(refused(What::Start, &report));
    }
    let title = report.title.clone();
    let minutes = std::mem::take(&mut report.rows);
    let cautions = std::mem::take(&mut report.cautions);
    let because = std::mem::take(&mut report.because);
    let sources = std::mem::take(&mut report.sources);
    let rest = answer(&report, 1);
    // Care stands before the first act, the reasons after the last.
    let mut blocks: Vec<Block> = cautions.into_iter().map(Block::Care).collect();
    blocks.extend(rest);
    if !minutes.rows.is_empty() {
        blocks.push(Block::Heading(1, "By the clock".to_owned()));
        blocks.push(Block::TickRows(minutes));
    }
    if !because.is_empty() {
        blocks.push(Block::Heading(1, "To know beforehand".to_owned()));
        blocks.push(Block::List(because));
    }
    blocks.push(Block::Write(
        "Oil pressure cold, warm at idle; what was heard and seen:".to_owned(),
        3,
    ));
    report = Report {
        sources,
        ..Report::default()
    };
    blocks.extend(answer(&report, 1));
    Ok(wish.pages(What::Start, title, Reading::Desk, blocks))
}
