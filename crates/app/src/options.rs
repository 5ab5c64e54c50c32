//! Ways out of a repair: a table of options into a question for the judge.

use std::path::PathBuf;

use calc::options::{Life, Money, Way};
use files::Csv;
use judge::options::{Choice, Cost, Options as Question, StopFigures, StopPoint, judge};
use quantity::read::{read_in, read_range_in};
use quantity::{Duration, Length, Range, Ratio, Unit, unit};
use report::Report;

use crate::option::Options;
use crate::{readings, typed};

const COMMAND: &str = "options";
const TITLE: &str = "Ways out, each held against all known faults";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// A table with the columns option, cures, cost and, where known, hours, downtime,
    /// stop_point, spent_at_stop, extra_if_bad, risk, trigger, fails_at_once, life, shape or sigma, worth_running,
    /// worth_scrap. With sigma the life is the median of a lognormal, else the scale of a
    /// Weibull.
    pub file: PathBuf,
    /// Every known fault.
    pub faults: Vec<String>,
    /// What the vehicle is worth, sound.
    pub value: Option<String>,
    /// What was spent already.
    pub spent: Option<String>,
    /// What one's own hour is worth.
    pub hour: Option<String>,
    /// Horizon for cost over distance.
    pub horizon: Option<String>,
}

/// Compares ways out.
#[must_use]
pub fn options(asked: &Asked) -> Report {
    let mut csv = match readings::open(COMMAND, TITLE, &asked.file) {
        Ok(csv) => csv,
        Err(refusal) => return *refusal,
    };
    let mut options = Options::of(COMMAND);
    let money = |options: &mut Options, name: &str, text: &Option<String>| {
        text.as_deref().and_then(|text| amount(options, name, text))
    };
    let horizon = asked
        .horizon
        .as_deref()
        .and_then(|text| distance(&mut options, text));
    if asked.faults.iter().any(|fault| fault.trim().is_empty()) {
        options.fault(
            "--fault",
            "a fault without words",
            "name it: --fault \"head gasket\"",
        );
    }
    let question = Question {
        faults: asked.faults.clone(),
        value: money(&mut options, "--value", &asked.value),
        spent: money(&mut options, "--spent", &asked.spent),
        hour: money(&mut options, "--hour", &asked.hour),
        distance: asked
            .horizon
            .as_deref()
            .map_or(unit::KILOMETRE, typed::unit_of::<Length>),
        horizon,
        choices: choices(&mut csv, &mut options),
    };
    if !options.clean() || !csv.faults().is_empty() {
        return readings::refusal(options, TITLE, &csv);
    }
    let mut report = judge(&question);
    readings::mention_unused(&mut report, &csv);
    report
}

/// Reads a distance; a bare number is asked for its unit with units of the road.
fn distance(options: &mut Options, text: &str) -> Option<Length> {
    if let Ok(number) = text.trim().parse::<f64>() {
        options.fault(
            "--horizon",
            format!("{number} of what? The unit is missing"),
            format!("write {number} km or {number} mi"),
        );
        return None;
    }
    options
        .quantity::<Length>("--horizon", text)
        .map(|said| said.value)
}

/// The cells of one row, by the name of the column.
struct Cells<'a> {
    columns: &'a [(&'static str, Vec<Option<String>>)],
    row: usize,
}

impl Cells<'_> {
    fn is_blank(&self) -> bool {
        self.columns
            .iter()
            .all(|(_, cells)| cells.get(self.row).is_none_or(Option::is_none))
    }

    fn text(&self, name: &str) -> Option<String> {
        let (_, cells) = self.columns.iter().find(|(column, _)| *column == name)?;
        cells.get(self.row).cloned().flatten()
    }
}

fn choices(csv: &mut Csv, options: &mut Options) -> Vec<Choice> {
    const NEEDED: [&str; 2] = ["option", "cost"];
    const OTHER: [&str; 14] = [
        "cures",
        "hours",
        "downtime",
        "stop_point",
        "spent_at_stop",
        "extra_if_bad",
        "risk",
        "trigger",
        "fails_at_once",
        "life",
        "shape",
        "sigma",
        "worth_running",
        "worth_scrap",
    ];
    let mut columns = Vec::new();
    for name in NEEDED {
        columns.push((name, csv.words(name)));
    }
    for name in OTHER {
        if csv.has(name) {
            columns.push((name, csv.words(name)));
        }
    }
    (0..csv.len())
        .filter_map(|row| {
            choice(
                options,
                &Cells {
                    columns: &columns,
                    row,
                },
            )
        })
        .collect()
}

fn choice(options: &mut Options, cells: &Cells<'_>) -> Option<Choice> {
    let (name, sum) = match (cells.text("option"), cells.text("cost")) {
        (Some(name), Some(sum)) => (name, sum),
        // A line of empty cells says nothing and is nothing.
        (None, None) if cells.is_blank() => return None,
        (name, _) => {
            let missing = if name.is_none() { "option" } else { "cost" };
            let way = name.unwrap_or_else(|| format!("way out {}", cells.row + 1));
            let says = format!("{way} has no {missing}");
            options.fault(missing, says, "fill the cell, or take the line out");
            return None;
        }
    };
    let cost = cost(options, &format!("cost of {name}"), &sum);
    let list = |text: String| {
        text.split(';')
            .map(|part| part.trim().to_owned())
            .filter(|part| !part.is_empty())
            .collect()
    };
    let hours = span(
        options,
        &format!("hours of {name}"),
        cells.text("hours"),
        &unit::HOUR,
    );
    let downtime = span(
        options,
        &format!("downtime of {name}"),
        cells.text("downtime"),
        &unit::DAY,
    );
    let way = way(options, &name, cells, cost.as_ref());
    let stop_point = stop_point(options, &name, cells);
    Some(Choice {
        cures: cells.text("cures").map(list).unwrap_or_default(),
        cost: cost?,
        hours,
        downtime,
        stop_point,
        risk: cells.text("risk"),
        trigger: cells.text("trigger"),
        way,
        name,
    })
}

