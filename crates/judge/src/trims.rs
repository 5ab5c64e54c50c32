//! Fuel trims, bank to bank, at idle and at speed: where unmetered air or missing fuel enters.

use quantity::unit::PERCENT;
use quantity::{Ratio, show};
use report::{Align, Ask, Cell, Figure, Finding, Report, Source, Table, Verdict};

/// Trims within this of zero are usual. *Common practice, no source*, like all limits here.
const USUAL: f64 = 0.10;
/// From here on a bank is lean or rich.
const FAR: f64 = 0.15;
/// Near the stop of the correction.
const STOP: f64 = 0.20;

/// Short and long trim of one bank, added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bank {
    /// At idle.
    pub idle: Option<Ratio>,
    /// Held at about 2500 rpm.
    pub fast: Option<Ratio>,
}

/// Judges the trims of one bank or two.
#[must_use]
pub fn judge(banks: &[Bank]) -> Report {
    let mut report = Report::new("trims", "Fuel trims");
    let known = banks
        .iter()
        .any(|bank| bank.idle.is_some() || bank.fast.is_some());
    if banks.is_empty() || banks.len() > 2 || !known {
        let finding = Finding::new(
            "trims",
            "banks",
            "one bank or two are read, with a figure for at least one",
        )
        .next("give the sum of short and long trim for each bank, at idle and at 2500 rpm");
        return Report::refusal("trims", "Fuel trims", finding);
    }
    rows(banks, &mut report);
    let idle: Vec<f64> = banks
        .iter()
        .filter_map(|bank| bank.idle)
        .map(Ratio::in_fraction)
        .collect();
    let fast: Vec<f64> = banks
        .iter()
        .filter_map(|bank| bank.fast)
        .map(Ratio::in_fraction)
        .collect();
    if crossed(&idle) || crossed(&fast) {
        report.findings.push(
            Finding::new(
                "sensors-crossed",
                "both banks",
                "one bank at the upper stop, the other at the lower",
            )
            .points_to("the sensors or their plugs exchanged from bank to bank")
            .next("trace each lead to its bank before anything else"),
        );
    } else {
        lean(banks, &mut report);
    }
    let outside = !report.findings.is_empty();
    let unusual = idle.iter().chain(&fast).any(|trim| trim.abs() > USUAL);
    report.verdict = Some(match (outside, unusual) {
        (true, _) => Verdict::Outside,
        (false, true) => Verdict::Undecided,
        (false, false) => Verdict::Within,
    });
    report.headline = Some(match report.findings.first() {
        Some(finding) => format!("{}: {}.", finding.concerns, finding.says),
        None if unusual => "Between usual and far: watch it over a drive.".to_owned(),
        None => "Within about 10 % either way.".to_owned(),
    });
    if report.verdict == Some(Verdict::Undecided) {
        report.findings.push(
            Finding::new("undecided", "both banks", "beyond the usual, short of far").next(
                "read the trims again after a drive of 20 minutes, warm, at idle and at 2500 rpm",
            ),
        );
    }
    if fast.len() != banks.len() || idle.len() != banks.len() {
        report.asks.push(Ask::new(
            "trims at idle and at 2500 rpm",
            "air leaks fade with speed, fuel faults do not.",
            "Read both, warm, on each bank.",
        ));
    }
    report.because.push(
        "Sum of short and long trim. Usual within 10 %, far from 15 %, faults set from 20 to 25 %."
            .to_owned(),
    );
    report.cite(Source::common_practice("trim limits and patterns"));
    report
}

fn rows(banks: &[Bank], report: &mut Report) {
    let mut table = Table::new(&[
        ("bank", "bank", Align::Right),
        ("idle", "idle", Align::Right),
        ("fast", "2500 rpm", Align::Right),
    ]);
    let cell = |trim: Option<Ratio>| {
        Cell::from(trim.map(|trim| Figure::new("trim", "trim", trim, show(trim, &PERCENT))))
    };
    for (at, bank) in banks.iter().enumerate() {
        table.push(vec![Cell::from(at + 1), cell(bank.idle), cell(bank.fast)]);
    }
    report.rows = table;
}

fn crossed(trims: &[f64]) -> bool {
    matches!(trims, [a, b] if a.max(*b) >= STOP && a.min(*b) <= -STOP)
}

