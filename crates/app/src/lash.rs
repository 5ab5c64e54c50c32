//! Valve lash: a sheet of clearances and shims into a question for the judge.

use std::path::PathBuf;

use calc::lash::Aim;
use files::Csv;
use judge::lash::{Adjuster, After, Lash, Port, Valve, judge};
use quantity::{Length, Range, plausible, unit};
use report::Report;

use crate::option::Options;
use crate::readings;

const COMMAND: &str = "lash";
const TITLE: &str = "Valve lash";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The sheet: columns valve, kind, clearance and shim.
    pub file: PathBuf,
    /// The clearance of an inlet valve.
    pub inlet: String,
    /// The clearance of an exhaust valve.
    pub exhaust: String,
    /// Single shims at hand.
    pub stock: Option<String>,
    /// The step of sizes sold.
    pub step: Option<String>,
    /// `shim`, `over`, `under`, `screw` or `hydraulic`.
    pub adjuster: Option<String>,
    /// `fewest-to-buy` or `fewest-disturbed`.
    pub aim: Option<String>,
    /// A sealant film that is not there while measuring.
    pub film: Option<String>,
    /// How far the valves sank when seats were cut after the readings.
    pub seats_cut: Option<String>,
    /// Advance of an adjusting screw per turn.
    pub pitch: Option<String>,
    /// A second sheet: clearances with the new shims in.
    pub after: Option<PathBuf>,
}

/// Judges a sheet and chooses shims.
#[must_use]
pub fn lash(asked: &Asked) -> Report {
    let mut csv = match readings::open(COMMAND, TITLE, &asked.file) {
        Ok(csv) => csv,
        Err(refusal) => return *refusal,
    };
    let mut second = match asked
        .after
        .as_deref()
        .map(|path| readings::open(COMMAND, TITLE, path))
    {
        None => None,
        Some(Ok(csv)) => Some(csv),
        Some(Err(refusal)) => return *refusal,
    };
    let mut options = Options::of(COMMAND);
    let question = question(asked, &mut options, &mut csv, second.as_mut());
    let faulty = second.as_ref().is_some_and(|csv| !csv.faults().is_empty());
    match question {
        Some(question) if options.clean() && csv.faults().is_empty() && !faulty => {
            let mut report = judge(&question);
            readings::mention_unused(&mut report, &csv);
            report
        }
        _ => {
            let mut report = readings::refusal(options, TITLE, &csv);
            if let Some(second) = second {
                report
                    .findings
                    .extend(second.faults().iter().map(report::Finding::from));
            }
            report
        }
    }
}

fn question(
    asked: &Asked,
    options: &mut Options,
    csv: &mut Csv,
    second: Option<&mut Csv>,
) -> Option<Lash> {
    let inlet = window(options, "--inlet", &asked.inlet);
    let exhaust = window(options, "--exhaust", &asked.exhaust);
    let stock = match asked
        .stock
        .as_deref()
        .filter(|text| !text.trim().is_empty())
    {
        Some(text) => options
            .list::<Length>("--stock", text)
            .map(|said| said.value.into_iter().flatten().collect()),
        None => Some(Vec::new()),
    };
    let step = options.maybe::<Length>("--step", asked.step.as_deref());
    let film = options.maybe::<Length>("--film", asked.film.as_deref());
    let sink = options.maybe_likely::<Length>(
        "--seats-cut",
        asked.seats_cut.as_deref(),
        &plausible::VALVE_CLEARANCE,
    );
    let pitch = options.maybe::<Length>("--pitch", asked.pitch.as_deref());
    let adjuster = adjuster(options, asked.adjuster.as_deref());
    let aim = aim(options, asked.aim.as_deref());
    let needs_shim = !matches!(adjuster, Some(Adjuster::Screw | Adjuster::Hydraulic));
    let valves = valves(csv, needs_shim);
    let after = second.map(afterwards).unwrap_or_default();
    Some(Lash {
        valves,
        inlet: inlet?,
        exhaust: exhaust?,
        stock: stock?,
        step: step.map(|said| said.value),
        adjuster: adjuster?,
        aim: aim?,
        film: film.map(|said| said.value),
        sink: sink.map(|said| said.value),
        pitch: pitch.map(|said| said.value),
        after,
        unit: csv.unit::<Length>("clearance").unwrap_or(unit::MILLIMETRE),
    })
}

