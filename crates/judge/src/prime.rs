//! Priming oil and fuel before the first start, in bursts the starter survives.

use calc::prime::{PrimeError, fuel as fuel_time, key_pulses, oil as oil_prime};
use calc::starter::{Duty, StarterError, bursts};
use quantity::unit::SECOND;
use quantity::{Duration, Flow, NotFinite, Ratio, RotationalSpeed, Volume, show_fixed};
use report::{Caution, Figure, Finding, Report, Source, SourceKind};
use thiserror::Error;

/// Oil: filter and galleries to fill, and the pump that fills them.
#[derive(Clone, Copy, Debug)]
pub struct Oil {
    /// Filter and galleries.
    pub volume: Volume,
    /// What the pump displaces in one crank turn.
    pub per_turn: Volume,
    /// Share of that it delivers.
    pub efficiency: Ratio,
    /// Cranking or drill speed.
    pub speed: RotationalSpeed,
    /// A diesel starter may turn longer.
    pub diesel: bool,
}

/// Fuel: line, filter and rail to fill, and the flow that fills them.
#[derive(Clone, Copy, Debug)]
pub struct Fuel {
    /// Line, filter and rail.
    pub volume: Volume,
    /// Pump flow at working pressure.
    pub flow: Flow,
    /// How long the pump runs at each key-on; 2 s where not told.
    pub pulse: Option<Duration>,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Prime(#[from] PrimeError),
    #[error(transparent)]
    Starter(#[from] StarterError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

fn refusal(title: &str, fault: &Unanswerable) -> Report {
    let finding =
        Finding::new("prime", "figures", fault.to_string()).next("check the figure and its unit");
    Report::refusal("prime", title, finding)
}

/// Turns, time and bursts to prime the oil.
#[must_use]
pub fn oil(asked: &Oil) -> Report {
    let title = "Priming the oil";
    oil_answer(asked, title).unwrap_or_else(|fault| refusal(title, &fault))
}

fn oil_answer(asked: &Oil, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("prime", title);
    let prime = oil_prime(asked.volume, asked.per_turn, asked.efficiency, asked.speed)?;
    let duty = if asked.diesel {
        Duty::diesel()?
    } else {
        Duty::petrol()?
    };
    let parted = bursts(prime.time, duty)?;
    let turns = prime.turns.in_fraction();
    report.figures.push(Figure::number(
        "turns",
        "crank turns",
        turns,
        format!("{turns:.0}"),
    ));
    report.figures.push(Figure::new(
        "time",
        "turning time",
        prime.time,
        show_fixed(prime.time, &SECOND, 1),
    ));
    report.figures.push(
        Figure::count(
            "bursts",
            "bursts",
            usize::try_from(parted.count).unwrap_or(usize::MAX),
        )
        .note(format!(
            "{} on, {} rest; where the maker says less, less holds",
            show_fixed(duty.on, &SECOND, 0),
            show_fixed(duty.rest, &SECOND, 0)
        )),
    );
    report.figures.push(Figure::new(
        "whole",
        "with the rests",
        parted.whole,
        show_fixed(parted.whole, &SECOND, 0),
    ));
    report.headline = Some(format!(
        "About {turns:.0} turns, {} of turning in {} bursts; stop only when a mechanical gauge moves.",
        show_fixed(prime.time, &SECOND, 0),
        parted.count
    ));
    report.because.push("The gauge decides, not the arithmetic: a pump that has lost its prime delivers nothing however long it turns. No pressure after twice this time: stop, prime the pump with oil or petroleum jelly.".to_owned());
    report.because.push("Fill a filter that hangs down before fitting it; where a drill can drive the pump, that spares the cam.".to_owned());
    report.cautions.push(Caution::new(
        "spinning without firing",
        "plugs out, fuel and ignition disabled by the maker's way, no flame at the plug holes; a flat-tappet cam wears while it hunts for spark, so prove the ignition first.",
    ));
    report.cite(Source::new(
        SourceKind::Published,
        "starter duty: SAE J1375, practice as quoted",
    ));
    Ok(report)
}

/// Time and key-on pulses to prime the fuel.
#[must_use]
pub fn fuel(asked: &Fuel) -> Report {
    let title = "Priming the fuel";
    fuel_answer(asked, title).unwrap_or_else(|fault| refusal(title, &fault))
}

fn fuel_answer(asked: &Fuel, title: &str) -> Result<Report, Unanswerable> {
    let mut report = Report::new("prime", title);
    let time = fuel_time(asked.volume, asked.flow)?;
    let pulse = match asked.pulse {
        Some(pulse) => pulse,
        None => Duration::seconds(2.0)?,
    };
    let pulses = key_pulses(time, pulse)?;
    report.figures.push(Figure::new(
        "time",
        "pump time",
        time,
        show_fixed(time, &SECOND, 1),
    ));
    report.figures.push(
        Figure::count(
            "pulses",
            "key-on pulses",
            usize::try_from(pulses).unwrap_or(usize::MAX),
        )
        .note(format!(
            "of {}{}",
            show_fixed(pulse, &SECOND, 1),
            if asked.pulse.is_none() {
                ", common practice"
            } else {
                ""
            }
        )),
    );
    report.headline = Some(format!(
        "{} of pumping: {pulses} key-on pulses.",
        show_fixed(time, &SECOND, 1)
    ));
    report.because.push("Flow at working pressure, not free flow. Air in the line compresses, so the pressure rises late.".to_owned());
    report.cautions.push(Caution::new(
        "fuel under pressure",
        "outside or extracted, extinguisher at hand, no flame, no hot lamp; look at every joint you opened before and after each pulse.",
    ));
    if asked.pulse.is_none() {
        report.cite(Source::common_practice(
            "a pump that runs about 2 s at key-on",
        ));
    }
    Ok(report)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: 0.75 L at 12 cm³ a turn, 80 %, 200 rpm. *Computed by a general library (Python 3.11
    /// floats): arithmetic.*; duty *published: SAE J1375, as quoted*.
    #[test]
    fn e61_oil_in_two_bursts() {
        let report = oil(&Oil {
            volume: Volume::litres(0.75).unwrap(),
            per_turn: Volume::cc(12.0).unwrap(),
            efficiency: Ratio::fraction(0.8).unwrap(),
            speed: RotationalSpeed::rpm(200.0).unwrap(),
            diesel: false,
        });
        let value = |name| report.figure(name).unwrap().value;
        assert!((value("turns") - 78.125).abs() < 1e-6);
        assert!((value("time") - 23.4).abs() < 0.1);
        assert!((value("bursts") - 2.0).abs() < f64::EPSILON);
        assert!(report.cautions[0].says.contains("plugs out"));
        assert!(report.headline.as_deref().unwrap().contains("gauge moves"));
    }

    /// Source: 0.6 L at 100 L/h. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e62_fuel_in_eleven_pulses() {
        let report = fuel(&Fuel {
            volume: Volume::litres(0.6).unwrap(),
            flow: Flow::litres_per_hour(100.0).unwrap(),
            pulse: None,
        });
        assert!((report.figure("time").unwrap().value - 21.6).abs() < 1e-9);
        assert!((report.figure("pulses").unwrap().value - 11.0).abs() < f64::EPSILON);
    }

    #[test]
    fn nothing_to_pump_is_refused() {
        let none = Fuel {
            volume: Volume::litres(0.6).unwrap(),
            flow: Flow::litres_per_hour(0.0).unwrap(),
            pulse: None,
        };
        assert!(fuel(&none).refused);
    }
}
