//! The wrenches of the shop as tools for a sheet, and whether they may be trusted today.

use book::{AccuracyOf, Date, Shop, WrenchDirection, WrenchKind};
use calc::wrench::{self, Accuracy, CheckDue, LastCheck, Wrench};
use quantity::{Angle, Duration, Kind, Length, unit};
use report::Finding;

use crate::tightening::typed_unit;
use crate::wrench::Tool;

/// The torque wrenches and the angle gauge at hand.
#[derive(Clone, Debug, Default)]
pub struct Rack {
    /// Torque wrenches, in the order of the shop file.
    pub tools: Vec<Tool>,
    /// What the shop file says of each of them; `None` for one described by hand.
    keeps: Vec<Option<Keep>>,
    /// The name of the angle gauge, if there is one.
    pub angle_gauge: Option<String>,
    /// Crowfoots and other adapters.
    pub adapters: Vec<Crowfoot>,
}

/// What sits between a wrench and a fastener and changes the lever.
#[derive(Clone, Debug, PartialEq)]
pub struct Crowfoot {
    /// What a reader calls it.
    pub name: String,
    id: String,
    kind: String,
    head: Option<book::Head>,
    /// Centre of the drive to centre of the fastener.
    pub length: Option<Length>,
    /// How it is held to the handle; straight out where nobody said.
    pub angle: Angle,
}

/// How a wrench of the shop was looked after.
#[derive(Clone, Debug)]
struct Keep {
    id: String,
    last: Option<LastCheck>,
}

impl Rack {
    /// The wrenches of a shop file. One without a range is left out: nothing can be set on it.
    #[must_use]
    pub fn of_shop(shop: &Shop, today: Date) -> Self {
        let mut rack = Self {
            adapters: shop.adapters.iter().map(crowfoot).collect(),
            ..Self::default()
        };
        for held in &shop.wrenches {
            if held.kind == WrenchKind::AngleGauge {
                rack.angle_gauge = Some(held.id.to_string());
            } else if let Some(tool) = tool(held) {
                rack.tools.push(tool);
                rack.keeps.push(Some(Keep {
                    id: held.id.to_string(),
                    last: last_check(held, today),
                }));
            }
        }
        rack
    }

    /// The same rack with wrenches described by hand instead of the shop's.
    #[must_use]
    pub fn by_hand(self, tools: Vec<Tool>) -> Self {
        Self {
            keeps: tools.iter().map(|_| None).collect(),
            tools,
            ..self
        }
    }

    /// The adapter a hole asks for by its kind: one that grips its head, if heads are known.
    #[must_use]
    pub fn adapter(&self, kind: &str, head: Option<&book::Head>) -> Option<&Crowfoot> {
        let fits = |one: &&Crowfoot| {
            job::same_name(&one.kind, kind)
                && match (&one.head, head) {
                    (Some(own), Some(wanted)) => own == wanted,
                    _ => true,
                }
        };
        self.adapters.iter().find(fits)
    }

    /// The adapter somebody calls by its id, its label or, where there is one of them, its kind.
    #[must_use]
    pub fn crowfoot(&self, name: &str) -> Option<&Crowfoot> {
        let called =
            |one: &&Crowfoot| job::same_name(&one.id, name) || job::same_name(&one.name, name);
        self.adapters
            .iter()
            .find(called)
            .or_else(|| self.adapter(name, None))
    }

    /// The word a line of the record calls a wrench by.
    #[must_use]
    pub fn id(&self, tool: usize) -> Option<&str> {
        self.keeps.get(tool)?.as_ref().map(|keep| keep.id.as_str())
    }

    /// The wrench a line of the record names.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Tool> {
        let at = self
            .keeps
            .iter()
            .zip(&self.tools)
            .position(|(keep, tool)| {
                job::same_name(&tool.name, name)
                    || keep
                        .as_ref()
                        .is_some_and(|keep| job::same_name(&keep.id, name))
            })?;
        self.tools.get(at)
    }

    /// Why a wrench should be checked before this work, in words. Nothing for one described
    /// by hand: its owner knows.
    #[must_use]
    pub fn doubts(&self, tool: usize, clockwise: bool) -> Vec<&'static str> {
        let Some(Some(keep)) = self.keeps.get(tool) else {
            return Vec::new();
        };
        let words = |due: CheckDue| match due {
            CheckDue::NeverChecked => "no check of it is known",
            CheckDue::Overdue => "its last check is more than a year ago",
            CheckDue::Dropped => "it was dropped since its last check",
            CheckDue::OtherDirection => "it measures the other way round only",
        };
        wrench::check_due(keep.last, clockwise)
            .into_iter()
            .map(words)
            .collect()
    }

    /// A wrench that should be checked before it is trusted.
    #[must_use]
    pub fn check(&self, tool: usize, clockwise: bool) -> Option<Finding> {
        let why = self.doubts(tool, clockwise);
        let name = &self.tools.get(tool)?.name;
        (!why.is_empty()).then(|| {
            Finding::new("wrench-check", name.clone(), why.join("; "))
                .next("have it checked, or hold it against one that was")
        })
    }
}

