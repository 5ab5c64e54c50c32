//! A job without a book: the way back is the record reversed, and says so.
//!
//! What came off later need not have been in the way, so no step is said to wait for anything
//! but the record. Where exchanging two neighbours would save walking or tools, one question is
//! offered that settles it.

use book::{CircuitId, PartId, PortRef, Ref, Shop};
use job::plan::{Basis, Because, Leg, Plan, Step, StepAct, Wait};
use job::{EntryId, State, Where};
use quantity::Duration;

use super::travel::{Travel, duration};
use crate::graph::Graph;
use crate::standing::Standing;
use crate::step::{bare, half_open};

/// The record reversed, and the question that could change it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reversed {
    /// The way back.
    pub plan: Plan,
    /// The one question worth asking.
    pub question: Option<Question>,
}

/// Did one part have to come off before the other?
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The part that came off first.
    pub first: PartId,
    /// The part that came off after it.
    pub then: PartId,
    /// Whole seconds saved if it need not have.
    pub saves_seconds: u64,
}

/// What came off together, with the steps that put it back.
struct Unit {
    since: EntryId,
    part: Option<PartId>,
    steps: Vec<Step>,
}

/// The way back of a job that began without a book.
#[must_use]
pub fn reversed(state: &State, shop: Option<&Shop>) -> Reversed {
    let standing = Standing::from(state);
    let graph = Graph::new(&state.known, &standing.choices);
    let mut units = units(state, &standing, &graph);
    // The record number decides; what one entry took off together goes back in book order.
    units.sort_by_key(|unit| std::cmp::Reverse(unit.since));
    let travel = Travel::new(shop);
    let answers = answers(state);
    for answer in answers.iter().filter(|answer| !answer.in_the_way) {
        exchange(&mut units, answer);
    }
    let question = question(&units, &travel, &answers);
    let mut steps: Vec<Step> = units.into_iter().flat_map(|unit| unit.steps).collect();
    steps.extend(standing.drained.iter().map(|circuit: &CircuitId| {
        bare(StepAct::Fill, Ref::Circuit(circuit.clone()), Leg::Together)
    }));
    for place in 1..steps.len() {
        let first = steps[place - 1].name.clone();
        steps[place].waits = vec![Wait {
            first,
            because: Because::RecordReversed,
        }];
    }
    let between = steps
        .windows(2)
        .map(|pair| u64::from(travel.between(&pair[0], &pair[1])))
        .sum();
    Reversed {
        plan: Plan {
            steps,
            ways: Vec::new(),
            basis: Basis::RecordReversed,
            between: duration(between),
            bound: Duration::default(),
        },
        question,
    }
}

fn units(state: &State, standing: &Standing, graph: &Graph) -> Vec<Unit> {
    let book = graph.book();
    let mut units: Vec<Unit> = Vec::new();
    let away = |part: &PartId| matches!(state.whereabouts(part), Where::Off | Where::Aside);
    for part in book.parts.iter().filter(|part| away(&part.id)) {
        let Some(held) = state.parts.get(&part.id) else {
            continue;
        };
        // What came away with another part goes back with it.
        if held.with.as_ref().is_some_and(away) {
            continue;
        }
        let mut step = bare(StepAct::On, Ref::Part(part.id.clone()), Leg::Together);
        step.zone = part.zone.as_ref().map(|zone| zone.id.clone());
        let with = state
            .parts
            .iter()
            .filter(|(_, other)| other.with.as_ref() == Some(&part.id));
        step.with = with
            .filter(|(id, _)| away(id))
            .map(|(id, _)| id.clone())
            .collect();
        units.push(Unit {
            since: held.since,
            part: Some(part.id.clone()),
            steps: vec![step],
        });
    }
    let unit_of = |units: &[Unit], part: &PartId| {
        units.iter().position(|unit| {
            let step = unit.steps.first();
            unit.part.as_ref() == Some(part) || step.is_some_and(|step| step.with.contains(part))
        })
    };
    for (number, joint) in book
        .joints
        .iter()
        .enumerate()
        .filter(|(_, joint)| half_open(standing, joint))
    {
        let step = graph.joint_step(StepAct::DoUp, number, Leg::Together);
        let since = state
            .joints
            .get(&joint.id)
            .map(|held| held.since)
            .unwrap_or_default();
        place(&mut units, unit_of, &joint.of, since, step);
    }
    for (line, end) in &standing.ends_off {
        let Some(port) = book.line(line).map(|line| line.ends[*end].port.id.clone()) else {
            continue;
        };
        let since = state
            .lines
            .get(line)
            .map(|ends| ends[*end].since)
            .unwrap_or_default();
        let step = graph.port_step(StepAct::On, &port, Leg::Together);
        place_end(&mut units, unit_of, &port, since, step);
    }
    units
}

