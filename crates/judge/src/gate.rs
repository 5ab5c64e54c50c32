//! Gates: what must hold before an act that cannot be taken back.
//!
//! A gate is closed by what the record leaves open (lost, put in, off, not tightened, …) and
//! by what the book's own gate asks for. A closed gate can be passed with a reason that is
//! kept; what can wreck the engine or hurt someone cannot be passed.

pub(crate) mod act;
mod again;
mod clamps;
mod ground;
mod need;
pub(crate) mod timing;

pub use ground::battery_step;

use book::{GATES, Gate, GateId, Need, Shop};
use job::State;
use report::{Align, Cell, Finding, Report, Table, Verdict, Weight};

const COMMAND: &str = "gate";

/// Findings that no reason opens a gate for.
const NEVER_PASSED: [&str; 8] = [
    "lost",
    "put-in-not-out",
    "temporary-in",
    "circuit-not-full",
    "cam-drive-off",
    "no-ground-return",
    act::LIQUID,
    timing::NOT_TURNED,
];

/// Judges one gate. A name that is no gate of every job or of the book is refused with the
/// names there are.
#[must_use]
pub fn gate(state: &State, shop: Option<&Shop>, name: &str) -> Report {
    let wanted = name.trim().to_lowercase().replace(' ', "-");
    let own: Vec<&Gate> = state
        .known
        .gates
        .iter()
        .filter(|gate| gate.id.as_str() == wanted)
        .collect();
    if own.is_empty() && !GATES.contains(&wanted.as_str()) {
        return unknown(state, name);
    }
    let mut found = job::outstanding::blocks(state, &wanted);
    let mut asks = Vec::new();
    for need in own
        .iter()
        .flat_map(|gate| &gate.needs)
        .filter(|need| state.applies(&need.when))
    {
        match need::judge(state, shop, need) {
            need::Condition::Holds => {}
            need::Condition::Fails(finding) => add(&mut found, with_reason(finding, need)),
            need::Condition::Asks(ask) => asks.push(ask),
        }
    }
    for finding in need::checks_before(state, &wanted) {
        add(&mut found, finding);
    }
    let any_engine = act::wanted(state, &wanted, !own.is_empty());
    for finding in any_engine.found {
        add(&mut found, finding);
    }
    asks.extend(any_engine.asks);
    if wanted == "drive" {
        found.extend(again::not_tightened_again(state));
        found.extend(clamps::not_felt(state));
    }
    if ["spin", "fire"].contains(&wanted.as_str()) {
        found.extend(ground::no_return(state));
    }
    answer(state, &wanted, found, asks)
}

/// Every gate with its standing, from the answers of [`gate`] in the order they are met. The
/// answer as a whole is closed when one of them is.
#[must_use]
pub fn overview(each: &[(String, Report)]) -> Report {
    let mut report = Report::new(COMMAND, "Gates, in the order they are met");
    let mut table = Table::new(&[
        ("gate", "gate", Align::Left),
        ("verdict", "", Align::Left),
        ("stands", "stands", Align::Left),
        ("closed_by", "closed by", Align::Right),
    ]);
    let mut whole = Verdict::Open;
    for (name, one) in each {
        if one.verdict == Some(Verdict::Closed) {
            whole = Verdict::Closed;
        }
        let shut = one
            .findings
            .iter()
            .filter(|finding| finding.weight == Weight::Stop)
            .count();
        let word = one
            .verdict
            .map(|verdict| format!("{} {}", verdict.shape(), verdict.word()));
        table.push(vec![
            Cell::from(name.as_str()),
            Cell::from(one.verdict),
            Cell::from(word),
            Cell::from(shut),
        ]);
    }
    report.rows = table;
    report.verdict = Some(whole);
    report.headline = Some("matchmark gate NAME says what closes one.".to_owned());
    report
}

/// The gates a job has: those of every job in the order they are met, then the book's own.
#[must_use]
pub fn names(state: &State) -> Vec<String> {
    let own = state.known.gates.iter().map(|gate| gate.id.as_str());
    let mut names: Vec<String> = GATES.iter().map(|&name| name.to_owned()).collect();
    for name in own {
        if !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    names
}

fn answer(state: &State, name: &str, mut found: Vec<Finding>, asks: Vec<report::Ask>) -> Report {
    let mut report = Report::new(COMMAND, format!("Gate: {}", label(state, name)));
    let shut = found
        .iter()
        .filter(|finding| finding.weight == Weight::Stop)
        .count();
    let passed = state.passed.get(name);
    let hard = found
        .iter()
        .any(|finding| NEVER_PASSED.contains(&finding.code));
    report.verdict = Some(if shut == 0 {
        Verdict::Open
    } else {
        Verdict::Closed
    });
    report.headline = Some(match shut {
        0 => "Nothing stands against it.".to_owned(),
        1 => "One thing stands against it.".to_owned(),
        shut => format!("{shut} things stand against it."),
    });
    if let Some((entry, reason)) = passed
        && shut > 0
    {
        if hard {
            found.push(
                Finding::new("not-passable", name, format!("entry {entry} wants to pass it (“{reason}”), but some of this no reason opens"))
                    .weight(Weight::Note),
            );
        } else {
            report.verdict = Some(Verdict::Open);
            report.headline = Some(format!(
                "Passed by entry {entry} against {shut} findings: {reason}"
            ));
            for finding in &mut found {
                finding.weight = Weight::Look;
            }
        }
    }
    report.findings = found;
    report.asks = asks;
    report.because.push(match state.last {
        Some(entry) => format!("the record up to entry {}", entry.0),
        None => {
            "the record is empty: this says nothing of what was done before it began".to_owned()
        }
    });
    need::cautions(name, &mut report);
    report
}

fn label(state: &State, name: &str) -> String {
    let gate = state
        .known
        .gates
        .iter()
        .find(|gate| gate.id == GateId::new(name));
    gate.and_then(|gate| gate.label.clone())
        .unwrap_or_else(|| name.replace('-', " "))
}

fn with_reason(finding: Finding, need: &Need) -> Finding {
    match &need.says {
        Some(why) => finding.points_to(why.clone()),
        None => finding,
    }
}

/// Adds a finding unless the ledger has said the same of the same thing.
fn add(found: &mut Vec<Finding>, finding: Finding) {
    if !found
        .iter()
        .any(|known| known.code == finding.code && known.concerns == finding.concerns)
    {
        found.push(finding);
    }
}

fn unknown(state: &State, name: &str) -> Report {
    let finding = Finding::new(
        "unknown-gate",
        name,
        format!("there is no gate called “{name}”"),
    )
    .next(format!("write one of: {}", names(state).join(", ")));
    Report::refusal(COMMAND, "Gate", finding)
}
