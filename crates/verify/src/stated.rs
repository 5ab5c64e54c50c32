//! What a plan says about its steps: hands, times, reasons, ways, totals. It must fit the book
//! and itself.

use book::{PartId, Ref};
use job::plan::{Because, Leg, Step, StepAct};
use quantity::{Duration, Quantity as _};

use crate::reason::Reason;
use crate::run::Run;

impl Run<'_> {
    /// What one step says.
    pub(crate) fn stated(&mut self, step: &Step) {
        self.hands(step);
        self.times(step);
        self.waits(step);
    }

    fn hands(&mut self, step: &Step) {
        let moves = matches!(step.name.act, StepAct::Off | StepAct::On);
        let effort = match &step.name.target {
            Ref::Part(part) if moves => self.book.part(part).map(|part| part.effort.clone()),
            _ => None,
        };
        let wanted = effort.as_ref().and_then(|effort| effort.hands.known());
        if step.hands == 0 || wanted.is_some_and(|wanted| *wanted != step.hands) {
            let wanted = wanted.map_or(1, |wanted| *wanted);
            let says = format!(
                "`{}` takes {wanted} pair(s) of hands, not {}",
                step.name, step.hands
            );
            self.refuse(Reason::WrongHands, &step.name.target, says);
        }
        let hoist = effort.as_ref().and_then(|effort| effort.hoist.known());
        if hoist.is_some_and(|hoist| *hoist != step.hoist) {
            let word = if step.hoist {
                "needs no hoist"
            } else {
                "hangs on the hoist"
            };
            let says = format!("`{}` {word}", step.name);
            self.refuse(Reason::WrongHoist, &step.name.target, says);
        }
    }

    fn times(&mut self, step: &Step) {
        let nothing = Duration::default();
        let takes = step
            .takes
            .map(|takes| [takes.low, takes.likely, takes.high]);
        let all = takes.into_iter().flatten().chain(step.cures);
        if all.into_iter().any(|time| time < nothing) {
            let says = format!("`{}` takes less than no time", step.name);
            self.refuse(Reason::NegativeTime, &step.name.target, says);
        } else if takes.is_some_and(|takes| !takes.is_sorted()) {
            let says = format!(
                "`{}`: the likely time is not between low and high",
                step.name
            );
            self.refuse(Reason::TimesOutOfOrder, &step.name.target, says);
        }
    }

    /// Every reason names a step of this plan that stands before, and a rule or gate there is.
    fn waits(&mut self, step: &Step) {
        for wait in &step.waits {
            let known = match &wait.because {
                Because::Rule(rule, _) => self.book.rules.iter().any(|own| own.id == *rule),
                Because::Gate(gate) => {
                    self.book.gate(gate).is_some() || book::GATES.contains(&gate.as_str())
                }
                _ => true,
            };
            if !known {
                let says = format!("`{}` waits for a rule or gate that is not there", step.name);
                self.refuse(Reason::UnknownId, &step.name.target, says);
            }
            match self.plan.place(&wait.first) {
                None => {
                    let says = format!(
                        "`{}` waits for `{}`, which the plan does not have",
                        step.name, wait.first
                    );
                    self.refuse(Reason::ReasonWithoutStep, &wait.first, says);
                }
                Some(place) if place >= self.at => {
                    let says = format!("`{}` stands before `{}`", step.name, wait.first);
                    self.refuse(Reason::OutOfOrder, &wait.first, says);
                }
                Some(_) => {}
            }
        }
    }

    /// Taking off belongs to the way off, putting on to the way back, and the way back comes
    /// after the way off.
    pub(crate) fn legs(&mut self) {
        let mut turned = false;
        let plan = self.plan;
        for (at, step) in plan.steps.iter().enumerate() {
            let belongs = match step.name.act {
                StepAct::Off | StepAct::Undo | StepAct::Drain => step.leg == Leg::Apart,
                StepAct::On | StepAct::DoUp | StepAct::Fill => step.leg == Leg::Together,
                StepAct::Check | StepAct::Pass | StepAct::PutIn | StepAct::TakeOut => true,
            };
            turned |= step.leg == Leg::Together;
            if !belongs || (turned && step.leg == Leg::Apart) {
                let says = format!("`{}` stands in the wrong half of the job", step.name);
                self.refuse_at(Some(at), Reason::WrongLeg, &step.name.target, says);
            }
        }
    }

    /// The totals of the plan.
    pub(crate) fn totals(&mut self) {
        let (between, bound) = (self.plan.between, self.plan.bound);
        let nothing = Duration::default();
        if between < nothing || bound < nothing {
            let says = "walking and tool changing take less than no time".to_owned();
            self.refuse_at(None, Reason::NegativeTime, "plan", says);
        } else if bound > between {
            let says = format!(
                "no order needs less than {:.0} s of walking, it says, and this one takes {:.0} s",
                bound.si(),
                between.si()
            );
            self.refuse_at(None, Reason::BoundOverValue, "plan", says);
        }
        for taken in &self.plan.ways {
            let group = self.book.part(&taken.part).map(|part| &part.needs_off_any);
            let way = group
                .and_then(|groups| groups.get(taken.group))
                .and_then(|group| group.ways.get(taken.way));
            let off = way.is_some_and(|way| {
                let mut parts = way.parts.iter();
                parts.all(|other| self.leaves_before(&other.id, &taken.part))
            });
            if !off {
                let says = format!("the way it names to {} is not taken", taken.part);
                self.refuse_at(None, Reason::WayNotTaken, &taken.part, says);
            }
        }
    }

    /// Whether one part is out of the way when another comes off in this plan.
    fn leaves_before(&self, part: &PartId, then: &PartId) -> bool {
        match (self.taken_off(part), self.taken_off(then)) {
            (Some(first), Some(then)) => first < then,
            (None, _) => self.was_clear.contains(part),
            (Some(_), None) => true,
        }
    }

    /// The step that takes a part off, alone or with its unit.
    pub(crate) fn taken_off(&self, part: &PartId) -> Option<usize> {
        self.plan.steps.iter().position(|step| {
            let own = matches!(&step.name.target, Ref::Part(id) if id == part);
            step.name.act == StepAct::Off && (own || step.with.contains(part))
        })
    }
}
