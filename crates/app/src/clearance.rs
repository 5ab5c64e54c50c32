//! One clearance of a named kind: option text into a question for the judge.

use judge::clearance::{Asked as Question, Kind, judge};
use judge::limit::Limit;
use quantity::{Bound, Length, read};
use report::Report;

use crate::option::Options;
use crate::typed;

const COMMAND: &str = "clearance";
const TITLE: &str = "Clearance";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// What is measured: `bearing`, `guide-inlet`, `liner`, …
    pub kind: String,
    /// The readings, unit once at the end.
    pub readings: String,
    /// The bore or journal the rule goes by.
    pub of: Option<String>,
    /// A limit: a range, `max 0.1 mm` or `min 0.05 mm`.
    pub limit: Option<String>,
    /// Whose limit it is.
    pub limit_source: Option<String>,
    /// The most the places may differ.
    pub spread: Option<String>,
    /// Expanded uncertainty of a reading.
    pub uncertainty: Option<String>,
}

/// Judges a clearance.
#[must_use]
pub fn clearance(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let kind = Kind::find(&asked.kind);
    if kind.is_none() {
        let names: Vec<&str> = Kind::ALL.into_iter().map(Kind::key).collect();
        options.fault(
            "KIND",
            format!("“{}” is no clearance we know", asked.kind),
            format!("one of {}", names.join(", ")),
        );
    }
    let readings = options.with("READINGS", &asked.readings, read::read_bound_list::<Length>);
    let mut length = |name, text: &Option<String>| {
        options
            .maybe::<Length>(name, text.as_deref())
            .map(|said| said.value)
    };
    let of = length("--of", &asked.of);
    let spread = length("--spread", &asked.spread);
    let expanded = length("--uncertainty", &asked.uncertainty);
    let limit = limit(asked, options);
    Some(Question {
        kind: kind?,
        readings: readings?.value,
        of,
        limit,
        spread,
        expanded,
        unit: typed::unit_of::<Length>(&asked.readings),
    })
}

/// A limit with one end or two.
fn limit(asked: &Asked, options: &mut Options) -> Option<Limit<Length>> {
    let bound = options
        .bound::<Length>("--limit", asked.limit.as_deref()?)?
        .value;
    let limit = match bound {
        Bound::Exactly(high) | Bound::Below(high) => Limit::most(high),
        Bound::Above(low) => Limit::least(low),
        Bound::Between(range) => Limit::between(range),
    };
    let limit = limit.stated_in(typed::unit_of::<Length>(asked.limit.as_deref()?));
    Some(match &asked.limit_source {
        Some(source) => limit.sourced(source),
        None => limit,
    })
}
