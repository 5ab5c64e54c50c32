//! The order of work as people read it.

use book::{Medium, Ref, Shop};
use job::plan::{Basis, Leg, Plan, Step, StepAct, Takes};
use report::{Align, Ask, Cell, Figure, Finding, Report, Table};

use super::{
    Job, ask_variants, caution_parts, counted, exactly, minutes, refused, target_name, time,
    whose_times,
};
use crate::graph::Graph;
use crate::removal::{both, no_time};
use crate::sequence::{Legs, Reversed, SequenceFault, TOOL_CHANGE, WALK};

const COMMAND: &str = "sequence";

/// The answer for a plan that was found, or the reason why there is none.
#[must_use]
pub fn sequence(
    job: &Job,
    legs: Legs,
    shop: Option<&Shop>,
    found: &Result<Plan, SequenceFault>,
) -> Report {
    let title = match legs {
        Legs::Apart => "The way off",
        Legs::Together => "The way back",
        Legs::Both => "The way off and the way back",
    };
    match found {
        Ok(plan) => answer(job, title, shop, plan),
        Err(fault) => no_order(title, fault),
    }
}

/// The answer for a job without a book.
#[must_use]
pub fn reversed(job: &Job, found: &Reversed) -> Report {
    let mut report = answer(job, "The way back, without a book", None, &found.plan);
    if let Some(question) = &found.question {
        let saves =
            time(quantity::Duration::seconds(question.saves_seconds as f64).unwrap_or_default());
        report.asks.push(Ask::new(
            format!("did {} have to come off before {}? yes or no", question.first, question.then),
            format!("if not, {} can go on before {}, which saves {saves}", question.first, question.then),
            format!(
                "log \"note {}: in the way of {}: yes\", or the same with no, which exchanges the two",
                question.first, question.then
            ),
        ));
    }
    report
}

fn no_order(title: &str, fault: &SequenceFault) -> Report {
    let (code, next) = match fault {
        SequenceFault::Access(_) => (
            "not-a-target",
            "name a part, joint, hole, port, line or check of the book",
        ),
        SequenceFault::Held(_) => (
            "held-up",
            "look at needs-off, needs-off-any, joints and fixed of these parts in the book",
        ),
        SequenceFault::Circle(..) => (
            "circle",
            "one of these reasons must give way: change the rule or the need in the book",
        ),
        SequenceFault::Search(_) => ("search-failed", "ask for fewer parts at once"),
    };
    let mut report = refused(COMMAND, title, code, fault.to_string(), next);
    if let SequenceFault::Circle(waits, last) = fault
        && let Some(finding) = report.findings.first_mut()
    {
        let mut lines: Vec<String> = Vec::new();
        for (number, wait) in waits.iter().enumerate() {
            let then = waits.get(number + 1).map_or(last, |next| &next.first);
            lines.push(format!(
                "{then} waits for {}: {}",
                wait.first,
                wait.because.words()
            ));
        }
        finding.says = "these wait for each other, round in a circle".to_owned();
        finding.detail = lines;
    }
    report
}

fn answer(job: &Job, title: &str, shop: Option<&Shop>, plan: &Plan) -> Report {
    let graph = &job.graph;
    let mut report = Report::new(COMMAND, title);
    let work = plan
        .steps
        .iter()
        .filter_map(|step| step.takes)
        .fold(no_time(), both);
    report.headline = Some(headline(plan, work));
    report
        .figures
        .push(Figure::count("steps", "steps", plan.steps.len()));
    report.figures.push(minutes("work", "work", work, false));
    report.figures.push(minutes(
        "between",
        "walking and tools",
        exactly(plan.between),
        false,
    ));
    report.figures.push(minutes(
        "bound",
        "no order needs less than",
        exactly(plan.bound),
        false,
    ));
    report.rows = rows(graph, plan);
    checks_left_out(&mut report, job, plan);
    because(&mut report, graph, shop, plan);
    let parts = plan
        .steps
        .iter()
        .filter_map(|step| match &step.name.target {
            Ref::Part(part) => Some(part.clone()),
            _ => None,
        });
    let parts = parts.collect();
    ask_variants(&mut report, graph, &parts);
    let drained = plan
        .steps
        .iter()
        .filter(|step| step.name.act == StepAct::Drain);
    let media = drained.filter_map(|step| match &step.name.target {
        Ref::Circuit(circuit) => Some(&graph.book().circuit(circuit)?.medium),
        _ => None,
    });
    let media: std::collections::BTreeSet<&Medium> = media.collect();
    if plan.steps.iter().any(|step| step.leg == Leg::Apart) {
        caution_parts(&mut report, graph, &parts, &media);
    }
    missing_times(&mut report, plan);
    report
}

fn headline(plan: &Plan, work: Takes) -> String {
    if plan.steps.is_empty() {
        return "Nothing is to be done.".to_owned();
    }
    let worth = if plan.basis == Basis::RecordReversed {
        "the record reversed, not a book".to_owned()
    } else if plan.proved() {
        "no order needs less".to_owned()
    } else {
        format!("best found; no order needs less than {}", time(plan.bound))
    };
    format!(
        "{}, {} of work, {} of walking and changing tools ({worth}).",
        counted(plan.steps.len(), "step"),
        time(work.likely),
        time(plan.between)
    )
}

