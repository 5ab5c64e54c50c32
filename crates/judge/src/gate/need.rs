//! One condition of a gate against the state.

use book::{
    Amount, Check, CircuitState, Limit, Need, NeedKind, PartState, Ref, Shop, TemporaryState,
};
use job::{State, Where};
use quantity::{GaugePressure, Length, Quantity, Ratio, Torque, Unit, Volume, read, unit};
use report::{Ask, Caution, Finding, Report, Verdict, Weight};

use crate::limit::{self, Reading};

/// How a condition stands.
pub(super) enum Standing {
    /// It holds.
    Holds,
    /// It does not, and why.
    Fails(Finding),
    /// Only a person can say.
    Asks(Ask),
}

/// Judges one condition.
pub(super) fn judge(state: &State, shop: Option<&Shop>, need: &Need) -> Standing {
    let failed = match &need.what {
        NeedKind::Check(check) => {
            if state.checks.contains_key(&check.id) {
                return Standing::Holds;
            }
            let label = state
                .known
                .check(&check.id)
                .and_then(|check| check.label.clone());
            check_open(
                &label.unwrap_or_else(|| check.id.to_string()),
                check.id.as_str(),
            )
        }
        NeedKind::Limit(wanted) => {
            let Some(limit) = state.known.limit(&wanted.id) else {
                return Standing::Holds;
            };
            match measured(state, shop, limit) {
                None => return Standing::Holds,
                Some(finding) => finding,
            }
        }
        NeedKind::Circuit(circuit, wanted) => {
            let short = state
                .circuits
                .get(&circuit.id)
                .is_some_and(job::CircuitState::is_short);
            let (holds, says, next) = match wanted {
                CircuitState::Full => (!short, "not full", "fill"),
                CircuitState::Drained => (short, "not drained", "drain"),
            };
            if holds {
                return Standing::Holds;
            }
            let code = if *wanted == CircuitState::Full {
                "circuit-not-full"
            } else {
                "circuit-not-drained"
            };
            Finding::new(
                code,
                circuit.id.to_string(),
                format!("{}: {says}", circuit.id),
            )
            .next(format!("write `{next} {} …` when it is done", circuit.id))
        }
        NeedKind::Part(part, wanted) => {
            let there = matches!(state.whereabouts(&part.id), Where::Fitted);
            if there == (*wanted == PartState::On) {
                return Standing::Holds;
            }
            let says = if there { "still on" } else { "not on" };
            Finding::new(
                "part",
                part.id.to_string(),
                format!("{}: {says}", state.part_label(&part.id)),
            )
            .next(format!(
                "write `{} {}` when it is so",
                if there { "off" } else { "on" },
                part.id
            ))
        }
        NeedKind::Joint(joint) => {
            let held = state.joints.get(&joint.id);
            let open = held.is_some_and(|held| {
                held.open || held.holes.values().any(|hole| hole.empty || hole.loosened)
            });
            if !open {
                return Standing::Holds;
            }
            Finding::new(
                "joint-open",
                joint.id.to_string(),
                format!(
                    "{}: not through its last stage",
                    state.joint_label(&joint.id)
                ),
            )
            .next(format!("write `tight {} …`", joint.id))
        }
        NeedKind::Line(line) => {
            let off = state
                .lines
                .get(&line.id)
                .is_some_and(|ends| ends.iter().any(|end| end.off));
            if !off {
                return Standing::Holds;
            }
            Finding::new(
                "line-off",
                line.id.to_string(),
                format!("{}: not on at both ends", state.line_label(&line.id)),
            )
            .next(format!("write `on {}`", line.id))
        }
        NeedKind::Temporary(item, wanted) => return temporary(state, item.id.as_str(), *wanted),
        NeedKind::Word(word) => {
            return Standing::Asks(Ask::new(
                word.clone(),
                "only you can see it.",
                "Look, and say it aloud.",
            ));
        }
    };
    Standing::Fails(failed.weight(Weight::Stop))
}

