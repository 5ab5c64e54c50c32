//! Tightening as a run of acts: what each stage of a spec asks of hand and wrench, and in
//! which order the bolts take it.
//!
//! Pure planning over stages, wrenches and an adapter. It knows no joint and no job; both
//! the standalone question and the tightening sheet of a joint are built on it.

use calc::adapter::{Adapter, AdapterFault};
use calc::tightening::TighteningError;
use calc::wrench::{Place, Setting, Wrench, choose_each};
use quantity::{Angle, Kind, Length, Quantity, Spec, Step, Torque, Unit, unit};
use report::Finding;

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

/// A torque below one that the bolt has had already.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Which step, from 0.
    pub step: usize,
    /// What it says.
    pub torque: Torque,
    /// What the bolt has had.
    pub before: Torque,
}

/// The first torque below one before it with nothing loosened between: the wrench would click
/// at once and the bolt not move, so one of the two figures or its unit is wrong.
///
/// ```
/// let steps = |text: &str| quantity::spec::read(text).unwrap().value.steps;
/// assert_eq!(judge::tightening::falls(&steps("18 N·m, 8 N·m")).unwrap().step, 1);
/// assert!(judge::tightening::falls(&steps("18 N·m, loosen, 8 N·m + 90°")).is_none());
/// ```
pub fn falls<'s>(steps: impl IntoIterator<Item = &'s Step>) -> Option<Fall> {
    let mut had: Option<Torque> = None;
    for (at, step) in steps.into_iter().enumerate() {
        match step {
            Step::Loosen(_) => had = None,
            Step::Torque { value, .. } if value.si() <= 0.0 => had = None,
            Step::Torque { value, .. } => match had {
                Some(before) if *value < before => {
                    return Some(Fall {
                        step: at,
                        torque: *value,
                        before,
                    });
                }
                _ => had = Some(*value),
            },
            Step::Angle { .. } | Step::HandTight | Step::Repeat(_) | Step::Wait(_) => {}
        }
    }
    None
}

impl Fall {
    /// The fall as a finding about `concerns`, torques written by `show`.
    #[must_use]
    pub fn finding(&self, concerns: String, show: impl Fn(Torque) -> String) -> Finding {
        Finding::new(
            "stage-falls",
            concerns,
            format!(
                "{} comes after {} and nothing is loosened between: the wrench clicks and the bolt does not move",
                show(self.torque),
                show(self.before)
            ),
        )
        .next("read both stages and their units in the maker's book again")
    }
}

/// What sits between a wrench and a bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lever {
    /// Nothing that changes the torque.
    Straight,
    /// An adapter on a handle that was told, whichever wrench is taken.
    On(Adapter),
    /// An adapter on whichever wrench suits, each with its own handle.
    Under {
        /// Centre of the drive to centre of the fastener.
        length: Length,
        /// 0° straight out, 90° across, 180° folded back.
        angle: Angle,
    },
}

impl Lever {
    /// What to set on one tool. `None`: the handle that counts is not known.
    fn setting(self, torque: Torque, tool: &Tool) -> Result<Option<Torque>, StageFault> {
        Ok(match self {
            Self::Straight => Some(torque),
            Self::On(adapter) => Some(adapter.setting(torque)?),
            Self::Under { length, angle } => match tool.handle {
                Some(handle) => Some(
                    Adapter {
                        handle,
                        length,
                        angle,
                    }
                    .setting(torque)?,
                ),
                None => None,
            },
        })
    }
}

/// Plans the stages of a spec for the wrenches at hand.
///
/// # Errors
/// [`StageFault`] for an adapter without a lever or a torque out of range.
pub fn plan(spec: &Spec, tools: &[Tool], lever: Lever) -> Result<Vec<Stage>, StageFault> {
    steps(spec)?
        .into_iter()
        .map(|step| {
            let pull = match &step {
                // Zero means loose; no wrench is set to it.
                Step::Torque { value, .. } if value.in_newton_metres() > 0.0 => {
                    Some(pull(*value, tools, lever)?)
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

fn pull(torque: Torque, tools: &[Tool], lever: Lever) -> Result<Pull, StageFault> {
    let mut ways: Vec<(usize, Wrench, Torque)> = Vec::new();
    for (index, tool) in tools.iter().enumerate() {
        if let Some(setting) = lever.setting(torque, tool)? {
            ways.push((index, tool.wrench, setting));
        }
    }
    let settings: Vec<(Wrench, Torque)> = ways.iter().map(|way| (way.1, way.2)).collect();
    let taken = choose_each(&settings).and_then(|at| ways.get(at)).copied();
    let setting = match (taken, ways.first(), lever) {
        (Some((.., setting)), ..) => setting,
        // Told handles all give one setting; with handles of their own the first stands for all.
        (None, Some((.., setting)), _) => *setting,
        (None, None, Lever::On(adapter)) => adapter.setting(torque)?,
        (None, None, Lever::Straight | Lever::Under { .. }) => torque,
    };
    Ok(Pull {
        torque,
        setting,
        take: taken.map(|(index, ..)| index),
        place: taken.map(|(_, wrench, setting)| wrench.place(setting)),
        mark: taken
            .map(|(_, wrench, setting)| wrench.setting(setting))
            .transpose()?,
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
            Lever::Straight,
        )
        .unwrap();
        let taken: Vec<_> = found.iter().map(|stage| stage.pull.unwrap().take).collect();
        assert_eq!(taken, [Some(0), Some(1)]);
    }

    /// Source: a reader's worked example, 18 in handle, 6 in adapter: 37.5 for 50. *Public
    /// data.* A longer handle needs less correction, so the wrench decides the setting.
    #[test]
    fn behind_an_adapter_each_wrench_has_its_own_setting() {
        let spec = spec::read("50 lbf·ft").unwrap().value;
        let lever = Lever::Under {
            length: Length::inches(6.0).unwrap(),
            angle: Angle::degrees(0.0).unwrap(),
        };
        let set = |texts: &[&str]| plan(&spec, &tools(texts), lever).unwrap()[0].pull.unwrap();
        let one = set(&["click 10..100 lbf·ft handle 18 in"]);
        assert!((one.setting.in_pound_force_feet() - 37.5).abs() < 1e-9);
        // Corrected, the torque falls under the lowest fifth of the larger wrench.
        let large = set(&["click 40..200 lbf·ft handle 18 in"]);
        assert_eq!(large.take, None);
        let both = set(&[
            "click 40..200 lbf·ft handle 18 in",
            "click 10..100 lbf·ft handle 24 in",
        ]);
        assert_eq!(both.take, Some(1));
        assert!((both.setting.in_pound_force_feet() - 40.0).abs() < 1e-9);
        assert_eq!(
            set(&["click 10..100 lbf·ft"]).take,
            None,
            "no handle is known"
        );
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
