//! Why a step stands where it stands: what it waits for, and what waits for it.

use job::plan::{Plan, Step};
use report::{Align, Cell, Report, Table};

use super::{Job, counted, refused, target_name, time};

const COMMAND: &str = "sequence";

/// Why the step a person named stands where it stands in a plan. A step is named as the plan prints
/// it (`on head`), or by the thing alone where only one step is about it.
#[must_use]
pub fn why(job: &Job, plan: &Plan, asked: &str) -> Report {
    let title = format!("Why {asked} stands where it stands");
    let found = named(plan, asked);
    let [place] = found[..] else {
        return not_one(plan, &title, asked, &found);
    };
    let step = &plan.steps[place];
    let mut report = Report::new(
        COMMAND,
        format!(
            "Why {} stands at {} of {}",
            step.name,
            place + 1,
            plan.steps.len()
        ),
    );
    let (table, followers) = neighbours(plan, step);
    report.rows = table;
    report.headline = Some(format!(
        "{} waits for {} and {} for it; between them its place is chosen for least walking and tool changing.",
        target_name(&job.graph, &step.name.target),
        counted(step.waits.len(), "step"),
        if followers == 1 {
            "1 step waits".to_owned()
        } else {
            format!("{followers} steps wait")
        },
    ));
    if let (Some(earliest), Some(latest)) = room(plan, place) {
        report.because.push(format!(
            "It could stand anywhere from {} to {} with the others as they are.",
            earliest + 1,
            latest + 1
        ));
    }
    if let Some(cures) = step.cures {
        report.because.push(format!(
            "What it seals cures {} before it may carry fluid or pressure.",
            time(cures)
        ));
    }
    report
}

/// The refusal where a name fits no step, or several.
fn not_one(plan: &Plan, title: &str, asked: &str, found: &[usize]) -> Report {
    if found.is_empty() {
        let says = format!("no step of this plan is called `{asked}`");
        let next = "matchmark sequence lists the steps by name";
        return refused(COMMAND, title, "step-unknown", says, next);
    }
    let names: Vec<String> = found
        .iter()
        .map(|&place| plan.steps[place].name.to_string())
        .collect();
    let says = format!("{} are about `{asked}`", counted(found.len(), "step"));
    let next = format!("write one of: {}", names.join(", "));
    refused(COMMAND, title, "step-unknown", says, &next)
}

/// What a step waits for, what waits for it, and how many do.
fn neighbours(plan: &Plan, step: &Step) -> (Table, usize) {
    let mut table = Table::new(&[
        ("relation", "", Align::Left),
        ("step", "step", Align::Left),
        ("number", "at", Align::Right),
        ("why", "why", Align::Left),
        ("direction", "", Align::Left),
    ]);
    let mut row = |relation: &str, direction: &str, other: &Step, why: String| {
        let at = plan.place(&other.name).map_or(0, |at| at + 1);
        table.push(vec![
            Cell::None,
            Cell::from(format!("{relation} {}", other.name)),
            Cell::from(at),
            Cell::from(why),
            Cell::from(direction),
        ]);
    };
    for wait in &step.waits {
        if let Some(first) = plan.place(&wait.first) {
            let first = &plan.steps[first];
            row("after", "waits for", first, wait.because.words());
        }
    }
    let mut followers = 0;
    for other in &plan.steps {
        for wait in other.waits.iter().filter(|wait| wait.first == step.name) {
            row("before", "waits for it", other, wait.because.words());
            followers += 1;
        }
    }
    (table, followers)
}

/// The steps a person may mean.
fn named(plan: &Plan, asked: &str) -> Vec<usize> {
    let folded = |text: &str| text.to_lowercase().replace(['-', '_'], " ");
    let wanted = folded(asked.trim());
    let whole = plan
        .steps
        .iter()
        .position(|step| folded(&step.name.to_string()) == wanted);
    if let Some(place) = whole {
        return vec![place];
    }
    let about = |(place, step): (usize, &Step)| {
        (folded(&step.name.target.to_string()) == wanted).then_some(place)
    };
    plan.steps.iter().enumerate().filter_map(about).collect()
}

/// The first and last place a step could have with all others in their order.
fn room(plan: &Plan, place: usize) -> (Option<usize>, Option<usize>) {
    let step = &plan.steps[place];
    let legs = |at: &usize| plan.steps[*at].leg == step.leg;
    let first = (0..plan.steps.len()).find(legs);
    let last = (0..plan.steps.len()).rev().find(legs);
    let earliest = step
        .waits
        .iter()
        .filter_map(|wait| plan.place(&wait.first))
        .map(|at| at + 1)
        .max();
    let follows = |other: &&Step| other.waits.iter().any(|wait| wait.first == step.name);
    let latest = plan
        .steps
        .iter()
        .position(|other| follows(&other))
        .and_then(|at| at.checked_sub(1));
    (earliest.or(first), latest.or(last))
}
