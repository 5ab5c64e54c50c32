//! What must come off to get at something: the cheapest way, the next best, and the time
//! there and back.

use std::collections::BTreeSet;

use book::{Medium, PartId, Ref};
use report::{Align, Cell, Finding, Report, Table, Weight};

use super::{
    Job, ask_times, ask_variants, caution_parts, counted, exactly, minutes, net, refused, seized,
    target_name, tell_spend, time, whose_times,
};
use crate::graph::{At, Clear, Graph};
use crate::removal::{Clearing, Held, Lift, Removal, both, no_time};

const COMMAND: &str = "reach";

/// What must come off to get at these.
#[must_use]
pub fn reach(job: &Job, targets: &[Ref]) -> Report {
    let graph = &job.graph;
    let names: Vec<String> = targets
        .iter()
        .map(|target| target_name(graph, target))
        .collect();
    let title = format!("To get at {}", names.join(" and "));
    let mut clear = Clear::default();
    for target in targets {
        match graph.access(target) {
            Ok(more) => clear = clear.and(&more),
            Err(fault) => {
                let next =
                    "name a part, joint, hole, port, line, check or temporary item of the book";
                return refused(COMMAND, &title, "not-a-target", fault.to_string(), next);
            }
        }
    }
    let mut clearing = Clearing::new(graph, &job.standing);
    match clearing.cheapest(&clear) {
        Ok(removal) => answer(job, title, targets, (&clear, &clearing), &removal),
        Err(held) => stuck(graph, &title, &held),
    }
}

/// Nothing leads there.
pub(super) fn stuck(graph: &Graph, title: &str, held: &Held) -> Report {
    let (code, says) = match held {
        Held::By(parts) => {
            let names: Vec<String> = parts
                .iter()
                .map(|&at| graph.part(at).id.to_string())
                .collect();
            let says = format!(
                "nothing gets there: held up by {}, which never come free",
                names.join(", ")
            );
            ("held-up", says)
        }
        Held::Solver(reason) => ("search-failed", reason.clone()),
    };
    refused(
        COMMAND,
        title,
        code,
        says,
        "look at needs-off, needs-off-any, joints and fixed of these parts in the book",
    )
}

