//! Shims: which goes under which valve, what it gives, what is bought, left over or measured
//! again.

use calc::lash::{Aim, Choice, Origin, Plan, clearance_with, plan};
use quantity::unit::MILLIMETRE;
use quantity::{Bound, Length, Quantity, Unit, show, show_bound, show_fixed, show_range};
use report::{Align, Ask, Cell, Figure, Finding, Report, Row, Table, Weight};

use super::{Adjuster, Lash, Port, Unanswerable, Valve, Windows};
use crate::limit::Decision;

/// Chooses the shims and adds rows, counts and what follows from them.
pub(super) fn choose(
    report: &mut Report,
    asked: &Lash,
    windows: &Windows,
    decisions: &[Decision],
) -> Result<(), Unanswerable> {
    let mut table = Table::new(&[
        ("valve", "valve", Align::Left),
        ("kind", "kind", Align::Left),
        ("found", "found", Align::Right),
        ("verdict", "as found", Align::Left),
        ("was", "shim was", Align::Right),
        ("fitted", "fit", Align::Right),
        ("from", "from", Align::Left),
        ("result", "gives", Align::Right),
    ]);
    let pooled = Pooled::of(asked, windows, report);
    let aim = asked.aim.unwrap_or(match asked.adjuster {
        Adjuster::ShimUnder => Aim::FewestDisturbed,
        Adjuster::Shim | Adjuster::ShimOver | Adjuster::Screw | Adjuster::Hydraulic => {
            Aim::FewestToBuy
        }
    });
    let choices: Vec<Choice> = pooled.iter().map(|pooled| pooled.choice).collect();
    let chosen = plan(&choices, &asked.stock, asked.step, aim)?;
    let mut placed = pooled.iter().zip(&chosen.fitted).peekable();
    for (at, (valve, decision)) in asked.valves.iter().zip(decisions).enumerate() {
        let shim = placed
            .next_if(|(pooled, _)| pooled.valve == at)
            .map(|(_, shim)| *shim);
        table.push(row(asked, valve, decision, shim, &pooled)?);
    }
    report.rows = table;
    tell_counts(report, &chosen, aim, asked);
    other_end(report, &choices, asked, aim, &chosen)?;
    shopping(report, asked, &pooled, &chosen);
    Ok(())
}

/// A valve that takes part in the exchange of shims.
struct Pooled {
    valve: usize,
    name: String,
    choice: Choice,
}

impl Pooled {
    /// Valves with a shim and a reading that some shim is safe for; the others are said.
    fn of(asked: &Lash, windows: &Windows, report: &mut Report) -> Vec<Self> {
        let mut pooled = Vec::new();
        for (at, valve) in asked.valves.iter().enumerate() {
            let (Some(measured), Some(fitted)) = (valve.clearance, valve.shim) else {
                if valve.clearance.is_some() {
                    report.asks.push(Ask::new(
                        format!("shim of {}", valve.name),
                        "the new shim is worked out from the one that is in.",
                        "Measure it with a micrometer; the number on it may be an index, not a size.",
                    ));
                }
                continue;
            };
            let choice = Choice {
                fitted,
                measured,
                window: windows.of_port(valve.port),
                looser: valve.port == Port::Exhaust,
            };
            let alone = plan(&[choice], &asked.stock, asked.step, Aim::FewestToBuy);
            match alone {
                Ok(_) => pooled.push(Self { valve: at, name: valve.name.clone(), choice }),
                Err(_) => report.findings.push(
                    Finding::new(
                        "no-safe-shim",
                        valve.name.clone(),
                        format!("{} is too wide a reading for this window: no size is safe for all of it", show_bound(measured, &asked.unit)),
                    )
                    .next("fit a clearly thinner shim so that a blade enters, measure, then choose"),
                ),
            }
        }
        pooled
    }
}

fn row(
    asked: &Lash,
    valve: &Valve,
    decision: &Decision,
    shim: Option<(Length, Origin)>,
    pooled: &[Pooled],
) -> Result<Row, Unanswerable> {
    let unit = &asked.unit;
    let figure = |name, length: Length| Figure::new(name, name, length, size(length, unit));
    let from = shim.map(|(_, origin)| match origin {
        Origin::Own => "its own".to_owned(),
        Origin::Valve(other) => format!(
            "out of {}",
            pooled.get(other).map_or("", |other| other.name.as_str())
        ),
        Origin::Stock(_) => "stock".to_owned(),
        Origin::Bought => "buy".to_owned(),
    });
    let result = match (valve.shim, valve.clearance, shim) {
        (Some(was), Some(found), Some((new, _))) => clearance_with(was, found, new)?,
        _ => None,
    };
    let result = match result {
        Some(range) if range.low == range.high => Some(figure("result", range.low)),
        Some(range) => Some(
            Figure::new(
                "result",
                "result",
                Length::from_si(range.low.si() / 2.0 + range.high.si() / 2.0)?,
                show_range(range, unit),
            )
            .between(range.low, range.high),
        ),
        None => None,
    };
    Ok(vec![
        Cell::from(valve.name.clone()),
        Cell::from(match valve.port {
            Port::Inlet => "inlet",
            Port::Exhaust => "exhaust",
        }),
        Cell::from(
            valve
                .clearance
                .map_or_else(|| "-".to_owned(), |found| read_as(found, unit)),
        ),
        Cell::from(decision.verdict),
        Cell::from(valve.shim.map(|shim| figure("was", shim))),
        Cell::from(shim.map(|(size, _)| figure("fitted", size))),
        Cell::from(from),
        Cell::from(result),
    ])
}

