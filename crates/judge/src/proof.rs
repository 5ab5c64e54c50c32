//! Before and after: the same test on the same gauge, and whether anything really moved.

use calc::repeatability::{RepeatabilityError, real_difference};
use quantity::unit::PERCENT;
use quantity::{GaugePressure, NotFinite, Quantity, Ratio, Unit, show, show_fixed};
use report::{Align, Ask, Cell, Figure, Finding, Report, Source, SourceKind, Table, Verdict};
use thiserror::Error;

use crate::layout::{Layout, named};

/// The scatter of a gauge nobody measured. *Common practice, no source.*
const REPEATABILITY: f64 = 0.02;

/// The question: cranking readings before and after some work.
#[derive(Clone, Debug)]
pub struct Proof {
    /// Where the cylinders stand.
    pub layout: Layout,
    /// Before the work.
    pub before: Vec<Option<GaugePressure>>,
    /// After it.
    pub after: Vec<Option<GaugePressure>>,
    /// What was done in between.
    pub work: Option<String>,
    /// The same gauge, strokes and warmth both times.
    pub alike: bool,
    /// How well the gauge repeats; 2 % where not told.
    pub repeatability: Option<Ratio>,
    /// The unit readings were typed in.
    pub unit: Unit,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Repeatability(#[from] RepeatabilityError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// How one cylinder moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Moved {
    Up,
    Down,
    Still,
}

/// Compares before and after.
#[must_use]
pub fn judge(asked: &Proof) -> Report {
    let title = format!("Before and after, {}", asked.layout.words());
    let count = asked.layout.count();
    if asked.before.len() != count || asked.after.len() != count {
        let finding = Finding::new(
            "count",
            "readings",
            format!(
                "{} before and {} after for {count} cylinders",
                asked.before.len(),
                asked.after.len()
            ),
        )
        .next("one reading a cylinder both times; - where there is none");
        return Report::refusal("proof", title, finding);
    }
    answer(asked, title.clone()).unwrap_or_else(|fault| {
        Report::refusal(
            "proof",
            title,
            Finding::new("readings", "readings", fault.to_string()).next("check the readings"),
        )
    })
}

fn answer(asked: &Proof, title: String) -> Result<Report, Unanswerable> {
    let mut report = Report::new("proof", title);
    let scatter = match asked.repeatability {
        Some(scatter) => scatter,
        None => Ratio::fraction(REPEATABILITY)?,
    };
    let real = real_difference(scatter, 1)?;
    report.figures.push(
        Figure::new(
            "real_difference",
            "real difference",
            real,
            show_fixed(real, &PERCENT, 1),
        )
        .note("of the reading; less than this may be the gauge"),
    );
    let moved: Vec<Option<Moved>> = asked
        .before
        .iter()
        .zip(&asked.after)
        .map(|pair| of(pair, real))
        .collect();
    rows(asked, &moved, &mut report);
    if !asked.alike {
        report.verdict = Some(Verdict::NotMeasured);
        report.headline = Some(
            "Not alike: another gauge, other strokes or another warmth prove nothing either way."
                .to_owned(),
        );
        report.asks.push(Ask::new(
            "the same test again, alike",
            "like is compared only with like.",
            "Same gauge, same strokes, warm, throttle open, all plugs out; then say --alike.",
        ));
        return Ok(report);
    }
    verdict(asked, &moved, &mut report);
    report.cite(Source::new(
        SourceKind::Computed,
        "difference of two readings, 95 %, normal scatter",
    ));
    Ok(report)
}

fn of(pair: (&Option<GaugePressure>, &Option<GaugePressure>), real: Ratio) -> Option<Moved> {
    let (Some(before), Some(after)) = pair else {
        return None;
    };
    let change = after.si() - before.si();
    let scale = before.si().max(after.si());
    Some(if change.abs() <= real.in_fraction() * scale {
        Moved::Still
    } else if change > 0.0 {
        Moved::Up
    } else {
        Moved::Down
    })
}

fn which(moved: &[Option<Moved>], wanted: Moved) -> Vec<u8> {
    (1u8..)
        .zip(moved)
        .filter(|(_, moved)| **moved == Some(wanted))
        .map(|(cylinder, _)| cylinder)
        .collect()
}

fn verdict(asked: &Proof, moved: &[Option<Moved>], report: &mut Report) {
    let (up, down) = (which(moved, Moved::Up), which(moved, Moved::Down));
    let read = moved.iter().flatten().count();
    for (code, cylinders, says) in [
        (
            "better",
            &up,
            "higher than before, by more than the gauge scatters",
        ),
        (
            "worse",
            &down,
            "lower than before, by more than the gauge scatters",
        ),
    ] {
        if !cylinders.is_empty() {
            report
                .findings
                .push(Finding::new(code, named(cylinders), says));
        }
    }
    let (verdict, headline) = match (read, up.is_empty(), down.is_empty()) {
        (0, ..) => (
            Verdict::NotMeasured,
            "No cylinder was read both times.".to_owned(),
        ),
        (_, _, false) => (Verdict::Outside, "Something got worse.".to_owned()),
        (_, false, true) => (
            Verdict::Within,
            "Better, and by more than the gauge scatters.".to_owned(),
        ),
        (_, true, true) => (
            Verdict::Undecided,
            "Nothing moved by more than the gauge scatters.".to_owned(),
        ),
    };
    if read > 0 && up.is_empty() && down.is_empty() {
        let after = asked
            .work
            .as_ref()
            .map_or_else(|| "the work".to_owned(), |work| format!("\"{work}\""));
        report.findings.push(
            Finding::new("unmoved", "all cylinders", format!("the readings did not move after {after}"))
                .points_to("a gauge that sticks, work that did not change what the test sees, or work that did not do what it should")
                .next("second gauge; check again what was done, timing marks first if they were moved"),
        );
    }
    report.verdict = Some(verdict);
    report.headline = Some(headline);
}

fn rows(asked: &Proof, moved: &[Option<Moved>], report: &mut Report) {
    let mut table = Table::new(&[
        ("cylinder", "cylinder", Align::Right),
        ("before", "before", Align::Right),
        ("after", "after", Align::Right),
        ("moved", "moved", Align::Left),
    ]);
    let cell = |p: Option<GaugePressure>| {
        Cell::from(p.map(|p| Figure::new("reading", "reading", p, show(p, &asked.unit))))
    };
    for (at, moved) in moved.iter().enumerate() {
        table.push(vec![
            Cell::from(at + 1),
            cell(asked.before.get(at).copied().flatten()),
            cell(asked.after.get(at).copied().flatten()),
            moved
                .map(|moved| match moved {
                    Moved::Up => "up",
                    Moved::Down => "down",
                    Moved::Still => "no more than scatter",
                })
                .into(),
        ]);
    }
    report.rows = table;
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::unit::POUND_PER_SQUARE_INCH;

    fn asked(before: &[f64], after: &[f64]) -> Proof {
        let set = |psi: &[f64]| psi.iter().map(|&p| GaugePressure::psi(p).ok()).collect();
        Proof {
            layout: Layout::read("I4").unwrap(),
            before: set(before),
            after: set(after),
            work: None,
            alike: true,
            repeatability: None,
            unit: POUND_PER_SQUARE_INCH,
        }
    }

    /// Source: workshop case: 125 psi on all four before and after moving the cam two teeth.
    /// *Public data: reader's worked example.*
    #[test]
    fn o03_a_reading_that_does_not_move_is_suspect() {
        let mut asked = asked(&[125.0; 4], &[125.0; 4]);
        asked.work = Some("cam moved two teeth".to_owned());
        let report = judge(&asked);
        assert_eq!(report.verdict, Some(Verdict::Undecided));
        let unmoved = report
            .findings
            .iter()
            .find(|f| f.code == "unmoved")
            .unwrap();
        assert!(unmoved.says.contains("two teeth"));
        assert!(unmoved.next.as_deref().unwrap().contains("second gauge"));
    }

    #[test]
    fn only_more_than_the_scatter_counts() {
        let report = judge(&asked(
            &[150.0, 90.0, 150.0, 150.0],
            &[154.0, 148.0, 149.0, 151.0],
        ));
        assert_eq!(report.verdict, Some(Verdict::Within));
        assert_eq!(report.findings[0].concerns, "cylinder 2");
        let worse = judge(&asked(&[150.0; 4], &[150.0, 150.0, 150.0, 120.0]));
        assert_eq!(worse.verdict, Some(Verdict::Outside));
    }

    #[test]
    fn unlike_tests_prove_nothing() {
        let mut asked = asked(&[100.0; 4], &[150.0; 4]);
        asked.alike = false;
        assert_eq!(judge(&asked).verdict, Some(Verdict::NotMeasured));
        asked.after.pop();
        assert!(judge(&asked).refused);
    }
}
