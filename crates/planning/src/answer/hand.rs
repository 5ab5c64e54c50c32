//! What is in hand now and what comes next, for each of the people: act, place, tool, figure,
//! why it comes now, what to lay out, and what is about to be covered.

mod care;
mod lay_out;
mod line;
mod why;

#[cfg(test)]
mod tests;

pub use lay_out::next_bag;

use std::collections::{BTreeMap, BTreeSet};

use book::{JointId, PartId, Ref};
use job::State;
use job::plan::{Leg, Plan, Step, StepAct};
use report::{Align, Bay, Cell, Figure, Finding, Picture, Report, Stand, Table, Weight};

use super::{Job, counted, target_name, time};
use crate::hand::{Turn, Worker};
use crate::item::Item;
use crate::last_chance::last_chance;
use crate::standing::Standing;

const COMMAND: &str = "hand";

/// What the tightening sheet says of a joint that is done up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pull {
    /// What comes next on it, one sentence.
    pub says: Option<String>,
    /// What is set on the wrench, in the wrench's own unit.
    pub setting: Option<Figure>,
    /// The wrench.
    pub wrench: Option<String>,
    /// The hole that is next.
    pub hole: Option<String>,
    /// The line that enters the rest of the stage.
    pub line: Option<String>,
    /// Whether it cannot go on: its findings say why.
    pub stopped: bool,
}

/// What the answer is made from.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The vehicle and where it stands.
    pub job: &'a Job,
    /// The record worked out, for bags and what came out of holes.
    pub state: &'a State,
    /// The steps that are left.
    pub plan: &'a Plan,
    /// Who is at work; the first one asks.
    pub workers: &'a [Worker],
    /// Which of the workers asks, by place.
    pub asks: usize,
    /// Who has what in which round.
    pub turns: &'a [Turn],
    /// Sheets of the joints that are done up.
    pub pulls: &'a BTreeMap<JointId, Pull>,
}

/// Says what is in hand and what comes next.
#[must_use]
pub fn hand(asked: &Question<'_>) -> Report {
    let mut report = Report::new(COMMAND, "In hand");
    report.rows = rows(asked);
    report.headline = Some(headline(asked));
    let own = asked.turns_of(asked.asks);
    if let Some(turn) = own.first() {
        figures(asked, turn, &mut report);
    }
    things_to_lay_out(asked, &own, &mut report);
    let mut told = BTreeSet::new();
    for turn in asked.turns.iter().filter(|turn| !turn.helps) {
        let step = asked.step(turn);
        if told.insert(step.name.clone()) {
            let findings = covered(asked, turn, &asked.job.standing, false);
            report.findings.extend(findings);
            if turn.round == 0 {
                care::add(&asked.job.graph, step, &mut report);
            }
        }
    }
    alone(asked, &mut report);
    report.pictures.extend(bay(asked));
    if asked.plan.basis == job::plan::Basis::RecordReversed {
        report.because.push(
            "There is no book: this is the record read backwards. What came off later need not have been in the way."
                .to_owned(),
        );
    }
    report
}

/// One act as an answer of its own, for whoever shows acts one by one: its row, how long it
/// takes, the care it wants and what it is about to cover once the acts before it are done. What
/// one of those sees to is named again, to be looked at once more.
#[must_use]
pub fn act(asked: &Question<'_>, turn: &Turn) -> Report {
    let step = asked.step(turn);
    let mut report = Report::new(COMMAND, sentence(&asked.said(turn)));
    report.rows = columns(asked);
    report.rows.push(row(asked, turn));
    if let Some(takes) = step.takes {
        report
            .figures
            .push(super::minutes("minutes", "takes", takes, false));
    }
    if !turn.helps {
        let findings = covered(asked, turn, &standing_at(asked, turn), true);
        report.findings.extend(findings);
        care::add(&asked.job.graph, step, &mut report);
    }
    report
}

