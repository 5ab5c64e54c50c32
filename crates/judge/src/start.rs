//! The start sheet: what to have at hand, the first minutes, when to stop, what to watch after.
//!
//! The times come from the book's fluids where it has them. The maker's start procedure wins
//! over every line of it.

use calc::prime::{PrimeError, fuel, key_pulses};
use calc::starter::Duty;
use job::State;
use quantity::unit::{LITRE, SECOND};
use quantity::{Duration, Flow, NotFinite, Volume, show, show_fixed};
use report::{
    Align, Ask, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Verdict, Weight,
};
use thiserror::Error;

const COMMAND: &str = "start";
const TITLE: &str = "First start";

/// What only the workshop knows of the fuel side.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FuelSide {
    /// Line, filter and rail.
    pub volume: Option<Volume>,
    /// Pump flow at working pressure.
    pub flow: Option<Flow>,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Prime(#[from] PrimeError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The first minutes and the weeks after: when, what to look at, what is right, when to stop.
const MINUTES: [(&str, &str, &str, &str); 14] = [
    (
        "before",
        "plugs out, two turns by hand",
        "no hard spot, bores dry",
        "hard spot or liquid: never force it",
    ),
    (
        "before",
        "spin, plugs out, fuel and ignition off",
        "a mechanical gauge moves",
        "no pressure after twice the priming time",
    ),
    (
        "before",
        "plugs in, key on and off, no cranking",
        "pump heard, no fuel anywhere",
        "any smell or drip of fuel",
    ),
    (
        "0 s",
        "start",
        "fires within a few bursts",
        "backfire, grinding, no pressure",
    ),
    (
        "5 to 10 s",
        "oil pressure",
        "gauge up, lamp out",
        "no pressure: off at once",
    ),
    (
        "1 min",
        "walk round: fuel, oil, coolant",
        "dry",
        "fuel leak, or a stream of anything",
    ),
    (
        "2 min",
        "listen",
        "tappets quieten, idle settles",
        "knock from below, scraping, chain rattle that stays",
    ),
    (
        "5 min",
        "level in the bottle, cap shut",
        "falls a little as air leaves",
        "bubbles that never stop, hose hard from cold",
    ),
    (
        "until warm",
        "heater on hot, gauge, top hose",
        "hose hot suddenly as the thermostat opens",
        "gauge past normal, heater cold while it climbs",
    ),
    (
        "fans on",
        "leaks again, fans",
        "fans come and go",
        "fans stay silent past the normal gauge mark",
    ),
    (
        "cold again",
        "oil and coolant level, drips below",
        "top up once, then steady",
        "level falls each time, oil milky",
    ),
    (
        "3 warm-ups",
        "coolant level cold, same mark",
        "no change",
        "it keeps falling: cold pressure test",
    ),
    (
        "each 100 km",
        "levels, first 1,000 km",
        "no change",
        "any loss twice running",
    ),
    (
        "early",
        "oil and filter change",
        "at the maker's figure, else within 1,000 km",
        "glitter or milk in what runs out",
    ),
];

/// The start sheet of a job.
#[must_use]
pub fn sheet(state: &State, side: FuelSide) -> Report {
    answer(state, side).unwrap_or_else(|fault| {
        let finding =
            Finding::new("prime", "fuel", fault.to_string()).next("check the figure and its unit");
        Report::refusal(COMMAND, TITLE, finding)
    })
}

fn answer(state: &State, side: FuelSide) -> Result<Report, Unanswerable> {
    let mut report = Report::new(COMMAND, TITLE);
    gate(state, &mut report);
    starter(&mut report)?;
    fuel_prime(side, &mut report)?;
    fluids(state, &mut report);
    minutes(&mut report);
    normal(state, &mut report);
    care(&mut report);
    Ok(report)
}

/// The sheet is no way round the gates.
fn gate(state: &State, report: &mut Report) {
    let mut shut = Vec::new();
    for name in ["spin", "fire"] {
        if crate::gate::gate(state, None, name).verdict == Some(Verdict::Closed) {
            shut.push(name);
        }
    }
    report.headline = Some(if shut.is_empty() {
        "Gates open. One person at the key, one at the engine.".to_owned()
    } else {
        report.findings.push(
            Finding::new(
                "gate-closed",
                shut.join(", "),
                format!("closed: {}", shut.join(", ")),
            )
            .next("matchmark gate NAME says what closes it")
            .weight(Weight::Stop),
        );
        "Not yet: a gate is closed.".to_owned()
    });
}

fn starter(report: &mut Report) -> Result<(), Unanswerable> {
    let duty = Duty::petrol()?;
    report.figures.push(
        Figure::new(
            "burst",
            "starter on",
            duty.on,
            show_fixed(duty.on, &SECOND, 0),
        )
        .note("at most; many makers say 10 s, and the smaller holds"),
    );
    report.figures.push(Figure::new(
        "rest",
        "starter rest",
        duty.rest,
        show_fixed(duty.rest, &SECOND, 0),
    ));
    report.cite(Source::new(
        SourceKind::Published,
        "starter duty: SAE J1375, practice as quoted",
    ));
    Ok(())
}

fn fuel_prime(side: FuelSide, report: &mut Report) -> Result<(), Unanswerable> {
    let (Some(volume), Some(flow)) = (side.volume, side.flow) else {
        report.asks.push(Ask::new(
            "fuel volume and pump flow",
            "how many times the key goes on before the rail is full hangs on them.",
            "Give --fuel-volume and --fuel-flow; without them, key on and off until the pump sounds loaded.",
        ));
        return Ok(());
    };
    let time = fuel(volume, flow)?;
    let pulses = key_pulses(time, Duration::seconds(2.0)?)?;
    report.figures.push(
        Figure::new(
            "fuel_time",
            "fuel prime",
            time,
            show_fixed(time, &SECOND, 0),
        )
        .note("the pump must run this long"),
    );
    report.figures.push(
        Figure::count(
            "key_pulses",
            "key on and off",
            usize::try_from(pulses).unwrap_or(usize::MAX),
        )
        .note("2 s of pump each"),
    );
    Ok(())
}

/// What to have at hand, from the book's circuits.
fn fluids(state: &State, report: &mut Report) {
    let mut at_hand = vec!["extinguisher, rags, torch, a mechanical oil gauge".to_owned()];
    for circuit in &state.known.circuits {
        if !state.applies(&circuit.when) {
            continue;
        }
        let name = circuit
            .label
            .clone()
            .unwrap_or_else(|| circuit.id.to_string());
        let fluid = circuit.fluid.known().cloned().unwrap_or_default();
        let holds = circuit
            .capacity
            .known()
            .map(|volume| format!("holds {}", show(*volume, &LITRE)));
        let words: Vec<String> = [Some(fluid).filter(|fluid| !fluid.is_empty()), holds]
            .into_iter()
            .flatten()
            .collect();
        if words.is_empty() {
            at_hand.push(name);
        } else {
            at_hand.push(format!("{name} to top up ({})", words.join(", ")));
        }
    }
    report
        .because
        .push(format!("At hand: {}.", at_hand.join("; ")));
}

fn minutes(report: &mut Report) {
    let mut table = Table::new(&[
        ("when", "when", Align::Left),
        ("look_at", "look at", Align::Left),
        ("right", "right", Align::Left),
        ("stop", "stop when", Align::Left),
    ]);
    for (when, look, right, stop) in MINUTES {
        table.push(vec![
            Cell::from(when),
            Cell::from(look),
            Cell::from(right),
            Cell::from(stop),
        ]);
    }
    report.rows = table;
}

/// What alarms and is normal, and when it no longer is.
fn normal(state: &State, report: &mut Report) {
    let fuel_was_open = state.lines.iter().any(|(id, _)| {
        state
            .known
            .line(id)
            .and_then(|line| line.medium.known())
            .is_some_and(|medium| *medium == book::Medium::Fuel)
    });
    let why = if fuel_was_open {
        "fuel lines were open in this job"
    } else {
        "after fuel lines were open"
    };
    report.because.push(format!(
        "Long cranking is normal ({why}): air must leave first. Not normal after the pump primed and three full bursts: check spark, fuel pressure and timing instead of going on."
    ));
    report.because.push("Smoke from a hot exhaust is normal while oil and coolant burn off outside it, 5 to 15 min, getting less. Not normal: white and sweet from the tail pipe, or no less after a quarter of an hour: stop, look at the level, test for combustion gas.".to_owned());
    report.because.push("Retighten a head only where the maker or the gasket's maker asks for it, cold, after the heat cycles they name; multi-layer steel asks for none.".to_owned());
    report.because.push("A filling of cheap oil that is thrown away after the first warm run carries out what was left inside.".to_owned());
}

fn care(report: &mut Report) {
    report.cautions.push(Caution::new(
        "first start",
        "outdoors or extracted, no open fuel, hands and clothes clear of belts and fans: electric fans run on after the key is off. The maker's start procedure comes first.",
    ));
    report.cautions.push(Caution::new(
        "hot cap",
        "stays shut until cold: under pressure the coolant is above its open boiling point.",
    ));
    report.cautions.push(Caution::new(
        "new flat-tappet cam",
        "prove spark and fuel first; it wants about 2,000 rpm at once and no idling, as its maker says.",
    ));
    report.cite(Source::common_practice(
        "the timed list, what is normal, the watch list",
    ));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: 0.6 L at 100 L/h takes 21.6 s, eleven pulses of 2 s. *Arithmetic.*
    #[test]
    fn fuel_is_primed_by_key_pulses() {
        let side = FuelSide {
            volume: Volume::litres(0.6).ok(),
            flow: quantity::read::read::<Flow>("100 L/h")
                .ok()
                .map(|said| said.value),
        };
        let report = sheet(&State::default(), side);
        let pulses = report.figure("key_pulses").unwrap();
        assert_eq!(pulses.shown, "11");
        assert!(report.asks.is_empty());
    }

    #[test]
    fn without_figures_it_asks_and_still_lists_the_minutes() {
        let report = sheet(&State::default(), FuelSide::default());
        assert_eq!(report.asks.len(), 1);
        assert_eq!(report.rows.rows.len(), MINUTES.len());
        assert!(
            report
                .because
                .iter()
                .any(|line| line.contains("Not normal"))
        );
    }
}
