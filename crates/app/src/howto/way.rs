//! The way that was actually taken, and the good way beside it: fewer changes of place, and
//! nothing taken off that need not come off.

use std::collections::BTreeSet;

use book::{PartId, Ref, ZoneId};
use job::State;
use job::plan::{Plan, StepAct};
use planning::sequence::{Legs, Wish, sequence as plan};
use planning::{Budget, Graph, Standing, Stop};
use sheet::paper::Block;

use super::layer::Removal;
use crate::folder::Folder;

/// Moves of the search: enough for a whole engine in a fraction of a second.
const MOVES: u64 = 60_000;

/// One stay at one place: where, and what came off there.
struct Stay {
    zone: Option<ZoneId>,
    parts: Vec<PartId>,
}

/// Both ways, side by side; nothing where there is no book, or nothing deep was got at.
pub(super) fn beside(folder: &Folder, removals: &[Removal]) -> Option<Vec<Block>> {
    let state = &folder.state;
    let good = good(folder, removals)?;
    let needed: Vec<PartId> = good
        .steps
        .iter()
        .filter(|step| step.name.act == StepAct::Off)
        .flat_map(|step| {
            let own = match &step.name.target {
                Ref::Part(part) => Some(part.clone()),
                _ => None,
            };
            own.into_iter().chain(step.with.iter().cloned())
        })
        .collect();
    let done: Vec<PartId> = removals
        .iter()
        .map(|removal| removal.part.clone())
        .collect();
    let (taken, better) = (stays(state, &done), stays(state, &needed));
    let mut blocks = vec![Block::Beside(
        column(state, "As it was done", &taken, done.len()),
        column(state, "The good way", &better, needed.len()),
    )];
    let set: BTreeSet<&PartId> = needed.iter().collect();
    let spare: Vec<String> = removals
        .iter()
        .filter(|removal| !set.contains(&removal.part))
        .map(|removal| state.part_label(&removal.part))
        .collect();
    if !spare.is_empty() {
        blocks.push(Block::Words(format!(
            "By the book, these need not have come off to get there: {}. They may have been \
             worth it for other reasons.",
            spare.join(", ")
        )));
    }
    Some(blocks)
}

/// The plan from a whole vehicle to the deepest parts that came off.
fn good(folder: &Folder, removals: &[Removal]) -> Option<Plan> {
    let book = folder.book.as_ref()?;
    let now = &folder.state;
    let targets: BTreeSet<Ref> = removals
        .iter()
        .filter(|removal| {
            let mut joints = book.joints_of(&removal.part);
            joints.any(|joint| joint.critical.is_some())
        })
        .map(|removal| Ref::Part(removal.part.clone()))
        .collect();
    let targets: Vec<Ref> = if targets.is_empty() {
        let last = removals.last()?;
        book.part(&last.part)?;
        vec![Ref::Part(last.part.clone())]
    } else {
        targets.into_iter().collect()
    };
    let choices = Standing::from(now).choices;
    let graph = Graph::new(book, &choices);
    let wish = Wish {
        targets,
        legs: Legs::Apart,
    };
    plan(
        &graph,
        &Standing::whole(choices),
        &wish,
        folder.shop.as_ref(),
        &Budget::moves(MOVES).seed(1),
        &Stop::new(),
        &mut |_| {},
    )
    .ok()
}

/// Parts in their order, parted where the place changes.
fn stays(state: &State, parts: &[PartId]) -> Vec<Stay> {
    let mut stays: Vec<Stay> = Vec::new();
    for part in parts {
        let known = state.known.part(part);
        let zone = known.and_then(|part| part.zone.as_ref().map(|zone| zone.id.clone()));
        match stays.last_mut() {
            Some(stay) if stay.zone == zone => stay.parts.push(part.clone()),
            _ => stays.push(Stay {
                zone,
                parts: vec![part.clone()],
            }),
        }
    }
    stays
}

fn column(state: &State, heading: &str, stays: &[Stay], parts: usize) -> Vec<Block> {
    let lines = stays.iter().map(|stay| {
        let labels: Vec<String> = stay
            .parts
            .iter()
            .map(|part| state.part_label(part))
            .collect();
        let zone = stay.zone.as_ref().map_or("place not said", ZoneId::as_str);
        // Labels have commas of their own.
        format!("{zone}: {}", labels.join("; "))
    });
    vec![
        Block::Heading(2, heading.to_owned()),
        Block::Words(format!(
            "{parts} parts, {} changes of place.",
            stays.len().saturating_sub(1)
        )),
        Block::List(lines.collect()),
    ]
}
