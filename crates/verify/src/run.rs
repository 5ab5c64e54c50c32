//! The play: one step after another, each refused or not, and done in any case.
//!
//! A refused step is played as if it had been done, so that one mistake does not bring down
//! everything after it.

use std::collections::BTreeSet;

use book::{Book, LineId, PartId, Ref};
use job::State;
use job::plan::{Plan, Step, StepAct, StepName};

use crate::reason::Reason;
use crate::refusal::Refusal;
use crate::scene::Scene;
use crate::vehicle;

/// A plan being played through.
pub(crate) struct Run<'a> {
    /// The book as it was given.
    all: &'a Book,
    /// The book of this vehicle.
    pub(crate) book: Book,
    pub(crate) plan: &'a Plan,
    pub(crate) scene: Scene,
    /// Whether nothing was off, open or drained before the first step.
    pub(crate) was_whole: bool,
    /// The parts that were off or moved aside before the first step.
    pub(crate) was_clear: BTreeSet<PartId>,
    /// The step that is being played.
    pub(crate) at: usize,
    refusals: Vec<Refusal>,
}

impl<'a> Run<'a> {
    pub(crate) fn new(book: &'a Book, state: &State, plan: &'a Plan) -> Self {
        let here = vehicle::of(book, state);
        let scene = Scene::of(&here, state);
        Self {
            all: book,
            was_whole: scene.is_whole(),
            was_clear: scene.off.union(&scene.aside).cloned().collect(),
            book: here,
            plan,
            scene,
            at: 0,
            refusals: Vec::new(),
        }
    }

    /// Plays the whole plan.
    pub(crate) fn play(mut self) -> Vec<Refusal> {
        let plan = self.plan;
        let mut seen: BTreeSet<&StepName> = BTreeSet::new();
        for (at, step) in plan.steps.iter().enumerate() {
            self.at = at;
            if !self.exists(&step.name.target) {
                continue;
            }
            let before = self.refusals.len();
            self.act(step);
            if !seen.insert(&step.name) && self.refusals.len() == before {
                let says = format!("`{}` was done already", step.name);
                self.refuse(Reason::DoneTwice, &step.name.target, says);
            }
            self.stated(step);
        }
        self.legs();
        self.rules();
        self.totals();
        self.closing();
        // The step decides the order; within a step, what was looked at first comes first.
        self.refusals
            .sort_by_key(|refusal| refusal.step.unwrap_or(usize::MAX));
        self.refusals
    }

    /// Refuses the step being played.
    pub(crate) fn refuse(&mut self, reason: Reason, concerns: impl ToString, says: String) {
        self.refuse_at(Some(self.at), reason, concerns, says);
    }

    /// Refuses one step, or the plan as a whole.
    pub(crate) fn refuse_at(
        &mut self,
        step: Option<usize>,
        reason: Reason,
        concerns: impl ToString,
        says: String,
    ) {
        self.refusals.push(Refusal {
            reason,
            step,
            concerns: concerns.to_string(),
            says,
        });
    }

    /// Whether this vehicle has a thing; refuses the step where it does not.
    pub(crate) fn exists(&mut self, target: &Ref) -> bool {
        if vehicle::has(&self.book, target) {
            return true;
        }
        if vehicle::has(self.all, target) {
            let says = format!("the variants chosen leave no {target} on this vehicle");
            self.refuse(Reason::NotOnThisVehicle, target, says);
        } else {
            let says = format!("the book has no {target}");
            self.refuse(Reason::UnknownId, target, says);
        }
        false
    }

    fn act(&mut self, step: &Step) {
        let ends = self.ends(&step.name.target);
        match (step.name.act, &step.name.target) {
            (StepAct::Off, Ref::Part(part)) => self.part_off(part, &step.with),
            (StepAct::Off, Ref::Line(_) | Ref::Port(_)) => self.ends_off(&step.name.target, &ends),
            (StepAct::On, Ref::Part(part)) => self.part_on(part, &step.with),
            (StepAct::On, Ref::Line(_) | Ref::Port(_)) => self.ends_on(&step.name.target, &ends),
            (StepAct::Undo, Ref::Joint(joint)) => self.undo(joint),
            (StepAct::DoUp, Ref::Joint(joint)) => self.do_up(joint),
            (StepAct::Drain, Ref::Circuit(circuit)) => self.drain(circuit),
            (StepAct::Fill, Ref::Circuit(circuit)) => self.fill(circuit),
            (StepAct::Check, Ref::Check(check)) => self.check(check),
            (StepAct::Pass, Ref::Gate(gate)) => self.pass(gate),
            (StepAct::PutIn, Ref::Temporary(item)) => self.put_in(item),
            (StepAct::TakeOut, Ref::Temporary(item)) => self.take_out(item),
            (act, target) => {
                let says = format!("`{}` is not done to {}", act.word(), target.noun());
                self.refuse(Reason::WrongTarget, target, says);
            }
        }
    }

    /// The ends that a line has, or that sit on a port.
    pub(crate) fn ends(&self, target: &Ref) -> Vec<(LineId, usize)> {
        let wanted = |line: &book::Line, end: usize| match target {
            Ref::Line(id) => line.id == *id,
            Ref::Port(port) => line.ends[end].port.id == *port,
            _ => false,
        };
        let both = |line: &'_ book::Line| [0, 1].map(|end| (line.id.clone(), end));
        let mut found = Vec::new();
        for line in &self.book.lines {
            found.extend(both(line).into_iter().filter(|&(_, end)| wanted(line, end)));
        }
        found
    }
}