fn temporary(state: &State, id: &str, wanted: TemporaryState) -> Standing {
    let Some(item) = state
        .known
        .temporaries
        .iter()
        .find(|item| item.id.as_str() == id)
    else {
        return Standing::Holds;
    };
    let label = item.label.clone().unwrap_or_else(|| item.id.to_string());
    let inside = state
        .temporaries
        .iter()
        .any(|held| job::same_name(&held.item.name, id) || job::same_name(&held.item.name, &label));
    if inside == (wanted == TemporaryState::In) {
        return Standing::Holds;
    }
    let says = if inside {
        format!("{label}: still in")
    } else {
        format!("{label}: not put in")
    };
    Standing::Fails(
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
    let label = limit.label.clone().unwrap_or_else(|| limit.id.to_string());
    let found = state
        .readings
        .iter()
        .rev()
        .map(|(_, measured)| measured)
        .find(|measured| {
            job::same_name(&measured.of, limit.id.as_str()) || job::same_name(&measured.of, &label)
        });
    let bound = limit.min.known().or(limit.max.known())?;
    let Some(found) = found else {
        return Some(
            Finding::new(
                "not-measured",
                label.clone(),
                format!("{label}: no reading"),
            )
            .next(format!("measure, then write `read {}: …`", limit.id))
            .weight(Weight::Stop),
        );
    };
    let gauge = found
        .instrument
        .as_deref()
        .zip(shop)
        .and_then(|(name, shop)| {
            shop.gauges
                .iter()
                .find(|gauge| job::same_name(gauge.id.as_str(), name))
        });
    let uncertainty = gauge.and_then(|gauge| gauge.uncertainty.known().copied());
    let asked = Asked {
        label: &label,
        limit,
        values: &found.values,
        uncertainty,
    };
    let verdict = match bound {
        Amount::Length(_) => asked.worst::<Length>(&unit::MILLIMETRE, |amount| {
            if let Amount::Length(value) = amount {
                Some(value)
            } else {
                None
            }
        }),
        Amount::Pressure(_) => {
            asked.worst::<GaugePressure>(&unit::POUND_PER_SQUARE_INCH, |amount| {
                if let Amount::Pressure(value) = amount {
                    Some(value)
                } else {
                    None
                }
            })
        }
        Amount::Ratio(_) => asked.worst::<Ratio>(&unit::PERCENT, |amount| {
            if let Amount::Ratio(value) = amount {
                Some(value)
            } else {
                None
            }
        }),
        Amount::Torque(_) => asked.worst::<Torque>(&unit::NEWTON_METRE, |amount| {
            if let Amount::Torque(value) = amount {
                Some(value)
            } else {
                None
            }
        }),
        Amount::Volume(_) => asked.worst::<Volume>(&unit::MILLILITRE, |amount| {
            if let Amount::Volume(value) = amount {
                Some(value)
            } else {
                None
            }
        }),
        Amount::Angle(_)
        | Amount::Voltage(_)
        | Amount::Current(_)
        | Amount::Resistance(_)
        | Amount::Temperature(_)
        | Amount::Flow(_)
        | Amount::Mass(_)
        | Amount::Force(_)
        | Amount::Duration(_)
        | Amount::Speed(_) => {
            Err("this program does not judge readings of that kind for a gate yet".to_owned())
        }
    };
    match verdict {
        Ok((Verdict::Within, _)) => None,
        Ok((Verdict::Undecided, says)) => Some(
            Finding::new("undecided", label, says)
                .next("measure with a finer instrument")
                .weight(Weight::Stop),
        ),
        Ok((_, says)) => Some(
            Finding::new("outside", label, says)
                .next("it must be put right first")
                .weight(Weight::Stop),
        ),
        Err(why) => Some(
            Finding::new("unreadable", label.clone(), format!("{label}: {why}"))
                .next(format!(
                    "write `read {}: …` with numbers and a unit",
                    limit.id
                ))
                .weight(Weight::Stop),
        ),
    }
}

/// A reading on its way to a verdict.
struct Asked<'a> {
    label: &'a str,
    limit: &'a Limit,
    values: &'a str,
    uncertainty: Option<Amount>,
}

impl Asked<'_> {
    /// The worst verdict over all values, with its sentence.
    fn worst<Q: Quantity>(
        &self,
        unit: &Unit,
        pick: fn(Amount) -> Option<Q>,
    ) -> Result<(Verdict, String), String> {
        let values = read::read_bound_list::<Q>(self.values)
            .map_err(|fault| fault.to_string())?
            .value;
        let whole = self
            .limit
            .readings
            .known()
            .is_none_or(|&wanted| values.iter().flatten().count() >= wanted as usize);
        if !whole {
            return Ok((
                Verdict::NotMeasured,
                format!("{}: not all readings are there", self.label),
            ));
        }
        let judged = limit::Limit {
            low: self.limit.min.known().copied().and_then(pick),
            high: self.limit.max.known().copied().and_then(pick),
            ..limit::Limit::of_book(&self.limit.source)
        };
        let mut worst = (Verdict::NotMeasured, format!("{}: no reading", self.label));
        let mut rank = 0;
        for value in values.into_iter().flatten() {
            let reading = Reading::bound(value).with(self.uncertainty.and_then(pick));
            let seen = limit::decide(self.label, Some(&reading), &judged, &[], unit)
                .map_err(|fault| fault.to_string())?;
            let grave = match seen.verdict {
                Verdict::Outside => 3,
                Verdict::Undecided => 2,
                Verdict::Within | Verdict::NotMeasured | Verdict::Open | Verdict::Closed => 1,
            };
            if grave > rank {
                rank = grave;
                worst = (seen.verdict, seen.says);
            }
        }
        Ok(worst)
    }
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
