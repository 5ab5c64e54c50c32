//! A calendar as plain data, for whoever checks it or writes it into a file.

use job::dated::{Dated, DatedStep, Elsewhere};
use job::plan::{Plan, StepName};

use super::Calendar;
use super::work::Sort;

impl Calendar {
    /// The calendar as plain data. `shop` and `plan` are those it was laid from.
    #[must_use]
    pub fn dated(&self, shop: &book::Shop, plan: &Plan) -> Dated {
        let mut dated = Dated {
            first: book::Date {
                year: self.first.year().unsigned_abs(),
                month: self.first.month().unsigned_abs(),
                day: self.first.day().unsigned_abs(),
            },
            steps: Vec::new(),
            elsewhere: Vec::new(),
            finish: self.likely,
        };
        for (task, placed) in self.placing.tasks.iter().enumerate() {
            let people = placed.people.iter();
            let people = people.map(|&person| shop.people[person].id.clone());
            match &self.work.tasks[task].sort {
                Sort::Hands(step) => dated.steps.push(DatedStep {
                    name: plan.steps[*step].name.clone(),
                    people: people.collect(),
                    stretches: placed.stretches.clone(),
                }),
                Sort::Outside(outside) => dated.elsewhere.push(Elsewhere {
                    part: Some(outside.part.clone()),
                    lasts: (placed.start(), placed.end()),
                    wanted_by: self.wanted_by(task, plan),
                }),
                Sort::Delivery(..) => dated.elsewhere.push(Elsewhere {
                    part: None,
                    lasts: (placed.start(), placed.end()),
                    wanted_by: self.wanted_by(task, plan),
                }),
                Sort::Inspected => {}
            }
        }
        dated
    }

    /// The steps that wait for a task.
    fn wanted_by(&self, first: usize, plan: &Plan) -> Vec<StepName> {
        let waits =
            |task: &&super::work::Task| task.after.iter().any(|&(before, _)| before == first);
        let waiting = self.work.tasks.iter().filter(waits);
        let names = waiting.filter_map(|task| match task.sort {
            Sort::Hands(step) => Some(plan.steps[step].name.clone()),
            Sort::Outside(_) | Sort::Delivery(..) | Sort::Inspected => None,
        });
        names.collect()
    }
}
