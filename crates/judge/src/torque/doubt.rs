//! What about the figure itself looks wrong: misprints, slips of unit, another condition of
//! the threads.

use calc::preload::friction::oiled_instead_of_dry;
use calc::torque::lookalike::{LookAlike, Oddity, odd_torques, on_other_scale};
use quantity::spec::{Condition, PrintedPair};
use quantity::{Unit, show, unit};
use report::{Ask, Finding, Report, Source, Weight};

use super::Seen;
use crate::tightening::{StageFault, falls};

pub(super) fn findings(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let spec = &seen.asked.spec;
    // A misprint is a finding of its own, further down, and not a note beside it.
    let misprints: Vec<String> = spec
        .value
        .printed_pairs
        .iter()
        .filter(|pair| !pair.agrees)
        .map(PrintedPair::says)
        .collect();
    for note in spec.notes.iter().filter(|note| !misprints.contains(note)) {
        report
            .findings
            .push(Finding::new("reading", "", note.clone()).weight(Weight::Note));
    }
    for pair in spec.value.printed_pairs.iter().filter(|pair| !pair.agrees) {
        report.findings.push(
            Finding::new("misprint", format!("stage {}", pair.step + 1), pair.says())
                .next("find out which of the two is meant; never take the middle")
                .weight(Weight::Stop),
        );
    }
    look_alikes(report, seen)?;
    falling(report, seen);
    other_scale(report, seen)?;
    condition(report, seen)
}

fn look_alikes(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let Some(thread) = &seen.asked.thread else {
        return Ok(());
    };
    if !thread.is_common() {
        report.findings.push(
            Finding::new(
                "uncommon-thread",
                thread.to_string(),
                "the pitch is not one this diameter is commonly made with",
            )
            .next("check it with a thread gauge"),
        );
    }
    let found = odd_torques(
        thread,
        seen.asked.class,
        &seen.torques(),
        seen.ends_in_angle(),
        seen.written_in,
    )?;
    for odd in &found {
        report
            .findings
            .push(look_alike(seen, odd, &thread.to_string()));
    }
    Ok(())
}

/// A stage below one that is done already, with nothing loosened between.
fn falling(report: &mut Report, seen: &Seen<'_>) {
    if let Some(fall) = falls(seen.stages.iter().map(|stage| &stage.step)) {
        let stage = format!("stage {}", fall.step + 1);
        report
            .findings
            .push(fall.finding(stage, |torque| seen.show(torque)));
    }
}

fn look_alike(seen: &Seen<'_>, odd: &LookAlike, thread: &str) -> Finding {
    let torque = seen
        .torques()
        .get(odd.stage)
        .map_or_else(String::new, |&torque| seen.show(torque));
    let times = odd.of_usual.in_fraction();
    let class = seen
        .asked
        .class
        .map_or(String::new(), |class| format!(" {class}"));
    let says = match odd.oddity {
        Oddity::TooMuch => format!(
            "{torque} is {times:.1} times what an {thread}{class} usually gets, more than it can take without yielding"
        ),
        Oddity::Much => format!(
            "{torque} is {times:.1} times what an {thread}{class} usually gets; it yields unless its threads are rough"
        ),
        Oddity::TooLittle => format!(
            "{torque} is only {:.0} % of what an {thread}{class} usually gets",
            times * 100.0
        ),
    };
    let code = match odd.oddity {
        Oddity::TooMuch | Oddity::TooLittle => "look-alike",
        Oddity::Much => "perhaps-another-unit",
    };
    let mut finding = Finding::new(code, torque, says)
        .next("read the figure and its unit in the maker's book again before pulling");
    let fits: Vec<String> = odd
        .would_fit
        .iter()
        .map(|(unit, meant)| {
            let number = show::show(*meant, unit);
            if unit.symbol == seen.unit.symbol {
                number
            } else {
                format!("{number} ({})", seen.show(*meant))
            }
        })
        .collect();
    if let Some(first) = fits.first() {
        finding = finding.points_to(format!(
            "the number may be meant in another unit: {}",
            if fits.len() > 1 {
                fits.join(" or ")
            } else {
                first.clone()
            }
        ));
    }
    finding
}

