//! The sheet that goes to the machine shop with a head or block, with room for its answers.

use book::{Critical, PartId};
use job::Errand;
use report::Finding;
use sheet::paper::{Block, Paper, Reading, answer};

use super::{What, Wish, nothing, refused};
use crate::shop_sheet::{Asked, shop_sheet};

/// A sheet for every part that was sent out; before that, for every head and block that was
/// taken off.
pub(super) fn of(wish: &Wish<'_>) -> Result<Vec<Paper>, Box<Finding>> {
    let state = &wish.folder.state;
    let mut parts: Vec<&PartId> = Vec::new();
    let sent = state
        .errands
        .iter()
        .filter_map(|errand| errand.part.as_ref());
    let off = state.known.parts.iter().map(|part| &part.id);
    for part in sent.chain(off.filter(|part| state.is_away(part))) {
        if is_machined(wish, part) && !parts.contains(&part) {
            parts.push(part);
        }
    }
    if parts.is_empty() {
        return Err(nothing(
            What::MachineShop,
            "no head or block is off or was sent out",
            "log it when it goes: \"sent PART to machine shop for …\"",
        ));
    }
    let mut sheets = Vec::new();
    let mut why = None;
    for part in parts {
        match sheet(wish, part) {
            Ok(sheet) => sheets.push(sheet),
            Err(finding) => why = Some(finding),
        }
    }
    // One that cannot be written does not keep the others back.
    match why {
        Some(finding) if sheets.is_empty() => Err(finding),
        Some(_) | None => Ok(sheets),
    }
}

/// Whether a part is a side of a joint that the book calls a head's: a head or a block.
fn is_machined(wish: &Wish<'_>, part: &PartId) -> bool {
    let joints = &wish.folder.state.known.joints;
    joints
        .iter()
        .filter(|joint| joint.critical == Some(Critical::Head))
        .any(|joint| joint.of == *part || joint.to.id == *part)
}

fn sheet(wish: &Wish<'_>, part: &PartId) -> Result<Paper, Box<Finding>> {
    let state = &wish.folder.state;
    let asked = Asked {
        part: Some(part.to_string()),
        overhead_cam: has_cams(wish, part),
        ..Asked::default()
    };
    let mut report = shop_sheet(&asked, Some(wish.folder));
    if report.refused {
        return Err(refused(What::MachineShop, &report));
    }
    // The corners it asks for have lines of their own below.
    report.asks.clear();
    let mut blocks: Vec<Block> = Vec::new();
    for errand in &state.errands {
        if errand.part.as_ref() == Some(part) {
            blocks.push(Block::Words(sent_out(&errand.errand)));
        }
    }
    blocks.extend(answer(&report, 1));
    let corners = [
        "Drive end, left:",
        "Drive end, right:",
        "Flywheel end, left:",
        "Flywheel end, right:",
    ];
    blocks.push(Block::Chapter(
        "Thickness at the corners, before it went and when it came back".to_owned(),
        corners
            .map(|corner| Block::Write(corner.to_owned(), 1))
            .to_vec(),
    ));
    blocks.push(Block::Write(
        "The shop's answers, with name and day:".to_owned(),
        4,
    ));
    let title = format!("For the machine shop: {}", state.part_label(part));
    let mut paper = wish.pages(What::MachineShop, title, Reading::Desk, blocks);
    paper.name = format!("{}-{part}", What::MachineShop.word());
    Ok(paper)
}

/// Whether cams run in bores of a part.
fn has_cams(wish: &Wish<'_>, part: &PartId) -> bool {
    let mut joints = wish.folder.state.known.joints_to(part);
    joints.any(|joint| joint.critical == Some(Critical::Cam))
}

fn sent_out(errand: &Errand) -> String {
    let to = errand
        .to
        .as_deref()
        .map_or_else(String::new, |to| format!(" to {to}"));
    let work = errand.work.as_deref();
    let work = work.map_or_else(String::new, |work| format!(" for {work}"));
    let due = errand.due.as_deref();
    let due = due.map_or_else(String::new, |due| format!(", due back {due}"));
    format!("Sent out{to}{work}{due}.")
}
