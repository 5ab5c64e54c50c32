//! The start sheet: what to have at hand, the first minutes, when to stop, what to watch after.
//!
//! The times come from the book's fluids where it has them. The maker's start procedure wins
//! over every line of it.

use book::{Circuit, Lights, Medium};
use calc::prime::{PrimeError, fuel, key_pulses, oil};
use calc::starter::{Duty, StarterError, bursts};
use job::State;
use quantity::unit::{LITRE, SECOND};
use quantity::{Duration, Flow, NotFinite, RotationalSpeed, Volume, show, show_fixed};
use report::{
    Align, Ask, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Weight,
};
use thiserror::Error;

use crate::after;

const COMMAND: &str = "start";
const TITLE: &str = "First start";

/// Cranking speed of a warm engine on a full battery. *Common practice, no source.*
const CRANKING_RPM: f64 = 200.0;

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
    Starter(#[from] StarterError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// The first minutes and the weeks after: when, what to look at, what is right, when to stop.
const MINUTES: [(&str, &str, &str, &str); 16] = [
    (
        "before",
        "cheap oil of the right grade in, to be thrown away; new filter",
        "level at the mark",
        "milk or glitter on the stick",
    ),
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
        "same day, warm",
        "the throw-away oil out, new filter, good oil in",
        "dark, grey from assembly paste",
        "chips or milk: find out where from before it runs again",
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
        "by 1,000 km",
        "oil and filter once more",
        "at the maker's figure, else here",
        "glitter or milk in what runs out",
    ),
];

/// The start sheet of a job. `shut` names the gates in its way that are closed.
#[must_use]
pub fn sheet(state: &State, side: FuelSide, shut: &[&str]) -> Report {
    answer(state, side, shut).unwrap_or_else(|fault| {
        let finding =
            Finding::new("prime", "fuel", fault.to_string()).next("check the figure and its unit");
        Report::refusal(COMMAND, TITLE, finding)
    })
}

fn answer(state: &State, side: FuelSide, shut: &[&str]) -> Result<Report, Unanswerable> {
    let mut report = Report::new(COMMAND, TITLE);
    gate(shut, &mut report);
    let duty = starter(state, &mut report)?;
    oil_prime(state, duty, &mut report)?;
    fuel_prime(state, side, &mut report)?;
    fluids(state, &mut report);
    minutes(&mut report);
    retighten(state, &mut report);
    report.findings.extend(after::open(state));
    normal(state, &mut report);
    care(&mut report);
    Ok(report)
}

