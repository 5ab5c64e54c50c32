//! Leak-down: option text into a question for the judge.

use judge::leakdown::{Heard, Leakdown, Rule, judge};
use quantity::{GaugePressure, Length, Ratio, plausible};
use report::Report;

use crate::cranking::layout;
use crate::option::Options;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `I4`, `V6`, `V6:1 3 5/2 4 6`.
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
}

/// Judges leak-down readings.
#[must_use]
pub fn leakdown(asked: &Asked) -> Report {
    let mut options = Options::of("leakdown");
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal("Leak-down"),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Leakdown> {
    let layout = layout(options, &asked.layout);
    let loss = options.list::<Ratio>("--loss", &asked.loss);
    let supply = options.maybe::<GaugePressure>("--supply", asked.supply.as_deref());
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
    if !matches!(asked.cycle, None | Some(2 | 4)) {
        options.fault(
            "--cycle",
            "an engine has 2 or 4 strokes to the cycle",
            "2 or 4",
        );
    }
    Some(Leakdown {
        layout: layout?,
        loss: loss?.value,
        supply: supply.map(|said| said.value),
        orifice: orifice.map(|said| said.value),
        height: height.map(|said| said.value),
        heard,
        rule,
        cranking: cranking.map(|said| said.value),
        two_stroke: asked.cycle == Some(2),
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
