//! What a new calendar changes about tomorrow and about purchases: one line, or nothing.

use std::collections::BTreeMap;

use job::plan::{Plan, StepName};

use super::hours::date;
use super::work::Sort;
use super::{Calendar, day_of};

impl Calendar {
    /// The steps in the order in which they begin.
    #[must_use]
    pub fn order(&self, plan: &Plan) -> Vec<StepName> {
        let mut steps: Vec<(i64, usize)> = Vec::new();
        for (task, placed) in self.placing.tasks.iter().enumerate() {
            if let Sort::Hands(step) = self.work.tasks[task].sort {
                steps.push((placed.start(), step));
            }
        }
        steps.sort_unstable();
        steps
            .iter()
            .filter_map(|&(_, step)| Some(plan.steps.get(step)?.name.clone()))
            .collect()
    }

    /// The last day for each purchase, counted from the first.
    fn order_days(&self) -> BTreeMap<(String, String), i64> {
        let day = |buy: &super::Buy| {
            Some((
                (buy.purchase.what.clone(), buy.purchase.concerns.clone()),
                buy.order_by?,
            ))
        };
        self.buys.iter().filter_map(day).collect()
    }
}

/// What became different between two calendars with the same first day, in one line; nothing
/// where the next act and every day to order by stay as they were.
#[must_use]
pub fn change(before: (&Calendar, &Plan), after: (&Calendar, &Plan)) -> Option<String> {
    let mut says = Vec::new();
    let (old, new) = (before.0.order(before.1), after.0.order(after.1));
    // What was done since is no change of plan.
    let expected = old.iter().find(|step| new.contains(step));
    if let (Some(expected), Some(next)) = (expected, new.first())
        && expected != next
    {
        says.push(format!("next comes {next}, not {expected}"));
    }
    let (old, new) = (before.0.order_days(), after.0.order_days());
    for (thing, day) in &new {
        let shown = |day: i64| {
            date(after.0.first, day.max(0))
                .strftime("%a %-d %b")
                .to_string()
        };
        match old.get(thing) {
            Some(was) if was == day => {}
            Some(was) => says.push(format!(
                "order {} by {}, not {}",
                thing.0,
                shown(*day),
                shown(*was)
            )),
            None => says.push(format!(
                "{} is to be bought as well, ordered by {}",
                thing.0,
                shown(*day)
            )),
        }
    }
    if says.is_empty() {
        return None;
    }
    if day_of(before.0.likely) != day_of(after.0.likely) {
        says.push(format!(
            "likely finished {}",
            date(after.0.first, day_of(after.0.likely)).strftime("%a %-d %b")
        ));
    }
    Some(says.join("; "))
}
