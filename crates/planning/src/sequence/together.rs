//! The way back: the way off reversed, with the exceptions the book declares.

use std::collections::{BTreeMap, BTreeSet};

use book::{Check, Ref};
use job::plan::{Because, Leg, StepAct};

use super::draft::Draft;
use super::{in_the_way, units_back};
use crate::graph::{At, Graph};
use crate::removal::Lift;
use crate::standing::Standing;
use crate::step::{UnitSteps, half_open, share, weight, zone_of};

mod circuit;
mod check;
mod gate;
mod rule;

/// A way back in the making.
pub(super) struct Back<'a> {
    graph: &'a Graph,
    standing: &'a Standing,
    draft: Draft,
    lifts: Vec<Lift>,
    units: Vec<UnitSteps>,
    /// By part that goes back: the step that puts it on.
    on: BTreeMap<At, usize>,
    /// By part that goes back: its place among the units.
    unit_of: BTreeMap<At, usize>,
    /// Circuits that are dry by then.
    dry: BTreeSet<usize>,
    /// Temporary items that are in by then.
    inside: BTreeSet<usize>,
}

/// The steps and waits of putting back what is off, and what these take off first.
pub(super) fn draft(graph: &Graph, standing: &Standing, lifts: &[Lift]) -> Draft {
    let mut back = Back {
        graph,
        standing,
        draft: Draft::default(),
        lifts: units_back(graph, standing, lifts),
        units: Vec::new(),
        on: BTreeMap::new(),
        unit_of: BTreeMap::new(),
        dry: BTreeSet::new(),
        inside: BTreeSet::new(),
    };
    back.build();
    back.stay_behind();
    back.fasten();
    back.reverse();
    back.tie_ends();
    back.rules();
    back.checks();
    back.temporaries();
    back.fill();
    back.gates();
    back.draft
}

