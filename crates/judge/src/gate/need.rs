//! One condition of a gate against the state.

use book::{
    Check, CheckId, CircuitId, CircuitState, JointId, Limit, LineId, Need, NeedKind, PartId,
    PartState, Ref, Shop, TemporaryState,
};
use job::{State, Where};
use report::{Ask, Caution, Finding, Report, Verdict, Weight};

use crate::reading::{self, Standing};

/// How a condition stands.
pub(super) enum Condition {
    /// It holds.
    Holds,
    /// It does not, and why.
    Fails(Finding),
    /// Only a person can say.
    Asks(Ask),
}

/// Judges one condition.
pub(super) fn judge(state: &State, shop: Option<&Shop>, need: &Need) -> Condition {
    let failed = match &need.what {
        NeedKind::Check(check) => check_missing(state, &check.id),
        NeedKind::Limit(wanted) => state
            .known
            .limit(&wanted.id)
            .and_then(|limit| measured(state, shop, limit)),
        NeedKind::Circuit(circuit, wanted) => circuit_other(state, &circuit.id, *wanted),
        NeedKind::Part(part, wanted) => part_elsewhere(state, &part.id, *wanted),
        NeedKind::Joint(joint) => joint_open(state, &joint.id),
        NeedKind::Line(line) => line_off(state, &line.id),
        NeedKind::Temporary(item, wanted) => return temporary(state, item.id.as_str(), *wanted),
        NeedKind::Word(word) => {
            return Condition::Asks(Ask::new(
                word.clone(),
                "only you can see it.",
                "Look, and say it aloud.",
            ));
        }
    };
    failed.map_or(Condition::Holds, |finding| {
        Condition::Fails(finding.weight(Weight::Stop))
    })
}

fn check_missing(state: &State, check: &CheckId) -> Option<Finding> {
    if state.checks.contains_key(check) {
        return None;
    }
    let label = state
        .known
        .check(check)
        .and_then(|known| known.label.clone());
    let label = label.unwrap_or_else(|| check.to_string());
    Some(check_open(&label, check.as_str()))
}

fn circuit_other(state: &State, circuit: &CircuitId, wanted: CircuitState) -> Option<Finding> {
    let short = state
        .circuits
        .get(circuit)
        .is_some_and(job::CircuitState::is_short);
    let (holds, code, says, next) = match wanted {
        CircuitState::Full => (!short, "circuit-not-full", "not full", "fill"),
        CircuitState::Drained => (short, "circuit-not-drained", "not drained", "drain"),
    };
    (!holds).then(|| {
        Finding::new(code, circuit.to_string(), format!("{circuit}: {says}"))
            .next(format!("write `{next} {circuit} …` when it is done"))
    })
}

fn part_elsewhere(state: &State, part: &PartId, wanted: PartState) -> Option<Finding> {
    let there = matches!(state.whereabouts(part), Where::Fitted);
    let (says, act) = if there {
        ("still on", "off")
    } else {
        ("not on", "on")
    };
    (there != (wanted == PartState::On)).then(|| {
        Finding::new(
            "part",
            part.to_string(),
            format!("{}: {says}", state.part_label(part)),
        )
        .next(format!("write `{act} {part}` when it is so"))
    })
}

fn joint_open(state: &State, joint: &JointId) -> Option<Finding> {
    let open = state.joints.get(joint).is_some_and(|held| {
        held.open || held.holes.values().any(|hole| hole.empty || hole.loosened)
    });
    open.then(|| {
        Finding::new(
            "joint-open",
            joint.to_string(),
            format!("{}: not through its last stage", state.joint_label(joint)),
        )
        .next(format!("write `tight {joint} …`"))
    })
}

fn line_off(state: &State, line: &LineId) -> Option<Finding> {
    let off = state
        .lines
        .get(line)
        .is_some_and(|ends| ends.iter().any(|end| end.off));
    off.then(|| {
        Finding::new(
            "line-off",
            line.to_string(),
            format!("{}: not on at both ends", state.line_label(line)),
        )
        .next(format!("write `on {line}`"))
    })
}

