//! Fasteners on the way that are likely to be seized, and what that may cost in hours.

use std::collections::BTreeSet;

use book::PartId;
use quantity::Duration;
use report::{Caution, Figure, Finding, Report, Source, Weight};

use crate::graph::Graph;

/// One seized fastener costs from a quarter of an hour, with soaking and heat, to two hours
/// where it breaks. *Common practice, no source.*
const EACH_MINUTES: (f64, f64) = (15.0, 120.0);

/// Of so many seized fasteners one breaks, where they are soaked and warmed. *Common practice,
/// no source.*
const ONE_BREAKS_IN: usize = 8;

/// Says which joints of these parts the book calls seized, with how many may break and what
/// that takes. It is not added to the time of the work: nobody knows before the first one turns.
pub(super) fn warn(report: &mut Report, graph: &Graph, parts: &BTreeSet<PartId>) {
    let joints = graph
        .book()
        .joints
        .iter()
        .filter(|joint| joint.seizes.known() == Some(&true) && parts.contains(&joint.of));
    let found: Vec<(String, usize)> = joints
        .map(|joint| {
            let screwed = joint
                .holes
                .iter()
                .filter(|hole| hole.thread.known().is_some());
            (graph.joint_name(&joint.id), screwed.count().max(1))
        })
        .collect();
    let count: usize = found.iter().map(|(_, count)| count).sum();
    if count == 0 {
        return;
    }
    let names: Vec<&str> = found.iter().map(|(name, _)| name.as_str()).collect();
    let breaks = count.div_ceil(ONE_BREAKS_IN);
    let says = format!(
        "likely seized: {} fasteners; reckon with {} that {}",
        count,
        breaks,
        if breaks == 1 { "breaks" } else { "break" }
    );
    report.findings.push(
        Finding::new("may-seize", names.join(", "), says)
            .points_to("a springy feel is the bolt twisting, not turning: it is about to break")
            .next("soak the evening before and again in the morning, warm the alloy round it, tighten a hair before loosening, stop when it feels springy; if one breaks: matchmark broken")
            .weight(Weight::Look),
    );
    let (soaked, broken) = EACH_MINUTES;
    let low = soaked * count as f64;
    let high = low + broken * breaks as f64;
    let (Ok(short), Ok(long)) = (Duration::minutes(low), Duration::minutes(high)) else {
        return;
    };
    let shown = format!("{} to {}", super::time(short), super::time(long));
    let mut figure = Figure::number("seized_extra", "more, if they are seized", high, shown);
    figure.unit = "min";
    figure.low = Some(low);
    figure.high = Some(high);
    report.figures.push(figure.note("not in the time above"));
    report.cautions.push(Caution::new(
        "heat on seized bolts",
        "no flame near fuel, hoses, undersealed or painted-over wax; fumes of penetrant burn; nothing hot on airbag or brake lines.",
    ));
    report.cite(Source::common_practice(
        "what a seized or broken fastener costs in time",
    ));
}