/// Both readings of a dual scale, so that a slip is seen beforehand and judged afterwards
/// with the right sign.
fn other_scale(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let (Some(written), Some((_, torque))) = (seen.written_in, seen.last_torque()) else {
        return Ok(());
    };
    let Some(other) = twin(written) else {
        return Ok(());
    };
    let slip = on_other_scale(torque, written, &other)?;
    let outcome = if slip.overtightens() {
        "too tight"
    } else {
        "too loose, which cannot stretch the bolt"
    };
    let times = slip.of_meant.in_fraction();
    let share = if times < 2.0 {
        format!("{:.0} % of", times * 100.0)
    } else {
        format!("{times:.0} times")
    };
    report.because.push(format!(
        "Read on the {} scale the same number would be {}, {share} the figure: {outcome}.",
        other.symbol,
        show::show(slip.given, written),
    ));
    Ok(())
}

/// The scale a dual-scale wrench shows beside this one.
fn twin(written: &Unit) -> Option<Unit> {
    [
        (unit::POUND_FORCE_FOOT, unit::NEWTON_METRE),
        (unit::NEWTON_METRE, unit::POUND_FORCE_FOOT),
        (unit::POUND_FORCE_INCH, unit::POUND_FORCE_FOOT),
        (unit::KILOGRAM_FORCE_METRE, unit::NEWTON_METRE),
    ]
    .into_iter()
    .find(|(one, _)| one.symbol == written.symbol)
    .map(|(_, other)| other)
}

fn condition(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let figure = &seen.asked.spec.value.condition;
    let Some((_, torque)) = seen.last_torque() else {
        return Ok(());
    };
    if *figure == Condition::NotStated {
        report.asks.push(Ask::new(
            "dry or oiled threads",
            "The figure does not say, and the same torque on oiled threads pulls harder.",
            format!(
                "Look in the maker's book and write it behind the figure: {} dry.",
                seen.asked.spec.typed.trim()
            ),
        ));
        return Ok(());
    }
    let Some(threads) = seen
        .asked
        .threads_are
        .as_ref()
        .filter(|threads| *threads != figure)
    else {
        return Ok(());
    };
    let concern = format!("threads {}", threads.words());
    match (figure, threads) {
        (Condition::Dry, Condition::Oiled | Condition::Lubricant(_)) => {
            let range = oiled_instead_of_dry(torque)?;
            report.findings.push(
                Finding::new(
                    "condition",
                    concern,
                    "the figure is for dry threads; oil pulls the bolt about 20 to 30 % harder at the same torque",
                )
                .next(format!(
                    "clean and dry them, or get the figure for this lubricant; for want of both, {} pulls about as hard",
                    show::show_range(range, &seen.unit)
                )),
            );
            report.cite(Source::common_practice("20 to 30 % more tension with oil at the same torque; a published test series found none"));
        }
        (Condition::Oiled | Condition::Lubricant(_), Condition::Dry) => report.findings.push(
            Finding::new(
                "condition",
                concern,
                format!(
                    "the figure is for threads {}; dry ones leave the joint looser",
                    figure.words()
                ),
            )
            .next("oil thread and head as the figure means it"),
        ),
        _ => report.findings.push(
            Finding::new(
                "condition",
                concern,
                format!("the figure is for threads {}", figure.words()),
            )
            .next("bring the threads to the condition of the figure"),
        ),
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Quantity;

    #[test]
    fn every_twin_is_another_scale_of_torque() {
        for unit in [
            unit::POUND_FORCE_FOOT,
            unit::NEWTON_METRE,
            unit::POUND_FORCE_INCH,
        ] {
            let other = twin(&unit).unwrap();
            assert_ne!(other.symbol, unit.symbol);
            assert_eq!(other.kind, quantity::Torque::KIND);
        }
        assert!(twin(&unit::OUNCE_FORCE_INCH).is_none());
    }
}
