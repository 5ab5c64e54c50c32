//! What is in hand now and what comes next: the plan of what is left, shared out over the people
//! at work, with the tightening sheet of every joint among it.

mod acts;

pub use acts::{Act, Acts, Stretch, acts};

use std::collections::{BTreeMap, BTreeSet};

use book::{JointId, Ref, ToolId};
use job::plan::{Plan, StepAct, StepName};
use job::{State, Where};
use planning::answer::hand::{Pull, Question, hand as answer};
use planning::answer::{self, Job};
use planning::hand::{Bench, Turn, Worker, turns};
use planning::sequence::{Legs, Wish};
use planning::{Budget, Graph, Standing};
use report::{Ask, Cell, Finding, Report, Weight};

use crate::folder::Folder;
use crate::gate::gate;
use crate::reach::{refused, targets};
use crate::sequence::order;
use crate::tighten;

const COMMAND: &str = "hand";
const TITLE: &str = "In hand";

/// Moves of the search for the order: only its beginning is read, and somebody stands waiting.
const MOVES: u64 = 20_000;

/// Acts shown after the one in hand.
const AHEAD: usize = 2;

/// The most acts anybody is shown ahead.
const FAR: usize = 20;

/// What was asked.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// What is to be got at; none: the way back of what is off.
    pub targets: Vec<String>,
    /// Who is at work; the first one asks. None: one person without a name.
    pub people: Vec<String>,
    /// What somebody has in hand already, by person: a step or the thing it is about.
    pub holding: Vec<(String, String)>,
    /// Acts shown after the one in hand.
    pub ahead: Option<usize>,
    /// Now, in microseconds since 1970-01-01T00:00Z; ages the checks of the wrenches.
    pub now_micros: i64,
}

/// The acts in hand and next, for each of the people.
#[must_use]
pub fn hand(folder: &Folder, asked: &Asked) -> Report {
    let state = &folder.state;
    let targets = match targets(state, &asked.targets) {
        Ok(targets) => targets,
        Err(findings) => return refused(COMMAND, TITLE, findings),
    };
    if asked.ahead.is_some_and(|ahead| ahead > FAR) {
        let finding = Finding::new("ahead", "--ahead", format!("more than {FAR} acts ahead"))
            .next("`matchmark sequence` shows the whole order");
        return refused(COMMAND, TITLE, vec![finding]);
    }
    if let Some(report) = not_begun(state, asked) {
        return report;
    }
    let plan = match left(folder, targets) {
        Ok(plan) => plan,
        Err(report) => return *report,
    };
    let (workers, mut findings) = workers(asked, &plan);
    let asks = workers
        .iter()
        .position(|worker| Some(&worker.name) == asked.people.first())
        .unwrap_or(0);
    let mut sheets = Sheets::default();
    if workers.len() > 1 {
        let joints = plan.steps.iter().filter_map(|step| joint(&step.name));
        sheets.read(folder, joints, asked.now_micros);
    }
    let shared = share_out(
        folder,
        &plan,
        &workers,
        &sheets,
        asked.ahead.unwrap_or(AHEAD),
    );
    let joints = shared
        .iter()
        .filter_map(|turn| joint(&plan.steps[turn.step].name));
    sheets.read(folder, joints, asked.now_micros);
    let job = Job::of(state);
    let mut report = answer(&Question {
        job: &job,
        state,
        plan: &plan,
        workers: &workers,
        asks,
        turns: &shared,
        pulls: &sheets.pulls,
    });
    under_the_hands(
        folder,
        asked.now_micros,
        &plan,
        &shared,
        asks,
        &sheets,
        &mut report,
    );
    report.findings.append(&mut findings);
    report.findings.extend(too_early(&plan, &workers, &shared));
    got_at(asked, &plan, &mut report);
    report
}

/// The steps that are left, in order.
fn left(folder: &Folder, targets: Vec<Ref>) -> Result<Plan, Box<Report>> {
    let state = &folder.state;
    let shop = folder.shop.as_ref();
    let legs = if targets.is_empty() {
        Legs::Together
    } else {
        Legs::Apart
    };
    let graph = Graph::new(&state.known, &Standing::from(state).choices);
    let wish = Wish { targets, legs };
    let found = order(state, shop, &graph, &wish, &Budget::moves(MOVES));
    found.map_err(|fault| {
        // The order of work says in full why there is none.
        let mut report = answer::sequence(&Job::of(state), legs, shop, &Err(fault));
        report.command = COMMAND;
        report.title = TITLE.to_owned();
        Box::new(report)
    })
}

