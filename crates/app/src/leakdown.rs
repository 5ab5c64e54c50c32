//! Leak-down: option text into a question for the judge.

use judge::layout::Layout;
use judge::leakdown::{Heard, Leakdown, OtherTester, Rule, judge};
use quantity::{GaugePressure, Length, Ratio, plausible, show};
use report::{Finding, Report};

use crate::cranking::layout;
use crate::folder::Folder;
use crate::option::Options;
use crate::typed;

const COMMAND: &str = "leakdown";
const TITLE: &str = "Leak-down";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `I4`, `V6`, `V6:1 3 5/2 4 6`; empty where the job's book is to say.
    pub layout: String,
    /// Loss of each cylinder, the unit once at the end.
    pub loss: String,
    /// Supply pressure.
    pub supply: Option<String>,
    /// Orifice of the tester.
    pub orifice: Option<String>,
    /// Height of the workshop.
    pub altitude: Option<String>,
    /// Where air was heard: `4 intake, 2 oil filler`.
    pub heard: Option<String>,
    /// A named rule, or the maker's figure such as `15 %`.
    pub rule: Option<String>,
    /// Cranking readings of the same engine.
    pub cranking: Option<String>,
    /// `2` or `4` strokes to the cycle.
    pub cycle: Option<u32>,
    /// What each cylinder held of the supply, instead of the losses.
    pub held: Option<String>,
    /// How far the tester may be off, in points of loss.
    pub accuracy: Option<String>,
    /// How well a loss repeats, in points of loss.
    pub repeatability: Option<String>,
    /// Supply of another tester.
    pub other_supply: Option<String>,
    /// Orifice of another tester.
    pub other_orifice: Option<String>,
}

