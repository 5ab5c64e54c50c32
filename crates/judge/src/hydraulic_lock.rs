//! Liquid in a cylinder before the starter is touched: does it lock, where does it stop.

use calc::compression::EXPONENT_HIGH;
use calc::crank::Cylinder;
use calc::hydraulic_lock::{Lock, LockError, lock, peak_pressure};
use quantity::unit::{DEGREE, MILLIMETRE};
use quantity::{
    AbsolutePressure, Angle, NotFinite, Quantity, Ratio, Unit, Volume, show, show_fixed, unit,
};
use report::{Caution, Figure, Finding, Report, Verdict, Weight};
use thiserror::Error;

/// The question.
#[derive(Clone, Copy, Debug)]
pub struct HydraulicLock {
    /// Bore, stroke, rod, ratio.
    pub cylinder: Cylinder,
    /// Liquid that may be in it.
    pub liquid: Volume,
    /// The unit volumes were typed in.
    pub unit: Unit,
    /// When the inlet valve seats, for the pressure short of a lock.
    pub inlet_closes: Option<Angle>,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Lock(#[from] LockError),
    #[error(transparent)]
    Crank(#[from] calc::crank::CrankError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Works out whether the liquid locks the engine.
#[must_use]
pub fn judge(asked: &HydraulicLock) -> Report {
    let title = "Hydraulic lock, one cylinder, valves shut";
    match answer(asked, title) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            "hydraulic-lock",
            title,
            Finding::new("liquid", "figures", fault.to_string())
                .next("check the volume and its unit"),
        ),
    }
}

fn answer(asked: &HydraulicLock, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("hydraulic-lock", title);
    let room = asked.cylinder.clearance()?;
    report.figures.push(
        Figure::new(
            "locks_at",
            "locks at",
            room,
            show_fixed(room, &asked.unit, 1),
        )
        .note("the room above the piston at the top"),
    );
    match lock(&asked.cylinder, asked.liquid)? {
        Lock::Stops {
            below_top,
            before_top,
        } => {
            report.figures.push(Figure::new(
                "stops_before_top",
                "stops below the top",
                below_top,
                show_fixed(below_top, &MILLIMETRE, 2),
            ));
            report.figures.push(Figure::new(
                "stops_at",
                "stops before the top",
                before_top,
                show_fixed(before_top, &DEGREE, 1),
            ));
            report.verdict = Some(Verdict::Outside);
            report.headline = Some(format!(
                "It locks: the piston stops {} before the top.",
                show_fixed(before_top, &DEGREE, 0)
            ));
            report.findings.push(
                Finding::new("locks", "starter", "the starter or a long bar against this bends the rod or breaks its cap bolts")
                    .next("all plugs or glow plugs out, rag over the holes, two full turns by hand, never forced; then find where the liquid came from")
                    .weight(Weight::Stop),
            );
        }
        Lock::Passes { room } => {
            report.figures.push(Figure::new(
                "room_left",
                "room left",
                room,
                show_fixed(room, &asked.unit, 1),
            ));
            // Short of a lock is no leave to crank: *within* belongs to a dry cylinder alone.
            if asked.liquid.si() > 0.0 {
                report.verdict = Some(Verdict::Outside);
                report.headline = Some(
                    "It does not lock, and it is still too much liquid to crank on.".to_owned(),
                );
                pressure(asked, &mut report)?;
            } else {
                report.verdict = Some(Verdict::Within);
                report.headline = Some("Dry: nothing to lock on.".to_owned());
            }
        }
    }
    report.because.push("Liquid does not give, and the valves are taken as shut; an open valve lets some out and the engine turns with a dangerous amount.".to_owned());
    report.because.push(
        "The engine that stops at the same crank angle after standing is the sign.".to_owned(),
    );
    report.cautions.push(Caution::new(
        "turning it",
        "by hand only, plugs out, battery earth off so that nobody cranks; liquid leaves the plug holes fast: eyes away, no flame if it may be fuel.",
    ));
    Ok(report)
}

fn pressure(asked: &HydraulicLock, report: &mut Report) -> Result<(), Unanswerable> {
    let says = match asked.inlet_closes {
        None => "short of a lock the peak pressure still multiplies".to_owned(),
        Some(closes) => {
            let air = AbsolutePressure::kilopascals(101.325)?;
            let exponent = Ratio::fraction(EXPONENT_HIGH)?;
            let peak = peak_pressure(&asked.cylinder, asked.liquid, closes, exponent, air)?;
            let none = Volume::from_si(0.0)?;
            let dry = peak_pressure(&asked.cylinder, none, closes, exponent, air)?;
            let bar = |p| show(p, &unit::BAR_ABSOLUTE);
            report
                .figures
                .push(Figure::new("peak", "peak pressure", peak, bar(peak)));
            format!("the peak pressure rises from {} to {}", bar(dry), bar(peak))
        }
    };
    report.findings.push(
        Finding::new("short-of-a-lock", "cylinder", says)
            .next("get the liquid out all the same: plugs out, two turns by hand, and find where it came from"),
    );
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Length;
    use quantity::unit::CUBIC_CENTIMETRE;

    fn asked(cc: f64) -> HydraulicLock {
        let mm = |value| Length::mm(value).unwrap();
        HydraulicLock {
            cylinder: Cylinder::new(
                mm(86.0),
                mm(86.0),
                mm(143.0),
                Ratio::fraction(10.5).unwrap(),
            )
            .unwrap(),
            liquid: Volume::cc(cc).unwrap(),
            unit: CUBIC_CENTIMETRE,
            inlet_closes: None,
        }
    }

    /// Source: slider-crank inversion. *Computed by a general library (scipy 1.17.1).*
    #[test]
    fn e60_sixty_cc_stop_before_the_top() {
        let report = judge(&asked(60.0));
        let value = |name| report.figure(name).unwrap().value;
        assert!((value("locks_at") - 52.585e-6).abs() < 1e-9);
        assert!((value("stops_before_top") - 1.2765e-3).abs() < 1e-5);
        assert!((value("stops_at").to_degrees() - 12.28).abs() < 0.01);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert_eq!(report.exit_status(), 1);
        assert!(
            report.findings[0]
                .next
                .as_deref()
                .unwrap()
                .contains("by hand")
        );
    }

    /// Source: polytropic compression, n 1.3: 104.5 bar with 40 cm³. *Computed by a general library (Python 3.11, float64).*
    #[test]
    fn short_of_a_lock_is_no_all_clear() {
        let mut asked = asked(40.0);
        asked.inlet_closes = Angle::degrees(50.0).ok();
        let report = judge(&asked);
        assert!((report.figure("peak").unwrap().value - 104.5e5).abs() < 0.1e5);
        assert!(report.finds("short-of-a-lock"));
        assert!(report.headline.as_deref().unwrap().contains("too much"));
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert_eq!(judge(&self::asked(0.0)).verdict, Some(Verdict::Within));
    }

    #[test]
    fn a_negative_volume_is_refused() {
        assert!(judge(&asked(-1.0)).refused);
    }
}