impl<'a> Question<'a> {
    fn step(&self, turn: &Turn) -> &'a Step {
        &self.plan.steps[turn.step]
    }

    fn turns_of(&self, who: usize) -> Vec<&'a Turn> {
        self.turns.iter().filter(|turn| turn.who == who).collect()
    }

    fn pull(&self, step: &Step) -> Option<&'a Pull> {
        match (&step.name.target, step.name.act) {
            (Ref::Joint(joint), StepAct::DoUp) => self.pulls.get(joint),
            _ => None,
        }
    }

    /// What is done, in words: `put on Loom tray`.
    fn act(&self, step: &Step) -> String {
        let name = target_name(&self.job.graph, &step.name.target);
        let does = match step.name.act {
            StepAct::Off => "take off",
            StepAct::On => "put on",
            StepAct::Undo => "undo",
            StepAct::DoUp => "do up",
            StepAct::Drain => "drain",
            StepAct::Fill => "fill",
            StepAct::Check => "check",
            StepAct::Pass => "ask the gate",
            StepAct::PutIn => "put in",
            StepAct::TakeOut => "take out",
        };
        format!("{does} {name}")
    }

    /// What is done, and whether it is the act of somebody else.
    fn said(&self, turn: &Turn) -> String {
        let act = self.act(self.step(turn));
        if turn.helps {
            format!("lend a hand: {act}")
        } else {
            act
        }
    }

    /// The tools and the wrench of a step.
    fn tools(&self, step: &Step) -> Vec<String> {
        let mut tools: Vec<String> = step.tools.iter().map(ToString::to_string).collect();
        tools.extend(self.pull(step).and_then(|pull| pull.wrench.clone()));
        if step.hoist {
            tools.push("hoist".to_owned());
        }
        tools
    }
}

fn headline(asked: &Question<'_>) -> String {
    let Some(turn) = asked.turns_of(asked.asks).first().copied() else {
        return match (asked.plan.steps.is_empty(), asked.turns.is_empty()) {
            (true, _) => "Nothing is left to do.".to_owned(),
            (false, true) => "Nothing can be begun: each step waits for another.".to_owned(),
            (false, false) => {
                "Nothing that keeps clear of the others' hands: lay out what comes next.".to_owned()
            }
        };
    };
    let step = asked.step(turn);
    if let Some(says) = asked.pull(step).and_then(|pull| pull.says.clone()) {
        let name = target_name(&asked.job.graph, &step.name.target);
        return format!("{name}: {says}");
    }
    let act = sentence(&asked.said(turn));
    let place = step
        .zone
        .as_ref()
        .map_or_else(String::new, |zone| format!(", {zone}"));
    let tools = asked.tools(step);
    let with = if tools.is_empty() {
        String::new()
    } else {
        format!(", with {}", tools.join(", "))
    };
    format!("{act}{place}{with}.")
}

/// Words as they begin a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

fn figures(asked: &Question<'_>, turn: &Turn, report: &mut Report) {
    let step = asked.step(turn);
    if let Some(setting) = asked.pull(step).and_then(|pull| pull.setting.clone()) {
        report.figures.push(setting);
    }
    if let Some(takes) = step.takes {
        report
            .figures
            .push(super::minutes("minutes", "takes", takes, false));
    }
    report
        .figures
        .push(Figure::count("left", "steps left", asked.plan.steps.len()));
}

fn columns(asked: &Question<'_>) -> Table {
    let several = asked.workers.len() > 1;
    Table::new(&[
        ("who", if several { "who" } else { "" }, Align::Left),
        ("turn", "", Align::Left),
        ("act", "act", Align::Left),
        ("zone", "where", Align::Left),
        ("tool", "with", Align::Left),
        ("setting", "set", Align::Right),
        ("why", "why now", Align::Left),
        ("lay_out", "", Align::Left),
        ("step", "", Align::Left),
        ("target", "", Align::Left),
        ("label", "", Align::Left),
        ("line", "", Align::Left),
        ("hole", "", Align::Left),
        ("minutes", "", Align::Right),
        ("hands", "", Align::Right),
        ("beside", "", Align::Left),
        ("leg", "", Align::Left),
    ])
}

