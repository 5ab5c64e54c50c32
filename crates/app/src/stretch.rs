//! Lengths of bolts: option text into a question for the judge.

use calc::stretch::End;
use judge::limit::Limit;
use judge::stretch::{Asked as Question, Spring, judge};
use quantity::{Bound, Length, Quantity, TemperatureDifference};
use report::Report;

use crate::option::Options;
use crate::torque::thread;
use crate::typed;

const COMMAND: &str = "stretch";
const TITLE: &str = "Length of bolts";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Free lengths now, unit once at the end.
    pub free: String,
    /// The most a free bolt may measure.
    pub limit: Option<String>,
    /// Free lengths before.
    pub before: Option<String>,
    /// The most a bolt may have grown.
    pub most_growth: Option<String>,
    /// How much warmer the bolts are now.
    pub warmer: Option<String>,
    /// Lengths as they sit, tightened.
    pub tight: Option<String>,
    /// How far they are to be stretched.
    pub stretch: Option<String>,
    /// Whose the limits are, and where they stand.
    pub limit_source: Option<String>,
    /// Thread designation.
    pub thread: Option<String>,
    /// What lies between head and nut or tapped part.
    pub grip: Option<String>,
    /// Plain shank within it.
    pub shank: Option<String>,
    /// A nut instead of a tapped hole.
    pub nut: bool,
    /// Expanded uncertainty of one reading.
    pub uncertainty: Option<String>,
}

/// Judges the lengths.
#[must_use]
pub fn stretch(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let free = options.list::<Length>("LENGTHS", &asked.free);
    let before = lengths(options, "--before", asked.before.as_deref());
    let tight = lengths(options, "--tight", asked.tight.as_deref());
    let free_limit = limit(asked, options, "--limit", asked.limit.as_deref());
    let growth = limit(
        asked,
        options,
        "--most-growth",
        asked.most_growth.as_deref(),
    );
    let wanted = limit(asked, options, "--stretch", asked.stretch.as_deref());
    let warmer = options.maybe::<TemperatureDifference>("--warmer", asked.warmer.as_deref());
    let expanded = options.maybe::<Length>("--uncertainty", asked.uncertainty.as_deref());
    let spring = spring(asked, options);
    for (name, needs, there) in [
        (
            "--most-growth",
            "--before",
            asked.most_growth.is_some() && before.is_empty(),
        ),
        (
            "--warmer",
            "--before",
            asked.warmer.is_some() && before.is_empty(),
        ),
        (
            "--stretch",
            "--tight",
            asked.stretch.is_some() && tight.is_empty(),
        ),
    ] {
        if there {
            options.fault(
                name,
                "a difference of two lengths needs both",
                format!("give {needs} with the other lengths of the same bolts"),
            );
        }
    }
    Some(Question {
        free: free?.value,
        limit: free_limit,
        before,
        growth,
        warmer: warmer.map(|said| said.value),
        tight,
        wanted,
        spring,
        expanded: expanded.map(|said| said.value),
        unit: typed::unit_of::<Length>(&asked.free),
    })
}

fn lengths(options: &mut Options, name: &str, text: Option<&str>) -> Vec<Option<Length>> {
    text.and_then(|text| options.list::<Length>(name, text))
        .map_or_else(Vec::new, |said| said.value)
}

/// A limit with one end or two; a bare figure is the most.
fn limit(
    asked: &Asked,
    options: &mut Options,
    name: &str,
    text: Option<&str>,
) -> Option<Limit<Length>> {
    let text = text?;
    let limit = match options.bound::<Length>(name, text)?.value {
        Bound::Exactly(high) | Bound::Below(high) => Limit::most(high),
        Bound::Above(low) => Limit::least(low),
        Bound::Between(range) => Limit::between(range),
    };
    let limit = limit.stated_in(typed::unit_of::<Length>(text));
    Some(match &asked.limit_source {
        Some(source) => limit.sourced(source),
        None => limit,
    })
}

/// Thread, grip and shank make a spring together or not at all.
fn spring(asked: &Asked, options: &mut Options) -> Option<Spring> {
    let thread = asked
        .thread
        .as_deref()
        .and_then(|text| thread(options, "--thread", text));
    let grip = options.maybe::<Length>("--grip", asked.grip.as_deref());
    let shank = options.maybe::<Length>("--shank", asked.shank.as_deref());
    let given = [&asked.thread, &asked.grip, &asked.shank];
    let count = given.iter().filter(|text| text.is_some()).count();
    if count == 0 {
        return None;
    }
    if count < given.len() {
        options.fault(
            "--thread",
            "thread, grip and shank make the bolt a spring together",
            "give all three, as in --thread M10x1.5 --grip \"60 mm\" --shank \"35 mm\"",
        );
    }
    if asked.tight.is_none() {
        options.fault(
            "--tight",
            "a preload needs the length of the bolt as it sits, tightened",
            "give --tight with the lengths of the same bolts",
        );
    }
    let (grip, shank) = (grip?.value, shank?.value);
    if shank.si() < 0.0 || shank > grip {
        options.fault(
            "--shank",
            "the plain shank within the grip cannot be longer than the grip",
            "count only what lies between head and the nut or tapped part",
        );
        return None;
    }
    Some(Spring {
        thread: thread?,
        grip,
        shank,
        end: if asked.nut { End::Nut } else { End::Tapped },
    })
}
