//! Reads a written plan: a reason, a book, where the job stands, and steps a line each.
//!
//! ```text
//! refuses: blocked-part
//! book:        KDL until the next heading
//! stands:      off PART, aside PART, drained CIRCUIT, chosen VARIANT VALUE
//! apart:       ACT TARGET [with=A,B] [hands=2] [hoist=no] [zone=Z] [tools=A,B] [takes=LOW,LIKELY,HIGH] [waits=ACT:TARGET]
//! together:    the same
//! between: MIN   bound: MIN   way: PART GROUP WAY
//! ```
//! A written calendar is a plan with more headings; see [`dated`].

mod dated;
pub use dated::DatedCase;

use book::{
    Book, CheckId, CircuitId, GateId, JointId, PartId, Ref, Severity, TemporaryId, VariantId,
};
use job::plan::{Basis, Because, Leg, Plan, Step, StepAct, StepName, Takes, Wait, WayTaken};
use job::{CircuitState, EntryId, PartState, State, Where};
use quantity::Duration;

/// One written plan.
pub struct Case {
    /// The reason it is refused for.
    pub refuses: Option<String>,
    pub book: Book,
    pub state: State,
    pub plan: Plan,
}

const ACTS: [StepAct; 10] = [
    StepAct::Off,
    StepAct::On,
    StepAct::Undo,
    StepAct::DoUp,
    StepAct::Drain,
    StepAct::Fill,
    StepAct::Check,
    StepAct::Pass,
    StepAct::PutIn,
    StepAct::TakeOut,
];

impl Case {
    pub fn read(text: &str) -> Self {
        let book_text = section(text, "book:").join("\n");
        let (book, faults) = book::read(&book_text);
        let faults: Vec<_> = faults
            .into_iter()
            .filter(|fault| fault.severity == Severity::Error)
            .collect();
        assert!(faults.is_empty(), "{book_text}\n{faults:?}");
        let mut state = State::new(Some(&book));
        for line in section(text, "stands:") {
            stand(&mut state, line);
        }
        let mut plan = Plan {
            steps: Vec::new(),
            ways: Vec::new(),
            basis: Basis::Book,
            between: minutes(value(text, "between:").as_deref().unwrap_or("0")),
            bound: minutes(value(text, "bound:").as_deref().unwrap_or("0")),
        };
        if let Some(way) = value(text, "way:") {
            let words: Vec<&str> = way.split_whitespace().collect();
            plan.ways.push(WayTaken {
                part: PartId::from(words[0]),
                group: words[1].parse().expect("the number of a group"),
                way: words[2].parse().expect("the number of a way"),
            });
        }
        let mut leg = None;
        for line in text.lines() {
            match line.trim() {
                "apart:" => leg = Some(Leg::Apart),
                "together:" => leg = Some(Leg::Together),
                other if other.ends_with(':') => leg = None,
                "" => {}
                other => plan.steps.extend(leg.map(|leg| step(&book, leg, other))),
            }
        }
        Self {
            refuses: value(text, "refuses:"),
            book,
            state,
            plan,
        }
    }
}

/// The lines under a heading, up to the next one.
fn section<'a>(text: &'a str, heading: &str) -> Vec<&'a str> {
    let lines = text.lines().skip_while(|line| *line != heading).skip(1);
    let is_heading = |line: &str| {
        [
            "book:",
            "stands:",
            "apart:",
            "together:",
            "between:",
            "bound:",
            "way:",
            "shop:",
            "from:",
            "dated:",
            "elsewhere:",
            "finish:",
        ]
        .iter()
        .any(|other| line.starts_with(other))
    };
    lines
        .take_while(|line| !is_heading(line))
        .filter(|line| !line.is_empty())
        .collect()
}

fn value(text: &str, name: &str) -> Option<String> {
    let found = text.lines().find_map(|line| line.strip_prefix(name))?;
    Some(found.trim().to_owned())
}

fn stand(state: &mut State, line: &str) {
    let words: Vec<&str> = line.split_whitespace().collect();
    let put = |state: &mut State, part: &str, place: Where| {
        let held = PartState {
            state: place,
            ..PartState::default()
        };
        state.parts.insert(PartId::from(part), held);
    };
    match words.as_slice() {
        ["off", part] => put(state, part, Where::Off),
        ["aside", part] => put(state, part, Where::Aside),
        ["drained", circuit] => {
            let held = CircuitState {
                drains: vec![EntryId::default()],
                drained: vec![(EntryId::default(), None)],
                filled: Vec::new(),
            };
            state.circuits.insert(CircuitId::from(*circuit), held);
        }
        ["chosen", variant, value] => {
            let choice = (EntryId::default(), (*value).to_owned());
            let variant = VariantId::from(*variant);
            state.choices.insert(variant.to_string(), choice);
        }
        _ => panic!("{line}: not understood"),
    }
}

fn step(book: &Book, leg: Leg, line: &str) -> Step {
    let mut words = line.split_whitespace();
    let name = name(
        book,
        words.next().expect("an act"),
        words.next().expect("a target"),
    );
    let effort = match &name.target {
        Ref::Part(part) => book.part(part).map(|part| &part.effort),
        _ => None,
    };
    let mut step = Step {
        leg,
        with: Vec::new(),
        zone: None,
        tools: Vec::new(),
        takes: None,
        hands: effort
            .and_then(|effort| effort.hands.known().copied())
            .unwrap_or(1),
        hoist: effort
            .and_then(|effort| effort.hoist.known().copied())
            .unwrap_or(false),
        cures: None,
        waits: Vec::new(),
        name,
    };
    for word in words {
        let (fact, value) = word.split_once('=').expect("fact=value");
        match fact {
            "with" => step.with = value.split(',').map(PartId::from).collect(),
            "hands" => step.hands = value.parse().expect("a number of hands"),
            "hoist" => step.hoist = value == "yes",
            "zone" => step.zone = Some(book::ZoneId::from(value)),
            "tools" => step.tools = value.split(',').map(book::ToolId::from).collect(),
            "takes" => {
                let times: Vec<Duration> = value.split(',').map(minutes).collect();
                step.takes = Some(Takes {
                    low: times[0],
                    likely: times[1],
                    high: times[2],
                });
            }
            "waits" => {
                let (act, target) = value.split_once(':').expect("act:target");
                step.waits.push(Wait {
                    first: self::name(book, act, target),
                    because: Because::InTheWay,
                });
            }
            _ => panic!("{line}: no such fact"),
        }
    }
    step
}

fn name(book: &Book, act: &str, target: &str) -> StepName {
    let act = *ACTS
        .iter()
        .find(|known| known.word() == act)
        .unwrap_or_else(|| panic!("{act}"));
    let otherwise = match act {
        StepAct::Off | StepAct::On => Ref::Part(PartId::from(target)),
        StepAct::Undo | StepAct::DoUp => Ref::Joint(JointId::from(target)),
        StepAct::Drain | StepAct::Fill => Ref::Circuit(CircuitId::from(target)),
        StepAct::Check => Ref::Check(CheckId::from(target)),
        StepAct::Pass => Ref::Gate(GateId::from(target)),
        StepAct::PutIn | StepAct::TakeOut => Ref::Temporary(TemporaryId::from(target)),
    };
    StepName {
        act,
        target: book.resolve(target).unwrap_or(otherwise),
    }
}

fn minutes(text: &str) -> Duration {
    Duration::minutes(text.parse().expect("minutes")).expect("a finite time")
}