/// The people in the order of their names, so that each of them is told the same sharing out.
fn workers(asked: &Asked, plan: &Plan) -> (Vec<Worker>, Vec<Finding>) {
    let mut names: BTreeSet<String> = asked.people.iter().cloned().collect();
    names.extend(asked.holding.iter().map(|(who, _)| who.clone()));
    if names.is_empty() {
        names.insert("you".to_owned());
    }
    let mut findings = Vec::new();
    let mut held: BTreeMap<&str, StepName> = BTreeMap::new();
    for (who, what) in &asked.holding {
        match meant(plan, what) {
            Some(step) => {
                held.insert(who, step);
            }
            None => {
                let says = format!("{what} is no act that is left");
                findings.push(Finding::new("not-left", who.as_str(), says).weight(Weight::Note));
            }
        }
    }
    let worker = |name: String| Worker {
        holds: held.get(name.as_str()).cloned(),
        name,
    };
    (names.into_iter().map(worker).collect(), findings)
}

/// The step a person means: as the plan names it, or the first about the thing.
fn meant(plan: &Plan, what: &str) -> Option<StepName> {
    let wanted = job::folded(what);
    let named = |name: &&StepName| job::folded(&name.to_string()) == wanted;
    let about = |name: &&StepName| job::folded(&name.target.to_string()) == wanted;
    let names = || plan.steps.iter().map(|step| &step.name);
    names().find(named).or_else(|| names().find(about)).cloned()
}

/// What somebody has in hand and cannot be done yet, with what it waits for.
fn too_early(plan: &Plan, workers: &[Worker], shared: &[Turn]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (who, worker) in workers.iter().enumerate() {
        let Some(held) = &worker.holds else {
            continue;
        };
        let has_it = shared
            .iter()
            .any(|turn| turn.who == who && plan.steps[turn.step].name == *held);
        let step = plan.steps.iter().find(|step| step.name == *held);
        let waits = step.and_then(|step| {
            let waits = step.waits.iter();
            waits
                .filter(|wait| plan.place(&wait.first).is_some())
                .min_by_key(|wait| plan.place(&wait.first))
        });
        if let (false, Some(wait)) = (has_it, waits) {
            let says = format!("{held} waits for {}: {}", wait.first, wait.because.words());
            findings.push(
                Finding::new("too-early", worker.name.as_str(), says)
                    .next("lay it down and take what is shown, or log what is done already"),
            );
        }
    }
    findings
}

fn joint(name: &StepName) -> Option<&JointId> {
    match (&name.target, name.act) {
        (Ref::Joint(joint), StepAct::DoUp) => Some(joint),
        _ => None,
    }
}

fn share_out(
    folder: &Folder,
    plan: &Plan,
    workers: &[Worker],
    sheets: &Sheets,
    ahead: usize,
) -> Vec<Turn> {
    let state = &folder.state;
    let mut singles: BTreeMap<ToolId, u32> = BTreeMap::new();
    if let Some(shop) = folder.shop.as_ref() {
        singles.extend(
            shop.singles
                .iter()
                .map(|tool| (tool.id.clone(), tool.count)),
        );
        singles.extend(shop.wrenches.iter().map(|wrench| (wrench.id.clone(), 1)));
    }
    let wrenches: BTreeMap<StepName, ToolId> = plan
        .steps
        .iter()
        .filter_map(|step| {
            let wrench = sheets.pulls.get(joint(&step.name)?)?.wrench.clone()?;
            Some((step.name.clone(), ToolId::new(wrench)))
        })
        .collect();
    turns(
        &Bench {
            book: &state.known,
            plan,
            singles: &singles,
            wrenches: &wrenches,
            begun: &begun(state, plan),
        },
        workers,
        ahead.saturating_add(1),
    )
}

/// Steps somebody has begun and not ended: a joint half tightened, a part loosened.
fn begun(state: &State, plan: &Plan) -> BTreeSet<StepName> {
    let is_begun = |name: &StepName| match (&name.target, name.act) {
        (Ref::Joint(joint), StepAct::DoUp) => state
            .joints
            .get(joint)
            .is_some_and(|held| held.holes.values().any(|hole| hole.stage() > 0)),
        (Ref::Joint(joint), StepAct::Undo) => state
            .joints
            .get(joint)
            .is_some_and(|held| held.holes.values().any(|hole| hole.loosened)),
        (Ref::Part(part), StepAct::Off) => state.whereabouts(part) == Where::Loosened,
        _ => false,
    };
    let names = plan.steps.iter().map(|step| &step.name);
    names.filter(|name| is_begun(name)).cloned().collect()
}

