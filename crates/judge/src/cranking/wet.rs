//! The wet test: how much of a low cylinder's gap the oil closes, allowing for the room the
//! oil itself takes.

use calc::compression::{EXPONENT_HIGH, EXPONENT_LOW, wet_rise};
use calc::cranking::gap_closed;
use quantity::{GaugePressure, Quantity, Ratio};
use report::{Ask, Finding, Report, Weight};

use super::answer::{Mark, Seen, percent_whole};
use super::pattern::Pattern;
use super::{Cycle, Unanswerable};
use crate::layout::{Arrangement, named};

/// From this share of the gap on, oil sealed the leak. Between the two nothing is concluded.
const CLOSES: f64 = 0.5;
/// Up to this share of the gap, oil changed nothing.
const LEAVES_OPEN: f64 = 0.2;

/// Wet over dry from which the trade's other rule says rings. *Common practice, no source.*
const RISE: f64 = 1.2;

/// What the oil did to one cylinder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Gain {
    /// It closed the gap.
    Closed,
    /// It closed part of it.
    Partly,
    /// It changed nothing that counts.
    None,
}

/// Wet over dry of a sound cylinder with the same dose of oil.
#[derive(Clone, Copy, Debug)]
enum Rise {
    /// Measured on the sound cylinders of this engine.
    Measured(f64),
    /// From the room the dose takes in this geometry.
    Worked(f64),
}

impl Rise {
    const fn share(self) -> f64 {
        match self {
            Self::Measured(share) | Self::Worked(share) => share,
        }
    }
}

/// The wet readings and what they come to.
pub(super) struct Wet {
    readings: Option<Vec<Option<GaugePressure>>>,
    gaps: Vec<Option<Ratio>>,
    /// Gaps with the rise of a sound cylinder taken off.
    net: Vec<Option<Ratio>>,
    /// What the dose alone does; `None` where nothing tells.
    rise: Option<Rise>,
}

impl Wet {
    pub(super) fn of(seen: &Seen<'_>) -> Result<Self, Unanswerable> {
        let Some(readings) = &seen.asked.wet else {
            return Ok(Self {
                readings: None,
                gaps: Vec::new(),
                net: Vec::new(),
                rise: None,
            });
        };
        let rise = match sound_rise(seen, readings) {
            Some(measured) => Some(Rise::Measured(measured)),
            None => worked_rise(seen)?.map(Rise::Worked),
        };
        let gaps = |rise: f64| -> Result<Vec<Option<Ratio>>, Unanswerable> {
            let rise = Ratio::fraction(rise)?;
            let gap = |(mark, wet): (&Option<Mark>, &Option<GaugePressure>)| match (mark, wet) {
                (Some(mark), Some(wet))
                    if mark.verdict() != report::Verdict::Within
                        && mark.reading < seen.shares.best =>
                {
                    Ok(Some(gap_closed(
                        mark.reading,
                        *wet,
                        seen.shares.best,
                        rise,
                    )?))
                }
                _ => Ok(None),
            };
            seen.marks.iter().zip(readings).map(gap).collect()
        };
        Ok(Self {
            readings: Some(readings.clone()),
            gaps: gaps(1.0)?,
            net: gaps(rise.map_or(1.0, Rise::share))?,
            rise,
        })
    }

    pub(super) fn tested(&self) -> bool {
        self.readings.is_some()
    }

    pub(super) fn reading(&self, cylinder: u8) -> Option<GaugePressure> {
        at(self.readings.as_deref()?, cylinder)
    }

    pub(super) fn gap_closed(&self, cylinder: u8) -> Option<Ratio> {
        at(&self.gaps, cylinder)
    }

    /// What the oil did to a cylinder, sound rise taken off.
    pub(super) fn gain(&self, cylinder: u8) -> Option<Gain> {
        let net = at(&self.net, cylinder)?.in_fraction();
        Some(if net >= CLOSES {
            Gain::Closed
        } else if net <= LEAVES_OPEN {
            Gain::None
        } else {
            Gain::Partly
        })
    }

    /// The one gain all these cylinders share, if they do.
    pub(super) fn gain_of_all(&self, cylinders: &[u8]) -> Option<Gain> {
        let (first, others) = cylinders.split_first()?;
        let gain = self.gain(*first)?;
        others
            .iter()
            .all(|&other| self.gain(other) == Some(gain))
            .then_some(gain)
    }

    /// What the trade's other rule, a bare rise over the dry reading, says of the judged cylinders.
    pub(super) fn bare_rise(&self, seen: &Seen<'_>) -> Option<String> {
        let risen: Vec<u8> = (1u8..)
            .zip(&seen.marks)
            .filter(|(cylinder, mark)| {
                let pair = mark.zip(self.reading(*cylinder));
                self.gain(*cylinder).is_some()
                    && pair.is_some_and(|(mark, wet)| wet.si() >= RISE * mark.reading.si())
            })
            .map(|(cylinder, _)| cylinder)
            .collect();
        let judged = (1u8..)
            .zip(&seen.marks)
            .any(|(at, _)| self.gain(at).is_some());
        judged.then(|| {
            let says = if risen.is_empty() {
                "no low cylinder here".to_owned()
            } else {
                named(&risen)
            };
            format!("Rings or bore are judged by the share of the gap that oil closes; by the trade's other rule, a rise of 20 to 25 % over dry, it would be {says}.")
        })
    }

