//! Rules of the book: orders that do not follow from what is in the way.

use book::{Order, OrderAct, PartId, Ref};
use job::plan::{StepAct, StepName};

use crate::reason::Reason;
use crate::run::Run;

impl Run<'_> {
    /// Every order of every rule whose both sides the plan does.
    pub(crate) fn rules(&mut self) {
        for rule in self.book.rules.clone() {
            for order in &rule.orders {
                let first = self.done(order, &order.first.id).into_iter().max();
                let then = self.begun(order).into_iter().min();
                if let (Some(first), Some(then)) = (first, then)
                    && then < first
                {
                    let says = format!(
                        "rule {}: {} before {}, because {}",
                        rule.id, order.first.id, order.then.id, rule.reason
                    );
                    self.refuse_at(Some(then), Reason::RuleBroken, &rule.id, says);
                }
            }
        }
    }

    /// The steps with which what comes after begins.
    fn begun(&self, order: &Order) -> Vec<usize> {
        match (&order.then.id, order.act) {
            (Ref::Part(part), OrderAct::Refit | OrderAct::TakeOff) => self.moved(order.act, part),
            (target, _) => self.done(order, target),
        }
    }

    /// The steps with which a side of an order is done: a part put back is done when its own
    /// joints are too, but for a joint onto the very part it goes before.
    fn done(&self, order: &Order, target: &Ref) -> Vec<usize> {
        let Ref::Part(part) = target else {
            let ends: Vec<Ref> = self
                .ends(target)
                .into_iter()
                .filter_map(|(line, end)| {
                    let line = self.book.line(&line)?;
                    Some(Ref::Port(line.ends[end].port.id.clone()))
                })
                .collect();
            let acts = acts(order.act);
            return self.steps(|name| {
                acts.contains(&name.act) && (name.target == *target || ends.contains(&name.target))
            });
        };
        let mut steps = self.moved(order.act, part);
        if order.act != OrderAct::TakeOff {
            let other = match &order.then.id {
                Ref::Part(other) => Some(other),
                _ => None,
            };
            let joints: Vec<Ref> = self
                .book
                .joints_of(part)
                .filter(|joint| order.act == OrderAct::Tighten || Some(&joint.to.id) != other)
                .map(|joint| Ref::Joint(joint.id.clone()))
                .collect();
            steps.extend(
                self.steps(|name| name.act == StepAct::DoUp && joints.contains(&name.target)),
            );
        }
        steps
    }

    /// The steps that take a part off, or put it on, alone or with its unit.
    fn moved(&self, order: OrderAct, part: &PartId) -> Vec<usize> {
        let act = match order {
            OrderAct::TakeOff => StepAct::Off,
            OrderAct::Refit | OrderAct::Tighten => StepAct::On,
        };
        let steps = self.plan.steps.iter().enumerate();
        let its = steps.filter(|(_, step)| {
            let own = matches!(&step.name.target, Ref::Part(id) if id == part);
            step.name.act == act && (own || step.with.contains(part))
        });
        its.map(|(at, _)| at).collect()
    }

    fn steps(&self, wanted: impl Fn(&StepName) -> bool) -> Vec<usize> {
        let steps = self.plan.steps.iter().enumerate();
        let found = steps.filter(|(_, step)| wanted(&step.name));
        found.map(|(at, _)| at).collect()
    }
}

/// The acts on anything but a part that an order speaks of.
fn acts(order: OrderAct) -> &'static [StepAct] {
    match order {
        OrderAct::TakeOff => &[StepAct::Off, StepAct::Undo, StepAct::Drain, StepAct::Pass],
        OrderAct::Refit | OrderAct::Tighten => &[
            StepAct::On,
            StepAct::DoUp,
            StepAct::Fill,
            StepAct::Check,
            StepAct::Pass,
        ],
    }
}
