//! What to lay out before an act: the part and the bag, new seals and bolts, fluid, a pan.

use book::{Joint, JointId, Ref};
use job::State;
use job::plan::StepAct;

use super::Question;
use crate::answer::fluid;
use crate::graph::Graph;
use crate::hand::Turn;

/// The things in the order they are needed. Tools stand in a column of their own.
pub(super) fn lay_out(asked: &Question<'_>, turn: &Turn) -> Vec<String> {
    let step = asked.step(turn);
    let book = asked.job.graph.book();
    match (&step.name.target, step.name.act) {
        (Ref::Part(part), StepAct::On) => {
            let mut things = Vec::new();
            let name = asked.job.graph.part_name(part);
            let held = asked.state.parts.get(part);
            let one_use = book
                .part(part)
                .is_some_and(|part| part.one_use.known() == Some(&true));
            let renewed = held.is_some_and(|held| held.renewed);
            match held.and_then(|held| held.place.as_ref()) {
                _ if one_use && !renewed => things.push(format!("a new {name}")),
                Some(place) => things.push(format!("{name} from {place}")),
                None => {}
            }
            let joints = book.joints.iter().filter(|joint| {
                let unit = |other| other == part || step.with.contains(other);
                unit(&joint.of) && !unit(&joint.to.id)
            });
            for joint in joints {
                things.extend(seals(asked, joint));
                things.extend(sealant(joint));
            }
            things
        }
        (Ref::Joint(joint), StepAct::DoUp) => of_joint(asked, joint),
        (Ref::Joint(_), StepAct::Undo) => {
            vec![format!("{} for its bolts", bag(asked, turn))]
        }
        (Ref::Port(_), StepAct::Off) => vec!["a pair of tags, a cap".to_owned()],
        (Ref::Circuit(id), StepAct::Drain) => vec![format!("a pan for {}", volume(asked, id))],
        (Ref::Circuit(id), StepAct::Fill) => vec![volume(asked, id)],
        (Ref::Check(id), _) => {
            let check = book.check(id);
            let photo = check.is_some_and(|check| check.photo);
            photo.then(|| "the camera".to_owned()).into_iter().collect()
        }
        _ => Vec::new(),
    }
}

fn volume(asked: &Question<'_>, id: &book::CircuitId) -> String {
    let graph: &Graph = &asked.job.graph;
    let capacity = graph
        .book()
        .circuit(id)
        .and_then(|circuit| circuit.capacity.known().copied());
    fluid(graph, id, capacity)
}

fn of_joint(asked: &Question<'_>, id: &JointId) -> Vec<String> {
    let Some(joint) = asked.job.graph.book().joint(id) else {
        return Vec::new();
    };
    let mut things = Vec::new();
    let held = asked.state.joints.get(id);
    if let Some(place) = held
        .filter(|held| held.open)
        .and_then(|held| held.place.as_ref())
    {
        things.push(place.clone());
    }
    let empty = |hole: &&book::Hole| {
        held.and_then(|held| held.holes.get(&hole.name))
            .is_some_and(|held| held.empty)
    };
    let fresh = joint
        .holes
        .iter()
        .filter(empty)
        .filter(|hole| hole.one_use.known() == Some(&true))
        .count();
    if fresh > 0 {
        things.push(format!("{fresh} new {}", bolts(joint, fresh)));
    }
    things.extend(seals(asked, joint));
    things
}

/// The word for the fasteners that are renewed: `bolts`.
fn bolts(joint: &Joint, count: usize) -> String {
    let first = joint
        .holes
        .iter()
        .find(|hole| hole.one_use.known() == Some(&true));
    let word = match first.map(|hole| &hole.holds) {
        Some(book::Holds::Stud) => "nut",
        Some(holds) => holds.word(),
        None => "bolt",
    };
    job::plural(word, u32::try_from(count).unwrap_or(u32::MAX))
}

/// Seals of a joint that are not in yet.
pub(super) fn seals(asked: &Question<'_>, joint: &Joint) -> Vec<String> {
    let put = asked.job.standing.seals.get(&joint.id);
    let Some(put) = put else {
        return Vec::new();
    };
    let lacks = joint.seals.iter().enumerate().filter_map(|(at, seal)| {
        let in_place = put.get(at).copied().unwrap_or(0);
        let lacking = seal
            .count
            .checked_sub(in_place)
            .filter(|count| *count > 0)?;
        let new = if seal.new.known() == Some(&true) {
            "new "
        } else {
            ""
        };
        Some(format!(
            "{lacking} {new}{}",
            job::plural(&seal.what, lacking)
        ))
    });
    lacks.collect()
}

fn sealant(joint: &Joint) -> Option<String> {
    let sealant = joint.sealant.as_ref()?;
    let what = sealant.what.as_deref().unwrap_or("sealant");
    Some(match sealant.within.known() {
        Some(within) => format!(
            "{what}: on within {} of laying it",
            crate::answer::time(*within)
        ),
        None => what.to_owned(),
    })
}

/// The bag for a joint that is undone: the numbers nobody has used, one for each such act in
/// the order in which they are shown.
pub(super) fn bag(asked: &Question<'_>, turn: &Turn) -> String {
    let undone = asked
        .turns
        .iter()
        .take_while(|other| *other != turn)
        .filter(|other| !other.helps && asked.step(other).name.act == StepAct::Undo);
    let after = u32::try_from(undone.count()).unwrap_or(u32::MAX);
    format!("bag {}", next_bag(asked.state).saturating_add(after))
}

/// The first bag number nobody has used: one more than the highest that was said.
#[must_use]
pub fn next_bag(state: &State) -> u32 {
    let parts = state
        .parts
        .values()
        .filter_map(|held| held.place.as_deref());
    let joints = state
        .joints
        .values()
        .filter_map(|held| held.place.as_deref());
    let photos = state
        .photos
        .iter()
        .filter_map(|photo| photo.place.as_deref());
    let number = |place: &str| -> Option<u32> {
        let place = place.trim().to_lowercase();
        place.strip_prefix("bag")?.trim().parse().ok()
    };
    let highest = parts.chain(joints).chain(photos).filter_map(number).max();
    highest.unwrap_or(0).saturating_add(1)
}