/// Judges leak-down readings.
#[must_use]
pub fn leakdown(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

/// Judges the job's last leak-down readings over the engine of its book. What was typed wins.
#[must_use]
pub fn of_job(folder: &Folder, asked: &Asked) -> Report {
    let mut asked = asked.clone();
    let state = &folder.state;
    let last = |words: &[&str]| {
        state.readings.iter().rev().find(|(_, found)| {
            let of = found.of.to_lowercase().replace('-', " ");
            found.numbers && words.iter().any(|word| of.starts_with(word))
        })
    };
    let typed = !asked.loss.is_empty() || asked.held.is_some();
    let read = if typed {
        None
    } else {
        last(&["leak down", "leakdown"])
    };
    match read {
        Some((_, found)) => asked.loss.clone_from(&found.values),
        None if typed => {}
        None => {
            let finding = Finding::new(
                "no-readings",
                "readings",
                "the job has no leak-down readings",
            )
            .next("write `read leak-down: 6 8 5 40 %`, or give --loss");
            return Report::refusal(COMMAND, TITLE, finding);
        }
    }
    let engine = state.known.engine.as_ref();
    if asked.layout.is_empty() {
        match engine.map(Layout::of_engine) {
            Some(Ok(layout)) => asked.layout = layout.typed(),
            Some(Err(fault)) => {
                let finding = Finding::new("no-layout", "engine", fault.reason);
                return Report::refusal(COMMAND, TITLE, finding.next(fault.way_out));
            }
            None => {
                let finding =
                    Finding::new("no-layout", "--layout", "the job's book names no engine");
                let way = "give --layout, or put an engine with its banks into the book";
                return Report::refusal(COMMAND, TITLE, finding.next(way));
            }
        }
    }
    asked.cycle = asked
        .cycle
        .or_else(|| engine.and_then(|engine| engine.strokes.known().copied()));
    // The two tests are set side by side where the job has both.
    if asked.cranking.is_none() {
        asked.cranking = last(&["cranking dry", "cranking"]).map(|(_, dry)| dry.values.clone());
    }
    let mut report = leakdown(&asked);
    if let Some((entry, found)) = read {
        let with = if found.conditions.is_empty() {
            String::new()
        } else {
            format!(" ({})", found.conditions.join(", "))
        };
        report
            .because
            .push(format!("The losses are those of entry {entry}{with}."));
    }
    report
}

fn question(asked: &Asked, options: &mut Options) -> Option<Leakdown> {
    let layout = layout(options, &asked.layout);
    let supply = options.maybe::<GaugePressure>("--supply", asked.supply.as_deref());
    let loss = losses(options, asked, supply.as_ref().map(|said| said.value));
    let orifice = options.maybe::<Length>("--orifice", asked.orifice.as_deref());
    let height = options.maybe_likely::<Length>(
        "--altitude",
        asked.altitude.as_deref(),
        &plausible::ALTITUDE,
    );
    let cranking = asked
        .cranking
        .as_deref()
        .and_then(|text| options.list::<GaugePressure>("--cranking", text));
    let heard = heard(options, asked.heard.as_deref());
    let rule = asked.rule.as_deref().and_then(|text| rule(options, text));
    let accuracy = points(options, "--accuracy", asked.accuracy.as_deref());
    let repeatability = points(options, "--repeatability", asked.repeatability.as_deref());
    let other = other(options, asked, supply.is_some() && orifice.is_some());
    if !matches!(asked.cycle, None | Some(2 | 4)) {
        options.fault(
            "--cycle",
            "an engine has 2 or 4 strokes to the cycle",
            "2 or 4",
        );
    }
    Some(Leakdown {
        layout: layout?,
        loss: loss?,
        supply: supply.map(|said| said.value),
        orifice: orifice.map(|said| said.value),
        height: height.map(|said| said.value),
        heard,
        rule,
        cranking: cranking.map(|said| said.value),
        two_stroke: asked.cycle == Some(2),
        accuracy,
        repeatability,
        other,
    })
}

/// The losses as typed, or worked out from what each cylinder held of the supply.
fn losses(
    options: &mut Options,
    asked: &Asked,
    supply: Option<GaugePressure>,
) -> Option<Vec<Option<Ratio>>> {
    let Some(held) = asked.held.as_deref() else {
        return options
            .list::<Ratio>("--loss", &asked.loss)
            .map(|said| said.value);
    };
    let held = options.list::<GaugePressure>("--held", held)?.value;
    let Some(supply) = supply else {
        options.fault(
            "--held",
            "what a cylinder holds says nothing without the supply",
            "give --supply too, such as 80 psi",
        );
        return None;
    };
    let unit = typed::unit_of::<GaugePressure>(asked.held.as_deref().unwrap_or_default());
    let mut losses = Vec::new();
    for (cylinder, held) in (1..).zip(held) {
        let loss = held.map(|held| calc::leakdown::loss(supply, held));
        match loss.transpose() {
            Ok(loss) => losses.push(loss),
            Err(_) => {
                let says = format!(
                    "cylinder {cylinder} cannot hold {} of a supply of {}",
                    held.map_or_else(String::new, |held| show(held, &unit)),
                    show(supply, &unit)
                );
                options.fault("--held", says, "read both gauges again");
                return None;
            }
        }
    }
    Some(losses)
}

/// Points of loss; less than none cannot be.
fn points(options: &mut Options, name: &str, text: Option<&str>) -> Option<Ratio> {
    let points = options.maybe::<Ratio>(name, text)?.value;
    if points.in_fraction() < 0.0 {
        options.fault(
            name,
            "a tester cannot be off by less than nothing",
            "write 3 %",
        );
        return None;
    }
    Some(points)
}

/// The other tester; both of its figures, and both of this one, or none.
fn other(options: &mut Options, asked: &Asked, known: bool) -> Option<OtherTester> {
    let supply = options.maybe::<GaugePressure>("--other-supply", asked.other_supply.as_deref());
    let orifice = options.maybe::<Length>("--other-orifice", asked.other_orifice.as_deref());
    if asked.other_supply.is_none() && asked.other_orifice.is_none() {
        return None;
    }
    if !known || asked.other_supply.is_none() || asked.other_orifice.is_none() {
        options.fault(
            "--other-supply",
            "a loss is carried over from tester to tester by the hole it stands for",
            "give --supply, --orifice, --other-supply and --other-orifice together",
        );
        return None;
    }
    Some(OtherTester {
        supply: supply?.value,
        orifice: orifice?.value,
    })
}

fn heard(options: &mut Options, text: Option<&str>) -> Vec<Heard> {
    match text.map(Heard::read) {
        None => Vec::new(),
        Some(Ok(heard)) => heard,
        Some(Err(part)) => {
            options.fault(
                "--heard",
                format!("{part:?} names no place where air comes out"),
                "a cylinder and one of intake, exhaust, oil filler, radiator, neighbour: 4 intake, 2 oil filler",
            );
            Vec::new()
        }
    }
}

fn rule(options: &mut Options, text: &str) -> Option<Rule> {
    if let Some(rule) = Rule::find(text) {
        return Some(rule);
    }
    if text.contains('%') {
        return options
            .quantity::<Ratio>("--rule", text)
            .map(|said| Rule::Maker(said.value));
    }
    let names: Vec<&str> = Rule::NAMED.into_iter().map(Rule::key).collect();
    options.fault(
        "--rule",
        format!("{text:?} is no rule"),
        format!(
            "one of {}, or the maker's figure such as 15 %",
            names.join(", ")
        ),
    );
    None
}