fn rows(asked: &Question<'_>) -> Table {
    let mut table = columns(asked);
    let first = asked.workers.get(asked.asks).map(|worker| &worker.name);
    let mut order: Vec<usize> = (0..asked.workers.len()).collect();
    order.sort_by_key(|&who| Some(&asked.workers[who].name) != first);
    for who in order {
        for turn in asked.turns_of(who) {
            table.push(row(asked, turn));
        }
    }
    table
}

fn row(asked: &Question<'_>, turn: &Turn) -> Vec<Cell> {
    let step = asked.step(turn);
    let pull = asked.pull(step);
    let name = |who: &usize| asked.workers[*who].name.clone();
    let takes = step.takes.map_or(Cell::None, |takes| {
        Cell::Number(takes.likely.in_minutes(), time(takes.likely))
    });
    vec![
        Cell::from(name(&turn.who)),
        Cell::from(if turn.round == 0 { "in hand" } else { "next" }),
        Cell::from(asked.said(turn)),
        Cell::from(step.zone.as_ref().map(ToString::to_string)),
        Cell::from(asked.tools(step).join(", ")),
        Cell::from(pull.and_then(|pull| pull.setting.clone())),
        Cell::from(why::why(asked, step)),
        Cell::List(lay_out::lay_out(asked, turn)),
        Cell::from(step.name.to_string()),
        Cell::from(step.name.target.to_string()),
        Cell::from(target_name(&asked.job.graph, &step.name.target)),
        Cell::from(line::line(asked, turn)),
        Cell::from(pull.and_then(|pull| pull.hole.clone())),
        takes,
        Cell::Number(f64::from(step.hands), step.hands.to_string()),
        Cell::List(turn.beside.iter().map(name).collect()),
        Cell::from(match step.leg {
            Leg::Apart => "off",
            Leg::Together => "on",
        }),
    ]
}

/// The bay with everybody in it; nothing where the book says nothing of the engine, or where
/// nobody's act has a zone.
fn bay(asked: &Question<'_>) -> Option<Picture> {
    let engine = asked.job.graph.book().engine.as_ref()?;
    let now = asked.turns.iter().filter(|turn| turn.round == 0);
    let people: Vec<Stand> = now
        .filter_map(|turn| {
            let step = asked.step(turn);
            Some(Stand {
                who: asked.workers.get(turn.who)?.name.clone(),
                zone: step.zone.as_ref()?.to_string(),
                has: asked.act(step),
                asks: turn.who == asked.asks,
            })
        })
        .collect();
    if people.is_empty() {
        return None;
    }
    Some(Picture::Bay(Bay {
        title: "Where you stand, seen from above".to_owned(),
        across: engine.across.known().copied()?,
        banks: engine.banks.iter().map(|bank| bank.name.clone()).collect(),
        people,
    }))
}

/// Where the job stands when a turn comes, as far as parts that are off or on go.
fn standing_at(asked: &Question<'_>, turn: &Turn) -> Standing {
    let graph = &asked.job.graph;
    let mut standing = asked.job.standing.clone();
    let before = asked.turns.iter().filter(|it| it.round < turn.round);
    for step in before.map(|before| asked.step(before)) {
        if let Ref::Part(part) = &step.name.target
            && let Some(at) = graph.at(part)
        {
            match step.name.act {
                StepAct::On => standing.put_on(graph, at),
                StepAct::Off => standing.take_off(graph, at),
                _ => {}
            }
        }
    }
    standing
}