/// The sheet is no way round the gates.
fn gate(shut: &[&str], report: &mut Report) {
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

/// Bursts and rests. Where the book does not say how the engine lights its charge the shorter
/// burst holds for both.
fn starter(state: &State, report: &mut Report) -> Result<Duty, Unanswerable> {
    let lights = state
        .known
        .engine
        .as_ref()
        .and_then(|engine| engine.lights.known());
    let duty = match lights {
        Some(Lights::Compression) => Duty::diesel()?,
        Some(Lights::Spark) | None => Duty::petrol()?,
    };
    if lights.is_none() && state.known.engine.is_some() {
        report.asks.push(Ask::new(
            "what lights the charge",
            "a diesel's starter may turn twice as long in one burst.",
            "Write lights=spark or lights=compression at the engine in the book.",
        ));
    }
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
    Ok(duty)
}

/// The circuit of a medium that exists in this vehicle.
fn circuit(state: &State, medium: Medium) -> Option<&Circuit> {
    state
        .known
        .circuits
        .iter()
        .find(|circuit| circuit.medium == medium && state.applies(&circuit.when))
}

/// How long the starter must turn before oil stands at the far end: that is spinning already.
fn oil_prime(state: &State, duty: Duty, report: &mut Report) -> Result<(), Unanswerable> {
    let known = circuit(state, Medium::Oil);
    let facts = known.map(|circuit| {
        (
            circuit.line_volume.known().copied(),
            circuit.pump_per_turn.known().copied(),
            circuit.pump_efficiency.known().copied(),
        )
    });
    let Some((Some(volume), Some(per_turn), Some(share))) = facts else {
        report.asks.push(Ask::new(
            "what the oil pump must fill, and what it moves",
            "how many turns of the starter stand before oil pressure hangs on them.",
            "Write line-volume=, pump-per-turn= and pump-efficiency= at the oil circuit in the book, or see `matchmark prime oil`; without them only the gauge tells.",
        ));
        return Ok(());
    };
    let prime = oil(volume, per_turn, share, RotationalSpeed::rpm(CRANKING_RPM)?)?;
    let parted = bursts(prime.time, duty)?;
    let turns = prime.turns.in_fraction();
    report.figures.push(
        Figure::number(
            "oil_turns",
            "oil prime, turns",
            turns,
            format!("{turns:.0}"),
        )
        .note("of the crank, plugs out, fuel and ignition off; the spin gate comes first"),
    );
    report.figures.push(
        Figure::new(
            "oil_time",
            "oil prime, time",
            prime.time,
            show_fixed(prime.time, &SECOND, 0),
        )
        .note(format!(
            "at {CRANKING_RPM:.0} turns a minute, in {}; {} with the rests",
            counted_bursts(parted.count),
            show_fixed(parted.whole, &SECOND, 0)
        )),
    );
    report.figures.push(Figure::count(
        "oil_bursts",
        "oil prime, bursts",
        usize::try_from(parted.count).unwrap_or(usize::MAX),
    ));
    Ok(())
}

fn counted_bursts(count: u32) -> String {
    match count {
        1 => "one burst".to_owned(),
        count => format!("{count} bursts"),
    }
}

/// What was typed wins over what the book says.
fn fuel_prime(state: &State, side: FuelSide, report: &mut Report) -> Result<(), Unanswerable> {
    let known = circuit(state, Medium::Fuel);
    let volume = side
        .volume
        .or_else(|| known.and_then(|circuit| circuit.line_volume.known().copied()));
    let flow = side
        .flow
        .or_else(|| known.and_then(|circuit| circuit.pump_flow.known().copied()));
    let (Some(volume), Some(flow)) = (volume, flow) else {
        report.asks.push(Ask::new(
            "fuel volume and pump flow",
            "how many times the key goes on before the rail is full hangs on them.",
            "Give --fuel-volume and --fuel-flow, or write line-volume= and pump-flow= at the fuel circuit in the book; without them, key on and off until the pump sounds loaded.",
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

/// Joints that are tightened once more, as whoever asks for it in the book says.
fn retighten(state: &State, report: &mut Report) {
    for joint in &state.known.joints {
        let Some(again) = joint
            .retighten
            .as_ref()
            .filter(|_| state.applies(&joint.when))
        else {
            continue;
        };
        let warm_ups = again.warm_ups.known().map(|count| match count {
            1 => "1 warm-up".to_owned(),
            count => format!("{count} warm-ups"),
        });
        let after = again.after.typed().map(str::to_owned);
        let when: Vec<String> = [warm_ups, after].into_iter().flatten().collect();
        let cold = match again.cold.known() {
            Some(true) => ", cold",
            Some(false) => ", warm",
            None => "",
        };
        let whose = crate::limit::Limit::<Volume>::of_book(&again.source).whose;
        report.rows.push(vec![
            Cell::from(format!("after {}", when.join(" or "))),
            Cell::from(format!("retighten {}{cold}", state.joint_label(&joint.id))),
            Cell::from(format!("as the book has it ({})", whose.source_words())),
            Cell::from("driven hard before it: the gasket goes on the first trip"),
        ]);
    }
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
        let report = sheet(&State::default(), side, &[]);
        let pulses = report.figure("key_pulses").unwrap();
        assert_eq!(pulses.shown, "11");
        assert!(report.asks.iter().all(|ask| !ask.what.contains("fuel")));
    }

    #[test]
    fn without_figures_it_asks_and_still_lists_the_minutes() {
        let report = sheet(&State::default(), FuelSide::default(), &[]);
        assert_eq!(report.asks.len(), 2, "oil and fuel");
        assert_eq!(report.rows.rows.len(), MINUTES.len());
        assert!(
            report
                .because
                .iter()
                .any(|line| line.contains("Not normal"))
        );
    }

    fn of_book(text: &str) -> Report {
        let (book, faults) = book::read(text);
        assert!(faults.is_empty(), "{faults:?}");
        sheet(&job::replay(Some(&book), &[]), FuelSide::default(), &[])
    }

    /// Source: E-61 and E-62: 0.75 L, 12 cm³ a turn, 0.8, 200 a minute: 78.1 turns, 23.4 s in
    /// two bursts; 0.6 L at 100 L/h: 21.6 s, eleven pulses. *Arithmetic*; duty *published: SAE
    /// J1375, as quoted*.
    #[test]
    fn e61_e62_the_book_says_how_long_priming_takes() {
        let report = of_book(
            "engine I4 lights=spark\ncircuit oil line-volume=\"0.75 L\" pump-per-turn=\"12 cm³\" pump-efficiency=\"80 %\"\ncircuit fuel line-volume=\"0.6 L\" pump-flow=\"100 L/h\"\n",
        );
        let value = |name: &str| report.figure(name).unwrap().value;
        assert!((value("oil_turns") - 78.125).abs() < 0.05);
        assert!((value("oil_time") - 23.4375).abs() < 0.05);
        assert!((value("oil_bursts") - 2.0).abs() < 1e-9);
        assert!((value("fuel_time") - 21.6).abs() < 0.05);
        assert!((value("key_pulses") - 11.0).abs() < 1e-9);
        assert!(report.asks.is_empty(), "{:?}", report.asks);
    }

    /// Source: trap 63, *common practice, no source*: a gasket driven hard before its planned
    /// retightening.
    #[test]
    fn a_joint_the_book_wants_tightened_again_is_on_the_list() {
        let report = of_book(
            "part block fixed=#true\npart head {\n joint head-bolts \"Head bolts\" to=block {\n  holes A..D thread=M10x1.5 length=\"90 mm\"\n  retighten warm-ups=1 after=\"500 km\" cold=#true source=maker\n }\n}\n",
        );
        let row = report.rows.rows.last().unwrap();
        assert_eq!(row[0], Cell::from("after 1 warm-up or 500 km"));
        assert_eq!(row[1], Cell::from("retighten Head bolts, cold"));
        assert_eq!(row[2], Cell::from("as the book has it (maker)"));
        let none = of_book("part block fixed=#true\n");
        assert_eq!(none.rows.rows.len(), MINUTES.len());
    }

    /// Source: *published: SAE J1375, practice as quoted*: 30 s in one burst for a diesel.
    #[test]
    fn a_diesel_starter_turns_thirty_seconds() {
        let diesel = of_book("engine I4 lights=compression\n");
        assert!((diesel.figure("burst").unwrap().value - 30.0).abs() < 1e-9);
        let unsaid = of_book("engine I4\n");
        assert!((unsaid.figure("burst").unwrap().value - 15.0).abs() < 1e-9);
        assert!(unsaid.asks.iter().any(|ask| ask.what.contains("lights")));
    }
}
