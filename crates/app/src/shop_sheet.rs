//! The sheet for the machine shop: option text into a question for the judge.

use judge::shop_sheet::{Asked as Question, Part, sheet};
use quantity::{Length, unit};
use report::Report;

use crate::option::Options;
use crate::{readings, typed};

const COMMAND: &str = "shop-sheet";
const TITLE: &str = "For the machine shop";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `head` or `block`.
    pub part: Option<String>,
    /// Cams run in bores of this head.
    pub overhead_cam: bool,
    /// Flatness as measured here.
    pub flatness: Option<String>,
    /// The limit for it.
    pub limit: Option<String>,
    /// Whose limit it is.
    pub limit_source: Option<String>,
    /// Thickness at the corners before.
    pub before: Option<String>,
    /// Thickness at the corners when it is back.
    pub after: Option<String>,
    /// The least thickness allowed.
    pub least: Option<String>,
}

/// Writes the sheet.
#[must_use]
pub fn shop_sheet(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => sheet(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let part = match asked.part.as_deref() {
        None | Some("head") => Some(Part::Head),
        Some("block") => Some(Part::Block),
        Some(word) => {
            options.fault(
                "PART",
                format!("“{word}” does not go to the machine shop by this sheet"),
                "head or block",
            );
            None
        }
    };
    let limit = readings::limit(
        options,
        "--limit",
        asked.limit.as_deref(),
        asked.limit_source.as_deref(),
    );
    let flatness = options.maybe::<Length>("--flatness", asked.flatness.as_deref());
    let least = options.maybe::<Length>("--least", asked.least.as_deref());
    let mut corners = |name, text: &Option<String>| {
        text.as_deref()
            .and_then(|text| options.list::<Length>(name, text))
            .map_or_else(Vec::new, |said| said.value)
    };
    let before = corners("--before", &asked.before);
    let after = corners("--after", &asked.after);
    let typed = [&asked.before, &asked.flatness, &asked.after]
        .into_iter()
        .flatten()
        .next();
    Some(Question {
        part: part?,
        overhead_cam: asked.overhead_cam,
        flatness: flatness.map(|said| said.value),
        limit,
        before,
        after,
        least: least.map(|said| said.value),
        unit: typed.map_or(unit::MILLIMETRE, |text| typed::unit_of::<Length>(text)),
    })
}