/// A joint or end goes back with its part, or on its own where the part is on.
fn place(
    units: &mut Vec<Unit>,
    unit_of: impl Fn(&[Unit], &PartId) -> Option<usize>,
    part: &PartId,
    since: EntryId,
    step: Step,
) {
    match unit_of(units, part) {
        Some(unit) => units[unit].steps.push(step),
        None => units.push(Unit {
            since,
            part: None,
            steps: vec![step],
        }),
    }
}

/// An end goes back with its part, unless its step is there already for another line on the port.
fn place_end(
    units: &mut Vec<Unit>,
    unit_of: impl Fn(&[Unit], &PartId) -> Option<usize>,
    port: &PortRef,
    since: EntryId,
    step: Step,
) {
    let there = units
        .iter()
        .flat_map(|unit| &unit.steps)
        .any(|other| other.name == step.name);
    if !there {
        place(units, unit_of, &port.part, since, step);
    }
}

/// What somebody said to the question: `note A: in the way of B: no`.
struct Answer {
    first: String,
    then: String,
    in_the_way: bool,
}

/// The answers of the record; the last one about a pair stands.
fn answers(state: &State) -> Vec<Answer> {
    let mut answers: Vec<Answer> = Vec::new();
    for (_, about, text) in &state.notes {
        let said = text.strip_prefix("in the way of ").and_then(|rest| {
            let (then, word) = rest.rsplit_once(':')?;
            let in_the_way = match word.trim() {
                "yes" => true,
                "no" => false,
                _ => return None,
            };
            Some(Answer {
                first: about.clone()?,
                then: then.trim().to_owned(),
                in_the_way,
            })
        });
        if let Some(said) = said {
            answers.retain(|other| !other.is_about(&said.first, &said.then));
            answers.push(said);
        }
    }
    answers
}

impl Answer {
    fn is_about(&self, first: &str, then: &str) -> bool {
        job::same_name(&self.first, first) && job::same_name(&self.then, then)
    }
}

/// What was not in the way goes on before its neighbour.
fn exchange(units: &mut [Unit], answer: &Answer) {
    let is = |unit: &Unit, name: &str| {
        unit.part
            .as_ref()
            .is_some_and(|part| job::same_name(part.as_str(), name))
    };
    let pair = (1..units.len())
        .find(|&at| is(&units[at - 1], &answer.then) && is(&units[at], &answer.first));
    if let Some(at) = pair {
        units.swap(at - 1, at);
    }
}