fn tell_counts(report: &mut Report, chosen: &Plan, aim: Aim, asked: &Lash) {
    report
        .figures
        .push(Figure::count("to_buy", "shims to buy", chosen.to_buy));
    report.figures.push(Figure::count(
        "changed",
        "valves whose shim changes",
        chosen.changed,
    ));
    report.figures.push(Figure::new(
        "off_middle",
        "off the middle of the window, all together",
        chosen.off_middle,
        show(chosen.off_middle, &asked.unit),
    ));
    report.because.push(match aim {
        Aim::FewestToBuy => {
            "fewest shims to buy, then fewest valves disturbed, then nearest the middle".to_owned()
        }
        Aim::FewestDisturbed => {
            "fewest valves disturbed, then fewest shims to buy, then nearest the middle".to_owned()
        }
    });
    report.because.push("new shim = old shim + found − wanted; a reading that is a bound takes a shim safe for all of it".to_owned());
}

/// The other end of the bargain, where it differs.
fn other_end(
    report: &mut Report,
    choices: &[Choice],
    asked: &Lash,
    aim: Aim,
    chosen: &Plan,
) -> Result<(), Unanswerable> {
    let (other, words) = match aim {
        Aim::FewestToBuy => (Aim::FewestDisturbed, "disturbing the fewest valves"),
        Aim::FewestDisturbed => (Aim::FewestToBuy, "buying the fewest shims"),
    };
    let seen = plan(choices, &asked.stock, asked.step, other)?;
    if (seen.to_buy, seen.changed) != (chosen.to_buy, chosen.changed) {
        report.findings.push(
            Finding::new(
                "other-way",
                "",
                format!(
                    "{words} instead: {} to buy, {} changed",
                    seen.to_buy, seen.changed
                ),
            )
            .next(match other {
                Aim::FewestToBuy => "--aim fewest-to-buy",
                Aim::FewestDisturbed => "--aim fewest-disturbed",
            })
            .weight(Weight::Note),
        );
    }
    Ok(())
}

/// Which sizes to buy, which to measure again, which are left over.
fn shopping(report: &mut Report, asked: &Lash, pooled: &[Pooled], chosen: &Plan) {
    for (pooled, (shim, origin)) in pooled.iter().zip(&chosen.fitted) {
        let wide = !matches!(pooled.choice.measured, Bound::Exactly(_));
        if wide && *origin != Origin::Own {
            report.findings.push(
                Finding::new(
                    "measure-again",
                    pooled.name.clone(),
                    format!("the clearance is only known as {}; {} is safe for all of it", show_bound(pooled.choice.measured, &asked.unit), size(*shim, &asked.unit)),
                )
                .next("measure again with this shim in: a valve that was held open may still be tight, and a better size may fit")
                .weight(Weight::Look),
            );
        }
    }
    let mut left: Vec<String> = pooled
        .iter()
        .enumerate()
        .filter(|(at, _)| {
            !chosen.fitted.iter().enumerate().any(|(row, (_, origin))| {
                *origin == Origin::Valve(*at) || (row == *at && *origin == Origin::Own)
            })
        })
        .map(|(_, pooled)| size(pooled.choice.fitted, &asked.unit))
        .collect();
    if !left.is_empty() {
        left.sort();
        report.findings.push(
            Finding::new(
                "left-over",
                "",
                format!("left over for stock: {}", left.join(", ")),
            )
            .weight(Weight::Note),
        );
    }
    if asked.step.is_none() && chosen.to_buy > 0 {
        report.asks.push(Ask::new(
            "step of the shims sold",
            "the size to buy is the exact middle until it is known.",
            "Give --step \"0.05 mm\" or what your supplier lists.",
        ));
    }
}

/// A clearance as it was read, which may be a bound.
fn read_as(found: Bound<Length>, unit: &Unit) -> String {
    match found {
        Bound::Exactly(found) => size(found, unit),
        bound => show_bound(bound, unit),
    }
}

/// A size as it stands on a box of shims or on a blade: hundredths of a millimetre even where they are
/// nought, and more only where it has them.
fn size(shim: Length, unit: &Unit) -> String {
    let hundredths = shim.in_mm() * 100.0;
    if *unit == MILLIMETRE && (hundredths - hundredths.round()).abs() < 1e-6 {
        show_fixed(shim, unit, 2)
    } else {
        show(shim, unit)
    }
}
