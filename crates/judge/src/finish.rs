//! Roughness of a gasket face against what its gasket wants. A figure without a unit is not
//! read at all.

use calc::decision::DecisionError;
use calc::finish::{FinishError, rz_of};
use quantity::{Length, NotFinite, Range, show, show_range, unit};
use report::{Figure, Finding, Report, Weight};
use thiserror::Error;

use crate::limit::{Limit, Reading, Whose, decide};

/// Ra above which a gasket face is not a face: a slip of a thousand.
const SLIP_UM: f64 = 12.5;

/// The gasket that goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gasket {
    /// Multi-layer steel.
    Steel,
    /// Soft-faced on aluminium.
    SoftOnAluminium,
    /// Soft-faced on iron.
    SoftOnIron,
    /// Older composite.
    Composite,
}

impl Gasket {
    /// Every gasket.
    pub const ALL: [Self; 4] = [
        Self::Steel,
        Self::SoftOnAluminium,
        Self::SoftOnIron,
        Self::Composite,
    ];

    /// The name to ask for it by.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::SoftOnAluminium => "soft-aluminium",
            Self::SoftOnIron => "soft-iron",
            Self::Composite => "composite",
        }
    }

    /// Finds a gasket by its name.
    #[must_use]
    pub fn find(key: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|gasket| gasket.key().eq_ignore_ascii_case(key.trim()))
    }

    /// The trade's limit.
    fn usual(self) -> Result<Limit<Length>, NotFinite> {
        let microinch = |value: f64| Length::micrometres(value * 0.0254);
        let (limit, place) = match self {
            Self::Steel => (
                Limit::most(microinch(50.0)?),
                "multi-layer steel; some makers want 20 to 30 µin",
            ),
            Self::SoftOnAluminium => (
                Limit::between(Range {
                    low: microinch(50.0)?,
                    high: microinch(60.0)?,
                }),
                "soft-faced gasket on aluminium",
            ),
            Self::SoftOnIron => (
                Limit::between(Range {
                    low: microinch(60.0)?,
                    high: microinch(100.0)?,
                }),
                "soft-faced gasket on iron",
            ),
            Self::Composite => (
                Limit::between(Range {
                    low: microinch(55.0)?,
                    high: microinch(110.0)?,
                }),
                "older composite gasket",
            ),
        };
        Ok(limit
            .by_default(Whose::CommonPractice, place)
            .stated_in(unit::MICROINCH))
    }
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Ra of the face.
    pub ra: Length,
    /// The gasket that goes on.
    pub gasket: Option<Gasket>,
    /// The limit, where one is known.
    pub limit: Option<Limit<Length>>,
}

#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    Finish(#[from] FinishError),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

const TITLE: &str = "Roughness of a face";

/// Answers.
#[must_use]
pub fn judge(asked: &Asked) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("finish", "", fault.to_string())
            .next("read the instrument again, with its unit");
        Report::refusal("finish", TITLE, finding)
    })
}

fn answer(asked: &Asked) -> Result<Report, Unanswerable> {
    let mut report = Report::new("finish", TITLE);
    let both = format!(
        "{} = {}",
        show(asked.ra, &unit::MICROMETRE),
        show(asked.ra, &unit::MICROINCH)
    );
    report
        .figures
        .push(Figure::new("ra", "Ra", asked.ra, both.clone()));
    let rz = rz_of(asked.ra)?;
    report.figures.push(
        Figure::new(
            "rz",
            "Rz is likely",
            rz.low,
            show_range(rz, &unit::MICROMETRE),
        )
        .between(rz.low, rz.high)
        .note("no fixed ratio exists; 4 to 7 times on machined faces"),
    );
    report.headline = Some(format!("Ra {both}."));
    if asked.ra.in_micrometres() > SLIP_UM {
        report.findings.push(
            Finding::new(
                "unit-slip",
                "",
                format!(
                    "{} is no gasket face; Ra is spoken of in µin or µm, a thousandth of a thou",
                    show(asked.ra, &unit::MILLIMETRE)
                ),
            )
            .points_to("an inch or a millimetre where a micro-inch or micrometre was meant")
            .next("ask for the figure with its unit: 30 µin is 0.76 µm")
            .weight(Weight::Stop),
        );
    }
    let limit = match (&asked.limit, asked.gasket) {
        (Some(limit), _) => Some(limit.clone()),
        (None, Some(gasket)) => Some(gasket.usual()?),
        (None, None) => None,
    };
    if let Some(limit) = limit {
        decide(
            "Ra",
            Some(&Reading::exactly(asked.ra)),
            &limit,
            &[],
            &unit::MICROMETRE,
        )?
        .lead(&mut report);
        if let Some(source) = limit.source() {
            report.cite(source);
        }
        report.asks.extend(limit.ask_for_makers("--limit"));
    }
    Ok(report)
}

/// A figure without a unit: refused, with both readings shown.
#[must_use]
pub fn without_unit(number: f64, typed: &str) -> Report {
    let read = |value: Result<Length, NotFinite>| {
        value.map_or_else(
            |_| "nothing".to_owned(),
            |ra| {
                format!(
                    "{} = {}",
                    show(ra, &unit::MICROINCH),
                    show(ra, &unit::MICROMETRE)
                )
            },
        )
    };
    let finding = Finding::new(
        "no-unit",
        typed,
        "a roughness without its unit can be read two ways, forty times apart",
    )
    .detail(format!(
        "as micro-inch:  {}",
        read(Length::micrometres(number * 0.0254))
    ))
    .detail(format!(
        "as micrometres: {}",
        read(Length::micrometres(number))
    ))
    .next(
        "write `30 µin` or `0.8 µm`; in workshops that measure in inches “Ra 30” means micro-inch",
    );
    Report::refusal("finish", TITLE, finding)
}

#[cfg(test)]
mod tests {
    use report::Verdict;

    use super::*;

    fn of(um: f64, gasket: Option<Gasket>) -> Report {
        judge(&Asked {
            ra: Length::micrometres(um).unwrap(),
            gasket,
            limit: None,
        })
    }

    /// Source: 30 and 60 micro-inch of a reader's worked example. *Public data; computed: exact
    /// unit factors.*
    #[test]
    fn o05_both_units_are_shown_and_a_bare_number_is_refused() {
        assert!(of(0.762, None).headline.unwrap().contains("30 µin"));
        let refused = without_unit(30.0, "Ra 30");
        assert_eq!(refused.exit_status(), 2);
        assert!(refused.findings[0].detail[0].contains("0.762 µm"));
        assert!(refused.findings[0].detail[1].contains("1181 µin"));
    }

    /// Source: 0.030 in is 0.76 mm, wrong by a thousand. *Computed by a general library (Python
    /// 3.11 floats): exact unit factors.*
    #[test]
    fn o05_thirty_thou_is_no_gasket_face() {
        assert!(of(762.0, None).finds("unit-slip"));
        assert!(!of(1.5, None).finds("unit-slip"));
    }

    #[test]
    fn the_gasket_decides() {
        assert_eq!(
            of(0.762, Some(Gasket::Steel)).verdict,
            Some(Verdict::Within)
        );
        assert_eq!(of(2.0, Some(Gasket::Steel)).verdict, Some(Verdict::Outside));
        assert_eq!(
            of(2.0, Some(Gasket::SoftOnIron)).verdict,
            Some(Verdict::Within)
        );
        assert_eq!(of(0.0, None).exit_status(), 2);
    }
}
