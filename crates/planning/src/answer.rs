//! The answers people see: one [`report::Report`] a question, built from the graph and a standing.

use std::collections::BTreeSet;

use book::{Medium, PartId, Ref};
use job::State;
use job::plan::Takes;
use quantity::Duration;
use report::{Ask, Caution, Figure, Finding, Report, Weight};

use crate::graph::{Graph, unchosen};
use crate::spend::Spend;
use crate::standing::Standing;

mod reach;
mod seized;
mod net;
mod while_open;
mod sequence;
mod why;
mod turn;
mod last_chance;
mod comeback;
mod calendar;
pub mod hand;

pub use calendar::calendar;
pub use comeback::comeback;
pub use last_chance::last_chance;
pub use reach::reach;
pub use sequence::{reversed, sequence};
pub use turn::{stuck_cranks, turn};
pub use while_open::while_open;
pub use why::why;

/// What questions are asked of: one vehicle and where its job stands.
#[derive(Clone, Debug)]
pub struct Job {
    pub(crate) graph: Graph,
    pub(crate) standing: Standing,
}

impl Job {
    /// The vehicle and standing of a replayed job. Its book is the book with everything met since.
    #[must_use]
    pub fn of(state: &State) -> Self {
        let standing = Standing::from(state);
        Self {
            graph: Graph::new(&state.known, &standing.choices),
            standing,
        }
    }

    /// The same job where a person says that the crank stands where the book parks it.
    #[must_use]
    pub fn parked(mut self) -> Self {
        let shafts = self.graph.book().shafts.iter();
        let cranks = shafts.filter(|shaft| shaft.kind == book::ShaftKind::Crank);
        self.standing.parked = cranks.map(|shaft| shaft.id.clone()).collect();
        self
    }
}

/// A time in words: `25 min`, `3 h 05 min`.
pub(crate) fn time(time: Duration) -> String {
    let minutes = time.in_minutes();
    if minutes > 0.0 && minutes < 0.5 {
        return "under 1 min".to_owned();
    }
    // Times of a job are at most some months of minutes.
    let whole = minutes.round().max(0.0) as u64;
    if whole < 100 {
        return format!("{whole} min");
    }
    format!("{} h {:02} min", whole / 60, whole % 60)
}

/// A time with its range, where the range says more: `3 h 05 min (2 h 30 min to 4 h 00 min)`.
pub(crate) fn time_range(takes: Takes) -> String {
    if takes.low == takes.high {
        return time(takes.likely);
    }
    format!(
        "{} ({} to {})",
        time(takes.likely),
        time(takes.low),
        time(takes.high)
    )
}

/// A figure in minutes.
pub(crate) fn minutes(name: &'static str, label: &str, takes: Takes, at_least: bool) -> Figure {
    let least = if at_least { "at least " } else { "" };
    let mut figure = Figure::number(
        name,
        label,
        takes.likely.in_minutes(),
        format!("{least}{}", time_range(takes)),
    );
    figure.unit = "min";
    if takes.low != takes.high {
        figure.low = Some(takes.low.in_minutes());
        figure.high = Some(takes.high.in_minutes());
    }
    figure
}

/// One time three times.
pub(crate) fn exactly(time: Duration) -> Takes {
    Takes {
        low: time,
        likely: time,
        high: time,
    }
}

/// So many of a thing: `1 part`, `4 parts`.
pub(crate) fn counted(count: usize, word: &str) -> String {
    let plural = job::plural(word, u32::try_from(count).unwrap_or(u32::MAX));
    format!("{count} {plural}")
}

/// Adds what has to be new and filled again.
pub(crate) fn tell_spend(report: &mut Report, graph: &Graph, spend: &Spend) {
    if !spend.one_use.is_empty() {
        let mut says = format!("to be new each time: {}", spend.one_use.join("; "));
        if !spend.money.is_empty() {
            let all = if spend.fluids.is_empty() {
                "Together"
            } else {
                "With fluids"
            };
            says = format!("{says}. {all} {}", spend.shown());
        }
        if spend.unpriced > 0 {
            says = format!("{says}, {} without a price", spend.unpriced);
        }
        let finding =
            Finding::new("one-use", "", says).next("order them before anything comes off");
        report.findings.push(finding.weight(Weight::Note));
    }
    if !spend.fluids.is_empty() {
        let fluids: Vec<String> = spend
            .fluids
            .iter()
            .map(|(id, volume)| fluid(graph, id, *volume))
            .collect();
        let mut says = format!("to be drained and filled again: {}", fluids.join(", "));
        if let Some(more) = fluid_time(graph, spend) {
            says = format!("{says}; that takes {} more", time(more));
        }
        report
            .findings
            .push(Finding::new("fluids", "", says).weight(Weight::Note));
    }
    if let Some(cures) = spend.cures {
        let says = format!(
            "sealant cures {} before it may carry fluid or pressure",
            time(cures)
        );
        report
            .findings
            .push(Finding::new("cures", "", says).weight(Weight::Note));
    }
}