fn lean(banks: &[Bank], report: &mut Report) {
    let far = |trim: Ratio| trim.in_fraction() >= FAR;
    let which = banks_with(banks, far);
    if which.is_empty() {
        rich(banks, report);
        return;
    }
    let calm = |trim: Option<Ratio>| trim.is_some_and(|trim| trim.in_fraction().abs() <= USUAL);
    let fades = which.iter().all(|&at| {
        banks
            .get(at - 1)
            .is_some_and(|bank| bank.idle.is_some_and(far) && calm(bank.fast))
    });
    let shared = which.len() == banks.len() && banks.len() > 1;
    let (code, points_to) = match (fades, shared) {
        (true, true) => (
            "air-leak",
            "unmetered air behind the meter, at a place both banks share",
        ),
        (true, false) => (
            "air-leak",
            "unmetered air on this bank: its intake gasket or a hose on it",
        ),
        (false, true) => (
            "lean",
            "a shared cause: meter, fuel pressure, a leak in the middle",
        ),
        (false, false) => (
            "lean",
            "this bank alone: gasket, injector, sensor, or an exhaust leak before the sensor",
        ),
    };
    let says = if fades {
        "lean at idle, calm at speed"
    } else {
        "lean"
    };
    report.findings.push(
        Finding::new(code, concerns(banks, &which), says)
            .points_to(points_to)
            .next("smoke test the intake; fuel pressure under load; nothing is ordered on a trim alone"),
    );
    rich(banks, report);
}

fn rich(banks: &[Bank], report: &mut Report) {
    let which = banks_with(banks, |trim| trim.in_fraction() <= -FAR);
    if which.is_empty() {
        return;
    }
    report.findings.push(
        Finding::new("rich", concerns(banks, &which), "rich")
            .points_to(
                "fuel pressure too high, a leaking injector, a loaded vapour canister, or a sensor",
            )
            .next("fuel pressure first; smell the oil for fuel"),
    );
}

/// Numbers of the banks with a trim, at idle or at speed, that is so.
fn banks_with(banks: &[Bank], so: impl Fn(Ratio) -> bool) -> Vec<usize> {
    (1..)
        .zip(banks)
        .filter(|(_, bank)| [bank.idle, bank.fast].into_iter().flatten().any(&so))
        .map(|(number, _)| number)
        .collect()
}

fn concerns(banks: &[Bank], which: &[usize]) -> String {
    if banks.len() > 1 && which.len() == banks.len() {
        return "both banks".to_owned();
    }
    let numbers: Vec<String> = which.iter().map(usize::to_string).collect();
    format!("bank {}", numbers.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bank(idle: f64, fast: f64) -> Bank {
        Bank {
            idle: Ratio::percent(idle).ok(),
            fast: Ratio::percent(fast).ok(),
        }
    }

    /// Source: *common practice, no source*.
    #[test]
    fn patterns_of_two_banks() {
        let code = |banks: &[Bank]| {
            judge(banks)
                .findings
                .first()
                .map(|finding| (finding.code, finding.concerns.clone()))
        };
        assert_eq!(
            code(&[bank(18.0, 2.0), bank(3.0, 1.0)]),
            Some(("air-leak", "bank 1".to_owned()))
        );
        assert_eq!(
            code(&[bank(18.0, 17.0), bank(19.0, 18.0)]),
            Some(("lean", "both banks".to_owned()))
        );
        assert_eq!(
            code(&[bank(4.0, 3.0), bank(16.0, 20.0)]),
            Some(("lean", "bank 2".to_owned()))
        );
        assert_eq!(
            code(&[bank(25.0, 25.0), bank(-25.0, -25.0)]),
            Some(("sensors-crossed", "both banks".to_owned()))
        );
        assert_eq!(
            code(&[bank(-18.0, -20.0)]),
            Some(("rich", "bank 1".to_owned()))
        );
        assert_eq!(code(&[bank(5.0, -4.0)]), None);
    }

    #[test]
    fn half_a_reading_is_asked_about_and_none_is_refused() {
        let report = judge(&[Bank {
            idle: Ratio::percent(5.0).ok(),
            fast: None,
        }]);
        assert_eq!(report.asks.len(), 1);
        assert!(judge(&[]).refused);
        assert!(
            judge(&[Bank {
                idle: None,
                fast: None
            }])
            .refused
        );
    }
}
