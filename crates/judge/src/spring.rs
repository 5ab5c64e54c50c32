//! A valve spring as installed: its height after the valve sank, its load on the seat, the room
//! left before its coils meet, and the shim that brings the height back.

use calc::spring::{SpringError, coil_bind_margin, installed_after, load};
use quantity::{Force, Length, Stiffness, Unit, show, show_fixed, unit};
use report::{Ask, Figure, Finding, Report, Source, Weight};

const COMMAND: &str = "spring";
const TITLE: &str = "Valve spring as installed";

/// The least room between coils at full lift, in millimetres. *Common practice, no source.*
const ROOM_MM: f64 = 1.0;

/// The question.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Its rate.
    pub rate: Stiffness,
    /// Its length when free.
    pub free: Length,
    /// Its installed height before the valve sank.
    pub height: Length,
    /// How far the valve sank when its seat was cut.
    pub sink: Option<Length>,
    /// The lift of the valve.
    pub lift: Option<Length>,
    /// Its length with the coils together.
    pub solid: Option<Length>,
    /// The unit to show lengths in.
    pub unit: Unit,
}

/// Answers.
#[must_use]
pub fn judge(asked: &Spring) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("spring", "", fault.to_string())
            .next("read rate, free length and installed height again, with their units");
        Report::refusal(COMMAND, TITLE, finding)
    })
}

fn answer(asked: &Spring) -> Result<Report, SpringError> {
    let newtons = |force: Force| show_fixed(force, &unit::NEWTON, 0);
    let length = |length: Length| show(length, &asked.unit);
    let mut report = Report::new(COMMAND, TITLE);
    let before = load(asked.rate, asked.free, asked.height)?;
    let height = match asked.sink {
        Some(sink) => installed_after(asked.height, sink)?,
        None => asked.height,
    };
    let now = load(asked.rate, asked.free, height)?;
    report.figures.push(Figure::new(
        "height",
        "installed height",
        height,
        length(height),
    ));
    report
        .figures
        .push(Figure::new("load", "load on the seat", now, newtons(now)));
    report.headline = Some(match asked.sink {
        Some(sink) => {
            report.figures.push(
                Figure::new("shim", "shim that brings it back", sink, length(sink))
                    .note("as thick as the valve sank"),
            );
            format!(
                "The seat is pressed with {} instead of {}; a shim of {} brings it back.",
                newtons(now),
                newtons(before),
                length(sink)
            )
        }
        None => format!("The seat is pressed with {}.", newtons(now)),
    });
    room(&mut report, asked)?;
    report
        .because
        .push("load = rate × (free length − installed height)".to_owned());
    report.asks.push(Ask::new(
        "the maker's height and load",
        "whether this is right only they say.",
        "Look in the head section; measure the free length of every spring too.",
    ));
    report.cite(Source::common_practice(
        "1.0 to 1.5 mm between the coils at full lift; shims under springs as thick as the valve sank",
    ));
    Ok(report)
}

/// The room between the coils at full lift, with the shim in: there it is least.
fn room(report: &mut Report, asked: &Spring) -> Result<(), SpringError> {
    let (Some(lift), Some(solid)) = (asked.lift, asked.solid) else {
        return Ok(());
    };
    let left = coil_bind_margin(asked.height, lift, solid)?;
    let shown = show(left, &asked.unit);
    report.figures.push(
        Figure::new("room", "room at full lift", left, shown.clone())
            .note("at the height a shim brings it back to"),
    );
    if left.in_mm() < ROOM_MM {
        let weight = if left.in_mm() <= 0.0 {
            Weight::Stop
        } else {
            Weight::Look
        };
        report.findings.push(
            Finding::new(
                "coil-bind",
                "",
                format!("{shown} is left between the coils at full lift; 1.0 mm is usual"),
            )
            .points_to("coils that meet stop the valve and break the cam drive")
            .next("another spring, or less shim; measure lift and solid length again")
            .weight(weight),
        );
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use quantity::unit::MILLIMETRE;

    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn spring(sink: Option<f64>) -> Spring {
        Spring {
            rate: Stiffness::newtons_per_mm(35.0).unwrap(),
            free: mm(48.0),
            height: mm(40.0),
            sink: sink.map(mm),
            lift: Some(mm(9.0)),
            solid: Some(mm(29.5)),
            unit: MILLIMETRE,
        }
    }

    /// Source: rate 35 N/mm, free 48, installed 40: 280 N; sunk by 0.4: 266 N. *Computed by a
    /// general library (Python 3.11 floats): k·(L₀ − H).*
    #[test]
    fn e34_seat_load_after_the_valve_sank() {
        let value = |sink, name| judge(&spring(sink)).figure(name).unwrap().value;
        assert!((value(None, "load") - 280.0).abs() < 1e-6);
        assert!((value(Some(0.4), "load") - 266.0).abs() < 1e-6);
        assert!((value(Some(0.4), "shim") - 0.4e-3).abs() < 1e-12);
    }

    #[test]
    fn coils_that_meet_are_told_and_a_slack_spring_is_refused() {
        assert!(!judge(&spring(None)).finds("coil-bind"));
        let bound = Spring {
            lift: Some(mm(11.0)),
            ..spring(None)
        };
        let report = judge(&bound);
        assert!(report.finds("coil-bind") && report.exit_status() == 1);
        let slack = Spring {
            height: mm(49.0),
            ..spring(None)
        };
        assert_eq!(judge(&slack).exit_status(), 2);
    }
}
