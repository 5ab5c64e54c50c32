//! The way off: what is in the way, what holds, what would run out, and why in this order.

use std::collections::{BTreeMap, BTreeSet};

use book::{NeedKind, OrderAct, Ref};
use job::plan::{Because, Leg, StepAct};

use super::draft::Draft;
use super::in_the_way;
use crate::graph::{At, Graph};
use crate::removal::{Lift, takes};
use crate::standing::Standing;
use crate::step::{UnitSteps, bare, check_takes, zone_of};

/// The gate everything else waits for.
const OPENING: &str = "before-opening";

/// The steps and waits of taking these off.
pub(super) fn draft(graph: &Graph, standing: &Standing, lifts: &[Lift]) -> Draft {
    let mut draft = Draft::default();
    let mut done = BTreeSet::new();
    let mut off: BTreeMap<At, usize> = BTreeMap::new();
    let mut units = Vec::new();
    for lift in lifts {
        let unit = graph.unit_steps(&mut draft.steps, lift, Leg::Apart, standing, &mut done);
        off.insert(lift.part, unit.part);
        off.extend(lift.with.iter().map(|&member| (member, unit.part)));
        units.push(unit);
    }
    for (lift, unit) in lifts.iter().zip(&units) {
        held(&mut draft, unit);
        blocked(&mut draft, graph, lift, unit, &off);
        drained(&mut draft, graph, standing, lift, unit);
    }
    members_first(&mut draft, graph, lifts, &off);
    tie_ends(&mut draft, graph);
    temporaries(&mut draft, graph, standing, &off);
    rules(&mut draft, graph);
    if !lifts.is_empty() {
        opening(&mut draft, graph, standing);
    }
    draft
}

/// A part waits for its fasteners and ends.
fn held(draft: &mut Draft, unit: &UnitSteps) {
    for &(_, joint) in &unit.joints {
        draft.wait(joint, unit.part, &Because::Fastened);
    }
    for &(_, end) in &unit.ends {
        draft.wait(end, unit.part, &Because::Connected);
    }
}

/// A part, its fasteners and its ends wait for what is in their way.
fn blocked(
    draft: &mut Draft,
    graph: &Graph,
    lift: &Lift,
    unit: &UnitSteps,
    off: &BTreeMap<At, usize>,
) {
    for (at, because) in in_the_way(graph, lift) {
        let Some(&over) = off.get(&at) else { continue };
        draft.wait(over, unit.part, &because);
        let hides = |clear: Option<crate::graph::Clear>| {
            because == Because::InTheWay || clear.is_none_or(|clear| clear.all.contains(&at))
        };
        for &(joint, step) in &unit.joints {
            if hides(graph.to_joint(joint)) {
                draft.wait(over, step, &because);
            }
        }
        for (port, step) in &unit.ends {
            if hides(graph.access(&Ref::Port(port.clone())).ok()) {
                draft.wait(over, *step, &because);
            }
        }
    }
}

/// A part that could come off with another and is taken off alone goes before it.
fn members_first(draft: &mut Draft, graph: &Graph, lifts: &[Lift], off: &BTreeMap<At, usize>) {
    for lift in lifts {
        for carrier in &graph.nodes[lift.part].carried_by {
            if let (Some(&first), Some(&then)) = (off.get(&lift.part), off.get(carrier)) {
                draft.wait(first, then, &Because::MountedOn);
            }
        }
    }
}

/// Whatever would let fluid run waits for the drain.
fn drained(draft: &mut Draft, graph: &Graph, standing: &Standing, lift: &Lift, unit: &UnitSteps) {
    for &circuit in &graph.nodes[lift.part].circuits {
        let circuit = &graph.book().circuits[circuit];
        if standing.drained.contains(&circuit.id) {
            continue;
        }
        let mut step = bare(StepAct::Drain, Ref::Circuit(circuit.id.clone()), Leg::Apart);
        step.zone = zone_of(graph, circuit.drains.first());
        step.takes = takes(&circuit.draining);
        let drain = draft.steps.add(step);
        let ends = unit.ends.iter().filter(|(port, _)| {
            let medium = graph.book().port(port).and_then(|port| port.medium.known());
            medium.is_none_or(|medium| *medium == circuit.medium)
        });
        let wet: Vec<usize> = ends
            .map(|&(_, step)| step)
            .chain(unit.joints.iter().map(|&(_, step)| step))
            .collect();
        for step in wet.into_iter().chain([unit.part]) {
            draft.wait(drain, step, &Because::Wet);
        }
    }
}