    pub(super) fn findings(&self, seen: &Seen<'_>, pattern: &Pattern, report: &mut Report) {
        // An even, low set has no sound cylinder to measure the oil by, and its first suspect
        // is the cam timing: the wet readings stay in the rows and nothing is made of them.
        if !self.tested() || pattern.all_low_even() {
            return;
        }
        let judged: Vec<u8> = (1u8..)
            .zip(&seen.marks)
            .filter(|(cylinder, _)| self.gain(*cylinder).is_some())
            .map(|(cylinder, _)| cylinder)
            .collect();
        for (gain, code) in [
            (Gain::Closed, "wet-gain"),
            (Gain::Partly, "part-wet-gain"),
            (Gain::None, "no-wet-gain"),
        ] {
            let with: Vec<u8> = judged
                .iter()
                .copied()
                .filter(|&cylinder| self.gain(cylinder) == Some(gain))
                .collect();
            if !with.is_empty() {
                report.findings.push(self.finding(seen, gain, code, &with));
            }
        }
        if self.rise.is_none() && !judged.is_empty() {
            report.asks.push(Ask::new(
                "the same oil in a sound cylinder",
                "oil takes up room and lifts any cylinder: about 13 % for 5 cm³ and 51 % for 15 cm³ in 500 cm³ at 10.5 to 1.",
                "Test one sound cylinder wet with the same dose, 3 to 5 cm³.",
            ));
        }
        if seen.asked.layout.arrangement() != Arrangement::Inline && !judged.is_empty() {
            report.findings.push(
                Finding::new("oil-pools", named(&judged), "in a tilted bank the oil runs to the low side and does not reach the whole ring, so a missing gain says less")
                    .weight(Weight::Note),
            );
        }
    }

    fn finding(&self, seen: &Seen<'_>, gain: Gain, code: &'static str, with: &[u8]) -> Finding {
        let shares: Vec<String> = with
            .iter()
            .filter_map(|&cylinder| self.gap_closed(cylinder))
            .map(percent_whole)
            .collect();
        let allowing = match self.rise {
            Some(Rise::Measured(share)) => format!(
                "; a sound cylinder rose {:.1} %, which is allowed for",
                (share - 1.0) * 100.0
            ),
            Some(Rise::Worked(share)) => format!(
                "; the dose alone is worth about {:.0} %, which is allowed for",
                (share - 1.0) * 100.0
            ),
            None => String::new(),
        };
        let finding = |says: &str| {
            Finding::new(
                code,
                named(with),
                format!("oil {says} ({} of it){allowing}", shares.join(", ")),
            )
        };
        let two = seen.asked.cycle == Cycle::Two;
        match gain {
            Gain::Closed => finding("closes the gap to the best")
                .points_to(if two {
                    "ring sealing: stuck or worn rings, or a scored bore; not the head gasket"
                } else {
                    "ring sealing: worn or stuck rings, or the bore; not the head gasket and not a valve"
                })
                .next("look at the bore and the ring lands through the ports or a borescope before anything is ordered"),
            Gain::None => finding("leaves the gap open")
                .points_to(if two {
                    "head gasket, a crack or the plug seat; the rings are unlikely"
                } else {
                    "a valve or its seat, the gasket or a crack; the rings are unlikely"
                })
                .next("low-pressure air into the cylinder and listen where it comes out"),
            Gain::Partly => finding("closes part of the gap")
                .points_to("nothing yet: too little for the rings alone, too much for none")
                .next("repeat with a measured 3 to 5 cm³ in this and in a sound cylinder, or leak-down"),
        }
    }
}

/// What a known dose does in a known cylinder, by the room it takes.
fn worked_rise(seen: &Seen<'_>) -> Result<Option<f64>, Unanswerable> {
    let (Some(geometry), Some(oil)) = (seen.asked.geometry, seen.asked.oil) else {
        return Ok(None);
    };
    let exponent = Ratio::fraction(f64::midpoint(EXPONENT_LOW, EXPONENT_HIGH))?;
    let rise = wet_rise(&geometry.cylinder, geometry.inlet_closes, exponent, oil)?;
    Ok(Some(rise.in_fraction()))
}

/// Median wet over dry of the sound cylinders tested both ways.
fn sound_rise(seen: &Seen<'_>, wet: &[Option<GaugePressure>]) -> Option<f64> {
    let mut rises: Vec<f64> = seen
        .marks
        .iter()
        .zip(wet)
        .filter_map(|(mark, wet)| match (mark, wet) {
            (Some(mark), Some(wet))
                if mark.verdict() == report::Verdict::Within && mark.reading.si() > 0.0 =>
            {
                Some(wet.si() / mark.reading.si())
            }
            _ => None,
        })
        .filter(|rise| *rise > 0.0)
        .collect();
    rises.sort_by(f64::total_cmp);
    let middle = rises.len() / 2;
    match rises.len() % 2 {
        _ if rises.is_empty() => None,
        1 => rises.get(middle).copied(),
        _ => Some(f64::midpoint(*rises.get(middle - 1)?, *rises.get(middle)?)),
    }
}

fn at<T: Copy>(list: &[Option<T>], cylinder: u8) -> Option<T> {
    let at = usize::from(cylinder).checked_sub(1)?;
    list.get(at).copied().flatten()
}