/// The tightening sheets that were read, by joint.
#[derive(Default)]
struct Sheets {
    whole: BTreeMap<JointId, Report>,
    pulls: BTreeMap<JointId, Pull>,
}

impl Sheets {
    fn read<'a>(
        &mut self,
        folder: &Folder,
        joints: impl Iterator<Item = &'a JointId>,
        now_micros: i64,
    ) {
        for joint in joints {
            if self.whole.contains_key(joint) {
                continue;
            }
            let asked = tighten::Asked {
                joint: Some(joint.to_string()),
                ..tighten::Asked::default()
            };
            let sheet = tighten::tighten(folder, &asked, now_micros);
            self.pulls
                .insert(joint.clone(), pull(folder, joint, &sheet));
            self.whole.insert(joint.clone(), sheet);
        }
    }
}

/// What the acts need of a sheet.
fn pull(folder: &Folder, joint: &JointId, sheet: &Report) -> Pull {
    let text = |row: &[Cell], key: &str| match sheet.rows.cell(row, key) {
        Some(Cell::Text(text)) if !text.is_empty() => Some(text.clone()),
        _ => None,
    };
    let next = sheet
        .rows
        .rows
        .iter()
        .find(|row| text(row, "next_hole").is_some());
    let word = |key: &str| next.and_then(|row| text(row, key));
    let open = folder
        .state
        .joints
        .get(joint)
        .is_some_and(|held| held.open || held.holes.values().any(|hole| hole.empty));
    Pull {
        // While the bolts are out the sheet is one for later.
        says: sheet.headline.clone().filter(|_| !open),
        setting: sheet.figure("setting").cloned(),
        wrench: word("wrench"),
        hole: word("next_hole"),
        line: word("line"),
        stopped: sheet
            .findings
            .iter()
            .any(|finding| finding.weight == Weight::Stop),
    }
}

/// What belongs to the asker's own act: its drawing, what its sheet found, the gate it asks.
fn under_the_hands(
    folder: &Folder,
    now_micros: i64,
    plan: &Plan,
    shared: &[Turn],
    asks: usize,
    sheets: &Sheets,
    report: &mut Report,
) {
    let own = shared
        .iter()
        .find(|turn| turn.who == asks && turn.round == 0);
    let Some(name) = own.map(|turn| &plan.steps[turn.step].name) else {
        return;
    };
    if let Some(sheet) = joint(name).and_then(|joint| sheets.whole.get(joint)) {
        report.pictures.extend(sheet.pictures.iter().cloned());
        report.figures.extend(
            ["spec", "angle", "done"]
                .iter()
                .filter_map(|name| sheet.figure(name).cloned()),
        );
        report.findings.extend(sheet.findings.iter().cloned());
        report.cautions.extend(sheet.cautions.iter().cloned());
        report.because.extend(sheet.because.iter().cloned());
        for source in &sheet.sources {
            report.cite(source.clone());
        }
        report.asks.extend(sheet.asks.iter().cloned());
    }
    if let Ref::Gate(id) = &name.target {
        let gate = gate(folder, Some(id.as_str()), now_micros);
        report.verdict = gate.verdict;
        report.findings.extend(gate.findings);
        report.asks.extend(gate.asks);
        report.cautions.extend(gate.cautions);
    }
}

/// A job in which nothing ever came off has no way back, only a way that nobody named yet.
fn not_begun(state: &State, asked: &Asked) -> Option<Report> {
    let begun = state.parts.values().any(|held| held.was_off)
        || state.joints.values().any(|held| held.was_open)
        || state.parts.values().any(|held| held.state != Where::Fitted);
    if begun || !asked.targets.is_empty() {
        return None;
    }
    let mut report = Report::new(COMMAND, TITLE);
    report.headline = Some("Nothing is off, so nothing is to go back.".to_owned());
    report.asks.push(Ask::new(
        "what is to be got at",
        "the way off depends on it",
        "matchmark hand PART",
    ));
    Some(report)
}

/// The way to the targets is free.
fn got_at(asked: &Asked, plan: &Plan, report: &mut Report) {
    if plan.steps.is_empty() && !asked.targets.is_empty() {
        report.headline = Some(format!(
            "{} can be got at: nothing more has to come off.",
            asked.targets.join(", ")
        ));
    }
}
