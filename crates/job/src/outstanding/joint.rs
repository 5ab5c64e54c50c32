//! What is outstanding at one joint: left over, loosened, seals, stages, what is not renewed.

use book::JointId;

use super::{Kind, Outstanding, row, unlike};
use crate::entry::EntryId;
use crate::item::{Item, Sort};
use crate::state::{HoleState, JointState, State};

/// The rows of one joint that was touched.
pub(super) fn rows(state: &State, id: &JointId, held: &JointState, rows: &mut Vec<Outstanding>) {
    let label = state.joint_label(id);
    let part_away = state
        .known
        .joint(id)
        .is_some_and(|joint| state.is_away(&joint.of));
    if held.open && !part_away {
        rows.push(row(
            label.clone(),
            Kind::Off,
            held.place.clone(),
            held.since,
        ));
    }
    if held.open || part_away {
        return;
    }
    left_over(state, id, held, &label, rows);
    extras(held, &label, rows);
    let mut loosened = Vec::new();
    for (name, hole) in &held.holes {
        unlike::rows(state, id, name, hole, &label, rows);
        let one_use = state
            .known
            .joint(id)
            .and_then(|joint| joint.hole(name))
            .and_then(|hole| hole.one_use.known().copied());
        let cannot = one_use == Some(true) && held.was_open && hole.came_out.is_some();
        if (cannot || hole.broke) && !hole.empty && !hole.holds_new() {
            let mut row = row(
                format!("fastener of {label}, hole {name}"),
                Kind::NotRenewed,
                None,
                hole.since,
            );
            row.note = hole.broke.then(|| "the old one broke".to_owned());
            rows.push(row);
        }
        if hole.loosened && !hole.empty {
            loosened.push((hole.since, name));
        }
    }
    if let Some((since, _)) = loosened.first() {
        let names: Vec<&str> = loosened.iter().map(|(_, name)| name.as_str()).collect();
        rows.push(row(
            format!("{label}, hole {}", names.join(", ")),
            Kind::Loosened,
            None,
            *since,
        ));
    }
    if held.was_open {
        seals(state, id, held, &label, rows);
        stages(state, id, held, &label, rows);
    }
}

/// What came out and did not go back, like things in one row.
fn left_over(
    state: &State,
    id: &JointId,
    held: &JointState,
    label: &str,
    rows: &mut Vec<Outstanding>,
) {
    let mut over: Vec<(Item, Vec<String>)> = Vec::new();
    let empty = held.holes.iter().filter(|(_, hole)| hole.empty);
    for (name, item) in empty.filter_map(|(name, _)| Some((name, state.wanted_in(id, name)?))) {
        match over.iter_mut().find(|(had, _)| had.may_be(&item)) {
            Some((had, holes)) => {
                had.count += 1;
                holes.push(name.to_string());
            }
            None => over.push((item, vec![name.to_string()])),
        }
    }
    // A count that went back but fits no hole for sure is not left over; it is not placed.
    let mut waiting: Vec<Item> = held.unplaced_back.clone();
    for (item, _) in &mut over {
        for back in &mut waiting {
            let both = if back.may_be(item) {
                back.count.min(item.count)
            } else {
                0
            };
            item.count -= both;
            back.count -= both;
        }
    }
    for (item, holes) in over.into_iter().filter(|(item, _)| item.count > 0) {
        let mut row = row(
            format!("{} of {label}", item.shown()),
            Kind::LeftOver,
            held.place.clone(),
            held.since,
        );
        row.note = Some(format!("empty: {}", holes.join(", ")));
        rows.push(row);
    }
    for item in &held.unplaced_out {
        rows.push(row(
            format!("{} of {label}", item.shown()),
            Kind::LeftOver,
            held.place.clone(),
            held.since,
        ));
    }
    for item in waiting.iter().filter(|item| item.count > 0) {
        rows.push(row(
            format!("{} put into {label}", item.shown()),
            Kind::TooMany,
            None,
            held.since,
        ));
    }
}

/// Washers, sleeves and spacers that are not back with their fastener, like ones in one row;
/// and those in holes they did not come out of.
fn extras(held: &JointState, label: &str, rows: &mut Vec<Outstanding>) {
    type Gathered = Vec<(Item, Vec<String>, EntryId)>;
    let gather = |list: fn(&HoleState) -> &Vec<Item>| {
        let mut found = Gathered::new();
        for (name, hole) in held.holes.iter().filter(|(_, hole)| !hole.empty) {
            for item in list(hole) {
                match found.iter_mut().find(|(had, ..)| had.may_be(item)) {
                    Some((had, holes, _)) => {
                        had.count += item.count;
                        holes.push(name.to_string());
                    }
                    None => found.push((item.clone(), vec![name.to_string()], hole.since)),
                }
            }
        }
        found
    };
    for (item, holes, since) in gather(|hole| &hole.out_with) {
        let kind = match item.sort {
            Sort::Washer => Kind::WasherMissing,
            _ => Kind::LeftOver,
        };
        let what = format!("{} of {label}", item.shown());
        let mut row = row(what, kind, held.place.clone(), since);
        row.note = Some(format!("belongs in {}", holes.join(", ")));
        rows.push(row);
    }
    for (item, holes, since) in gather(|hole| &hole.in_with) {
        let what = format!("{} put into {label}", item.shown());
        let mut row = row(what, Kind::TooMany, None, since);
        row.note = Some(format!("in {}", holes.join(", ")));
        rows.push(row);
    }
}

fn seals(state: &State, id: &JointId, held: &JointState, label: &str, rows: &mut Vec<Outstanding>) {
    let Some(joint) = state.known.joint(id) else {
        return;
    };
    for seal in joint
        .seals
        .iter()
        .filter(|seal| seal.new.known() == Some(&true))
    {
        let put = held.new_seals(joint, seal);
        if put < seal.count {
            let what = Item::plain(seal.count - put, Sort::Seal, seal.what.clone());
            let mut row = row(
                format!("{} of {label}", what.shown()),
                Kind::SealMissing,
                None,
                held.since,
            );
            row.note = Some(format!("{} new wanted, {put} put in", seal.count));
            rows.push(row);
        }
    }
}

/// A joint whose book has stages must have reached the last one in every hole.
fn stages(
    state: &State,
    id: &JointId,
    held: &JointState,
    label: &str,
    rows: &mut Vec<Outstanding>,
) {
    let Some(joint) = state.known.joint(id) else {
        return;
    };
    let mut behind: Vec<String> = Vec::new();
    for hole in &joint.holes {
        let wanted = match joint.tighten_of(&hole.name).map(|tighten| &tighten.stages) {
            Some(book::Stages::Known(stages)) => u32::try_from(stages.len()).unwrap_or(u32::MAX),
            Some(book::Stages::Unknown | book::Stages::DoesNotApply) | None => continue,
        };
        let Some(state) = held.holes.get(&hole.name).filter(|state| !state.empty) else {
            continue;
        };
        if state.stage() < wanted {
            behind.push(format!("{} ({} of {wanted})", hole.name, state.stage()));
        }
    }
    if !behind.is_empty() {
        let mut row = row(label, Kind::NotTightened, None, held.since);
        row.note = Some(format!("stages done: {}", behind.join(", ")));
        rows.push(row);
    }
}
