//! The line that enters an act once it is done, in the words of the record.

use book::{Joint, JointId, Ref};
use job::Item;
use job::plan::StepAct;

use super::{Question, lay_out};
use crate::hand::Turn;

/// The line to log when the act is done; nothing where the record has no word for it.
pub(super) fn line(asked: &Question<'_>, turn: &Turn) -> Option<String> {
    let step = asked.step(turn);
    let target = &step.name.target;
    match step.name.act {
        StepAct::Off => Some(format!("off {}", named(asked, target)?)),
        StepAct::Undo => Some(format!("off {target}: {}", lay_out::bag(asked, turn))),
        StepAct::On => match target {
            Ref::Part(part) => Some(part_on(asked, part)),
            _ => Some(format!("on {}", named(asked, target)?)),
        },
        StepAct::DoUp => match target {
            Ref::Joint(joint) => done_up(asked, joint),
            _ => None,
        },
        StepAct::Drain => Some(format!("drain {target}")),
        StepAct::Fill => Some(format!("fill {target}")),
        StepAct::Check => match target {
            Ref::Check(id) => {
                // A check with a limit is only done by its reading.
                let check = asked.job.graph.book().check(id)?;
                match &check.limit {
                    Some(_) => None,
                    None => Some(format!("check {id}")),
                }
            }
            _ => None,
        },
        StepAct::Pass => None,
        StepAct::PutIn => temporary(asked, target, "in", true),
        StepAct::TakeOut => temporary(asked, target, "out", false),
    }
}

/// What the record calls a target; an end by its line and the part it is on.
fn named(asked: &Question<'_>, target: &Ref) -> Option<String> {
    let Ref::Port(port) = target else {
        return Some(target.to_string());
    };
    let ends = asked.job.graph.book().lines.iter().flat_map(|line| {
        let on = line.ends.iter().enumerate();
        on.filter(|(_, end)| end.port.id == *port)
            .map(move |(at, _)| {
                let word = if at == 0 { "from" } else { "to" };
                format!("{}.{word}", line.id)
            })
    });
    let ends: Vec<String> = ends.collect();
    (!ends.is_empty()).then(|| ends.join(", "))
}

/// A part goes on; what holds it is done up in acts of its own.
fn part_on(asked: &Question<'_>, part: &book::PartId) -> String {
    let joints = asked.job.graph.book().joints_of(part);
    let seals: Vec<String> = joints
        .flat_map(|joint| lay_out::seals(asked, joint))
        .collect();
    if seals.is_empty() {
        format!("on {part}")
    } else {
        format!("on {part}: {}", seals.join(", "))
    }
}

/// Bolts first, then the wrench: a joint whose bolts are out is closed before it is tightened.
fn done_up(asked: &Question<'_>, id: &JointId) -> Option<String> {
    let open = asked
        .state
        .joints
        .get(id)
        .is_some_and(|held| held.open || held.holes.values().any(|hole| hole.empty));
    if open {
        let joint = asked.job.graph.book().joint(id)?;
        let mut things = fresh_bolts(asked, joint);
        things.extend(lay_out::seals(asked, joint));
        return Some(if things.is_empty() {
            format!("on {id}")
        } else {
            format!("on {id}: {}", things.join(", "))
        });
    }
    match asked.pulls.get(id) {
        Some(pull) if pull.stopped => None,
        Some(pull) if pull.line.is_some() => pull.line.clone(),
        _ => Some(format!("tight {id}")),
    }
}

/// All fasteners of a joint by description, where some of them must be new; nothing where what
/// came out simply goes back.
fn fresh_bolts(asked: &Question<'_>, joint: &Joint) -> Vec<String> {
    let one_use = |hole: &&book::Hole| hole.one_use.known() == Some(&true);
    if !joint.holes.iter().any(|hole| one_use(&hole)) {
        return Vec::new();
    }
    let held = asked.state.joints.get(&joint.id);
    let mut items: Vec<Item> = Vec::new();
    for hole in &joint.holes {
        let state = held.and_then(|held| held.holes.get(&hole.name));
        let Some(came) = state
            .filter(|state| state.empty)
            .and_then(|state| state.came_out.as_ref())
        else {
            continue;
        };
        let mut item = came.counting(1);
        item.holes.clear();
        item.note = None;
        item.new = one_use(&hole).then_some(true);
        match items.iter_mut().find(|known| known.counting(1) == item) {
            Some(known) => known.count += 1,
            None => items.push(item),
        }
    }
    items.iter().map(Item::shown).collect()
}

fn temporary(asked: &Question<'_>, target: &Ref, verb: &str, counts: bool) -> Option<String> {
    let Ref::Temporary(id) = target else {
        return None;
    };
    let item = asked.job.graph.book().temporary(id)?;
    let place = item
        .sits_in
        .as_ref()
        .map_or_else(|| id.to_string(), |part| part.id.to_string());
    let known = asked
        .state
        .temporaries
        .iter()
        .find(|inside| !counts && job::same_name(&inside.place, &place));
    Some(match known {
        Some(inside) => format!("{verb} {}: {}", inside.place, inside.item.shown()),
        None => format!("{verb} {place}: {} {id}", item.count),
    })
}