/// The clearance a kind of valve must have; a window out of all proportion is a slip.
fn window(options: &mut Options, name: &str, text: &str) -> Option<Range<Length>> {
    let window = options.range::<Length>(name, text)?.value;
    match plausible::VALVE_CLEARANCE.check(window.high) {
        Ok(()) => Some(window),
        Err(fault) => {
            options.fault(
                name,
                fault.to_string(),
                "read both ends again: `0.006..0.010 in`",
            );
            None
        }
    }
}

fn valves(csv: &mut Csv, needs_shim: bool) -> Vec<Valve> {
    let names = csv.words("valve");
    let kinds = csv.words("kind");
    let clearances = csv.bounds::<Length>("clearance");
    let shims = if needs_shim || csv.has("shim") {
        csv.quantities::<Length>("shim")
    } else {
        vec![None; csv.len()]
    };
    let mut valves: Vec<Valve> = Vec::new();
    let rows = names
        .into_iter()
        .zip(kinds)
        .zip(clearances.into_iter().zip(shims));
    for (row, ((name, kind), (clearance, shim))) in rows.enumerate() {
        let port = match kind.as_deref().map(str::to_lowercase).as_deref() {
            Some("inlet" | "intake" | "in") => Port::Inlet,
            Some("exhaust" | "ex") => Port::Exhaust,
            _ if !csv.has("kind") => continue,
            _ => {
                csv.fault(
                    row,
                    "kind",
                    "a valve is inlet or exhaust",
                    "write inlet or exhaust",
                );
                continue;
            }
        };
        let Some(name) = name else {
            if csv.has("valve") {
                csv.fault(
                    row,
                    "valve",
                    "a valve without a name",
                    "give it a name of its own, as in I1 or 2 exhaust left",
                );
            }
            continue;
        };
        if valves
            .iter()
            .any(|valve| valve.name.eq_ignore_ascii_case(&name))
        {
            csv.fault(
                row,
                "valve",
                format!("`{name}` stands twice"),
                "give every valve a name of its own",
            );
            continue;
        }
        valves.push(Valve {
            name,
            port,
            clearance,
            shim,
        });
    }
    valves
}

fn afterwards(csv: &mut Csv) -> Vec<After> {
    let names = csv.words("valve");
    let clearances = csv.bounds::<Length>("clearance");
    let shims = csv.quantities::<Length>("shim");
    names
        .into_iter()
        .zip(clearances.into_iter().zip(shims))
        .filter_map(|(name, (clearance, shim))| {
            Some(After {
                name: name?,
                clearance: clearance?,
                shim: shim?,
            })
        })
        .collect()
}

fn adjuster(options: &mut Options, text: Option<&str>) -> Option<Adjuster> {
    Some(match text {
        None | Some("shim") => Adjuster::Shim,
        Some("over") => Adjuster::ShimOver,
        Some("under") => Adjuster::ShimUnder,
        Some("screw") => Adjuster::Screw,
        Some("hydraulic") => Adjuster::Hydraulic,
        Some(word) => {
            options.fault(
                "--adjuster",
                format!("“{word}” is no adjuster we know"),
                "shim, over, under, screw or hydraulic",
            );
            return None;
        }
    })
}

fn aim(options: &mut Options, text: Option<&str>) -> Option<Option<Aim>> {
    Some(match text {
        None => None,
        Some("fewest-to-buy") => Some(Aim::FewestToBuy),
        Some("fewest-disturbed") => Some(Aim::FewestDisturbed),
        Some(word) => {
            options.fault(
                "--aim",
                format!("“{word}” is no aim"),
                "fewest-to-buy or fewest-disturbed",
            );
            return None;
        }
    })
}
