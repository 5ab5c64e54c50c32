//! The calendar as a drawing: one lane a person, one for each thing that is away or on its way.

use report::{DaySpan, Days, Lane};

use super::{Told, in_days, part_of};
use crate::calendar::{DAY, Held, Seconds, Sort, day_of};

/// Stretches this close together are one stretch to the eye.
const GAP: Seconds = 900;

/// The drawing.
pub(super) fn picture(told: &Told<'_>) -> Days {
    let calendar = told.calendar;
    let mut lanes: Vec<Lane> = (0..told.shop.people.len())
        .map(|person| of_person(told, person))
        .collect();
    for (task, placed) in calendar.placing.tasks.iter().enumerate() {
        let (name, label) = match &calendar.work.tasks[task].sort {
            Sort::Outside(outside) => ("shop".to_owned(), outside.part.to_string()),
            Sort::Delivery(number, _) => {
                ("suppliers".to_owned(), calendar.work.goods[*number].clone())
            }
            Sort::Hands(_) | Sort::Inspected => continue,
        };
        let span = DaySpan {
            from: moment(placed.start()),
            to: moment(placed.end()),
            label,
            waiting: true,
            sets_finish: calendar
                .chain
                .iter()
                .any(|link| link.kind == Held::Elsewhere(task)),
        };
        // Two things away at once would lie on top of each other in one lane.
        let room = |lane: &&mut Lane| {
            lane.name == name
                && lane
                    .spans
                    .iter()
                    .all(|other| other.to <= span.from || span.to <= other.from)
        };
        match lanes.iter_mut().find(room) {
            Some(lane) => lane.spans.push(span),
            None => lanes.push(Lane {
                name,
                spans: vec![span],
            }),
        }
    }
    let last = day_of(calendar.likely);
    Days {
        title: "Who works when, and what is waited for".to_owned(),
        days: (0..=last).map(|day| told.date(day)).collect(),
        lanes,
    }
}

fn moment(at: Seconds) -> f64 {
    in_days(at) + at.rem_euclid(DAY) as f64 / DAY as f64
}

fn of_person(told: &Told<'_>, person: usize) -> Lane {
    let calendar = told.calendar;
    let mut stretches: Vec<(Seconds, Seconds, usize)> = Vec::new();
    for (task, placed) in calendar.placing.tasks.iter().enumerate() {
        if placed.people.contains(&person) {
            stretches.extend(placed.stretches.iter().map(|&(from, to)| (from, to, task)));
        }
    }
    stretches.sort_unstable();
    let sets = |task: usize| {
        calendar
            .chain
            .iter()
            .any(|link| matches!(&link.kind, Held::Steps(tasks) if tasks.contains(&task)))
    };
    let mut spans: Vec<DaySpan> = Vec::new();
    let mut end = Seconds::MIN / 2;
    for (from, to, task) in stretches {
        match spans.last_mut() {
            Some(last) if from - end < GAP => {
                last.to = moment(to);
                last.sets_finish |= sets(task);
            }
            Some(_) | None => {
                let target = told.step(task).map(|step| &step.name.target);
                let part = target.and_then(|target| {
                    part_of(&told.job.graph, target).map(|part| part.to_string())
                });
                spans.push(DaySpan {
                    from: moment(from),
                    to: moment(to),
                    label: part
                        .or_else(|| target.map(ToString::to_string))
                        .unwrap_or_default(),
                    waiting: false,
                    sets_finish: sets(task),
                });
            }
        }
        end = to;
    }
    Lane {
        name: told.person(person),
        spans,
    }
}
