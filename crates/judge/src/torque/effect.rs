//! What the figure does to a bolt of known thread and strength: preload and use of its yield
//! point, as ranges, because friction is one.

use calc::fastener::{Head, bearing, strength};
use calc::preload;
use calc::preload::friction::FrictionClass;
use calc::preload::standard::{Twist, utilisation};
use quantity::spec::Condition;
use quantity::{Force, Quantity, Range, Ratio, show, unit};
use report::{Figure, Finding, Report, Source, SourceKind, Weight};

use super::Seen;
use crate::preload::two_digits;
use crate::tightening::StageFault;

/// Adds both ranges. After an angle a torque says nothing of the preload.
pub(super) fn tell(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let (Some(thread), Some(class), Some((_, torque))) =
        (&seen.asked.thread, seen.asked.class, seen.last_torque())
    else {
        return Ok(());
    };
    if seen.ends_in_angle() {
        return Ok(());
    }
    let threads = seen.asked.threads_are.as_ref();
    let friction = friction(threads.unwrap_or(&seen.asked.spec.value.condition))?;
    let face = bearing(thread, Head::Hexagon)?.mean_diameter;
    let scatter = Ratio::percent(4.0).map_err(calc::tightening::TighteningError::from)?;
    let force = preload::range(torque, thread, face, friction, scatter)?;
    let yields = strength(thread, class)?.yield_point;
    let used = |force: Force, friction: Ratio| {
        utilisation(force, thread, friction, yields, Twist::Plastic)
    };
    // Least force goes with most friction, and the other way about.
    let used = Range {
        low: used(force.low, friction.high)?,
        high: used(force.high, friction.low)?,
    };
    let middle = |low: f64, high: f64| 0.5 * (low + high);
    let kilonewtons = |force: Force| two_digits(force.in_kilonewtons());
    let percent = |share: Ratio| format!("{:.0} %", 5.0 * (share.in_percent() / 5.0).round());
    if let Ok(at) = Force::from_si(middle(force.low.si(), force.high.si())) {
        let shown = format!(
            "{} to {} kN",
            kilonewtons(force.low),
            kilonewtons(force.high)
        );
        report.figures.push(
            Figure::new("preload", "pulls the bolt to", at, shown).between(force.low, force.high),
        );
    }
    if let Ok(at) = Ratio::fraction(middle(used.low.in_fraction(), used.high.in_fraction())) {
        let shown = format!("{} to {}", percent(used.low), percent(used.high));
        report.figures.push(
            Figure::new("utilisation", "use of its yield point", at, shown)
                .between(used.low, used.high)
                .note(format!(
                    "friction {} to {}, stretch and twist together",
                    show::show(friction.low, &unit::FRACTION),
                    show::show(friction.high, &unit::FRACTION)
                )),
        );
    }
    if used.low.in_fraction() > 1.0 {
        report.findings.push(
            Finding::new(
                "past-yield",
                thread.to_string(),
                "the bolt yields even where friction is highest",
            )
            .next("check figure, unit, thread and strength mark before pulling")
            .weight(Weight::Stop),
        );
    }
    report.cite(Source::new(
        SourceKind::Published,
        "VDI 2230, friction classes; torque from preload, long form",
    ));
    Ok(())
}

/// The friction that goes with a condition of the threads.
fn friction(condition: &Condition) -> Result<Range<Ratio>, StageFault> {
    let (low, high) = match condition {
        Condition::Oiled | Condition::Lubricant(_) => (FrictionClass::B, FrictionClass::B),
        Condition::Sealer | Condition::Threadlock => (FrictionClass::C, FrictionClass::C),
        Condition::Dry => (FrictionClass::C, FrictionClass::D),
        Condition::NotStated => (FrictionClass::B, FrictionClass::D),
    };
    Ok(Range {
        low: low.range()?.low,
        high: high.range()?.high,
    })
}