/// The exchange of two neighbours that saves most, among those nobody answered.
fn question(units: &[Unit], travel: &Travel<'_>, answers: &[Answer]) -> Option<Question> {
    let cost = |order: &[&Unit]| -> u64 {
        let steps: Vec<&Step> = order.iter().flat_map(|unit| &unit.steps).collect();
        steps
            .windows(2)
            .map(|pair| u64::from(travel.between(pair[0], pair[1])))
            .sum()
    };
    let mut order: Vec<&Unit> = units.iter().collect();
    let now = cost(&order);
    let mut best: Option<Question> = None;
    for at in 1..units.len() {
        // The later of the two to come off stands earlier here.
        let (Some(then), Some(first)) = (&units[at - 1].part, &units[at].part) else {
            continue;
        };
        if answers
            .iter()
            .any(|answer| answer.is_about(first.as_str(), then.as_str()))
        {
            continue;
        }
        order.swap(at - 1, at);
        let saves_seconds = now.saturating_sub(cost(&order));
        order.swap(at - 1, at);
        if saves_seconds > best.as_ref().map_or(0, |best| best.saves_seconds) {
            best = Some(Question {
                first: first.clone(),
                then: then.clone(),
                saves_seconds,
            });
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry};

    fn state(lines: &[&str]) -> State {
        let entries: Vec<Entry> = lines
            .iter()
            .zip(1..)
            .map(|(line, number)| Entry {
                id: EntryId(number),
                client: ClientId(number.to_string()),
                author: "me".to_owned(),
                at: 0,
                line: (*line).to_owned(),
                act: job::line::read_line(line).unwrap(),
            })
            .collect();
        job::replay(None, &entries)
    }

    fn parts(plan: &Plan) -> Vec<String> {
        let on = plan
            .steps
            .iter()
            .filter(|step| step.name.act == StepAct::On);
        on.map(|step| step.name.target.to_string()).collect()
    }

    #[test]
    fn what_came_off_last_goes_on_first_and_only_the_record_is_the_reason() {
        let found = reversed(
            &state(&[
                "off cover: 4 bolts M6x20",
                "off bracket: 2 bolts M8x25",
                "off pump",
            ]),
            None,
        );
        assert_eq!(parts(&found.plan), ["pump", "bracket", "cover"]);
        assert_eq!(found.plan.basis, Basis::RecordReversed);
        let reasons = found
            .plan
            .steps
            .iter()
            .flat_map(|step| &step.waits)
            .map(|wait| &wait.because);
        assert!(
            reasons.clone().count() > 2
                && reasons
                    .into_iter()
                    .all(|because| *because == Because::RecordReversed)
        );
        assert!(found.question.is_none(), "all is done in one place");
    }

    #[test]
    fn what_went_back_is_not_put_back_again() {
        let found = reversed(&state(&["off cover", "off pump", "on pump"]), None);
        assert_eq!(parts(&found.plan), ["cover"]);
    }

    /// *No* exchanges the two, *yes* leaves them, and neither is asked again.
    #[test]
    fn an_answer_changes_the_way_back_and_ends_the_question() {
        let off = ["off a", "off b", "off c", "off d"];
        let with = |line: &str| {
            let mut lines = off.to_vec();
            lines.push(line);
            reversed(&zoned(&lines), None)
        };
        let no = with("note a: in the way of b: no");
        assert_eq!(parts(&no.plan), ["d", "c", "a", "b"]);
        assert!(no.question.is_none_or(|asked| asked.first.as_str() != "a"));
        let yes = with("note a: in the way of b: yes");
        assert_eq!(parts(&yes.plan), ["d", "c", "b", "a"]);
        assert!(yes.question.is_none_or(|asked| asked.first.as_str() != "a"));
    }

    #[test]
    fn one_question_is_asked_where_it_saves_walking() {
        let met = zoned(&["off a", "off b", "off c", "off d"]);
        let found = reversed(&met, None);
        assert_eq!(parts(&found.plan), ["d", "c", "b", "a"]);
        // d above, c above, b under, a above: with a before b there is one walk less.
        let question = found.question.unwrap();
        assert_eq!(
            (question.first.as_str(), question.then.as_str()),
            ("a", "b")
        );
        assert_eq!(question.saves_seconds, u64::from(super::super::WALK));
    }

    /// Parts above, under, above, above.
    fn zoned(lines: &[&str]) -> State {
        let mut met = state(lines);
        for (part, zone) in met
            .known
            .parts
            .iter_mut()
            .zip(["above", "under", "above", "above"])
        {
            part.zone = Some(book::Mention {
                id: zone.into(),
                span: book::Span::default(),
            });
        }
        met
    }
}
