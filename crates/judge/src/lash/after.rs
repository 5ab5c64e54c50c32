//! Readings after the shims are in, against the arithmetic of what was taken out and put in.

use quantity::{Bound, Length, Quantity, Unit, show, show_bound, show_range};
use report::{Finding, Report, Weight};

use super::{Lash, Unanswerable, Valve, Windows};
use crate::limit::{Limit, Reading, decide};
use calc::lash::clearance_with;

/// Two readings of one gap by blades differ by so much without anything being wrong, in
/// millimetres. *Common practice, no source.*
const BLADE_MM: f64 = 0.025;

/// One valve after fitting.
#[derive(Clone, Debug, PartialEq)]
pub struct After {
    /// Its name on the sheet.
    pub name: String,
    /// The clearance now.
    pub clearance: Bound<Length>,
    /// The shim that is in now.
    pub shim: Length,
}

/// How a reading after fitting agrees with the one before: a finding where it does not.
///
/// # Errors
/// Never for lengths of a workshop; a size beyond all shims is refused by `calc`.
pub fn check(
    before: &Valve,
    after: &After,
    unit: &Unit,
) -> Result<Option<Finding>, calc::lash::LashError> {
    let (Some(found), Some(was)) = (before.clearance, before.shim) else {
        return Ok(None);
    };
    let Some(expected) = clearance_with(was, found, after.shim)? else {
        return Ok(None);
    };
    let slack = BLADE_MM / 1000.0;
    let too_small = after
        .clearance
        .high()
        .is_some_and(|high| high.si() < expected.low.si() - slack);
    let too_large = after
        .clearance
        .low()
        .is_some_and(|low| low.si() > expected.high.si() + slack);
    if !too_small && !too_large {
        return Ok(None);
    }
    let says = format!(
        "{} in, so {} was to be expected; read was {}",
        show(after.shim, unit),
        show_range(expected, unit),
        show_bound(after.clearance, unit)
    );
    Ok(Some(
        Finding::new("after-disagrees", before.name.clone(), says)
            .points_to(if too_small {
                "a shim not seated, the wrong shim, or a bucket that is not down"
            } else {
                "the wrong shim, a thinner one than written, or a first reading that was wrong"
            })
            .next("measure the shim that is in, seat it, turn the cam twice and read again"),
    ))
}

/// Every reading after, judged and compared.
pub(super) fn tell(
    report: &mut Report,
    asked: &Lash,
    windows: &Windows,
) -> Result<(), Unanswerable> {
    for after in &asked.after {
        let Some(before) = asked
            .valves
            .iter()
            .find(|valve| valve.name.eq_ignore_ascii_case(&after.name))
        else {
            report.findings.push(
                Finding::new(
                    "after-unknown",
                    after.name.clone(),
                    "there is no valve of this name on the first sheet",
                )
                .next("give it the name it has there"),
            );
            continue;
        };
        report.findings.extend(check(before, after, &asked.unit)?);
        let limit = Limit::between(windows.of_port(before.port));
        let decision = decide(
            &format!("{} clearance now", before.name),
            Some(&Reading::bound(after.clearance)),
            &limit,
            &[],
            &asked.unit,
        )?;
        let weight = match decision.verdict {
            report::Verdict::Outside => Weight::Stop,
            report::Verdict::Undecided => Weight::Look,
            _ => Weight::Note,
        };
        report
            .findings
            .push(Finding::new("after", before.name.clone(), decision.says).weight(weight));
    }
    Ok(())
}