/// What a part that goes on is about to cover, one finding a thing. `again` also names what an
/// act before it sees to: it is forgotten most easily of all.
fn covered(asked: &Question<'_>, turn: &Turn, standing: &Standing, again: bool) -> Vec<Finding> {
    let step = asked.step(turn);
    let (StepAct::On, Ref::Part(part)) = (step.name.act, &step.name.target) else {
        return Vec::new();
    };
    let graph = &asked.job.graph;
    let mut findings = Vec::new();
    for row in last_chance(graph, standing, part) {
        let item = &row.item.item;
        let seen_to = before(asked, turn, item);
        let told = again && !matches!(item, Item::Fasteners(..));
        if goes_on_with(asked, step, item) || seen_to.is_some() && !told {
            continue;
        }
        let missing = match seen_to {
            Some(round) => format!("look once more, it was act {}", round + 1),
            None => row.item.missing.clone(),
        };
        let mut finding = Finding::new(
            "last-chance",
            graph.part_name(part),
            format!(
                "before it goes on: {}: {missing}",
                graph.item_name(&row.item.item)
            ),
        );
        if let Some(back) = &row.comeback {
            finding = finding.points_to(format!("{} to come back for", time(back.takes.likely)));
        }
        findings.push(finding.next("see to it, or log that it is done"));
    }
    findings
}

/// What the asker lays out for the acts shown, in their order.
fn things_to_lay_out(asked: &Question<'_>, own: &[&Turn], report: &mut Report) {
    let mut things: Vec<String> = Vec::new();
    for turn in own {
        for thing in lay_out::lay_out(asked, turn) {
            if !things.contains(&thing) {
                things.push(thing);
            }
        }
    }
    if !things.is_empty() {
        let says = format!("to lay out: {}", things.join("; "));
        report
            .findings
            .push(Finding::new("lay-out", "", says).weight(Weight::Note));
    }
}

/// The round in which a thing is seen to by an act that stands earlier in somebody's hands.
fn before(asked: &Question<'_>, turn: &Turn, item: &Item) -> Option<usize> {
    let target = item_target(asked, item)?;
    asked
        .turns
        .iter()
        .find(|other| other.round < turn.round && asked.step(other).name.target == target)
        .map(|other| other.round)
}

/// Whether a thing is done in the same act: what goes on with the part, and the seals laid
/// under it.
fn goes_on_with(asked: &Question<'_>, step: &Step, item: &Item) -> bool {
    let unit =
        |part: &PartId| step.name.target == Ref::Part(part.clone()) || step.with.contains(part);
    match item {
        Item::Part(part) => unit(part),
        Item::Seal(joint, _) => {
            let joint = asked.job.graph.book().joint(joint);
            joint.is_some_and(|joint| unit(&joint.of))
        }
        _ => false,
    }
}

fn item_target(asked: &Question<'_>, item: &Item) -> Option<Ref> {
    Some(match item {
        Item::Part(part) => Ref::Part(part.clone()),
        Item::Fasteners(joint, _) | Item::Seal(joint, _) => Ref::Joint(joint.clone()),
        Item::End(line, end) => {
            let line = asked.job.graph.book().line(line)?;
            Ref::Port(line.ends.get(*end)?.port.id.clone())
        }
        Item::Temporary(item) => Ref::Temporary(item.clone()),
        Item::Check(check) => Ref::Check(check.clone()),
        Item::Reading(limit) => Ref::Limit(limit.clone()),
        Item::Fluid(circuit) => Ref::Circuit(circuit.clone()),
    })
}

/// A person alone before an act for two.
fn alone(asked: &Question<'_>, report: &mut Report) {
    for turn in asked
        .turns
        .iter()
        .filter(|turn| turn.round == 0 && !turn.helps)
    {
        let step = asked.step(turn);
        let there = asked
            .turns
            .iter()
            .filter(|other| other.round == 0 && other.step == turn.step)
            .count();
        let wanted = usize::try_from(step.hands).unwrap_or(usize::MAX);
        if there < wanted {
            let name = target_name(&asked.job.graph, &step.name.target);
            let says = format!(
                "{} takes {} at once",
                asked.act(step),
                counted(wanted, "person")
            );
            report.findings.push(
                Finding::new("more-hands", name, says)
                    .next("wait for a helper, or take what stands next"),
            );
        }
    }
}