/// An end that a bolt holds waits for that bolt.
fn tie_ends(draft: &mut Draft, graph: &Graph) {
    for line in &graph.book().lines {
        for end in &line.ends {
            let Some(joint) = &end.held_by else { continue };
            let undo = draft
                .steps
                .find(StepAct::Undo, &Ref::Joint(joint.id.clone()));
            let off = draft
                .steps
                .find(StepAct::Off, &Ref::Port(end.port.id.clone()));
            if let (Some(undo), Some(off)) = (undo, off) {
                draft.wait(undo, off, &Because::Fastened);
            }
        }
    }
}

/// What is put in on the way off: before what it must be in for, after what hides its place.
fn temporaries(draft: &mut Draft, graph: &Graph, standing: &Standing, off: &BTreeMap<At, usize>) {
    for item in &graph.book().temporaries {
        let target = Ref::Temporary(item.id.clone());
        let holds: Vec<At> = graph
            .parts(&item.in_before)
            .filter(|at| off.contains_key(at))
            .collect();
        let covers: Vec<At> = graph
            .parts(&item.out_before)
            .filter(|at| off.contains_key(at))
            .collect();
        if standing.temporaries_in.contains(&item.id) || (holds.is_empty() && covers.is_empty()) {
            continue;
        }
        let mut step = bare(StepAct::PutIn, target, Leg::Apart);
        let seat = item
            .sits_in
            .as_ref()
            .and_then(|part| graph.book().part(&part.id));
        step.zone = seat
            .and_then(|part| part.zone.as_ref())
            .map(|zone| zone.id.clone());
        let put = draft.steps.add(step);
        for &part in &holds {
            draft.wait(put, off[&part], &Because::Temporary);
            for &joint in &graph.nodes[part].joints {
                let joint = Ref::Joint(graph.book().joints[joint].id.clone());
                if let Some(undo) = draft.steps.find(StepAct::Undo, &joint) {
                    draft.wait(put, undo, &Because::Temporary);
                }
            }
            let hiding = graph.nodes[part]
                .needs
                .all
                .iter()
                .filter_map(|over| off.get(over));
            for &over in hiding.collect::<Vec<_>>() {
                draft.wait(over, put, &Because::InTheWay);
            }
        }
        for part in covers.iter().filter(|part| !holds.contains(part)) {
            draft.wait(off[part], put, &Because::InTheWay);
        }
    }
}

/// Rules about taking off.
fn rules(draft: &mut Draft, graph: &Graph) {
    for rule in &graph.book().rules {
        let orders = rule
            .orders
            .iter()
            .filter(|order| order.act == OrderAct::TakeOff);
        for order in orders {
            let because = Because::Rule(rule.id.clone(), rule.reason.clone());
            for first in steps_off(draft, &order.first.id) {
                for then in steps_off(draft, &order.then.id) {
                    draft.wait(first, then, &because);
                }
            }
        }
    }
}

/// The steps that take a thing off.
fn steps_off(draft: &Draft, target: &Ref) -> Vec<usize> {
    let acts = [StepAct::Off, StepAct::Undo, StepAct::Drain, StepAct::Pass];
    acts.iter()
        .filter_map(|&act| draft.steps.find(act, target))
        .collect()
}

/// The gate before opening, with its checks: nothing is opened before it is passed.
fn opening(draft: &mut Draft, graph: &Graph, standing: &Standing) {
    let gate = book::GateId::from(OPENING);
    if standing.gates.contains(&gate) {
        return;
    }
    let target = Ref::Gate(gate.clone());
    let loose: Vec<usize> = (0..draft.steps.all.len())
        .filter(|&step| !draft.is_waiting(step))
        .collect();
    let pass = draft
        .steps
        .add(bare(StepAct::Pass, target.clone(), Leg::Apart));
    for step in loose {
        draft.wait(pass, step, &Because::Gate(gate.clone()));
    }
    let needs = graph
        .book()
        .gate(&gate)
        .map(|gate| &gate.needs[..])
        .unwrap_or_default();
    for check in &graph.book().checks {
        let named = needs
            .iter()
            .any(|need| matches!(&need.what, NeedKind::Check(id) if id.id == check.id));
        let limited = check.limit.as_ref().is_some_and(|limit| {
            needs
                .iter()
                .any(|need| matches!(&need.what, NeedKind::Limit(id) if id.id == limit.id))
        });
        let before = check.before.iter().any(|mention| mention.id == target);
        if (named || limited || before) && !standing.checks.contains(&check.id) {
            let mut step = bare(StepAct::Check, Ref::Check(check.id.clone()), Leg::Apart);
            step.takes = check_takes(check);
            let step = draft.steps.add(step);
            draft.wait(step, pass, &Because::Gate(gate.clone()));
        }
    }
}
