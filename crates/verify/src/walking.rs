//! Does the walking and tool changing a plan says add up from its steps?

use std::collections::BTreeSet;

use book::{Shop, ToolId, ZoneId};
use job::plan::{Leg, Plan, Step};

use crate::reason::Reason;
use crate::refusal::Refusal;

/// Seconds where the shop file has none: a walk between two zones, a change of tools. The
/// conventions of the manual.
const WALK: f64 = 30.0;
const CHANGE: f64 = 20.0;

/// The refusal of a plan whose time between steps is not what its order takes in this workshop.
///
/// A step whose place nobody wrote is walked to for nothing, and a step whose tools all lie in the
/// hand already needs no change. The way from the last step off to the first step on is nobody's:
/// days may lie between.
#[must_use]
pub fn walking(shop: Option<&Shop>, plan: &Plan) -> Option<Refusal> {
    let mut sum = 0.0;
    for leg in [Leg::Apart, Leg::Together] {
        let mut last: Option<&Step> = None;
        for step in plan.steps.iter().filter(|step| step.leg == leg) {
            sum += last.map_or(0.0, |last| between(shop, last, step));
            last = Some(step);
        }
    }
    let said = plan.between.in_seconds();
    // Both are sums of whole seconds.
    ((said - sum).abs() > 0.5).then(|| Refusal {
        reason: Reason::WalkingWrong,
        step: None,
        concerns: "plan".to_owned(),
        says: format!(
            "it says {said:.0} s of walking and tool changing, and its order takes {sum:.0} s"
        ),
    })
}

fn between(shop: Option<&Shop>, from: &Step, to: &Step) -> f64 {
    let walk = match (&from.zone, &to.zone) {
        (Some(here), Some(there)) if here != there => way(shop, here, there),
        _ => 0.0,
    };
    let held: BTreeSet<&ToolId> = from.tools.iter().collect();
    if to.tools.iter().all(|tool| held.contains(tool)) {
        return walk;
    }
    let change = shop.and_then(|shop| shop.tool_change.known());
    walk + change.map_or(CHANGE, |time| {
        time.in_seconds().round().clamp(0.0, 86_400.0)
    })
}

fn way(shop: Option<&Shop>, here: &ZoneId, there: &ZoneId) -> f64 {
    let Some(shop) = shop else { return WALK };
    for walk in &shop.walks {
        let ends = (&walk.from.id, &walk.to.id);
        if ends == (here, there) || ends == (there, here) {
            return walk.takes.in_seconds().round().clamp(0.0, 86_400.0);
        }
    }
    WALK
}
