//! Where the air of a leak-down test comes out, and what that place stands for.

use report::{Finding, Report};

use super::{Leakdown, aside, at, percent};
use crate::layout::{named, numbers};

/// Where air was heard or felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Throttle or air intake.
    Intake,
    /// Tailpipe.
    Exhaust,
    /// Oil filler or dipstick.
    OilFiller,
    /// Radiator neck or expansion bottle: bubbles.
    Coolant,
    /// The plug hole of another cylinder.
    Neighbour,
}

impl Place {
    /// The place in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Intake => "intake",
            Self::Exhaust => "exhaust",
            Self::OilFiller => "oil filler",
            Self::Coolant => "coolant",
            Self::Neighbour => "neighbour's plug hole",
        }
    }

    const fn points_to(self, two_stroke: bool) -> &'static str {
        match (self, two_stroke) {
            (Self::Intake, false) => {
                "the intake valve of this cylinder: bent, burnt, held open or dirty on its seat"
            }
            (Self::Exhaust, false) => {
                "the exhaust valve of this cylinder: burnt, bent, held open or dirty on its seat"
            }
            (Self::Intake | Self::Exhaust, true) => {
                "past the rings into a port, or a piston not above the ports"
            }
            (Self::OilFiller, false) => "past the rings: rings or bore",
            (Self::OilFiller, true) => "past the rings into the crankcase",
            (Self::Coolant, _) => "the head gasket or a crack into the water",
            (Self::Neighbour, false) => {
                "the gasket between the two, or a valve both share through an open port"
            }
            (Self::Neighbour, true) => "the gasket between the two",
        }
    }
}

/// One thing heard: at which cylinder, where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heard {
    /// The cylinder under air; `None` where it was not said.
    pub cylinder: Option<u8>,
    /// Where the air came out.
    pub place: Place,
}

impl Heard {
    /// Reads `4 intake, 2 oil filler`: a cylinder and a place, parted by commas.
    ///
    /// # Errors
    /// The part that was not understood.
    pub fn read(text: &str) -> Result<Vec<Self>, String> {
        text.split([',', ';'])
            .map(str::trim)
            .filter(|part| !part.is_empty())
            .map(|part| Self::one(part).ok_or_else(|| part.to_owned()))
            .collect()
    }

    fn one(part: &str) -> Option<Self> {
        let lower = part.to_lowercase();
        let any = |words: &[&str]| words.iter().any(|word| lower.contains(word));
        let place = if any(&["intake", "inlet", "throttle", "carb", "air filter"]) {
            Place::Intake
        } else if any(&["exhaust", "tailpipe"]) {
            Place::Exhaust
        } else if any(&["oil", "dipstick", "crankcase", "breather"]) {
            Place::OilFiller
        } else if any(&["radiator", "coolant", "bottle", "bubbles"]) {
            Place::Coolant
        } else if any(&["neighbour", "plug", "next"]) {
            Place::Neighbour
        } else {
            return None;
        };
        let cylinder = lower
            .split(|sign: char| !sign.is_ascii_digit())
            .find_map(|digits| digits.parse().ok());
        Some(Self { cylinder, place })
    }
}

/// One finding for every leaking cylinder.
pub(super) fn findings(asked: &Leakdown, over: &[u8], report: &mut Report) {
    for &cylinder in over {
        let heard: Vec<Place> = asked
            .heard
            .iter()
            .filter(|heard| {
                heard.cylinder == Some(cylinder) || (heard.cylinder.is_none() && over.len() == 1)
            })
            .map(|heard| heard.place)
            .collect();
        let loss = at(&asked.loss, cylinder).map(percent).unwrap_or_default();
        report.findings.push(leak(asked, cylinder, &loss, &heard));
    }
    let faint: Vec<u8> = asked
        .heard
        .iter()
        .filter_map(|heard| heard.cylinder)
        .filter(|cylinder| !over.contains(cylinder))
        .collect();
    if !faint.is_empty() {
        report.findings.push(aside(
            "heard-faintly",
            named(&faint),
            "air is heard though the loss keeps the rule; every engine leaks a little",
        ));
    }
}

fn leak(asked: &Leakdown, cylinder: u8, loss: &str, heard: &[Place]) -> Finding {
    let finding = Finding::new(
        "leak",
        named(&[cylinder]),
        format!("loses {loss} of the supply"),
    );
    match heard {
        [] => finding
            .points_to("a leak that has no place yet")
            .next(if asked.two_stroke {
                "listen at the ports, the crankcase, the radiator neck and the neighbour's plug hole"
            } else {
                "listen at the throttle, the tailpipe, the oil filler, the radiator neck and the neighbour's plug hole"
            }),
        places => {
            let words: Vec<&str> = places.iter().map(|place| place.points_to(asked.two_stroke)).collect();
            let next = if places.contains(&Place::Neighbour) {
                let beside = asked.layout.neighbours(cylinder);
                format!("test {} too; air must come back the same way", numbers(&beside))
            } else {
                "turn the crank two turns, tap the valve lightly where there is one, repeat once; then believe it".to_owned()
            };
            finding.points_to(words.join("; also ")).next(next)
        }
    }
}
