//! Tightening as a run of acts: what each stage of a spec asks of hand and wrench, and in
//! which order the bolts take it.
//!
//! Pure planning over stages, wrenches and an adapter. It knows no joint and no job; both
//! the standalone question and the tightening sheet of a joint are built on it.

use calc::adapter::{Adapter, AdapterFault};
use calc::tightening::TighteningError;
use calc::wrench::{Place, Setting, choose};
use quantity::{Kind, Spec, Step, Torque, Unit, unit};

use crate::wrench::Tool;

/// One stage, as it is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// What the spec says.
    pub step: Step,
    /// How the wrench is used, for a torque.
    pub pull: Option<Pull>,
}

/// A torque stage at the wrench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// The torque the bolt gets.
    pub torque: Torque,
    /// What to set, the adapter reckoned in.
    pub setting: Torque,
    /// The wrench to take, by place in the list. `None`: none of them may be used, or none is told.
    pub take: Option<usize>,
    /// Where the setting lies on the wrench taken.
    pub place: Option<Place>,
    /// The mark on its scale.
    pub mark: Option<Setting>,
}

/// Why stages cannot be planned.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StageFault {
    /// The adapter.
    #[error(transparent)]
    Adapter(#[from] AdapterFault),
    /// A torque or scale out of range.
    #[error(transparent)]
    Torque(#[from] TighteningError),
    /// `repeat` with nothing before it.
    #[error("the spec begins with a repeat; write what is to be repeated first")]
    RepeatsNothing,
}

/// The steps of a spec with every repeat written out.
///
/// # Errors
/// [`StageFault::RepeatsNothing`].
pub fn steps(spec: &Spec) -> Result<Vec<Step>, StageFault> {
    let mut steps: Vec<Step> = Vec::new();
    for step in &spec.steps {
        match step {
            Step::Repeat(times) => {
                let last = steps.last().cloned().ok_or(StageFault::RepeatsNothing)?;
                steps.extend((0..*times).map(|_| last.clone()));
            }
            other => steps.push(other.clone()),
        }
    }
    Ok(steps)
}

/// Plans the stages of a spec for the wrenches at hand.
///
/// # Errors
/// [`StageFault`] for an adapter without a lever or a torque out of range.
pub fn plan(
    spec: &Spec,
    tools: &[Tool],
    adapter: Option<Adapter>,
) -> Result<Vec<Stage>, StageFault> {
    steps(spec)?
        .into_iter()
        .map(|step| {
            let pull = match &step {
                // Zero means loose; no wrench is set to it.
                Step::Torque { value, .. } if value.in_newton_metres() > 0.0 => {
                    Some(pull(*value, tools, adapter)?)
                }
                Step::Torque { .. }
                | Step::Angle { .. }
                | Step::Loosen(_)
                | Step::HandTight
                | Step::Repeat(_)
                | Step::Wait(_) => None,
            };
            Ok(Stage { step, pull })
        })
        .collect()
}

fn pull(torque: Torque, tools: &[Tool], adapter: Option<Adapter>) -> Result<Pull, StageFault> {
    let setting = match adapter {
        Some(adapter) => adapter.setting(torque)?,
        None => torque,
    };
    let wrenches: Vec<_> = tools.iter().map(|tool| tool.wrench).collect();
    let take = choose(&wrenches, setting);
    let taken = take.and_then(|index| wrenches.get(index));
    Ok(Pull {
        torque,
        setting,
        take,
        place: taken.map(|wrench| wrench.place(setting)),
        mark: taken.map(|wrench| wrench.setting(setting)).transpose()?,
    })
}

/// One act on one bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Act {
    /// Stage, from 0.
    pub stage: usize,
    /// Hole, by place in the joint from 0.
    pub hole: usize,
}

/// Every act of a tightening: all bolts take a stage before any takes the next.
#[must_use]
pub fn acts(stages: usize, order: &[usize]) -> Vec<Act> {
    (0..stages)
        .flat_map(|stage| order.iter().map(move |&hole| Act { stage, hole }))
        .collect()
}

/// The unit of a kind that a typed text carries, so that answers come back in it. Steps of a
/// spec are looked at one by one, because the unit may stand behind the last of them.
#[must_use]
pub fn typed_unit(kind: Kind, typed: &str) -> Option<&'static Unit> {
    typed
        .split([',', ';', '→', '+', '±', '(', ')'])
        .find_map(|piece| unit_behind_number(kind, piece))
}

fn unit_behind_number(kind: Kind, piece: &str) -> Option<&'static Unit> {
    let after = piece
        .rfind(|c: char| c.is_ascii_digit())
        .map_or(0, |at| at + 1);
    // Behind a tolerance in percent: `10 % N·m`.
    let mut tail = piece.get(after..)?.trim().trim_start_matches('%').trim();
    while !tail.is_empty() {
        if let Ok(unit) = unit::find(kind, tail) {
            return Some(unit);
        }
        tail = tail
            .rsplit_once(char::is_whitespace)
            .map_or("", |(front, _)| front.trim_end());
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::spec;

    fn tools(texts: &[&str]) -> Vec<Tool> {
        texts
            .iter()
            .map(|text| crate::wrench::read(text).unwrap().value)
            .collect()
    }

    #[test]
    fn every_bolt_takes_a_stage_before_the_next() {
        let acts = acts(2, &[1, 0, 2]);
        assert_eq!(acts.len(), 6);
        assert!(acts[..3].iter().all(|act| act.stage == 0));
        assert_eq!(acts[3], Act { stage: 1, hole: 1 });
    }

    #[test]
    fn repeats_are_written_out() {
        let spec = spec::read("30 N·m + 90°, repeat 1").unwrap().value;
        assert_eq!(steps(&spec).unwrap().len(), 3);
    }

    #[test]
    fn each_stage_takes_the_wrench_that_suits_it() {
        let spec = spec::read("20 N·m, 70 N·m").unwrap().value;
        let found = plan(
            &spec,
            &tools(&["click 5..30 N·m", "click 20..120 N·m"]),
            None,
        )
        .unwrap();
        let taken: Vec<_> = found.iter().map(|stage| stage.pull.unwrap().take).collect();
        assert_eq!(taken, [Some(0), Some(1)]);
    }

    #[test]
    fn units_are_found_where_they_stand() {
        for (typed, symbol) in [
            ("50 lb-ft", "lbf·ft"),
            ("12, 21 N·m", "N·m"),
            ("30 N·m + 90° + 90°", "N·m"),
            ("18-22 ft-lb dry", "lbf·ft"),
            ("20 N·m (15 lbf·ft)", "N·m"),
            ("57 ± 10% lbf·ft", "lbf·ft"),
            ("57 lbf·ft ± 10 %", "lbf·ft"),
        ] {
            assert_eq!(
                typed_unit(Kind::Torque, typed).unwrap().symbol,
                symbol,
                "{typed}"
            );
        }
        assert_eq!(typed_unit(Kind::Torque, "90°"), None);
        assert_eq!(typed_unit(Kind::Length, "2-1/2 in").unwrap().symbol, "in");
    }
}