impl Back<'_> {
    /// The steps of every unit.
    fn build(&mut self) {
        let mut done = BTreeSet::new();
        for (number, lift) in self.lifts.iter().enumerate() {
            let steps = &mut self.draft.steps;
            let unit = self
                .graph
                .unit_steps(steps, lift, Leg::Together, self.standing, &mut done);
            for &at in lift.with.iter().chain([&lift.part]) {
                self.on.insert(at, unit.part);
                self.unit_of.insert(at, number);
            }
            self.dry.extend(&self.graph.nodes[lift.part].circuits);
            self.units.push(unit);
        }
        let drained = self
            .standing
            .drained
            .iter()
            .filter_map(|id| self.graph.circuit_at(id));
        let drained: BTreeSet<usize> = drained.collect();
        // A part that is off already may have left a circuit full: nobody said it was drained.
        let fresh = self
            .lifts
            .iter()
            .filter(|lift| !self.standing.off.contains(&self.graph.part(lift.part).id));
        let fresh = fresh
            .flat_map(|lift| &self.graph.nodes[lift.part].circuits)
            .copied();
        self.dry = fresh.chain(drained).collect();
    }

    /// What is still open on parts that are in place: joints half done, ends hanging.
    fn stay_behind(&mut self) {
        let book = self.graph.book();
        for (number, joint) in book.joints.iter().enumerate() {
            if !half_open(self.standing, joint) {
                continue;
            }
            let mut step = self.graph.joint_step(StepAct::DoUp, number, Leg::Together);
            if let Some(owner) = self.graph.owner(number) {
                step.takes = share(
                    self.graph.minutes_on(owner),
                    weight(joint),
                    self.graph.shares(owner),
                );
            }
            self.draft.steps.add(step);
        }
        for (line, end) in &self.standing.ends_off {
            if let Some(line) = book.line(line) {
                let port = &line.ends[*end].port.id;
                let mut step = self.graph.port_step(StepAct::On, port, Leg::Together);
                if let Some(seat) = self.graph.at(&port.part) {
                    step.takes = share(self.graph.minutes_on(seat), 1, self.graph.shares(seat));
                }
                self.draft.steps.add(step);
            }
        }
    }

    /// A joint waits for both its parts, an end for the part it sits on.
    fn fasten(&mut self) {
        let book = self.graph.book();
        for joint in &book.joints {
            let Some(step) = self.joint_step(&joint.id) else {
                continue;
            };
            for part in [&joint.of, &joint.to.id] {
                if let Some(&on) = self.graph.at(part).and_then(|at| self.on.get(&at)) {
                    self.draft.wait(on, step, &Because::Fastened);
                }
            }
        }
        for (port, step) in self.end_steps() {
            if let Some(&on) = self.graph.at(&port.part).and_then(|at| self.on.get(&at)) {
                self.draft.wait(on, step, &Because::Connected);
            }
        }
    }

    /// What came off over a thing goes on after it.
    fn reverse(&mut self) {
        for (lift, unit) in self.lifts.iter().zip(&self.units) {
            for (at, because) in in_the_way(self.graph, lift) {
                let Some(&over) = self.on.get(&at) else {
                    continue;
                };
                self.draft.wait(unit.part, over, &Because::Covers);
                if because == Because::InTheWay {
                    let own = unit.joints.iter().map(|&(_, step)| step);
                    for step in own
                        .chain(unit.ends.iter().map(|&(_, step)| step))
                        .collect::<Vec<_>>()
                    {
                        self.draft.wait(step, over, &Because::Covers);
                    }
                }
            }
        }
        for lift in &self.lifts {
            for carrier in &self.graph.nodes[lift.part].carried_by {
                if let (Some(&then), Some(&first)) = (self.on.get(&lift.part), self.on.get(carrier))
                {
                    self.draft.wait(first, then, &Because::MountedOn);
                }
            }
        }
        for (number, joint) in self.graph.book().joints.iter().enumerate() {
            if let (Some(step), Some(clear)) =
                (self.joint_step(&joint.id), self.graph.to_joint(number))
            {
                self.before_cover(step, &clear.all, &Because::Covers);
            }
        }
        for (port, step) in self.end_steps() {
            if let Ok(clear) = self.graph.access(&Ref::Port(port)) {
                self.before_cover(step, &clear.all, &Because::Covers);
            }
        }
    }

    /// A step comes before any of these parts goes on.
    fn before_cover(&mut self, step: usize, parts: &BTreeSet<At>, because: &Because) {
        for at in parts {
            if let Some(&on) = self.on.get(at) {
                self.draft.wait(step, on, because);
            }
        }
    }

    /// An end that a bolt holds is there before the bolt is done up.
    fn tie_ends(&mut self) {
        for line in &self.graph.book().lines {
            for end in &line.ends {
                let Some(joint) = &end.held_by else { continue };
                let on = self
                    .draft
                    .steps
                    .find(StepAct::On, &Ref::Port(end.port.id.clone()));
                if let (Some(on), Some(joint)) = (on, self.joint_step(&joint.id)) {
                    self.draft.wait(on, joint, &Because::Fastened);
                }
            }
        }
    }

    /// What was put in comes out before what it must be out before, and not before what it
    /// holds is on.
    fn temporaries(&mut self) {
        let book = self.graph.book();
        for (number, item) in book.temporaries.iter().enumerate() {
            let here = self.standing.temporaries_in.contains(&item.id);
            let touched = self
                .graph
                .parts(&item.in_before)
                .chain(self.graph.parts(&item.out_before));
            // Whatever the way off put in stands under the same condition there.
            let put = touched.into_iter().any(|at| self.newly_off(at));
            if !here && !put {
                continue;
            }
            self.inside.insert(number);
            let mut step = crate::step::bare(
                StepAct::TakeOut,
                Ref::Temporary(item.id.clone()),
                Leg::Together,
            );
            let seat = item.sits_in.as_ref().and_then(|part| book.part(&part.id));
            step.zone = seat
                .and_then(|part| part.zone.as_ref())
                .map(|zone| zone.id.clone());
            let out = self.draft.steps.add(step);
            let covers: BTreeSet<At> = self.graph.parts(&item.out_before).collect();
            self.before_cover(out, &covers, &Because::Temporary);
            for at in self
                .graph
                .parts(&item.in_before)
                .filter(|at| !covers.contains(at))
            {
                for step in self.whole(at) {
                    self.draft.wait(step, out, &Because::Temporary);
                }
                if let Some(&unit) = self.unit_of.get(&at) {
                    let over: BTreeSet<At> = in_the_way(self.graph, &self.lifts[unit])
                        .into_iter()
                        .map(|(at, _)| at)
                        .collect();
                    self.before_cover(out, &over, &Because::Covers);
                }
            }
        }
    }

    /// Whether the way off before this way back takes a part off.
    fn newly_off(&self, at: At) -> bool {
        self.unit_of.contains_key(&at) && self.standing.in_place(&self.graph.part(at).id)
    }

    /// The steps that put a part on and hold it: itself and its joints.
    fn whole(&self, at: At) -> Vec<usize> {
        let Some(&unit) = self.unit_of.get(&at) else {
            return Vec::new();
        };
        let unit = &self.units[unit];
        let joints = unit.joints.iter().map(|&(_, step)| step);
        joints.chain([unit.part]).collect()
    }

    /// The step that does a joint up, when there is one.
    fn joint_step(&self, joint: &book::JointId) -> Option<usize> {
        self.draft
            .steps
            .find(StepAct::DoUp, &Ref::Joint(joint.clone()))
    }

    /// The steps that put ends on, by port.
    fn end_steps(&self) -> Vec<(book::PortRef, usize)> {
        let steps = self.draft.steps.all.iter().enumerate();
        let ends = steps.filter_map(|(place, step)| match &step.name.target {
            Ref::Port(port) if step.name.act == StepAct::On => Some((port.clone(), place)),
            _ => None,
        });
        ends.collect()
    }

    /// The part a check is about.
    fn subject(&self, check: &Check) -> Option<At> {
        let part = match &check.of.as_ref()?.id {
            Ref::Part(part) => part,
            Ref::Joint(joint) => &self.graph.book().joint(joint)?.of,
            Ref::Hole(hole) => &self.graph.book().joint(&hole.joint)?.of,
            Ref::Port(port) => &port.part,
            _ => return None,
        };
        self.graph.at(part)
    }

    /// The zone of a filler.
    fn filler(&self, circuit: usize) -> Option<book::ZoneId> {
        zone_of(
            self.graph,
            self.graph.book().circuits[circuit].fills.first(),
        )
    }
}