fn crowfoot(held: &book::Adapter) -> Crowfoot {
    Crowfoot {
        name: held.label.clone().unwrap_or_else(|| held.id.to_string()),
        id: held.id.to_string(),
        kind: held.kind.clone(),
        head: held.head.known().cloned(),
        length: held.length.known().copied(),
        angle: held.angle.known().copied().unwrap_or_default(),
    }
}

fn tool(held: &book::Wrench) -> Option<Tool> {
    let range = *held.range.known()?;
    let named = held
        .unit
        .as_deref()
        .and_then(|text| unit::find(Kind::Torque, text).ok());
    let typed = held
        .range
        .typed()
        .and_then(|typed| typed_unit(Kind::Torque, typed));
    let told = held
        .accuracy
        .known()
        .map(|share| match held.accuracy_of.known() {
            Some(AccuracyOf::FullScale) => Accuracy::OfFullScale(*share),
            Some(AccuracyOf::Reading) | None => Accuracy::OfReading(*share),
        });
    let usual = Wrench::usual_accuracy(range.high).ok()?;
    Some(Tool {
        name: held.label.clone().unwrap_or_else(|| held.id.to_string()),
        wrench: Wrench {
            kind: match held.kind {
                WrenchKind::Click | WrenchKind::Preset | WrenchKind::AngleGauge => {
                    wrench::WrenchKind::Click
                }
                WrenchKind::Beam => wrench::WrenchKind::Beam,
                WrenchKind::Dial => wrench::WrenchKind::Dial,
                WrenchKind::Display => wrench::WrenchKind::Digital,
            },
            range,
            unit: *named.or(typed).unwrap_or(&unit::NEWTON_METRE),
            accuracy: told.unwrap_or(usual),
            graduation: held.graduation.known().copied(),
        },
        accuracy_told: told.is_some(),
        handle: held.handle.known().copied(),
    })
}

/// The last check. A wrench whose direction nobody said is taken to measure both ways: most do.
fn last_check(held: &book::Wrench, today: Date) -> Option<LastCheck> {
    let checked = held.checked.known()?;
    let days = (day_number(today) - day_number(*checked)).max(0);
    let direction = held
        .direction
        .known()
        .copied()
        .unwrap_or(WrenchDirection::Both);
    Some(LastCheck {
        ago: Duration::hours(24.0 * f64::from(days)).ok()?,
        dropped: false,
        clockwise: direction != WrenchDirection::Anticlockwise,
        anticlockwise: direction != WrenchDirection::Clockwise,
    })
}

/// Days since an arbitrary day, counted through the Gregorian calendar.
fn day_number(date: Date) -> i32 {
    // The year begins in March here, so that the leap day is its last.
    let (month, year) = if date.month > 2 {
        (i32::from(date.month) - 3, i32::from(date.year))
    } else {
        (i32::from(date.month) + 9, i32::from(date.year) - 1)
    };
    365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + i32::from(date.day)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shop(text: &str) -> Shop {
        let (shop, faults) = book::read_shop(text);
        assert!(faults.is_empty(), "{faults:?}");
        shop
    }

    fn day(text: &str) -> Date {
        Date::read(text).unwrap()
    }

    const WRENCHES: &str = "wrench a kind=click range=\"20..200 lbf·in\" direction=clockwise checked=\"2024-03-01\"\nwrench b kind=click range=\"40..210 N·m\" checked=\"?\"\nwrench c kind=angle-gauge\n";

    #[test]
    fn days_run_through_leap_years() {
        let apart = |from, to| day_number(day(to)) - day_number(day(from));
        assert_eq!(apart("2024-02-28", "2024-03-01"), 2);
        assert_eq!(apart("2023-02-28", "2023-03-01"), 1);
        assert_eq!(apart("1999-12-31", "2000-12-31"), 366);
    }

    #[test]
    fn a_year_after_its_check_a_wrench_is_due() {
        let due = |today| Rack::of_shop(&shop(WRENCHES), day(today)).doubts(0, true);
        assert!(due("2025-02-28").is_empty());
        assert_eq!(due("2025-03-03").len(), 1);
    }

    #[test]
    fn a_wrench_for_one_way_is_doubted_the_other_way() {
        let rack = Rack::of_shop(&shop(WRENCHES), day("2024-04-01"));
        assert!(rack.doubts(0, true).is_empty());
        assert_eq!(rack.doubts(0, false).len(), 1);
        assert_eq!(rack.doubts(1, true), ["no check of it is known"]);
        assert_eq!(rack.angle_gauge.as_deref(), Some("c"));
        assert_eq!(rack.tools[0].wrench.unit.symbol, "lbf·in");
    }

    #[test]
    fn an_accuracy_of_full_scale_stays_one() {
        let text = "wrench a kind=dial range=\"10..100 lbf·ft\" accuracy=\"2 %\" accuracy-of=full-scale\nadapter claw \"Claw 19\" length=\"50 mm\"\n";
        let rack = Rack::of_shop(&shop(text), day("2024-04-01"));
        assert!(matches!(
            rack.tools[0].wrench.accuracy,
            Accuracy::OfFullScale(share) if (share.in_percent() - 2.0).abs() < 1e-9
        ));
        for name in ["claw", "Claw 19", "crowfoot"] {
            assert!(rack.crowfoot(name).is_some(), "{name}");
        }
        assert!(rack.crowfoot("beam").is_none());
    }
}
