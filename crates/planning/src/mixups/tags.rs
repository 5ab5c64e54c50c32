//! Pair numbers given out before anything comes off: the end worth most gets number 1.

use std::collections::BTreeSet;

use book::{CrossingGrade, LineId};
use job::State;
use report::{Align, Cell, Figure, Report, Table};

use super::map::{end_name, tag};
use super::{How, Mixup, find};
use crate::answer::{Job, counted};

/// A pair number for every end worth tagging, worst mix-up first, then a bag for every joint of
/// which a bolt could be taken for another's.
#[must_use]
pub fn tags(job: &Job, state: &State) -> Report {
    let mut report = Report::new("tags", "Tags in pairs, and bags");
    let mut table = Table::new(&[
        ("number", "no.", Align::Right),
        ("on", "one on", Align::Left),
        ("and", "one on", Align::Left),
        ("against", "against", Align::Left),
        ("grade", "grade", Align::Left),
        ("tagged", "", Align::Left),
    ]);
    pairs(job, state, &mut table);
    let ends = table.rows.len();
    bags(job, state, &mut table);
    let bags = table.rows.len() - ends;
    report.headline = Some(format!(
        "{} to tag, the worst first, and {}.",
        counted(ends, "end"),
        counted(bags, "bag")
    ));
    report
        .figures
        .push(Figure::count("ends", "ends to tag", ends));
    report.figures.push(Figure::count("bags", "bags", bags));
    report.rows = table;
    report.because.push("A tag and its port carry the same number; write each as it is put on: log \"tag N: END PORT\".".to_owned());
    report
}

/// A number for each end of a mix-up, the worst first; numbers given out already stay.
fn pairs(job: &Job, state: &State, table: &mut Table) {
    let book = job.graph.book();
    let used: BTreeSet<u32> = state
        .tags
        .iter()
        .filter_map(|tag| tag.tag.trim_start_matches('#').parse().ok())
        .collect();
    let mut free = (1..).filter(|number| !used.contains(number));
    let mut seen: BTreeSet<(LineId, usize)> = BTreeSet::new();
    let worth =
        |mixup: &&Mixup| mixup.how != How::LeftOff && mixup.does.grade > CrossingGrade::Harmless;
    for mixup in find(&job.graph, state).found.iter().filter(worth) {
        for (id, end) in &mixup.ends {
            let Some(line) = book.line(id).filter(|_| seen.insert((id.clone(), *end))) else {
                continue;
            };
            let other = if mixup.a == end_name(line, *end) {
                &mixup.b
            } else {
                &mixup.a
            };
            let tagged = tag(state, line, *end);
            let number = match &tagged {
                Some(tag) => tag.clone(),
                None => free.next().unwrap_or_default().to_string(),
            };
            table.push(vec![
                Cell::from(number),
                Cell::from(end_name(line, *end)),
                Cell::from(line.ends[*end].port.id.to_string()),
                Cell::from(other.as_str()),
                Cell::from(mixup.does.grade.word()),
                Cell::from(if tagged.is_some() { "yes" } else { "no" }),
            ]);
        }
    }
}

/// A bag for each joint; a place that was said stays, and its number is not given out twice.
fn bags(job: &Job, state: &State, table: &mut Table) {
    let places: BTreeSet<String> = state
        .joints
        .values()
        .filter_map(|held| held.place.as_deref().map(job::folded))
        .collect();
    let mut free = (1_usize..)
        .map(|number| format!("bag {number}"))
        .filter(|name| !places.contains(&job::folded(name)));
    for joint in bagged(job) {
        let place = state
            .joints
            .get(&joint.id)
            .and_then(|held| held.place.clone());
        let name = match &place {
            Some(place) => place.clone(),
            None => free.next().unwrap_or_default(),
        };
        let holes = joint
            .holes
            .iter()
            .filter(|hole| hole.holds != book::Holds::Nothing)
            .count();
        table.push(vec![
            Cell::from(name),
            Cell::from(job.graph.joint_name(&joint.id)),
            Cell::from(counted(holes, "fastener")),
            Cell::from("bolts of other joints"),
            Cell::None,
            Cell::from(if place.is_some() { "yes" } else { "no" }),
        ]);
    }
}

/// Joints whose fasteners come off, in book order.
fn bagged(job: &Job) -> impl Iterator<Item = &book::Joint> {
    let book = job.graph.book();
    let comes_off = |joint: &&book::Joint| {
        book.part(&joint.of).is_some_and(|part| !part.fixed)
            && joint
                .holes
                .iter()
                .any(|hole| hole.holds != book::Holds::Nothing)
    };
    book.joints.iter().filter(comes_off)
}