fn answer(
    job: &Job,
    title: String,
    targets: &[Ref],
    (clear, clearing): (&Clear, &Clearing<'_>),
    removal: &Removal,
) -> Report {
    let graph = &job.graph;
    let mut report = Report::new(COMMAND, title);
    let untimed = untimed(graph, &removal.lifts);
    let (off, on) = removal
        .lifts
        .iter()
        .fold((no_time(), no_time()), |(off, on), lift| {
            (
                both(off, graph.minutes_off(lift.part).unwrap_or_else(no_time)),
                both(on, graph.minutes_on(lift.part).unwrap_or_else(no_time)),
            )
        });
    let whole = both(off, on);
    let bound = quantity::Duration::seconds(removal.bound.work as f64).unwrap_or_default();
    let proved = removal.bound >= removal.value;
    report.headline = Some(headline(
        removal,
        whole.likely,
        bound,
        proved,
        !untimed.is_empty(),
    ));
    report.figures.push(minutes(
        "minutes",
        "there and back",
        whole,
        !untimed.is_empty(),
    ));
    report
        .figures
        .push(minutes("off", "taking off", off, !untimed.is_empty()));
    report
        .figures
        .push(minutes("on", "putting back", on, !untimed.is_empty()));
    report.figures.push(minutes(
        "bound",
        "no way is shorter than",
        exactly(bound),
        false,
    ));
    report.rows = rows(graph, &removal.lifts);
    other_ways(&mut report, graph, clear, clearing, removal);
    let spend = graph.spend(&removal.lifts, &job.standing.drained);
    tell_spend(&mut report, graph, &spend);
    ask_times(&mut report, &untimed);
    let parts: BTreeSet<PartId> = removal
        .gone()
        .iter()
        .map(|&at| graph.part(at).id.clone())
        .collect();
    ask_variants(&mut report, graph, &parts);
    let media: BTreeSet<&Medium> = spend
        .fluids
        .iter()
        .filter_map(|(id, _)| Some(&graph.book().circuit(id)?.medium))
        .collect();
    caution_parts(&mut report, graph, &parts, &media);
    seized::warn(&mut report, graph, &parts);
    if !removal.lifts.is_empty() {
        whose_times(&mut report, graph);
        report
            .pictures
            .push(net::picture(graph, &removal.lifts, targets));
    }
    report
}

fn headline(
    removal: &Removal,
    whole: quantity::Duration,
    bound: quantity::Duration,
    proved: bool,
    at_least: bool,
) -> String {
    if removal.lifts.is_empty() {
        return "It is clear: nothing has to come off.".to_owned();
    }
    let verb = if removal.lifts.len() == 1 {
        "comes"
    } else {
        "come"
    };
    let least = if at_least { "at least " } else { "" };
    let worth = if proved {
        "proved cheapest".to_owned()
    } else {
        format!("best found; no way is shorter than {}", time(bound))
    };
    format!(
        "{} {verb} off: {least}{} there and back, {worth}.",
        counted(removal.lifts.len(), "part"),
        time(whole)
    )
}

/// The parts, in the order in which they come free.
fn rows(graph: &Graph, lifts: &[Lift]) -> Table {
    let mut table = Table::new(&[
        ("number", "", Align::Right),
        ("part", "part", Align::Left),
        ("label", "what it is", Align::Left),
        ("off", "off", Align::Right),
        ("on", "on", Align::Right),
        ("way", "way taken", Align::Left),
        ("with", "", Align::Left),
        ("zone", "", Align::Left),
    ]);
    for (number, lift) in lifts.iter().enumerate() {
        let part = graph.part(lift.part);
        let cell = |takes: Option<job::plan::Takes>| {
            takes.map_or(Cell::None, |takes| {
                Cell::Number(takes.likely.in_minutes(), time(takes.likely))
            })
        };
        table.push(vec![
            Cell::from(number + 1),
            Cell::from(part.id.as_str()),
            Cell::from(part.label.clone()),
            cell(graph.minutes_off(lift.part)),
            cell(graph.minutes_on(lift.part)),
            Cell::from(way_words(graph, lift)),
            Cell::List(
                lift.with
                    .iter()
                    .map(|&at| graph.part(at).id.to_string())
                    .collect(),
            ),
            Cell::from(part.zone.as_ref().map(|zone| zone.id.to_string())),
        ]);
    }
    table
}

/// The ways a part was freed by, where the book offers several.
fn way_words(graph: &Graph, lift: &Lift) -> Option<String> {
    let groups = graph.nodes[lift.part].needs.any.iter().zip(&lift.ways);
    let taken: Vec<String> = groups
        .filter_map(|(group, &way)| Some(named(graph, group.get(way)?)))
        .collect();
    (!taken.is_empty()).then(|| format!("by {}", taken.join("; by ")))
}

fn named(graph: &Graph, way: &[At]) -> String {
    let names: Vec<&str> = way.iter().map(|&at| graph.part(at).id.as_str()).collect();
    names.join(" + ")
}

/// For each way taken, what the best set without it would cost.
fn other_ways(
    report: &mut Report,
    graph: &Graph,
    clear: &Clear,
    clearing: &Clearing<'_>,
    removal: &Removal,
) {
    for lift in &removal.lifts {
        let groups = &graph.nodes[lift.part].needs.any;
        for (group, &way) in lift.ways.iter().enumerate() {
            let Some(taken) = groups.get(group).and_then(|group| group.get(way)) else {
                continue;
            };
            let part = graph.part(lift.part).id.to_string();
            let by = format!("freed by {}", named(graph, taken));
            let says = match clearing.without(clear, (lift.part, group, way)) {
                Ok(other) => {
                    let more = other.value.work.saturating_sub(removal.value.work);
                    let fresh: Vec<At> =
                        other.gone().difference(&removal.gone()).copied().collect();
                    let by_others = if fresh.is_empty() {
                        "with the same parts".to_owned()
                    } else {
                        format!("with {} off as well", named(graph, &fresh))
                    };
                    let word = if other.bound >= other.value {
                        "would cost"
                    } else {
                        "would cost at most"
                    };
                    let seconds = |work: u64| {
                        time(quantity::Duration::seconds(work as f64).unwrap_or_default())
                    };
                    let whole = seconds(other.value.work);
                    format!(
                        "{by}. The best without that {word} {whole}, {} more, {by_others}",
                        seconds(more)
                    )
                }
                Err(_) => format!("{by}; there is no other way"),
            };
            report
                .findings
                .push(Finding::new("other-way", part, says).weight(Weight::Note));
        }
    }
}

/// The parts whose minutes nobody wrote.
pub(super) fn untimed(graph: &Graph, lifts: &[Lift]) -> Vec<PartId> {
    let lacks = |lift: &&Lift| {
        graph.minutes_off(lift.part).is_none() || graph.minutes_on(lift.part).is_none()
    };
    lifts
        .iter()
        .filter(lacks)
        .map(|lift| graph.part(lift.part).id.clone())
        .collect()
}