fn temporary(state: &State, id: &str, wanted: TemporaryState) -> Condition {
    let Some(item) = state
        .known
        .temporaries
        .iter()
        .find(|item| item.id.as_str() == id)
    else {
        return Condition::Holds;
    };
    let label = item.label.clone().unwrap_or_else(|| item.id.to_string());
    let inside = state
        .temporaries
        .iter()
        .any(|held| job::same_name(&held.item.name, id) || job::same_name(&held.item.name, &label));
    if inside == (wanted == TemporaryState::In) {
        return Condition::Holds;
    }
    let says = if inside {
        format!("{label}: still in")
    } else {
        format!("{label}: not put in")
    };
    Condition::Fails(
        Finding::new("temporary-in", label, says)
            .next("write `out …` or `in …` when it is so")
            .weight(Weight::Stop),
    )
}

/// Checks of the book that name this gate in `before` and have no entry.
pub(super) fn checks_before(state: &State, gate: &str) -> Vec<Finding> {
    let wanted = |check: &&Check| {
        check
            .before
            .iter()
            .any(|before| matches!(&before.id, Ref::Gate(id) if id.as_str() == gate))
            && state.applies(&check.when)
            && !state.checks.contains_key(&check.id)
    };
    state
        .known
        .checks
        .iter()
        .filter(wanted)
        .map(|check| {
            let label = check.label.clone().unwrap_or_else(|| check.id.to_string());
            let finding = check_open(&label, check.id.as_str()).weight(Weight::Stop);
            match &check.says {
                Some(why) => finding.points_to(why.clone()),
                None => finding,
            }
        })
        .collect()
}

fn check_open(label: &str, id: &str) -> Finding {
    Finding::new(
        "check-not-done",
        label,
        format!("{label}: no entry says it was done"),
    )
    .next(format!("write `check {id}: …`"))
}

/// Why a limit of the book does not hold; `None` where it does.
fn measured(state: &State, shop: Option<&Shop>, limit: &Limit) -> Option<Finding> {
    let label = reading::label(limit);
    let finding = match reading::judge(state, shop, limit)? {
        Standing::NotMeasured => Finding::new(
            "not-measured",
            label.clone(),
            format!("{label}: no reading"),
        )
        .next(format!("measure, then write `read {}: …`", limit.id)),
        Standing::Judged(held) => match held.verdict {
            Verdict::Within => return None,
            Verdict::Undecided => Finding::new("undecided", label, held.says).next(
                held.settle
                    .unwrap_or_else(|| "measure with a finer instrument".to_owned()),
            ),
            Verdict::NotMeasured => Finding::new("not-measured", label, held.says)
                .next(format!("measure, then write `read {}: …`", limit.id)),
            Verdict::Outside | Verdict::Open | Verdict::Closed => {
                Finding::new("outside", label, held.says).next("it must be put right first")
            }
        },
        Standing::Unreadable(why) => {
            Finding::new("unreadable", label.clone(), format!("{label}: {why}")).next(format!(
                "write `read {}: …` with numbers and a unit",
                limit.id
            ))
        }
    };
    Some(finding.weight(Weight::Stop))
}

/// The usual care at the act behind a gate.
pub(super) fn cautions(gate: &str, report: &mut Report) {
    let says: &[(&str, &str)] = match gate {
        "before-opening" => &[
            (
                "opening the cooling system",
                "only when cold: hot coolant under pressure scalds. It is poison and tastes sweet: no open pans.",
            ),
            (
                "opening fuel lines",
                "let the pressure off as the maker says; no flame, no sparks, rags ready.",
            ),
        ],
        "turn-by-hand" => &[(
            "turning by hand",
            "slowly, in running direction only. Stop at any hard spot: never force it.",
        )],
        "spin" => &[(
            "spinning on the starter",
            "plugs out, fuel and ignition off, nobody at belts and fans.",
        )],
        "fire" => &[(
            "first start",
            "extinguisher at hand, outdoors or extracted, hands and clothes clear of belts and fans. Stop at once without oil pressure. The maker's start procedure comes first.",
        )],
        "drive" => &[(
            "first drive",
            "brakes, steering and wheels are checked by the maker's instructions and local rules.",
        )],
        _ => &[],
    };
    report
        .cautions
        .extend(says.iter().map(|(act, says)| Caution::new(*act, *says)));
}