/// How long draining and filling take together, where the book has a time for any of it.
fn fluid_time(graph: &Graph, spend: &Spend) -> Option<Duration> {
    let circuits = spend.fluids.iter();
    let circuits = circuits.filter_map(|(id, _)| graph.book().circuit(id));
    let times: Vec<f64> = circuits
        .flat_map(|circuit| [&circuit.draining, &circuit.filling])
        .filter_map(|time| Some(time.known()?.likely.in_minutes()))
        .collect();
    if times.is_empty() {
        return None;
    }
    Duration::minutes(times.iter().sum()).ok()
}

/// A fluid with its amount.
pub(crate) fn fluid(
    graph: &Graph,
    id: &book::CircuitId,
    volume: Option<quantity::Volume>,
) -> String {
    let circuit = graph.book().circuit(id);
    let name = circuit
        .and_then(|circuit| circuit.label.clone())
        .unwrap_or_else(|| id.to_string());
    match volume {
        Some(volume) => format!("{name} {}", quantity::show(volume, &quantity::unit::LITRE)),
        None => format!("{name} (amount not known)"),
    }
}

/// Asks for the minutes of parts whose minutes the answer lacks.
pub(crate) fn ask_times(report: &mut Report, untimed: &[PartId]) {
    if untimed.is_empty() {
        return;
    }
    let names: Vec<&str> = untimed.iter().map(PartId::as_str).collect();
    report.asks.push(Ask::new(
        format!("minutes of {}", names.join(", ")),
        "they count as none, so the time is at least what is shown",
        "write off=\"… min\" on=\"… min\" at the part in the book",
    ));
}

/// Asks for variants nobody chose, where one of these parts hangs on them.
pub(crate) fn ask_variants(report: &mut Report, graph: &Graph, parts: &BTreeSet<PartId>) {
    let mut open = BTreeSet::new();
    for part in parts.iter().filter_map(|part| graph.book().part(part)) {
        open.extend(unchosen(&part.when, &graph.choices));
    }
    for variant in open {
        let of = graph
            .book()
            .variants
            .iter()
            .find(|other| other.id == *variant);
        let values = of
            .map(|variant| variant.values.join(" or "))
            .unwrap_or_default();
        report.asks.push(Ask::new(
            format!("{variant}: {values}"),
            "parts in this answer hang on it",
            format!("matchmark log \"choose {variant} …\""),
        ));
    }
}

/// Cautions for taking these parts off.
pub(crate) fn caution_parts(
    report: &mut Report,
    graph: &Graph,
    parts: &BTreeSet<PartId>,
    fluids: &BTreeSet<&Medium>,
) {
    let mut add = |act: &str, says: &str| report.cautions.push(Caution::new(act, says));
    for medium in fluids {
        match medium {
            Medium::Coolant => add(
                "draining coolant",
                "hot coolant is under pressure: wait until the engine is cold; it is poison, catch all of it",
            ),
            Medium::Fuel => add(
                "opening fuel lines",
                "no flame or spark, air through the bay, pressure let off the way the maker says",
            ),
            Medium::Hydraulic => add(
                "opening brake, clutch or steering fluid",
                "follow the maker's bleeding order; where local rules ask for a licensed trade, leave it to one",
            ),
            _ => {}
        }
    }
    let ports = parts
        .iter()
        .filter_map(|part| graph.book().part(part))
        .flat_map(|part| &part.ports);
    let gas = |port: &book::Port| port.medium.known() == Some(&Medium::Refrigerant);
    if ports.into_iter().any(gas) {
        report.cautions.push(Caution::new(
            "opening the air conditioning",
            "refrigerant is opened and recovered by a licensed trade only; move the part aside unopened where you can",
        ));
    }
    let hangs = |part: &PartId| {
        graph
            .book()
            .part(part)
            .is_some_and(|part| part.effort.hoist.known() == Some(&true))
    };
    if parts.iter().any(hangs) {
        report.cautions.push(Caution::new(
            "lifting",
            "nobody under the load; hooks, chain and hoist rated for it",
        ));
    }
}

/// Says whose the times are.
pub(crate) fn whose_times(report: &mut Report, graph: &Graph) {
    let whose = if graph.book().invented {
        "Times are those of the book, whose data are invented."
    } else {
        "Times are those of the book, for hands that know the job."
    };
    report.because.push(whose.to_owned());
}

/// Which of some names mean nothing here, as one finding.
pub(crate) fn refused(
    command: &'static str,
    title: &str,
    code: &'static str,
    says: String,
    next: &str,
) -> Report {
    let mut report = Report::refusal(command, title, Finding::new(code, "", says).next(next));
    report.headline = Some("No answer.".to_owned());
    report
}

/// What a reader calls a target.
pub(crate) fn target_name(graph: &Graph, target: &Ref) -> String {
    match target {
        Ref::Part(part) => graph.part_name(part),
        Ref::Joint(joint) => graph.joint_name(joint),
        Ref::Line(line) => graph.line_name(line),
        Ref::Check(id) => {
            let label = graph.book().check(id).and_then(|check| check.label.clone());
            label.unwrap_or_else(|| id.to_string())
        }
        Ref::Temporary(id) => {
            let label = graph
                .book()
                .temporary(id)
                .and_then(|item| item.label.clone());
            label.unwrap_or_else(|| id.to_string())
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests;
