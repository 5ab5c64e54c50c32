//! Roughness of a face: option text into a question for the judge.

use judge::finish::{Asked as Question, Gasket, judge, without_unit};
use quantity::{Length, read};
use report::{Finding, Report, Weight};

use crate::option::Options;
use crate::readings;

const COMMAND: &str = "finish";
const TITLE: &str = "Roughness of a face";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Ra with its unit: `30 µin`, `Ra 0.8 µm`.
    pub ra: String,
    /// The gasket that goes on.
    pub gasket: Option<String>,
    /// The most it may be.
    pub limit: Option<String>,
    /// Whose limit it is.
    pub limit_source: Option<String>,
}

/// Judges a roughness.
#[must_use]
pub fn finish(asked: &Asked) -> Report {
    let figure = bare(&asked.ra);
    if let Ok(number) = figure.parse::<f64>()
        && number.is_finite()
    {
        return without_unit(number, &asked.ra);
    }
    let mut options = Options::of(COMMAND);
    let ra = options.with("RA", figure, read::read::<Length>);
    let limit = readings::limit(
        &mut options,
        "--limit",
        asked.limit.as_deref(),
        asked.limit_source.as_deref(),
    );
    let gasket = asked.gasket.as_deref().and_then(|text| {
        let found = Gasket::find(text);
        if found.is_none() {
            let names: Vec<&str> = Gasket::ALL.into_iter().map(Gasket::key).collect();
            options.fault(
                "--gasket",
                format!("“{text}” is no gasket we know"),
                format!("one of {}", names.join(", ")),
            );
        }
        found
    });
    match ra {
        Some(ra) if options.clean() => {
            let mut report = judge(&Question {
                ra: ra.value,
                gasket,
                limit,
            });
            report.findings.extend(
                ra.notes
                    .into_iter()
                    .map(|note| Finding::new("reading", "", note).weight(Weight::Note)),
            );
            report
        }
        _ => options.refusal(TITLE),
    }
}

/// The figure without a leading or trailing `Ra`.
fn bare(text: &str) -> &str {
    let text = text.trim();
    let text = text
        .strip_prefix("Ra")
        .or_else(|| text.strip_prefix("RA"))
        .unwrap_or(text);
    text.strip_suffix("Ra")
        .or_else(|| text.strip_suffix("RA"))
        .unwrap_or(text)
        .trim()
}
