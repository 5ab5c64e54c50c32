//! Clearances read before seats or valve faces were cut: a valve that sinks closes its own.

use calc::lash::after_seat_cut;
use quantity::{Bound, Length, Quantity, Range, show};
use report::{Finding, Report, Weight};

use super::{Lash, Unanswerable};

/// The sheet as it stands after the cut; the same sheet where nothing was cut.
pub(super) fn sunk(asked: &Lash) -> Result<Lash, Unanswerable> {
    let mut asked = asked.clone();
    let Some(sink) = asked.sink else {
        return Ok(asked);
    };
    for valve in &mut asked.valves {
        valve.clearance = match valve.clearance {
            Some(found) => Some(after(found, sink)?),
            None => None,
        };
    }
    Ok(asked)
}

fn after(found: Bound<Length>, sink: Length) -> Result<Bound<Length>, Unanswerable> {
    let less = |length| after_seat_cut(length, sink);
    Ok(match found {
        Bound::Exactly(found) => Bound::Exactly(less(found)?),
        // What was only known to be small is known to lie between a valve held open by the
        // whole cut and the rest of the bound.
        Bound::Below(found) => Bound::Between(Range {
            low: less(Length::default())?,
            high: less(found)?,
        }),
        Bound::Above(found) => Bound::Above(less(found)?),
        Bound::Between(Range { low, high }) => Bound::Between(Range {
            low: less(low)?,
            high: less(high)?,
        }),
    })
}

/// Says what was reckoned, and which valves would be held open.
pub(super) fn tell(report: &mut Report, asked: &Lash) {
    let Some(sink) = asked.sink else { return };
    report.because.push(format!(
        "every clearance is reckoned {} less than it was read: the valves sank by so much when they were cut (cams straight on the valves; a rocker multiplies it)",
        show(sink, &asked.unit)
    ));
    let open: Vec<&str> = asked
        .valves
        .iter()
        .filter(|valve| {
            let low = valve.clearance.and_then(|found| found.low());
            low.is_some_and(|low| low.si() < 0.0)
        })
        .map(|valve| valve.name.as_str())
        .collect();
    if !open.is_empty() {
        report.findings.push(
            Finding::new(
                "held-open",
                open.join(", "),
                "with the old shims in, these valves would be held open",
            )
            .next("do not turn the cams with the old shims in; read again with thinner ones")
            .weight(Weight::Look),
        );
    }
    report.findings.push(
        Finding::new(
            "measure-again",
            "",
            "worked out, not read: seats are never cut by exactly as much everywhere",
        )
        .next("read every clearance once more with these shims in")
        .weight(Weight::Note),
    );
}
