//! Tightening specs: what `12 N·m, 21 N·m` and `30 N·m + 90° + 90°` say, step by step.
//!
//! A list of torques is a list of stages and never a sum. After an angle the torque is not
//! known, so a spec that ends in an angle has no torque to hold a wrench reading against.
//! What a joint *should* get is not this module's business.

mod condition;
mod grammar;
mod pair;

use crate::kinds::{Angle, Duration, Torque};
use crate::read::ReadFault;
use crate::said::{Bound, Said};
use crate::show::{show, show_range};
use crate::unit::{self, Unit};

pub use condition::Condition;
pub use pair::{Printed, PrintedPair};

/// A tightening spec as it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Spec {
    /// What is done, in order.
    pub steps: Vec<Step>,
    /// The state of the threads the figures are for. Not stated is not the same as dry.
    pub condition: Condition,
    /// Whether the spec asks for new bolts.
    pub new_bolts: bool,
    /// Values printed side by side in several units, held against the first of them.
    pub printed_pairs: Vec<PrintedPair>,
}

/// One act of a spec.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// All bolts to a torque.
    Torque {
        /// The value to aim at: as printed, the middle of a range, or the bound itself.
        value: Torque,
        /// What counts as met.
        allowed: Bound<Torque>,
    },
    /// All bolts on by an angle.
    Angle {
        /// The angle to turn.
        value: Angle,
        /// What counts as met.
        allowed: Bound<Angle>,
    },
    /// All bolts back, by an angle where one is given, else until loose.
    Loosen(Option<Angle>),
    /// All bolts by hand, without a wrench.
    HandTight,
    /// The step before once more, so many times.
    Repeat(u32),
    /// Wait, for a gasket to settle or a sealer to set.
    Wait(Duration),
}

/// Reads a tightening spec.
///
/// # Errors
/// A [`ReadFault`] where a step cannot be understood, a unit is missing, or a plus could mean two things.
///
/// # Example
/// ```
/// use quantity::spec;
/// let spec = spec::read("30 N·m + 90° + 90°").unwrap().value;
/// assert_eq!(spec.steps.len(), 3);
/// assert!(spec.final_torque().is_none());
/// ```
pub fn read(text: &str) -> Result<Said<Spec>, ReadFault> {
    grammar::read(text)
}

impl Spec {
    /// The torque the bolts stand at when the spec is done.
    ///
    /// `None` after an angle or a loosening: then no reading of a wrench can confirm it.
    #[must_use]
    pub fn final_torque(&self) -> Option<Torque> {
        self.steps.iter().rev().find_map(|step| match step {
            Step::Torque { value, .. } => Some(Some(*value)),
            Step::Angle { .. } | Step::Loosen(_) | Step::HandTight => Some(None),
            Step::Repeat(_) | Step::Wait(_) => None,
        })?
    }

    /// The angle turned since the last torque, loosening or tightening by hand, each repeat counted.
    #[must_use]
    pub fn total_angle(&self) -> Angle {
        let mut total = Angle::default();
        let mut last = Angle::default();
        for step in &self.steps {
            match step {
                Step::Angle { value, .. } => {
                    last = *value;
                    total = total + last;
                }
                Step::Repeat(times) => {
                    for _ in 0..*times {
                        total = total + last;
                    }
                }
                Step::Torque { .. } | Step::Loosen(_) | Step::HandTight => {
                    total = Angle::default();
                    last = Angle::default();
                }
                Step::Wait(_) => {}
            }
        }
        total
    }

    /// Whether any step turns by an angle.
    #[must_use]
    pub fn turns_by_angle(&self) -> bool {
        self.steps
            .iter()
            .any(|step| matches!(step, Step::Angle { .. }))
    }

    /// The largest torque a wrench must be set to, if any step names one.
    #[must_use]
    pub fn largest_torque(&self) -> Option<Torque> {
        self.steps
            .iter()
            .filter_map(|step| match step {
                Step::Torque { value, .. } => Some(*value),
                _ => None,
            })
            .max_by(|one, other| one.partial_cmp(other).unwrap_or(std::cmp::Ordering::Equal))
    }

    /// Writes the spec with torques in `unit`, in a form that [`read`] reads back.
    #[must_use]
    pub fn shown(&self, unit: &Unit) -> String {
        let mut line = String::new();
        for (index, step) in self.steps.iter().enumerate() {
            if index > 0 {
                line.push_str(if matches!(step, Step::Angle { .. }) {
                    " + "
                } else {
                    ", "
                });
            }
            line.push_str(&step.shown(unit));
        }
        if self.new_bolts {
            line.push_str(", new bolts");
        }
        if self.condition != Condition::NotStated {
            line.push_str(", ");
            line.push_str(self.condition.words());
        }
        line
    }
}

impl Step {
    /// Writes the step with a torque in `unit`.
    #[must_use]
    pub fn shown(&self, unit: &Unit) -> String {
        match self {
            Self::Torque { value, allowed } => shown_within(*value, *allowed, unit),
            Self::Angle { value, allowed } => shown_within(*value, *allowed, &unit::DEGREE),
            Self::Loosen(None) => "loosen".to_owned(),
            Self::Loosen(Some(angle)) => format!("loosen {}", show(*angle, &unit::DEGREE)),
            Self::HandTight => "hand tight".to_owned(),
            Self::Repeat(times) => format!("repeat {times}"),
            Self::Wait(time) if time.in_minutes() < 1.0 => {
                format!("wait {}", show(*time, &unit::SECOND))
            }
            Self::Wait(time) if time.in_hours() < 2.0 => {
                format!("wait {}", show(*time, &unit::MINUTE))
            }
            Self::Wait(time) => format!("wait {}", show(*time, &unit::HOUR)),
        }
    }
}

fn shown_within<Q: crate::Quantity>(value: Q, allowed: Bound<Q>, unit: &Unit) -> String {
    match allowed {
        Bound::Exactly(_) => show(value, unit),
        Bound::Below(_) => format!("max {}", show(value, unit)),
        Bound::Above(_) => format!("min {}", show(value, unit)),
        Bound::Between(range) => show_range(range, unit),
    }
}

#[cfg(test)]
mod tests;
