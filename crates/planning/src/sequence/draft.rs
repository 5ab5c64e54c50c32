//! A plan in the making: steps, and which waits for which and why.

use std::collections::BTreeMap;

use book::Shop;
use job::plan::{Because, Step, Wait};

use super::SequenceFault;
use super::travel::Travel;
use crate::order::{Fault, Problem};
use crate::step::Steps;

/// Steps and waits of one leg.
#[derive(Debug, Default)]
pub(crate) struct Draft {
    pub(crate) steps: Steps,
    /// By earlier and later step; the first reason given stays.
    waits: BTreeMap<(usize, usize), Because>,
}

impl Draft {
    /// The later step waits for the earlier one.
    pub(crate) fn wait(&mut self, first: usize, then: usize, because: &Because) {
        if first != then {
            self.waits
                .entry((first, then))
                .or_insert_with(|| because.clone());
        }
    }

    /// Whether anything waits for a step.
    pub(crate) fn is_awaited(&self, step: usize) -> bool {
        self.waits
            .range((step, 0)..=(step, usize::MAX))
            .next()
            .is_some()
    }

    /// Whether a step waits for anything.
    pub(crate) fn is_waiting(&self, step: usize) -> bool {
        self.waits.keys().any(|&(_, then)| then == step)
    }

    /// Drops the wait of a step for an earlier one, unless a rule of the book asks for it.
    pub(crate) fn release(&mut self, first: usize, then: usize) {
        if !matches!(self.waits.get(&(first, then)), Some(Because::Rule(..))) {
            self.waits.remove(&(first, then));
        }
    }

    /// The order problem of the steps in this workshop.
    pub(crate) fn problem(&self, shop: Option<&Shop>) -> Result<Problem, SequenceFault> {
        let travel = Travel::new(shop);
        let all = &self.steps.all;
        let costs: Vec<u32> = all
            .iter()
            .flat_map(|first| all.iter().map(|then| travel.between(first, then)))
            .collect();
        let pairs: Vec<(usize, usize)> = self.waits.keys().copied().collect();
        Problem::new(all.len(), &costs, &pairs).map_err(|fault| self.fault(fault))
    }

    fn fault(&self, fault: Fault) -> SequenceFault {
        let Fault::Loop(circle) = fault else {
            return SequenceFault::Search(fault.to_string());
        };
        let next = circle.iter().cycle().skip(1);
        let waits = circle.iter().zip(next).map(|(&first, &then)| Wait {
            first: self.steps.all[first].name.clone(),
            because: self
                .waits
                .get(&(first, then))
                .cloned()
                .unwrap_or(Because::InTheWay),
        });
        let waits: Vec<Wait> = waits.collect();
        let last = circle.first().copied().unwrap_or_default();
        SequenceFault::Circle(waits, self.steps.all[last].name.clone())
    }

    /// The steps in an order, each with what it waits for.
    pub(crate) fn in_order(&self, order: &[usize]) -> Vec<Step> {
        let step = |&place: &usize| {
            let mut step = self.steps.all[place].clone();
            let mine = self.waits.iter().filter(|((_, then), _)| *then == place);
            step.waits = mine
                .map(|((first, _), because)| Wait {
                    first: self.steps.all[*first].name.clone(),
                    because: because.clone(),
                })
                .collect();
            step
        };
        order.iter().map(step).collect()
    }
}