/// Where it is decided again; its two sums stand together or not at all.
fn stop_point(options: &mut Options, name: &str, cells: &Cells<'_>) -> Option<StopPoint> {
    let says = cells.text("stop_point");
    let (spent, extra) = (cells.text("spent_at_stop"), cells.text("extra_if_bad"));
    if (spent.is_some() || extra.is_some())
        && (says.is_none() || spent.is_none() || extra.is_none())
    {
        options.fault(
            "stop_point",
            format!("{name} has only part of its stop-point"),
            "fill stop_point, spent_at_stop and extra_if_bad together, or stop_point alone",
        );
        return None;
    }
    let mut sum = |column: &str, text: Option<String>| {
        text.and_then(|text| cost(options, &format!("{column} of {name}"), &text))
    };
    let figures = sum("spent_at_stop", spent).zip(sum("extra_if_bad", extra));
    Some(StopPoint {
        says: says?,
        figures: figures.map(|(spent, extra)| StopFigures { spent, extra }),
    })
}

/// Life and worth, where the table tells them all.
fn way(options: &mut Options, name: &str, cells: &Cells<'_>, cost: Option<&Cost>) -> Option<Way> {
    let life = cells.text("life")?;
    let scale = options.quantity::<Length>(&format!("life of {name}"), &life)?;
    let number = |options: &mut Options, column: &str, missing: f64| match cells.text(column) {
        None => Ratio::fraction(missing).ok(),
        Some(text) => options
            .quantity::<Ratio>(&format!("{column} of {name}"), &text)
            .map(|said| said.value),
    };
    if cells.text("shape").is_some() && cells.text("sigma").is_some() {
        options.fault(
            "sigma",
            format!("{name} has a shape and a sigma"),
            "shape belongs to a Weibull life, sigma to a lognormal one: fill one of the two",
        );
        return None;
    }
    let shape = number(options, "shape", 2.0)?;
    let sigma = match cells.text("sigma") {
        Some(_) => Some(number(options, "sigma", 0.0)?),
        None => None,
    };
    let fails_at_once = number(options, "fails_at_once", 0.0)?;
    let mut money = |column: &str| match cells.text(column) {
        Some(text) => amount(options, &format!("{column} of {name}"), &text),
        None => {
            options.fault(
                column,
                format!("{name} has a life and no {column}"),
                "fill the column, or leave life out",
            );
            None
        }
    };
    let (worth_running, worth_scrap) = (money("worth_running"), money("worth_scrap"));
    let cost = cost?;
    Some(Way {
        upfront: Money::new(f64::midpoint(cost.low.amount(), cost.high.amount())).ok()?,
        life: match sigma {
            Some(sigma) => Life::Lognormal {
                median: scale.value,
                sigma,
            },
            None => Life::Weibull {
                shape,
                scale: scale.value,
            },
        },
        fails_at_once,
        worth_running: worth_running?,
        worth_scrap: worth_scrap?,
    })
}

fn span(
    options: &mut Options,
    name: &str,
    text: Option<String>,
    unit: &Unit,
) -> Option<Range<Duration>> {
    let text = text?;
    if text.contains("..") {
        return options
            .with(name, &text, |text| read_range_in::<Duration>(text, unit))
            .map(|said| said.value);
    }
    let said = options.with(name, &text, |text| read_in::<Duration>(text, unit))?;
    Some(Range {
        low: said.value,
        high: said.value,
    })
}

fn cost(options: &mut Options, name: &str, text: &str) -> Option<Cost> {
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    let (low, high) = (amount(options, name, low)?, amount(options, name, high)?);
    if low > high {
        options.fault(
            name,
            format!("{text:?} runs from high to low"),
            "write the smaller amount first",
        );
        return None;
    }
    Some(Cost {
        low,
        high,
        typed: text.trim().to_owned(),
    })
}

/// Reads an amount of money: `3,500`, `$3500`, `3.5k`. The currency is the reader's own.
fn amount(options: &mut Options, name: &str, text: &str) -> Option<Money> {
    let plain: String = text
        .trim()
        .trim_start_matches(['$', '€', '£', '~'])
        .chars()
        .filter(|sign| !matches!(sign, ',' | ' ' | '\u{202f}'))
        .collect();
    let (digits, factor) = match plain.strip_suffix(['k', 'K']) {
        Some(digits) => (digits, 1000.0),
        None => (plain.as_str(), 1.0),
    };
    let read = digits.parse::<f64>().ok().filter(|amount| *amount >= 0.0);
    match read.and_then(|amount| Money::new(amount * factor).ok()) {
        Some(money) => Some(money),
        None => {
            options.fault(
                name,
                format!("{text:?} is no amount of money"),
                "a plain number such as 3500, or a range such as 2500..3000",
            );
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_as_people_write_them() {
        let mut options = Options::of(COMMAND);
        for (text, want) in [
            ("3,500", 3500.0),
            ("$3500k", 3_500_000.0),
            ("1.5k", 1500.0),
            ("€ 900", 900.0),
        ] {
            let got = amount(&mut options, "cost", text).unwrap().amount();
            assert!((got - want).abs() < 1e-9, "{text}");
        }
        for text in ["cheap", "", "-5", "nan", "inf"] {
            assert!(amount(&mut options, "cost", text).is_none(), "{text}");
        }
        assert!(cost(&mut options, "cost", "3000..2500").is_none());
    }
}