/// Checks that are due before a part of this plan goes on and cannot be done in it.
fn checks_left_out(report: &mut Report, job: &Job, plan: &Plan) {
    let goes_on = |target: &Ref| {
        plan.steps
            .iter()
            .any(|step| step.name.act == StepAct::On && step.name.target == *target)
    };
    let open = job
        .graph
        .book()
        .checks
        .iter()
        .filter(|check| !job.standing.checks.contains(&check.id));
    for check in open {
        let planned = plan
            .steps
            .iter()
            .any(|step| step.name.target == Ref::Check(check.id.clone()));
        let due = check
            .before
            .iter()
            .map(|mention| &mention.id)
            .find(|target| goes_on(target));
        let stays = check
            .after_off
            .iter()
            .map(|mention| &mention.id)
            .find(|target| !goes_on(target));
        if let (false, Some(due), Some(stays)) = (planned, due, stays) {
            let says = format!(
                "{} is asked for before {due} goes on, and {stays} stays on, so it cannot be done",
                check.id
            );
            report
                .findings
                .push(Finding::new("check-left-out", check.id.to_string(), says));
        }
    }
}

fn because(report: &mut Report, graph: &Graph, shop: Option<&Shop>, plan: &Plan) {
    if plan.basis == Basis::RecordReversed {
        report.because.push(
            "There is no book: this is the record read backwards. What came off later need not have been in the way."
                .to_owned(),
        );
        return;
    }
    whose_times(report, graph);
    let ways: Vec<String> = plan
        .ways
        .iter()
        .filter_map(|taken| {
            let group = graph
                .book()
                .part(&taken.part)?
                .needs_off_any
                .get(taken.group)?;
            let names: Vec<&str> = group
                .ways
                .get(taken.way)?
                .parts
                .iter()
                .map(|part| part.id.as_str())
                .collect();
            Some(format!("{} by {}", taken.part, names.join(" + ")))
        })
        .collect();
    if !ways.is_empty() {
        report.because.push(format!(
            "Ways taken: {}; matchmark reach says what others cost.",
            ways.join("; ")
        ));
    }
    if shop.is_none_or(|shop| shop.walks.is_empty() || shop.tool_change.known().is_none()) {
        report.because.push(format!(
            "Where the shop file has no time, a walk counts {WALK} s and a change of tools {TOOL_CHANGE} s; that only ranks orders."
        ));
    }
}

/// Steps without a time are named once, not one by one.
fn missing_times(report: &mut Report, plan: &Plan) {
    let lacks = |step: &&Step| {
        step.takes.is_none()
            && matches!(
                step.name.act,
                StepAct::Off | StepAct::On | StepAct::Undo | StepAct::DoUp
            )
    };
    let missing = plan.steps.iter().filter(lacks).count();
    if missing > 0 {
        report.asks.push(Ask::new(
            format!("minutes of {}", counted(missing, "step")),
            "they count as none, so the work is at least what is shown",
            "write off=\"… min\" on=\"… min\" at the parts in the book",
        ));
    }
}

/// Tools, hands and hoist in a few words.
fn with_what(step: &Step) -> String {
    let mut words: Vec<String> = step.tools.iter().map(ToString::to_string).collect();
    if step.hands > 1 {
        words.push(format!("{} people", step.hands));
    }
    if step.hoist {
        words.push("hoist".to_owned());
    }
    words.join(", ")
}

fn rows(graph: &Graph, plan: &Plan) -> Table {
    let mut table = Table::new(&[
        ("number", "", Align::Right),
        ("step", "step", Align::Left),
        ("label", "", Align::Left),
        ("zone", "where", Align::Left),
        ("minutes", "time", Align::Right),
        ("with_what", "with", Align::Left),
        ("tools", "", Align::Left),
        ("hands", "", Align::Right),
        ("hoist", "", Align::Left),
        ("act", "", Align::Left),
        ("target", "", Align::Left),
        ("with", "", Align::Left),
        ("cures", "", Align::Right),
        ("waits_for", "", Align::Left),
        ("leg", "", Align::Left),
    ]);
    for (number, step) in plan.steps.iter().enumerate() {
        let takes = step.takes.map_or(Cell::None, |takes| {
            Cell::Number(takes.likely.in_minutes(), time(takes.likely))
        });
        let cures = step.cures.map_or(Cell::None, |cures| {
            Cell::Number(cures.in_minutes(), time(cures))
        });
        let waits = step
            .waits
            .iter()
            .map(|wait| format!("{}: {}", wait.first, wait.because.words()));
        let name = target_name(graph, &step.name.target);
        table.push(vec![
            Cell::from(number + 1),
            Cell::from(step.name.to_string()),
            if name == step.name.target.to_string() {
                Cell::None
            } else {
                Cell::from(name)
            },
            Cell::from(step.zone.as_ref().map(ToString::to_string)),
            takes,
            Cell::from(with_what(step)),
            Cell::List(step.tools.iter().map(ToString::to_string).collect()),
            Cell::Number(f64::from(step.hands), step.hands.to_string()),
            Cell::Flag(step.hoist),
            Cell::from(step.name.act.word()),
            Cell::from(step.name.target.to_string()),
            Cell::List(step.with.iter().map(ToString::to_string).collect()),
            cures,
            Cell::List(waits.collect()),
            Cell::from(match step.leg {
                Leg::Apart => "off",
                Leg::Together => "on",
            }),
        ]);
    }
    table
}
